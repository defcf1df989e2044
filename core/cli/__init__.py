"""The commands of python -m core, a module for each group."""

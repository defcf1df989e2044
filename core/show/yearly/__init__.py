"""The rest of the year as tables and sheets."""

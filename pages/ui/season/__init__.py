"""The parts of the season screen."""

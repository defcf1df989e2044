"""The parts of the learning screen."""

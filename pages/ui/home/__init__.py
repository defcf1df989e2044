"""The parts of the home screen."""

"""The parts of the Log screen, and the one button that opens an entry on the home screen."""

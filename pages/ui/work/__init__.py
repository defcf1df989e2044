"""The parts of the Work screen."""

"""What the user keeps from day to day: the log."""

"""What the program keeps for its user from one day to the next."""

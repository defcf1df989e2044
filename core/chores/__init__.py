"""The rest of the year: what is due on a ground, what it is worth, and when to go in."""

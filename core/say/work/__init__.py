"""The rest of the year in words."""

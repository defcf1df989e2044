"""A season's report in words, and as plain data."""

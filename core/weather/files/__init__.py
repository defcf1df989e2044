"""Which reader a file needs, years of one station as one table, and a typical day."""

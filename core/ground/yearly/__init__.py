"""What a property file says of the rest of the year: its work."""

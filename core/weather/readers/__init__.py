"""One file a weather format. Each turns bytes into the one hourly table."""

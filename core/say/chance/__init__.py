"""Words of what may come instead of a forecast."""

"""The weather: one hourly table, and the readers that fill it."""

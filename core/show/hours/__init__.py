"""Drawings of hours: straight rulers of a day, of a sit, of the sits of all stands."""

"""Commands that tell of the wind: of a file, of a forecast, of years at a place."""

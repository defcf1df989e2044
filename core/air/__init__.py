"""The air: stability, spread, shelter, slope wind and strength."""

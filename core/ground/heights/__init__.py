"""Grids of heights, and the slope at a place."""

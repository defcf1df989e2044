"""Reviews over the many sits of a season, and what would fill its holes."""

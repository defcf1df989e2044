"""A sit at one stand, stretch by stretch: where the air goes, what lies there, until when."""

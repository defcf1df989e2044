"""What the heights of a ground do to the air of its stands."""

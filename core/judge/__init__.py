"""A stand in a sit: from the air of its rows to verdicts, a group, and an order of stands."""

"""The chain of a sit: from hours and places to verdicts, ways, groups and an order."""

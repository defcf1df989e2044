"""What is asked of the chain: one sit, the next ones, other winds, a tree to try."""

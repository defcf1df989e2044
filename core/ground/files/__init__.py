"""Files: what is written for others, and what can be had of a broken or lost property."""

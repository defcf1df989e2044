"""What the log teaches once the chain judges it: where air lay, what was felt, a season told."""

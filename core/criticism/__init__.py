"""What is to be criticised on a ground: each with its measure and its reason."""

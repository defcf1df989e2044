"""Several hunters in words: who sits where, and when everybody wears orange."""

"""Numbers to sentences, and the answer as plain data. Nothing is judged here."""

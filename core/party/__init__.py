"""Several hunters at once: who sits where, so that none spoils another's sit."""

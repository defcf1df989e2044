"""A journal whose file is damaged: what can still be read of it."""

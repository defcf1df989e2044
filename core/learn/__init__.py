"""Lessons, drawn situations, a guest's first sit, words, and the learner's tally."""

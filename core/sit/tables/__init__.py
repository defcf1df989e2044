"""Strengths looked up in small tables, for years of sits or for a ground that stays."""

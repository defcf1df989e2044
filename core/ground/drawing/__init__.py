"""A property that is drawn: edits, gestures, joined ends, drafts, a first property."""

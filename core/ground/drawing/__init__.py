"""A property that is drawn: edits, gestures, snapped ends, drafts, a first property."""

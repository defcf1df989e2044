"""The sits: windows, ways, verdicts, order, and the words for them."""

"""What is shown: maps, charts and pages as text, without a screen library."""

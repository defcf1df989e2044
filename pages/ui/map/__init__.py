"""The panels below the drawing map."""

"""The sky: sun times, sun strength and moonlight."""

"""Will it hold: how forecasts miss, drawn many times, and what that makes of a sit."""

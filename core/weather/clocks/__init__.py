"""Times as tables write them: dates, clocks, zones, and which part of the hour they name."""

"""The drawing part of the Map page: the map, the form beside it, the draft behind it."""

"""The dashboard for a phone on a network of one's own: the door, and the server behind it."""

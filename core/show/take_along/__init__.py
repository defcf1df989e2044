"""What goes along on a phone: the days ahead in one file, and the picture it is saved under."""

"""Map files of other programs, in and out, and what is made of what they bring."""

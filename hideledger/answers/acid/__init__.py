"""`acid`: the pH of a bath, and what brings it where it should be."""

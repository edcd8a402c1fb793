"""`owed`: what customers owe."""

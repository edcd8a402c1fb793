"""`check`: what needs a hand now."""

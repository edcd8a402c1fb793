"""The only hands that write: what they make is new, and what is there already they leave alone."""

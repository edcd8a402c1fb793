"""`load`: which skins go into the drum together, and when."""

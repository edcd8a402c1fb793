"""`slip`: what the skins that slipped have in common, and what happened to one hide."""

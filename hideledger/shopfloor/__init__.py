"""The floor of the shop: lays what was written out in time."""

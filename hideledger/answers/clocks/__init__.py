"""`clocks`: every time that runs in the shop."""

"""One file a command: its arguments, and how it is answered. Only the one that was asked for is opened."""

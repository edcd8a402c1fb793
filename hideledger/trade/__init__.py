"""The arithmetic of the trade: pure functions of numbers."""

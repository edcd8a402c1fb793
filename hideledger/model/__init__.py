"""The nouns of the trade: moments, quantities, entries, the shop, its processes."""

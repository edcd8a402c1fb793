"""`cost`: what a hide costs."""

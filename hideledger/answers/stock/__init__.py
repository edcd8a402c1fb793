"""`stock`: what lies on the shelf."""

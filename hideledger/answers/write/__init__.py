"""`write`: what was understood of lines just written, and what they bring up."""

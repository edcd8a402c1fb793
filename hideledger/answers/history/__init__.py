"""`history`: what one hide, bath or place went through."""

"""`start`: a new book."""

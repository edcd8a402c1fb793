"""`export`: the whole book as tables for other programs."""

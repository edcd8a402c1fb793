"""`floor`: the evening and morning look."""

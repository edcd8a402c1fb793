"""`brine`: how strong, and what to weigh in."""

"""`mix`: a recipe of the shop brought to size."""

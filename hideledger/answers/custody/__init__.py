"""`custody`: the register of skins, and the sheet of a year."""

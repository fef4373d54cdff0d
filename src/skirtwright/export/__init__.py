"""Out of the program: the sheet, and the writers that translate it."""

"""The workroom: many clients at once."""

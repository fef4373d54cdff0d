"""The strips round the table."""

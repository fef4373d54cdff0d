"""The draft in sentences: steps, sums and chains to the tape."""

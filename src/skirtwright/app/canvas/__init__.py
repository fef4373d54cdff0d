"""The table: the draft and its pieces, painted and pulled."""

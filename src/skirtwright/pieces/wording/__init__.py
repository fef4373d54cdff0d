"""Words on a piece and of its edges: labels, marks, balance marks."""

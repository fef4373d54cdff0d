"""Marks and words on a piece: notches, lines, labels."""

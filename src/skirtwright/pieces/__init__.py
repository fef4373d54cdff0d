"""Panels finished for cutting: allowances, corners, notches, labels, walked seams."""

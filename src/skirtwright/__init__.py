"""Skirtwright: made-to-measure skirts, drafted from the tape."""

__version__ = "0.1.0"

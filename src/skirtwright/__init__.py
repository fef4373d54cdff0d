"""Skirtwright: made-to-measure skirts, drafted from the tape."""

from skirtwright.compiled import prefer_compiled

__version__ = "0.1.0"

prefer_compiled()

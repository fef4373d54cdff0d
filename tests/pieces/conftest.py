"""Lets the tests of this folder share `outlines`, `referee`, and all tests' helpers."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1])]

"""The window: the only home of PySide6.

PySide6 reads and keeps the source of every module imported after it (25 ms and some
megabytes for ours), so what the window works with is imported here, before it.
"""

from __future__ import annotations

from skirtwright.draft import pulls, styles
from skirtwright.job import autosave, edits, piece_edits, worktable
from skirtwright.pieces import piece_drawing
from skirtwright.pieces.wording import labels

__all__ = [
    "autosave",
    "edits",
    "labels",
    "piece_drawing",
    "piece_edits",
    "pulls",
    "styles",
    "worktable",
]

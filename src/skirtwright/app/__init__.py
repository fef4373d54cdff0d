"""The window: the only home of PySide6.

PySide6 reads and keeps the source of every module imported after it (25 ms and some
megabytes for ours), so what the window works with is imported here, before it. Where a
picture was kept to be shown first, that comes before all else.
"""

from __future__ import annotations

from importlib import import_module

from skirtwright.job.folders import first_picture_file

_WORKS_WITH = (
    "skirtwright.draft.pulls",
    "skirtwright.job.autosave",
    "skirtwright.job.piece_edits",
    "skirtwright.job.worktable",
    "skirtwright.pieces.piece_drawing",
    "skirtwright.pieces.wording.labels",
)

if not first_picture_file().exists():
    for _name in _WORKS_WITH:
        import_module(_name)

"""Orders that this program saved: their bytes, met again, are not checked once more.

What a stranger may have written is checked, and what checks it takes longer to load
than the first skirt takes to draw. Of what was saved here a check sum is kept among
what outlives a session; nothing of an order can be read from it. The program's own
files go into the sum, so that another version checks anew.
"""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import skirtwright
from skirtwright import shelf
from skirtwright.job.folders import own_files_file
from skirtwright.job.reading import load_bytes
from skirtwright.job.saving import save_whole
from skirtwright.problems import FileTrouble

_MOST = 100
"""Orders known again; the earliest go first."""

_MINE = 0o600


def note(data: bytes) -> None:
    """Know an order's file again.

    Nothing is said where that cannot be kept: the file is checked then, as any other.
    """
    place = own_files_file()
    own = _sum_of(data)
    lines = [line for line in _noted() if line != own]
    try:
        place.parent.mkdir(0o700, parents=True, exist_ok=True)
        text = b"\n".join([*lines[1 - _MOST :], own])
        save_whole(place, text, mode=_MINE)
    except (OSError, FileTrouble):
        return


def is_own(data: bytes) -> bool:
    """Whether this program, as it stands, wrote these bytes."""
    noted = _noted()
    return bool(noted) and _sum_of(data) in noted


def _noted() -> list[bytes]:
    try:
        return load_bytes(own_files_file()).split(b"\n")
    except FileTrouble:
        return []


def _sum_of(data: bytes) -> bytes:
    return (
        hashlib.sha256(program() + hashlib.sha256(data).digest()).hexdigest().encode()
    )


def program() -> bytes:
    """The version, and every file of the program and its resources as it was saved."""
    told = [skirtwright.__version__]
    for root in (Path(skirtwright.__file__).parent, shelf.path("styles").parent):
        for folder, _, names in os.walk(root):
            for name in names if not folder.endswith("__pycache__") else ():
                place = Path(folder, name)
                known = place.stat()
                told.append(f"{place} {known.st_size} {known.st_mtime_ns}")
    return "\n".join(sorted(told)).encode("utf-8", "surrogateescape")

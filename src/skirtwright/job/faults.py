"""Faults of ours written down, for whoever looks after the program."""

from __future__ import annotations

import traceback
from pathlib import Path

from skirtwright import __version__
from skirtwright.job.folders import state_folder

_NOTE = "trouble.log"
_MOST = 1_000_000
"""Bytes; a longer note is begun anew."""


def note_fault(fault: BaseException) -> Path | None:
    """Write down a fault and where it came up, without a measurement or a name of hers.

    Returns:
        Where; None when nothing can be written there.
    """
    import platform

    lines = traceback.format_exception(fault)
    head = f"Skirtwright {__version__}, Python {platform.python_version()}"
    place = state_folder() / _NOTE
    try:
        place.parent.mkdir(0o700, parents=True, exist_ok=True)
        grown = place.exists() and place.stat().st_size > _MOST
        with place.open(
            "w" if grown else "a", encoding="utf-8", errors="replace"
        ) as to:
            to.writelines((f"{head}, {platform.platform()}\n", *lines, "\n"))
    except OSError:
        return None
    return place

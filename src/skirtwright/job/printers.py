"""What each printer needs to print true: a small file of this machine's user."""

from __future__ import annotations

import os
from pathlib import Path

from skirtwright.job.saving import save_whole, trouble_with


def place() -> Path:
    """Where the file lies, by the XDG base directory specification."""
    home = os.environ.get("XDG_CONFIG_HOME") or str(Path.home() / ".config")
    return Path(home) / "skirtwright" / "printers.json"


def kept() -> str:
    """The text of the file; empty when there is none yet.

    Raises:
        FileTrouble: it is there and cannot be read.
    """
    try:
        return place().read_text("utf-8")
    except FileNotFoundError:
        return ""
    except OSError as trouble:
        raise trouble_with(place(), trouble) from trouble


def keep(text: str) -> None:
    """Write the file whole.

    Raises:
        FileTrouble: it cannot be written.
    """
    try:
        place().parent.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise trouble_with(place().parent, trouble) from trouble
    save_whole(place(), text.encode())

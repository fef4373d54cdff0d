"""What is kept for this machine's user: small files beside the settings."""

from __future__ import annotations

import os
from pathlib import Path

from skirtwright.job.folders import settings_folder
from skirtwright.job.reading import load_bytes
from skirtwright.job.saving import save_whole, trouble_with


def place(name: str) -> Path:
    """Where a file lies."""
    return settings_folder() / name


def kept(name: str) -> str:
    """The text of a file; empty when there is none yet.

    Raises:
        FileTrouble: it is there and cannot be read.
    """
    where = place(name)
    if not os.path.lexists(where):
        return ""
    try:
        return load_bytes(where).decode()
    except UnicodeDecodeError as trouble:
        raise trouble_with(where, OSError(0, "it is not text")) from trouble


def keep(name: str, text: str) -> None:
    """Write a file whole.

    Raises:
        FileTrouble: it cannot be written.
    """
    where = place(name)
    try:
        where.parent.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise trouble_with(where.parent, trouble) from trouble
    save_whole(where, text.encode())

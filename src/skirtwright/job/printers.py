"""What each printer needs to print true: a small file of this machine's user."""

from __future__ import annotations

from pathlib import Path

from skirtwright.job import habits

_NAME = "printers.json"


def place() -> Path:
    """Where the file lies."""
    return habits.place(_NAME)


def kept() -> str:
    """The text of the file; empty when there is none yet.

    Raises:
        FileTrouble: it is there and cannot be read.
    """
    return habits.kept(_NAME)


def keep(text: str) -> None:
    """Write the file whole.

    Raises:
        FileTrouble: it cannot be written.
    """
    habits.keep(_NAME, text)

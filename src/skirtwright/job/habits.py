"""What is kept for this machine's user: small files beside the settings."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TypeVar

from skirtwright.job.folders import settings_folder
from skirtwright.job.reading import load_bytes
from skirtwright.job.saving import save_whole, trouble_with
from skirtwright.measures.records import Record, ruled, take
from skirtwright.measures.strict_json import read_as, read_strict

PRINTERS = "printers.json"
"""The file of what each printer needs to print true."""


class Habit(Record):
    """What one file keeps: with its format, and a list under a name of its own."""

    format: int = ruled(default=1, ge=1, le=1)


_Habit = TypeVar("_Habit", bound=Habit)


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


def kept_as(kind: type[_Habit], name: str) -> _Habit:
    """A file, read; as it is at first when there is none yet.

    Raises:
        FileTrouble, BadInput: it is there and cannot be read.
    """
    text = kept(name)
    return read_as(kind, read_strict(text, name), name) if text else take(kind, {})


def keep_as(name: str, habit: Habit) -> None:
    """Write a file whole, instead of what was kept before.

    Raises:
        FileTrouble: it cannot be written; what was kept stays.
    """
    whole = {"format": habit.format, **habit.model_dump(exclude_defaults=True)}
    keep(name, json.dumps(whole, ensure_ascii=False, indent=1) + "\n")

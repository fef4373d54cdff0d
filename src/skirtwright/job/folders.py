"""Where this user keeps things, by the XDG Base Directory Specification.

Version 0.8 (2021) of it has a variable name another folder, and says that a path
which is not absolute is invalid and is to be passed over.
"""

from __future__ import annotations

import os
from pathlib import Path

_NAME = "skirtwright"


def settings_folder() -> Path:
    """For what she set for this machine."""
    return _folder(("XDG_CONFIG_HOME",), ".config")


def data_folder() -> Path:
    """For what she keeps for good."""
    return _folder(("XDG_DATA_HOME", "LOCALAPPDATA"), ".local/share")


def client_book() -> Path:
    """The client book, unless another is named."""
    return data_folder() / "clients.book"


def state_folder() -> Path:
    """For what outlives a session."""
    return _folder(("XDG_STATE_HOME", "LOCALAPPDATA"), ".local/state")


def first_picture_file() -> Path:
    """The picture of the table to be shown first at the next start."""
    return state_folder() / "first-picture"


def recent_pictures_folder() -> Path:
    """Small pictures of the orders opened lately."""
    return state_folder() / "recent"


def own_files_file() -> Path:
    """The check sums of the orders that were saved here."""
    return state_folder() / "own-files"


def _folder(variables: tuple[str, ...], otherwise: str) -> Path:
    for variable in variables:
        given = Path(os.environ.get(variable, ""))
        if given.is_absolute():
            return given / _NAME
    return Path.home() / otherwise / _NAME

"""Files read: only those that are files, and no more of them than is ever needed."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

from skirtwright.budget import LARGEST
from skirtwright.job.saving import trouble_with
from skirtwright.problems import FileTrouble

_WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
"""A pipe nobody writes to would hold the program up before it is known for one."""


def load_bytes(path: Path) -> bytes:
    """The content of a file, at most one byte more than is ever read.

    Raises:
        FileTrouble: it cannot be read, or is a folder, a device or a pipe.
    """
    try:
        handle = os.open(path, os.O_RDONLY | _WITHOUT_WAITING)
        with os.fdopen(handle, "rb") as file:
            _check_kind(path, os.fstat(handle).st_mode)
            return file.read(LARGEST + 1)
    except FileTrouble:
        raise
    except OSError as trouble:
        raise trouble_with(path, trouble) from trouble
    except ValueError as trouble:  # a nought in its name
        told = OSError(errno.ENOENT, os.strerror(errno.ENOENT))
        raise trouble_with(path, told) from trouble


def _check_kind(path: Path, mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise trouble_with(path, IsADirectoryError(errno.EISDIR, "a folder"))
    if not stat.S_ISREG(mode):
        raise FileTrouble("file.no_file", str(path), file=path.name)

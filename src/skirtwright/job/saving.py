"""Files saved whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
import time
from pathlib import Path

from skirtwright.problems import FileTrouble

_MARK = ".skirtwright-part"
_OLD_SECONDS = 24 * 3600


def save_whole(path: Path, data: bytes, *, keep: Path | None = None) -> None:
    """Write a file whole or leave what was there.

    A link is followed and the mode bits are kept. The data are on disk before the
    name is given to them, and the folder after.

    Args:
        path: where.
        data: the whole content.
        keep: where the version that was there is kept, if there was one.

    Raises:
        FileTrouble: it cannot be written; nothing half-written stays.
    """
    target = Path(os.path.realpath(path))
    part = target.with_name(f".{target.name}.{os.getpid()}{_MARK}")
    try:
        _write(part, data, target)
        if keep is not None and target.exists():
            _keep(target, keep)
        part.replace(target)
        _sync_folder(target.parent)
    except OSError as trouble:
        part.unlink(missing_ok=True)
        raise trouble_with(path, trouble) from trouble


def check_place(path: Path) -> None:
    """Refuse a place nothing could be saved at, before anything is saved elsewhere.

    Raises:
        FileTrouble: it is a folder, or its folder is not there or may not be written.
    """
    target = Path(os.path.realpath(path))
    number = 0
    if target.is_dir():
        number = errno.EISDIR
    elif not target.parent.is_dir():
        number = errno.ENOENT
    elif not os.access(target.parent, os.W_OK | os.X_OK):
        number = errno.EACCES
    if number:
        raise trouble_with(path, OSError(number, os.strerror(number)))


def _write(part: Path, data: bytes, target: Path) -> None:
    part.unlink(missing_ok=True)
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        if target.exists():
            part.chmod(stat.S_IMODE(target.stat().st_mode))
        os.fsync(handle)
    finally:
        os.close(handle)


def _keep(target: Path, keep: Path) -> None:
    """The version that was there, under another name, without copying it."""
    keep.unlink(missing_ok=True)
    try:
        os.link(target, keep)
    except OSError:
        # A file system without links: the old version is copied instead.
        keep.write_bytes(target.read_bytes())


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def trouble_with(path: Path, trouble: OSError) -> FileTrouble:
    """What kept a file from being read or written, as a sentence can say it."""
    kinds = {
        FileNotFoundError: "file.not_there",
        PermissionError: "file.not_allowed",
        IsADirectoryError: "file.is_a_folder",
        NotADirectoryError: "file.not_there",
    }
    code = kinds.get(type(trouble), "file.trouble")
    if trouble.errno == 28:  # ENOSPC
        code = "file.disk_full"
    return FileTrouble(
        code,
        str(path),
        file=path.name,
        folder=str(path.parent),
        reason=trouble.strerror or str(trouble),
    )


def sweep(folder: Path) -> None:
    """Take away parts that a crash left more than a day ago."""
    for part in folder.glob(f".*{_MARK}"):
        try:
            if time.time() - part.stat().st_mtime > _OLD_SECONDS:
                part.unlink()
        except FileNotFoundError:
            continue

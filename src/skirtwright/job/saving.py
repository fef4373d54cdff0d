"""Files saved whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import os
import secrets
import stat
import time
from collections.abc import Iterable
from contextlib import suppress
from itertools import chain, count
from pathlib import Path

from skirtwright.problems import FileTrouble

_MARK = ".skirtwright-part"
_OLD_SECONDS = 24 * 3600
_LONGEST = 255
"""Bytes of a file's name, on every file system in common use."""

_LETTERS = 50
"""Of a name that is cut; each takes four bytes at most."""

_TRIED = 200_000
"""Bytes written to learn whether a folder takes an order."""

_MINE = 0o600

_CODES = {
    errno.ENOENT: "file.not_there",
    errno.ENOTDIR: "file.not_there",
    errno.EACCES: "file.not_allowed",
    errno.EPERM: "file.not_allowed",
    errno.EISDIR: "file.is_a_folder",
    errno.EEXIST: "file.no_folder",
    errno.ENOSPC: "file.disk_full",
    errno.EDQUOT: "file.disk_full",
    errno.ENAMETOOLONG: "file.name_too_long",
    errno.EROFS: "file.read_only",
}


def save_whole(
    path: Path, data: bytes, *, keep: Path | None = None, mode: int | None = None
) -> None:
    """Write a file whole or leave what was there.

    A link is followed. The data are on disk before the name is given to them, and the
    folder after, where the system puts folders there.

    Args:
        keep: where, in the same folder, the version that was there is kept, if there
            was one; what was kept there is there until the new version is.
        mode: who may read and write it; those who could before when None.

    Raises:
        FileTrouble: it cannot be written, or is a folder, a device or a pipe; nothing
            half-written stays.
    """
    is_file_there(path)
    target = Path(os.path.realpath(path))
    part = _part_in(target.parent)
    kept_first = keep is not None and not os.path.lexists(keep)
    try:
        _write(part, data, _mode_of(target) if mode is None else mode)
        if keep is not None:
            _keep(target, keep)
        part.replace(target)
        _sync_folder(target.parent)
    except OSError as trouble:
        take_away(part)
        if keep is not None and kept_first:
            take_away(keep)
        raise trouble_with(path, trouble) from trouble


def is_file_there(path: Path) -> bool:
    """Whether a file is there, and not a folder, a device or a pipe.

    Raises:
        FileTrouble: it is one of these, or no file can be called so.
    """
    try:
        mode = path.stat().st_mode
    except FileNotFoundError:
        return False
    except OSError as trouble:
        raise trouble_with(path, trouble) from trouble
    except ValueError as trouble:  # a nought in its name
        raise trouble_with(path, OSError(errno.EINVAL, str(trouble))) from trouble
    if stat.S_ISDIR(mode):
        raise trouble_with(path, OSError(errno.EISDIR, os.strerror(errno.EISDIR)))
    if not stat.S_ISREG(mode):
        raise FileTrouble("file.no_file", str(path), file=path.name)
    return True


def check_place(path: Path) -> None:
    """Refuse a place nothing could be saved at, before anything is saved elsewhere.

    Raises:
        FileTrouble: it is a folder, a device or a pipe, or its folder is not there or
            may not be written.
    """
    is_file_there(path)
    target = Path(os.path.realpath(path))
    number = 0
    if not target.parent.is_dir():
        number = errno.ENOENT
    elif not os.access(target.parent, os.W_OK | os.X_OK):
        number = errno.EACCES
    if number:
        raise trouble_with(path, OSError(number, os.strerror(number)))


def check_folder(folder: Path, *, make: bool = False) -> None:
    """Refuse a folder that takes no order, by writing one there and away again.

    Args:
        make: make it, for this user alone, when it is not there.

    Raises:
        FileTrouble: it is not there, full, or may not be written.
    """
    part = _part_in(folder)
    try:
        if make:
            folder.mkdir(0o700, parents=True, exist_ok=True)
        _write(part, bytes(_TRIED), _MINE, sync=False)
    except OSError as trouble:
        raise trouble_with(part, trouble, called=str(folder)) from trouble
    finally:
        take_away(part)


def place_that_works(folders: Iterable[Path], name: str) -> Path | None:
    """A new file of a name in the first folder that takes an order; None for none."""
    for folder in folders:
        try:
            check_folder(folder)
        except FileTrouble:
            continue
        return free(folder / name)
    return None


def free(path: Path) -> Path:
    """The path, or the first like it, with a number, where nothing is yet."""
    others = (path.with_stem(f"{path.stem} {number}") for number in count(2))
    return next(place for place in chain([path], others) if not os.path.lexists(place))


def companion(path: Path, ending: str) -> Path:
    """Where something is kept beside a file: `.NAME.ending`.

    Of a name too long for that its beginning is taken, and a mark of the whole.
    """
    target = Path(os.path.realpath(path))
    name = f".{target.name}.{ending}"
    if len(os.fsencode(name)) > _LONGEST:
        mark = hashlib.sha256(os.fsencode(target.name)).hexdigest()[:12]
        name = f".{target.name[:_LETTERS]}-{mark}.{ending}"
    return target.with_name(name)


def take_away(path: Path) -> None:
    """Take a file away that nobody needs; where that cannot be, it stays."""
    try:
        path.unlink()
    except OSError:
        # Not there, or in a folder that cannot be written: no reason to stop.
        return


def sweep(folder: Path) -> None:
    """Take away parts that a crash left more than a day ago."""
    try:
        parts = list(folder.glob(f".*{_MARK}"))
    except OSError:
        # A folder that cannot be read: whoever saves there is told.
        return
    for part in parts:
        if time.time() - _written_at(part) > _OLD_SECONDS:
            take_away(part)


def trouble_with(path: Path, trouble: OSError, called: str = "") -> FileTrouble:
    """What kept a file from being read or written, as a sentence can say it.

    Args:
        called: what she knows it as, where that is not its name.
    """
    code = _CODES.get(trouble.errno or 0, "file.trouble")
    if code == "file.not_there" and not _is_folder(path.parent):
        code = "file.folder_not_there"
    return FileTrouble(
        code,
        str(path),
        file=called or path.name or str(path),
        folder=str(path.parent),
        reason=trouble.strerror or str(trouble),
    )


def _is_folder(place: Path) -> bool:
    try:
        return place.is_dir()
    except (OSError, ValueError):  # it may not be looked into; a nought in its name
        return True


def _part_in(folder: Path) -> Path:
    return folder / f".{secrets.token_hex(8)}{_MARK}"


def _mode_of(target: Path) -> int | None:
    try:
        return stat.S_IMODE(target.stat().st_mode)
    except FileNotFoundError:
        return None


def _write(part: Path, data: bytes, mode: int | None, *, sync: bool = True) -> None:
    """Write a new file, on disk at once; None leaves who may read it to the system.

    Never, not even empty, may others read what they may not read afterwards.
    """
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL
    handle = os.open(part, flags, 0o666 if mode is None else mode & _MINE)
    try:
        if mode is not None:
            part.chmod(mode)
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        if sync:
            os.fsync(handle)
    finally:
        os.close(handle)


def _keep(target: Path, keep: Path) -> None:
    """The version that was there, under another name as well.

    It takes the name from the version before it in one step: at no moment is there
    none.
    """
    spare = _part_in(target.parent)
    try:
        _link_or_copy(target, spare)
        spare.replace(keep)
    except FileNotFoundError:
        # A first version.
        return
    finally:
        # There still when both names were of one file already.
        take_away(spare)


def _link_or_copy(target: Path, spare: Path) -> None:
    try:
        os.link(target, spare)
    except FileNotFoundError:
        raise
    except OSError:
        # A file system without links.
        _write(spare, target.read_bytes(), _mode_of(target))


def _sync_folder(folder: Path) -> None:
    """Put the new name on disk, where a folder can be opened: not on Windows.

    The file itself is whole, and there by its name, in any case.
    """
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _written_at(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return time.time()

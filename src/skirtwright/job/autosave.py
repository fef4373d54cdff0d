"""Work kept beside the file, so that none is lost when the program ends early.

Unsaved work on `NAME` is kept as `.NAME.autosave` beside it; work without a name, and
work on a file whose folder cannot be written, in the folder for state. A lock that the
system lets go of when a process ends, however it ends, tells work that is still open
from work left behind, and a first window on a file from a second.
"""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import sys
from dataclasses import dataclass
from pathlib import Path

from skirtwright.job.file import load, written
from skirtwright.job.job import Job
from skirtwright.job.saving import save_whole, sweep, trouble_with
from skirtwright.problems import FileTrouble

_TRIES = 20


def state_folder() -> Path:
    """The folder for what outlives a session, as the system has it."""
    given = os.environ.get("XDG_STATE_HOME") or os.environ.get("LOCALAPPDATA")
    return (Path(given) if given else Path.home() / ".local/state") / "skirtwright"


def beside(path: Path) -> Path:
    """Where unsaved work on a file is kept."""
    target = Path(os.path.realpath(path))
    return target.with_name(f".{target.name}.autosave")


@dataclass(frozen=True)
class Kept:
    """Unsaved work of a session that has ended.

    Attributes:
        key: of the session.
        source: the file it is work on; None for work without a name.
        place: where it is kept.
        at: when it was kept, in seconds since 1970.
    """

    key: str
    source: Path | None
    place: Path
    at: float

    def job(self) -> Job:
        """The work itself.

        Raises:
            FileTrouble, BadInput: it cannot be read.
        """
        return load(self.place)


class Session:
    """One open work: what holds its file, and where it is kept.

    Attributes:
        holds: False when another window has the file open; then this session keeps
            its work apart.
    """

    def __init__(self, source: Path | None = None, key: str | None = None) -> None:
        self.source = source
        self.key = key or (_key_of(source) if source else _fresh_key())
        self._lock = _locked(_record(self.key), source)
        self.holds = self._lock is not None
        if not self.holds:
            self.key = _fresh_key()
            self._lock = _locked(_record(self.key), None)
        self._last: bytes | None = None

    @property
    def _places(self) -> tuple[Path, ...]:
        apart = state_folder() / f"{self.key}.autosave"
        if self.source is None or not self.holds:
            return (apart,)
        return (beside(self.source), apart)

    def keep(self, job: Job) -> Path | None:
        """Keep the work; beside the file, else in the folder for state.

        Returns:
            Where, or None when the same was kept already.

        Raises:
            FileTrouble: no place can be written.
        """
        data = written(job).encode()
        if data == self._last:
            return None
        troubles: list[FileTrouble] = []
        for place in self._places:
            try:
                _keep_at(place, data)
            except FileTrouble as trouble:
                troubles.append(trouble)
                continue
            self._last = data
            for other in self._places:
                if other != place:
                    _remove(other)
            return place
        raise troubles[0]

    def forget(self) -> None:
        """Take away what is kept: the work is saved, or she went back."""
        self._last = None
        for place in self._places:
            _remove(place)

    def close(self) -> None:
        """Let go of the file; what is kept stays."""
        if self._lock is None:
            return
        if not any(place.exists() for place in self._places):
            _remove(_record(self.key))
        if self._lock >= 0:
            os.close(self._lock)
        self._lock = None


def kept_for(path: Path) -> Kept | None:
    """Unsaved work on a file, left by a session that has ended; the newest."""
    key = _key_of(path)
    apart = state_folder() / f"{key}.autosave"
    found = [_kept(key, path, place) for place in (beside(path), apart)]
    there = [kept for kept in found if kept is not None]
    if not there or _is_held(_record(key)):
        return None
    return max(there, key=lambda kept: kept.at)


def left_behind() -> tuple[Kept, ...]:
    """All unsaved work of sessions that have ended, the newest first."""
    folder = state_folder()
    if not folder.is_dir():
        return ()
    sweep(folder)
    found = []
    for record in folder.glob("work-*.open"):
        if _is_held(record):
            continue
        kept = _left_by(record)
        if kept is None:
            _remove(record)
        else:
            found.append(kept)
    return tuple(sorted(found, key=lambda kept: kept.at, reverse=True))


def let_go(kept: Kept) -> None:
    """Take kept work away."""
    _remove(kept.place)
    if not _is_held(_record(kept.key)):
        _remove(_record(kept.key))


def _left_by(record: Path) -> Kept | None:
    key = record.name.removesuffix(".open")
    source = _source_of(record)
    places = [state_folder() / f"{key}.autosave"]
    if source is not None:
        places.append(beside(source))
    found = [_kept(key, source, place) for place in places]
    there = [kept for kept in found if kept is not None]
    return max(there, key=lambda kept: kept.at) if there else None


def _kept(key: str, source: Path | None, place: Path) -> Kept | None:
    try:
        return Kept(key, source, place, place.stat().st_mtime)
    except OSError:
        return None


def _key_of(path: Path) -> str:
    real = os.path.realpath(path)
    return "work-" + hashlib.sha256(os.fsencode(real)).hexdigest()[:20]


def _fresh_key() -> str:
    return "work-" + secrets.token_hex(10)


def _record(key: str) -> Path:
    return state_folder() / f"{key}.open"


def _source_of(record: Path) -> Path | None:
    try:
        text = json.loads(record.read_text("utf-8") or "null")
    except (OSError, ValueError):
        return None
    return Path(text) if isinstance(text, str) else None


def _keep_at(place: Path, data: bytes) -> None:
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise trouble_with(place, trouble) from trouble
    save_whole(place, data)


def _remove(place: Path) -> None:
    try:
        place.unlink(missing_ok=True)
    except OSError:
        # A folder that cannot be written keeps it; it is offered again, no more.
        return


def _locked(record: Path, source: Path | None) -> int | None:
    """A handle on a record, locked for as long as the process lives.

    Returns:
        None when another holds it; -1 when there is no place for records at all,
        where a second window cannot be told from a first.
    """
    for _ in range(_TRIES):
        try:
            record.parent.mkdir(parents=True, exist_ok=True)
            handle = os.open(record, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError:
            return -1
        if not _lock(handle):
            os.close(handle)
            return None
        if _is_still(record, handle):
            text = json.dumps(str(os.path.realpath(source)) if source else None)
            os.ftruncate(handle, 0)
            os.lseek(handle, 0, os.SEEK_SET)
            os.write(handle, text.encode())
            return handle
        # Another session took the record away between the two calls.
        os.close(handle)
    return -1


def _is_held(record: Path) -> bool:
    try:
        handle = os.open(record, os.O_RDWR)
    except OSError:
        return False
    try:
        return not _lock(handle)
    finally:
        os.close(handle)


def _is_still(record: Path, handle: int) -> bool:
    try:
        return os.path.samestat(record.stat(), os.fstat(handle))
    except OSError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> bool:
        # A byte far behind the text, so that others can still read it.
        os.lseek(handle, 1 << 20, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True


__all__ = [
    "Kept",
    "Session",
    "beside",
    "kept_for",
    "left_behind",
    "let_go",
    "state_folder",
]

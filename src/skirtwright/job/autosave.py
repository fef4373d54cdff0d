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
import stat
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from skirtwright.job.file import SUFFIX, load, written
from skirtwright.job.folders import state_folder
from skirtwright.job.job import Job
from skirtwright.job.reading import load_bytes
from skirtwright.job.saving import (
    companion,
    free,
    save_whole,
    sweep,
    take_away,
    trouble_with,
)
from skirtwright.problems import BadInput, FileTrouble, SkirtwrightError
from skirtwright.words import Phrase

_TRIES = 20
_PAUSE = 0.005
"""Seconds: another window looks for work left behind for a moment only."""

_RECORDS = "work-*.open"
_MINE = 0o600
_LETTERS = 50


def beside(path: Path) -> Path:
    """Where unsaved work on a file is kept."""
    return companion(path, "autosave")


@dataclass(frozen=True)
class Kept:
    """Unsaved work of a session that has ended.

    Attributes:
        source: the file it is work on; None for work without a name.
        at: when it was kept, in seconds since 1970.
        begun_from: the check sum of what the file held then; empty where that is not
            known.
    """

    key: str
    source: Path | None
    place: Path
    at: float
    begun_from: str = ""

    def job(self) -> Job:
        """The work itself.

        Raises:
            FileTrouble, BadInput: it cannot be read.
        """
        return load(self.place)


def sum_of(data: bytes | None) -> str:
    """What a file holds, in few letters; nothing for no file."""
    return "" if data is None else hashlib.sha256(data).hexdigest()


class Session:
    """One open work: what holds its file, and where it is kept.

    Attributes:
        holds: False when another window has the file open; then this session keeps
            its work apart.
    """

    def __init__(self, source: Path | None = None, key: str | None = None) -> None:
        if source is not None:
            sweep(Path(os.path.realpath(source)).parent)
        self.source = source
        self.key = key or (_key_of(source) if source else _fresh_key())
        self._lock = _locked(_record(self.key))
        self.holds = self._lock is not None
        if not self.holds:
            self.key = _fresh_key()
            self._lock = _locked(_record(self.key))
        # Of work that is brought back here: it is known so until it is kept anew.
        _, self._begun_from = _noted_in(_record(self.key))
        self._noted = self._note()
        self._last: bytes | None = None

    @property
    def _places(self) -> tuple[Path, ...]:
        apart = state_folder() / f"{self.key}.autosave"
        if self.source is None or not self.holds:
            return (apart,)
        return (beside(self.source), apart)

    def keep(self, job: Job, begun_from: str = "") -> Path | None:
        """Keep the work; beside the file, else in the folder for state.

        Args:
            begun_from: the check sum of what the file held when it was begun.

        Returns:
            Where, or None when the same was kept already.

        Raises:
            FileTrouble: no place can be written.
        """
        data = written(job).encode()
        if data == self._last:
            return None
        self._noted &= begun_from == self._begun_from
        self._begun_from = begun_from
        self._noted = self._noted or self._note()
        troubles: list[FileTrouble] = []
        for place in self._places:
            try:
                self._keep_at(place, data)
            except FileTrouble as trouble:
                troubles.append(trouble)
                continue
            self._last = data
            for other in self._places:
                if other != place:
                    take_away(other)
            return place
        raise troubles[0]

    def _keep_at(self, place: Path, data: bytes) -> None:
        """Keep it where only those may read it who may read the file itself."""
        mode = _MINE
        try:
            if place.parent == state_folder():
                place.parent.mkdir(0o700, parents=True, exist_ok=True)
            elif self.source is not None and self.source.exists():
                mode = stat.S_IMODE(self.source.stat().st_mode)
        except OSError as trouble:
            raise trouble_with(place, trouble) from trouble
        save_whole(place, data, mode=mode)

    def _note(self) -> bool:
        """Write into the record which file is open, and what it held.

        So the work is listed, and told from what was saved in the file since.

        Returns:
            False when that cannot be written just now.
        """
        if self._lock is None or self._lock < 0:
            return False
        named = self.source if self.holds else None
        place = os.path.realpath(named) if named else None
        text = json.dumps([place, self._begun_from]).encode()
        try:
            os.lseek(self._lock, 0, os.SEEK_SET)
            if os.read(self._lock, len(text) + 1) != text:
                os.lseek(self._lock, 0, os.SEEK_SET)
                os.write(self._lock, text)
                os.ftruncate(self._lock, len(text))
        except OSError:
            return False
        return True

    def forget(self) -> None:
        """Take away what is kept: the work is saved, or she went back."""
        self._last = None
        for place in self._places:
            take_away(place)

    def close(self) -> None:
        """Let go of the file; what is kept stays."""
        if self._lock is None:
            return
        if not any(map(os.path.lexists, self._places)):
            take_away(_record(self.key))
        if self._lock >= 0:
            os.close(self._lock)
        self._lock = None


def kept_for(path: Path) -> Kept | None:
    """Unsaved work on a file, left by a session that has ended; the newest."""
    key = _key_of(path)
    apart = state_folder() / f"{key}.autosave"
    _, begun_from = _noted_in(_record(key))
    places = (beside(path), apart)
    found = [_kept(key, path, place, begun_from) for place in places]
    there = [kept for kept in found if kept is not None]
    if not there or _is_held(_record(key)):
        return None
    return max(there, key=lambda kept: kept.at)


def left_behind() -> tuple[Kept, ...]:
    """All unsaved work of sessions that have ended, the newest first."""
    sweep(state_folder())
    found: list[Kept] = []
    for record in _in_state_folder(_RECORDS):
        handle = _opened(record)
        if handle is None:
            continue
        # Held meanwhile: nobody begins to keep work under a record that is taken away.
        try:
            if _lock(handle):
                kept = _left_by(record)
                found += [kept] if kept else []
                if kept is None:
                    take_away(record)
        finally:
            os.close(handle)
    return tuple(sorted(found, key=lambda kept: kept.at, reverse=True))


def let_go(kept: Kept) -> None:
    """Take kept work away."""
    take_away(kept.place)
    if not _is_held(_record(kept.key)):
        take_away(_record(kept.key))


def set_aside(kept: Kept, trouble: SkirtwrightError) -> SkirtwrightError:
    """Put kept work that cannot be used out of the way of what is kept next.

    Args:
        trouble: why it cannot be used.

    Returns:
        What there is to tell: where it is now, and why.
    """
    name = (kept.source.stem if kept.source else "order")[:_LETTERS]
    when = datetime.fromtimestamp(kept.at)  # noqa: DTZ006 - hers
    place = kept.place.with_name(f"{name} not saved {when:%Y-%m-%d %H.%M}{SUFFIX}")
    try:
        place = kept.place.rename(free(place))
    except OSError as second:
        # Where it cannot be moved, nothing can be written over it either.
        return trouble_with(kept.place, second)
    why = Phrase(f"problem.{trouble.problem.code}", trouble.problem.values)
    return BadInput(
        "file.set_aside", str(place), file=place.name, folder=str(place.parent), why=why
    )


def forget(
    is_wanted: Callable[[Path | None, Job], bool],
    is_in: Callable[[str], bool] = lambda _text: False,
    is_at: Callable[[Path], bool] = lambda _path: False,
) -> bool:
    """Take away work that was kept in the folder for state, wherever it came from.

    Args:
        is_wanted: whether kept work is to go, by the file it is work on and by itself.
        is_in: the same of kept work that cannot be used any more, by its text.
        is_at: whether the path of a file is to be known no more.

    Returns:
        False where such work is still open in a window, which may keep it anew.
    """
    closed = True
    for place in _in_state_folder("work-*.autosave", f"*{SUFFIX}"):  # Set aside, too.
        record = _record(place.name.removesuffix(".autosave"))
        try:
            wanted = is_wanted(_noted_in(record)[0], load(place))
        except SkirtwrightError:
            wanted = is_in(_text_of(place))
        if wanted:
            take_away(place)
            closed &= not _is_held(record)
    for record in _in_state_folder(_RECORDS):
        source = _noted_in(record)[0]
        # Work beside that file is found by it without the record, too.
        if source is not None and is_at(source) and not _is_held(record):
            take_away(record)
    return closed


def _text_of(place: Path) -> str:
    try:
        return load_bytes(place).decode("utf-8", "replace")
    except FileTrouble:
        return ""


def _in_state_folder(*patterns: str) -> list[Path]:
    """What is there by its name; of a closed folder nothing, for nothing was kept."""
    try:
        return [place for each in patterns for place in state_folder().glob(each)]
    except OSError:
        return []


def _left_by(record: Path) -> Kept | None:
    key = record.name.removesuffix(".open")
    source, begun_from = _noted_in(record)
    places = [state_folder() / f"{key}.autosave"]
    if source is not None:
        places.append(beside(source))
    found = [_kept(key, source, place, begun_from) for place in places]
    there = [kept for kept in found if kept is not None]
    return max(there, key=lambda kept: kept.at) if there else None


def _kept(key: str, source: Path | None, place: Path, begun_from: str) -> Kept | None:
    try:
        return Kept(key, source, place, place.stat().st_mtime, begun_from)
    except OSError:
        return None


def _key_of(path: Path) -> str:
    real = os.path.realpath(path)
    return "work-" + hashlib.sha256(os.fsencode(real)).hexdigest()[:20]


def _fresh_key() -> str:
    return "work-" + secrets.token_hex(10)


def _record(key: str) -> Path:
    return state_folder() / f"{key}.open"


def _noted_in(record: Path) -> tuple[Path | None, str]:
    """Which file a record is of, and the check sum of what that held."""
    try:
        noted = json.loads(record.read_text("utf-8") or "null")
    except (OSError, ValueError):
        return None, ""
    match noted:
        case [str() as place, str() as begun_from]:
            return Path(place), begun_from
        case str():  # Of an earlier version.
            return Path(noted), ""
    return None, ""


def _locked(record: Path) -> int | None:
    """A handle on a record, locked for as long as the process lives.

    Returns:
        None when another holds it; -1 when there is no place for records at all,
        where a second window cannot be told from a first.
    """
    held = False
    for _ in range(_TRIES):
        try:
            record.parent.mkdir(0o700, parents=True, exist_ok=True)
            handle = os.open(record, os.O_RDWR | os.O_CREAT, _MINE)
        except OSError:
            return -1
        held = not _lock(handle)
        if not held and _is_still(record, handle):
            return handle
        # Held, or taken away by another session between the two calls.
        os.close(handle)
        time.sleep(_PAUSE)
    return None if held else -1


def _opened(record: Path) -> int | None:
    try:
        return os.open(record, os.O_RDWR)
    except OSError:
        return None


def _is_held(record: Path) -> bool:
    handle = _opened(record)
    if handle is None:
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

"""Files saved whole or not at all, whatever the disk does."""

from __future__ import annotations

import errno
import os
import stat
import time
from pathlib import Path

import pytest

from skirtwright.job.saving import (
    check_folder,
    companion,
    free,
    place_that_works,
    save_whole,
    sweep,
)
from skirtwright.problems import FileTrouble
from skirtwright.words import says

OLD, NEW = b"the version before", b"the new version" * 1000


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "order.skirt"
    path.write_bytes(OLD)
    return path


def test_saves(path):
    save_whole(path, NEW)
    assert path.read_bytes() == NEW
    assert list(path.parent.iterdir()) == [path]


def test_a_new_file(tmp_path):
    save_whole(tmp_path / "n.skirt", NEW)
    assert (tmp_path / "n.skirt").read_bytes() == NEW
    umask = os.umask(0)
    os.umask(umask)
    mode = stat.S_IMODE((tmp_path / "n.skirt").stat().st_mode)
    assert mode == 0o666 & ~umask


CALLS = ["open", "write", "fsync", "close", "replace", "chmod"]


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS])
@pytest.mark.parametrize("turn", [1, 2])
def test_whatever_fails_the_old_file_is_whole(path, monkeypatch, call, number, turn):
    real, calls = getattr(os, call), []

    def failing(*arguments, **named):
        calls.append(arguments)
        if len(calls) == turn:
            if call == "close":
                real(*arguments, **named)
            raise OSError(number, os.strerror(number))
        return real(*arguments, **named)

    monkeypatch.setattr(os, call, failing)
    said = ""
    try:
        save_whole(path, NEW, keep=path.with_name("kept"))
    except FileTrouble as trouble:
        said = says(trouble.problem)
    monkeypatch.undo()
    if not said:
        path.with_name("kept").unlink()
    if said:
        assert path.name in said
        # Whole: the old one, or the new one when only the folder could not be synced.
        assert path.read_bytes() in (OLD, NEW)
        if call in ("write", "replace", "chmod") or turn == 1:
            assert path.read_bytes() == OLD
    else:
        assert len(calls) < turn or path.read_bytes() == NEW
    left = [p for p in path.parent.iterdir() if p != path]
    assert left == [], "nothing half-written stays"


def test_a_write_cut_into_parts_is_written_whole(path, monkeypatch):
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, bytes(data[:7])))
    save_whole(path, NEW[:100])
    monkeypatch.undo()
    assert path.read_bytes() == NEW[:100]


def test_the_data_are_on_disk_before_the_name(path, monkeypatch):
    order = []
    for call in ("write", "fsync", "replace"):
        real = getattr(os, call)

        def noted(*arguments, _real=real, _call=call, **named):
            order.append(_call)
            return _real(*arguments, **named)

        monkeypatch.setattr(os, call, noted)
    save_whole(path, b"x")
    monkeypatch.undo()
    assert order == ["write", "fsync", "replace", "fsync"]


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_mode_bits_are_kept(path, mode):
    path.chmod(mode)
    save_whole(path, NEW)
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_a_link_is_followed(path, tmp_path):
    link = tmp_path / "link.skirt"
    link.symlink_to(path.name)
    save_whole(link, NEW)
    assert link.is_symlink()
    assert path.read_bytes() == NEW


def test_a_link_to_what_is_not_there_yet(tmp_path):
    link = tmp_path / "link.skirt"
    link.symlink_to("later.skirt")
    save_whole(link, NEW)
    assert (tmp_path / "later.skirt").read_bytes() == NEW
    assert link.is_symlink()


def test_the_version_before_is_kept_without_links_too(path, tmp_path, monkeypatch):
    keep = tmp_path / "kept"

    def no_links(*_):
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", no_links)
    save_whole(path, NEW, keep=keep)
    assert keep.read_bytes() == OLD
    save_whole(path, b"third", keep=keep)
    assert keep.read_bytes() == NEW


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (lambda folder: folder / "away" / "o.skirt", "file.folder_not_there"),
        (lambda folder: folder, "file.is_a_folder"),
    ],
)
def test_places_that_cannot_be(tmp_path, make, code):
    with pytest.raises(FileTrouble) as trouble:
        save_whole(make(tmp_path), NEW)
    assert trouble.value.problem.code == code
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("linked", [False, True])
def test_what_is_no_file_is_not_written_over(tmp_path, linked):
    """A link that has come to lead to a pipe or a device, while its order was open."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    place = tmp_path / "o.skirt" if linked else pipe
    if linked:
        place.symlink_to(pipe)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(FileTrouble) as trouble:
        save_whole(place, NEW, keep=tmp_path / "before")
    assert trouble.value.problem.code == "file.no_file"
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert sorted(tmp_path.iterdir()) == before


def test_a_full_disk_is_named(path, monkeypatch):
    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(FileTrouble) as trouble:
        save_whole(path, NEW)
    assert trouble.value.problem.code == "file.disk_full"


def test_parts_left_by_a_crash_are_swept_after_a_day(tmp_path):
    old = tmp_path / ".o.skirt.77.skirtwright-part"
    fresh = tmp_path / ".o.skirt.78.skirtwright-part"
    other = tmp_path / "o.skirt"
    for each in (old, fresh, other):
        each.write_bytes(b"x")
    long_ago = time.time() - 2 * 24 * 3600
    os.utime(old, (long_ago, long_ago))
    os.utime(other, (long_ago, long_ago))
    sweep(tmp_path)
    assert {p.name for p in tmp_path.iterdir()} == {fresh.name, other.name}


def test_clearing_up_after_a_failure_cannot_fail(path, monkeypatch):
    """On a read-only medium the part can be neither written nor taken away."""

    def read_only(*_, **__):
        raise OSError(errno.EROFS, "Read-only file system")

    for call in ("open", "unlink"):
        monkeypatch.setattr(os, call, read_only)
    with pytest.raises(FileTrouble):
        save_whole(path, NEW)


@pytest.mark.parametrize("links", [True, False])
def test_the_version_before_is_never_missing(path, tmp_path, monkeypatch, links):
    """Looked for at every call of a save, such as a kill might stop it at."""
    keep = tmp_path / "kept"
    save_whole(path, b"second", keep=keep)
    seen = []
    for call in ("open", "write", "fsync", "close", "link", "replace", "unlink"):
        real = getattr(os, call)

        def noted(*arguments, _real=real, _call=call, **named):
            if _call == "link" and not links:
                raise OSError(errno.EPERM, "no links here")
            before = keep.exists()
            try:
                return _real(*arguments, **named)
            finally:
                seen.append((_call, before and keep.exists()))

        monkeypatch.setattr(os, call, noted)
    save_whole(path, b"third", keep=keep)
    save_whole(path, b"fourth", keep=keep)
    monkeypatch.undo()
    assert len(seen) > 15
    assert [call for call, was_there in seen if not was_there] == []
    assert keep.read_bytes() == b"third"
    assert set(tmp_path.iterdir()) == {path, keep}


def test_a_kill_before_the_new_version_leaves_nothing_odd(path, tmp_path):
    """The version before and the file are one file then."""
    keep = tmp_path / "kept"
    os.link(path, keep)
    save_whole(path, NEW, keep=keep)
    assert keep.read_bytes() == OLD
    assert set(tmp_path.iterdir()) == {path, keep}


@pytest.mark.parametrize("mode", [0o600, 0o640])
def test_at_no_moment_may_others_read_what_is_private(path, monkeypatch, mode):
    path.chmod(mode)
    real, seen = os.open, []

    def noted(place, flags, *rest, **named):
        handle = real(place, flags, *rest, **named)
        if flags & os.O_CREAT:
            seen.append(stat.S_IMODE(os.fstat(handle).st_mode))
        return handle

    monkeypatch.setattr(os, "open", noted)
    save_whole(path, NEW)
    save_whole(path.with_name("own"), NEW, mode=mode)
    monkeypatch.undo()
    assert len(seen) == 2
    assert not any(found & ~mode for found in seen)
    assert stat.S_IMODE(path.with_name("own").stat().st_mode) == mode


@pytest.mark.parametrize("letter", ["n", "ł", "裙", "\N{MAN}"])
@pytest.mark.parametrize("ending", ["before", "autosave"])
def test_beside_the_longest_names_there_is_room(tmp_path, letter, ending):
    longest = 255 // len(letter.encode())
    places = [companion(tmp_path / (letter * n), ending) for n in (40, longest)]
    assert places[0].name == f".{letter * 40}.{ending}"
    places[1].write_bytes(b"x")
    other = companion(tmp_path / (letter * (longest - 1) + "o"), ending)
    assert other != places[1], "each its own"


def test_a_sweep_cannot_fail(tmp_path, monkeypatch):
    sweep(tmp_path / "away")
    (tmp_path / ".x.skirtwright-part").write_bytes(b"x")

    def closed(*_, **__):
        raise PermissionError(errno.EACCES, "closed")

    for call in ("stat", "scandir", "unlink"):
        monkeypatch.setattr(os, call, closed)
    sweep(tmp_path)


def test_a_place_that_works(tmp_path, monkeypatch):
    closed, away, good = (tmp_path / n for n in ("closed", "away", "good"))
    closed.write_text("a file where a folder should be")
    good.mkdir()
    found = place_that_works([closed, away, good], "n.skirt")
    assert found == good / "n.skirt"
    found.write_bytes(OLD)
    assert place_that_works([good], "n.skirt") == good / "n 2.skirt"
    (good / "n 2.skirt").symlink_to("nowhere")
    assert free(found) == good / "n 3.skirt", "not through a link either"
    assert place_that_works([closed, away], "n.skirt") is None
    with pytest.raises(FileTrouble):
        check_folder(away)
    made = away / "within"
    check_folder(made, make=True)
    assert list(made.iterdir()) == []
    assert stat.S_IMODE(made.stat().st_mode) == 0o700


@pytest.mark.parametrize("call", ["open", "fsync"])
def test_a_folder_that_cannot_be_put_on_disk_is_no_failure(path, monkeypatch, call):
    """On Windows no folder can be opened, and some systems put none on disk."""
    real = getattr(os, call)

    def as_there(what, *arguments, **named):
        folder = what if call == "open" else f"/proc/self/fd/{what}"
        if Path(folder).is_dir():
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return real(what, *arguments, **named)

    monkeypatch.setattr(os, call, as_there)
    save_whole(path, NEW)
    monkeypatch.undo()
    assert path.read_bytes() == NEW
    assert list(path.parent.iterdir()) == [path]

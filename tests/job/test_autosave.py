"""Kept work: offered back after any end, never in the way, told from open work."""

from __future__ import annotations

import errno
import itertools
import os
import shutil
import signal
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from skirtwright.draft import styles
from skirtwright.job import autosave, file, folders
from skirtwright.job.edits import set_amount, set_measurement
from skirtwright.job.job import new_job
from skirtwright.problems import FileTrouble
from skirtwright.words import says

KILLS = 6
ROUNDS = 5

# One process edits and is killed in the middle of it, so often in each round: the
# child forks for every session, so that the program is loaded only once.
SESSION = """
import os, sys
from pathlib import Path
from skirtwright.draft import styles
from skirtwright.job import autosave, file, folders
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job

path, times = Path(sys.argv[1]), int(sys.argv[2])
job = new_job(styles.style(styles.first()))
if not path.exists():
    file.save(job, path)
for number in range(times):
    child = os.fork()
    if child == 0:
        session = autosave.Session(path if number % 2 else None)
        assert session.holds
        edits = 0
        while True:
            edits += 1
            text = f"{60 + edits % 40} cm"
            session.keep(set_amount(job, "length", text).job)
            os.write(1, b"%d %d\\n" % (os.getpid(), edits))
    os.waitpid(child, 0)
    os.write(1, b"dead 0\\n")
    sys.stdin.readline()
"""


@pytest.fixture(autouse=True)
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state" / "skirtwright"


@pytest.fixture
def job():
    return new_job(styles.style(styles.first()))


@pytest.fixture
def saved(tmp_path, job) -> Path:
    path = tmp_path / "clara.skirt"
    file.save(job, path)
    return path


def edited(job, text="44 mm"):
    return set_amount(job, "front_spread", text).job


@pytest.mark.sampled
def test_killed_while_editing_it_is_offered_back(tmp_path, at_length):
    """R2, of 50 kills: each leaves work that reads back, at most one edit old."""
    path = tmp_path / "order.skirt"
    rounds = ROUNDS if at_length else 1
    offered = 0
    for _ in range(rounds):
        with subprocess.Popen(
            [sys.executable, "-c", SESSION, str(path), str(KILLS)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        ) as child:
            for number in range(KILLS):
                offered += kill_and_look(child, after=1 + 3 * number)
            child.stdin.close()
        assert child.returncode == 0
    assert offered == KILLS * rounds


def kill_and_look(child: subprocess.Popen, after: int) -> int:
    """Kill the session that is editing after some edits; is its work offered?"""
    acknowledged = 0
    killed = False
    for line in child.stdout:
        who, count = line.split()
        if who == "dead":
            break
        acknowledged = int(count)
        if acknowledged >= after and not killed:
            os.kill(int(who), signal.SIGKILL)
            killed = True
    kept = autosave.left_behind()
    assert len(kept) == 1, "the work of the session that was killed, and no other"
    length = kept[0].job().amounts["length"]
    known = [f"{60 + edits % 40} cm" for edits in (acknowledged, acknowledged + 1)]
    assert length in known, "nothing acknowledged is lost"
    autosave.let_go(kept[0])
    assert autosave.left_behind() == ()
    child.stdin.write("on\n")
    child.stdin.flush()
    return 1


def test_work_beside_the_file(job, saved):
    session = autosave.Session(saved)
    assert session.holds
    place = session.keep(edited(job))
    assert place == saved.parent / ".clara.skirt.autosave"
    assert session.keep(edited(job)) is None, "the same again is not written"
    assert file.load(saved) == job, "the file itself is not touched"
    session.close()
    assert autosave.kept_for(saved).job() == edited(job)
    assert [kept.source for kept in autosave.left_behind()] == [saved]


def test_saved_work_leaves_nothing_behind(job, saved, state):
    session = autosave.Session(saved)
    session.keep(edited(job))
    session.forget()
    session.close()
    assert autosave.kept_for(saved) is None
    assert list(state.iterdir()) == []
    assert sorted(p.name for p in saved.parent.iterdir()) == ["clara.skirt", "state"]


def test_work_without_a_name_is_kept_apart(job, state):
    session = autosave.Session()
    session.keep(edited(job))
    assert autosave.left_behind() == (), "it is still open"
    session.close()
    (kept,) = autosave.left_behind()
    assert kept.source is None
    assert kept.place.parent == state
    again = autosave.Session(key=kept.key)
    assert again.holds
    assert autosave.left_behind() == ()
    again.close()


def test_a_folder_that_cannot_be_written(job, saved, state, monkeypatch):
    """The work goes to the folder for state, and is offered from there."""
    whole = autosave.save_whole

    def refuse(path, data, **rest):
        if path.parent == saved.parent:
            raise FileTrouble("file.not_allowed", str(path), file="", folder="")
        whole(path, data, **rest)

    monkeypatch.setattr(autosave, "save_whole", refuse)
    session = autosave.Session(saved)
    assert session.keep(edited(job)).parent == state
    session.close()
    assert autosave.kept_for(saved).job() == edited(job)
    (kept,) = autosave.left_behind()
    assert kept.source == saved


def test_no_place_at_all_is_said(job, saved, monkeypatch):
    def refuse(path, data, **rest):
        raise FileTrouble("file.disk_full", str(path), file=path.name, folder="")

    monkeypatch.setattr(autosave, "save_whole", refuse)
    session = autosave.Session(saved)
    with pytest.raises(FileTrouble) as said:
        session.keep(edited(job))
    assert said.value.problem.code == "file.disk_full"
    monkeypatch.undo()
    assert session.keep(edited(job)) is not None, "tried again, not given up"
    session.close()


def test_without_a_folder_for_state_the_file_still_opens(job, saved, monkeypatch):
    blocked = saved.parent / "blocked"
    blocked.write_text("a file where a folder should be")
    monkeypatch.setenv("XDG_STATE_HOME", str(blocked))
    session = autosave.Session(saved)
    assert session.holds
    assert session.keep(edited(job)) == autosave.beside(saved)
    session.close()


@pytest.mark.sampled
def test_the_second_on_one_file_is_told(job, saved, at_length):
    """Whoever keeps and closes first: the first holds it, nothing of either is lost."""
    both, times = ((0, 1), (1, 0)), 5 if at_length else 1
    for number, (order, closing) in enumerate([*itertools.product(both, both)] * times):
        first, second = autosave.Session(saved), autosave.Session(saved)
        assert first.holds
        assert not second.holds
        sessions = [first, second]
        works = [edited(job, f"{31 + number} mm"), edited(job, "59 mm")]
        for each in order:
            sessions[each].keep(works[each])
        for each in closing:
            sessions[each].close()
        kept = autosave.left_behind()
        assert len(kept) == 2
        assert autosave.kept_for(saved).job() == works[0]
        assert {k.job().amounts["front_spread"] for k in kept} == {
            work.amounts["front_spread"] for work in works
        }
        for each in kept:
            autosave.let_go(each)


def test_a_link_is_followed(job, saved, tmp_path):
    other = tmp_path / "elsewhere"
    other.mkdir()
    link = other / "link.skirt"
    link.symlink_to(saved)
    first, second = autosave.Session(saved), autosave.Session(link)
    assert not second.holds, "both names are one file"
    second.close()
    first.close()


def test_damaged_kept_work_is_refused_whole(job, saved):
    session = autosave.Session(saved)
    place = session.keep(edited(job))
    session.close()
    place.write_text("{")
    with pytest.raises(Exception) as said:
        autosave.kept_for(saved).job()
    assert said.value.problem.code == "json.cut_short"


def test_kept_work_is_hers_alone(job, state):
    session = autosave.Session()
    session.keep(set_measurement(job, "waist", "70").job)
    session.close()
    (record,) = state.glob("*.open")
    assert stat.S_IMODE(record.stat().st_mode) == 0o600


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_kept_work_is_as_private_as_the_order(job, saved, mode):
    """Beside the file its own mode; also when it was made more private since."""
    session = autosave.Session(saved)
    place = session.keep(edited(job))
    saved.chmod(mode)
    assert session.keep(edited(job, "45 mm")) == place
    assert stat.S_IMODE(place.stat().st_mode) == mode
    session.close()
    unnamed = autosave.Session()
    apart = unnamed.keep(edited(job))
    assert stat.S_IMODE(apart.stat().st_mode) == 0o600
    unnamed.close()


def test_a_folder_for_state_is_made_for_her_alone(job, state):
    session = autosave.Session()
    assert stat.S_IMODE(state.stat().st_mode) == 0o700
    session.close()


@pytest.mark.parametrize("given", ["state", "./state", "", "~/state"])
def test_folders_that_are_not_absolute_are_ignored(tmp_path, monkeypatch, given):
    """XDG Base Directory Specification: such a path is invalid."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, given)
    monkeypatch.delenv("LOCALAPPDATA", raising=False)
    home = tmp_path / "home"
    assert folders.state_folder() == home / ".local/state/skirtwright"
    assert folders.settings_folder() == home / ".config/skirtwright"


def closed(monkeypatch, folder: Path) -> None:
    """Every call on what lies in a folder is refused, as to one without rights."""
    for call in ("open", "stat", "lstat", "mkdir", "scandir", "listdir", "unlink"):
        real = getattr(os, call)

        def refuse(path, *rest, _real=real, **named):
            if isinstance(path, str | Path) and str(path).startswith(str(folder)):
                raise PermissionError(errno.EACCES, "closed", str(path))
            return _real(path, *rest, **named)

        monkeypatch.setattr(os, call, refuse)


def test_a_closed_folder_for_state(job, saved, state, monkeypatch):
    state.mkdir(parents=True)
    closed(monkeypatch, state)
    assert autosave.left_behind() == ()
    assert autosave.kept_for(saved) is None
    session = autosave.Session(saved)
    assert session.holds
    assert session.keep(edited(job)) == autosave.beside(saved)
    session.close()
    unnamed = autosave.Session()
    with pytest.raises(FileTrouble):
        unnamed.keep(edited(job))
    unnamed.close()


def full(monkeypatch) -> None:
    def refuse(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", refuse)


def test_a_full_folder_for_state(job, saved, monkeypatch):
    """The file opens; once there is room its work is listed after all."""
    with monkeypatch.context() as without_room:
        full(without_room)
        session = autosave.Session(saved)
        assert session.holds
        with pytest.raises(FileTrouble):
            session.keep(edited(job))
    session.keep(edited(job))
    session.close()
    assert [kept.source for kept in autosave.left_behind()] == [saved]


def test_opening_again_never_unlists_what_is_kept(job, saved, monkeypatch):
    """Not even where the next session is stopped in the middle of beginning."""
    session = autosave.Session(saved)
    session.keep(edited(job))
    session.close()
    full(monkeypatch)
    monkeypatch.setattr(os, "ftruncate", lambda *_: pytest.fail("emptied"))
    autosave.Session(saved).close()
    monkeypatch.undo()
    monkeypatch.setenv("XDG_STATE_HOME", str(saved.parent / "state"))
    assert [kept.source for kept in autosave.left_behind()] == [saved]


def test_a_folder_that_vanished_is_not_made_again(job, saved, state):
    folder = saved.parent / "stick"
    folder.mkdir()
    path = folder / "clara.skirt"
    file.save(job, path)
    session = autosave.Session(path)
    shutil.rmtree(folder)
    assert session.keep(edited(job)).parent == state
    assert not folder.exists()
    session.close()


def test_old_parts_beside_a_file_are_swept_when_it_is_opened(saved):
    part = saved.with_name(".0123.skirtwright-part")
    part.write_bytes(b"x")
    os.utime(part, (1e9, 1e9))
    autosave.Session(saved).close()
    assert not part.exists()


def test_what_cannot_be_used_is_set_aside_once_each(job, saved):
    trouble = FileTrouble("file.disk_full", file="x")
    names = []
    for _ in range(2):
        session = autosave.Session(saved)
        place = session.keep(edited(job))
        session.close()
        os.utime(place, (1e9, 1e9))
        told = autosave.set_aside(autosave.kept_for(saved), trouble)
        assert "no room left" in says(told.problem)
        names.append(told.problem.values["file"])
    assert len(set(names)) == 2
    for name in names:
        assert file.load(saved.with_name(name)) == edited(job)
    assert autosave.kept_for(saved) is None

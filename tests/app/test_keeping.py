"""Saving, failing to save, closing, dying, and two windows on one file."""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from places import amount
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor

from skirtwright.app.due_day import shown_day
from skirtwright.app.recent_pictures import keep_picture, picture_of
from skirtwright.draft import styles
from skirtwright.job import autosave, file, saving
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job

pytestmark = pytest.mark.usefixtures("keeps")

SESSION = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from skirtwright.app.main import open_window

window = open_window(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
window.acts.by_name["shape"].trigger()
row = window.slips.shape.row_of("front_spread")
window.desk.set_amounts({"front_spread": "4.5"})
timer = QTimer()
timer.timeout.connect(lambda: (row.step(1), print("edit", flush=True)))
timer.start(1250)
QApplication.instance().exec()
"""


@pytest.fixture
def job():
    return new_job(styles.style(styles.first()))


@pytest.fixture
def saved(tmp_path, job) -> Path:
    path = tmp_path / "work" / "clara.skirt"
    path.parent.mkdir()
    file.save(job, path)
    return path


def edit(window, text="4.5"):
    window.desk.set_amounts({"front_spread": text})


def failing(monkeypatch, number: int, where: Path | None = None) -> None:
    """Every write (in a folder) fails with a system error."""
    real = os.open

    def refuse(path, flags, *rest, **named):
        writes = flags & (os.O_WRONLY | os.O_RDWR) and "skirtwright-part" in str(path)
        if writes and (where is None or Path(path).parent == where):
            raise OSError(number, os.strerror(number), str(path))
        return real(path, flags, *rest, **named)

    monkeypatch.setattr(saving.os, "open", refuse)


def test_saved_or_not_is_always_visible(opened, saved):
    window = opened(saved)
    assert window.band.state.accessibleName() == "Saved in clara.skirt"
    assert "not saved" not in window.windowTitle()
    edit(window)
    assert window.band.state.accessibleName() == "Not saved in clara.skirt yet"
    assert "not saved" in window.windowTitle()
    window.acts.by_name["save"].trigger()
    assert window.band.state.accessibleName() == "Saved in clara.skirt"
    assert file.load(saved) == window.desk.job
    window.desk.history.undo()
    assert "not saved" in window.windowTitle(), "undone past the saving"


def test_what_the_window_saved_it_opens_unchecked(opened, saved, monkeypatch):
    """What checks a stranger's order takes longer to load than the skirt to draw."""
    window = opened(saved)
    edit(window)
    window.acts.by_name["save"].trigger()
    job = window.desk.job
    monkeypatch.setattr(file, "read", None)
    window.keeper.open(saved)
    assert window.desk.job == job


def test_a_save_keeps_the_version_before(opened, saved, job):
    window = opened(saved)
    edit(window)
    window.files.save()
    assert file.load(saved.parent / ".clara.skirt.before") == job


@pytest.mark.parametrize(
    ("number", "code"),
    [
        (errno.ENOSPC, "no room left"),
        (errno.EACCES, "may not be"),
        (errno.EROFS, "can only be read"),
        (errno.EIO, "could not be"),
        (errno.EMFILE, "could not be"),
    ],
)
def test_a_failed_save_names_file_and_cause_and_offers_another_place(
    opened, saved, job, monkeypatch, number, code
):
    """Rule 19, R3."""
    window = opened(saved)
    edit(window)
    failing(monkeypatch, number, saved.parent)
    assert not window.files.save()
    assert window.isVisible()
    assert window.line.code
    words = window.line.words.text()
    assert "clara.skirt" in words
    assert code in words
    assert "Your work is still here" in words
    assert window.line.buttons[0].text() == "Save somewhere else…"
    assert "not saved" in window.windowTitle()
    assert file.load(saved) == job, "what was there stays"
    assert not list(saved.parent.glob("*part*"))
    assert autosave.left_behind() == (), "kept, and still open"
    monkeypatch.undo()


def test_saving_elsewhere_after_a_failure(opened, saved, tmp_path, monkeypatch):
    window = opened(saved)
    edit(window)
    failing(monkeypatch, errno.ENOSPC, saved.parent)
    window.files.save()
    other = tmp_path / "stick" / "clara.skirt"
    other.parent.mkdir()
    assert window.files.save_as(other)
    assert window.line.code == ""
    assert window.keeper.path == other
    assert file.load(other).amounts == {"front_spread": "4.5"}
    monkeypatch.undo()
    window.close()
    assert autosave.left_behind() == ()


@pytest.mark.skipif(sys.platform != "linux", reason="a full tmpfs is Linux's")
def test_a_full_disk(opened, saved, tmp_path):
    """R4: a real file system with no room, where this machine lets us mount one."""
    full = tmp_path / "full"
    full.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(full)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("not allowed to mount")
    try:
        (full / "ballast").write_bytes(b"x" * 56 * 1024)
        window = opened(saved)
        edit(window)
        assert not window.files.save_as(full / "clara.skirt")
        assert "no room left" in window.line.words.text()
        assert [p.name for p in full.iterdir()] == ["ballast"]
    finally:
        subprocess.run(["umount", str(full)], check=True)


def test_a_folder_that_is_gone(opened, saved):
    window = opened(saved)
    edit(window)
    for each in saved.parent.iterdir():
        each.unlink()
    saved.parent.rmdir()
    assert not window.files.save()
    assert "is not there" in window.line.words.text()
    assert window.keeper.keep_now(), "kept in the folder for state meanwhile"


def test_a_file_changed_by_others_is_not_written_over(opened, saved, job):
    window = opened(saved)
    theirs = set_amount(job, "length", "88").job
    file.save(theirs, saved)
    edit(window)
    assert not window.files.save()
    assert "changed by another program" in window.line.words.text()
    assert file.load(saved) == theirs


def test_kept_a_second_after_an_edit_and_on_losing_focus(opened, saved, qtbot):
    window = opened(saved)
    place = autosave.beside(saved)
    edit(window)
    assert not place.exists()
    qtbot.waitUntil(place.exists, timeout=2500)
    edit(window, "5")
    window.keeper._left(Qt.ApplicationState.ApplicationInactive)
    assert file.load(place).amounts == {"front_spread": "5"}
    window.files.save()
    assert not place.exists()


def test_kept_though_she_never_rests(opened, saved, qtbot):
    """An edit soon after another does not put off its being kept."""
    window = opened(saved)
    timer = window.keeper._timer
    timer.setInterval(60_000)
    edit(window)
    before = timer.remainingTime()
    qtbot.wait(100)
    edit(window, "5")
    assert timer.isActive()
    assert timer.remainingTime() <= before - 50


def test_closing_asks_nothing_and_loses_nothing(opened, saved, job):
    """Rules 15 and 16: no question, the file as saved, the work offered back."""
    window = opened(saved)
    edit(window)
    window.close()
    assert not window.isVisible()
    assert file.load(saved) == job
    again = opened(saved)
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.line.code
    assert "not saved" in again.line.words.text()
    assert "not saved" in again.windowTitle()
    # The filled one keeps the work.
    assert again.line.buttons[0].text() == "Save"
    again.line.buttons[1].click()
    assert again.desk.job == job
    assert again.desk.saved
    again.desk.history.redo()
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    again.desk.history.undo()
    again.close()
    assert autosave.left_behind() == ()


def test_work_without_a_name_comes_back_by_itself(opened):
    window = opened(None)
    edit(window)
    window.close()
    again = opened(None)
    # Never saved: there is nothing saved to go back to.
    assert [b.text() for b in again.line.buttons] == ["Save", "Close"]
    assert not again.acts.by_name["back_to_saved"].isEnabled()
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.keeper.path is None
    again.desk.history.undo()
    again.close()
    third = opened(None)
    assert third.desk.saved
    assert third.desk.job.amounts == {}


def test_half_typed_is_taken_on_closing(opened):
    window = opened(None)
    line = amount(window, "front_spread").line
    line.setFocus()
    line.setText("5")
    line.setModified(True)
    window.close()
    assert opened(None).desk.job.amounts == {"front_spread": "5"}


def test_closing_stops_while_nothing_can_be_kept(opened, monkeypatch):
    """However often she tries; work goes only when she says so."""
    window = opened(None)
    edit(window)
    failing(monkeypatch, errno.ENOSPC)
    for _ in range(2):
        assert not window.close()
        assert window.isVisible()
        assert "cannot be kept" in window.line.words.text()
    texts = [button.text() for button in window.line.buttons]
    assert texts == ["Save somewhere else…", "Close without it"], "no place works"
    window.line.buttons[-1].click()
    assert not window.isVisible()


def test_closing_offers_a_place_that_works(opened, home, monkeypatch):
    """Kept in no folder of hers, the order is saved in another with one press."""
    window = opened(None)
    edit(window)
    failing(monkeypatch, errno.EROFS, autosave.state_folder())
    assert not window.close()
    offered = window.line.buttons[0]
    assert offered.text() == f"Save in {home}"
    (home / window.files._suggested(".skirt")).write_text("of another client")
    assert not window.close(), "what is there is not written over"
    window.line.buttons[0].click()
    saved = window.keeper.path
    assert saved.parent == home
    assert saved.stem.endswith(" 2")
    assert file.load(saved).amounts == {"front_spread": "4.5"}
    assert window.close()


def test_a_fault_while_keeping_stops_the_closing_and_is_told(
    opened, qtbot, monkeypatch, capsys
):
    """Whatever goes wrong in keeping, even within the hook for faults."""
    from skirtwright.app.main import _Hook

    window = opened(None)
    edit(window)

    def broken(_):
        raise RuntimeError("planted in keeping")

    monkeypatch.setattr(autosave, "written", broken)
    monkeypatch.setattr(sys, "excepthook", _Hook(window))
    assert not window.close()
    assert "cannot be kept" in window.line.words.text()
    qtbot.waitUntil(lambda: window.line.code == "fault")
    assert "Your work cannot be kept: save it now." in window.line.words.text()
    assert capsys.readouterr().err.count("planted in keeping") >= 1
    assert not window.close(), "nor the second time"
    monkeypatch.undo()
    assert window.close()


def test_the_hook_for_faults_cannot_fail(opened, qtbot, monkeypatch, capsys):
    """No place for details, a closed terminal, a fault that comes with every paint."""
    from skirtwright.app.main import _Hook

    window = opened(None)
    edit(window)
    autosave.state_folder().rename(autosave.state_folder().with_name("away"))
    autosave.state_folder().write_text("a file where a folder should be")
    hook = _Hook(window)
    for _ in range(3):
        hook(RuntimeError, RuntimeError("planted"), None)
    qtbot.waitUntil(lambda: window.line.code == "fault")
    assert "Your work cannot be kept" in window.line.words.text()
    assert "The details" not in window.line.words.text()
    assert capsys.readouterr().err.count("planted") == 1, "told once"
    monkeypatch.setattr(sys, "stderr", None)
    hook(ValueError, ValueError("another"), None)
    monkeypatch.setattr(window.keeper, "keep_now", lambda: 1 / 0)
    hook(KeyError, KeyError("a third"), None)
    monkeypatch.undo()


def test_a_new_client_keeps_the_work_of_before(opened, tmp_path):
    window = opened(None)
    edit(window)
    window.acts.by_name["new_client"].trigger()
    assert "is kept" in window.line.words.text()
    window.acts.by_name["shape"].trigger()
    assert "is kept" not in window.line.words.text(), "she has gone on"
    assert window.desk.job.card.measurements == {}
    (kept,) = window.keeper.others_left()
    window.acts.menus["unsaved"].aboutToShow.emit()
    (entry,) = window.acts.menus["unsaved"].actions()
    entry.trigger()
    assert window.desk.job.amounts == {"front_spread": "4.5"}
    assert kept.job() == window.desk.job


def test_the_second_window_is_told_and_saves_elsewhere(opened, saved, job):
    first, second = opened(saved), opened(saved)
    assert not first.keeper.second
    assert second.keeper.second
    assert second.line.code
    assert "another window" in second.line.words.text()
    edit(first, "4")
    edit(second, "5")
    assert first.files.save()
    assert not second.files.save(), "it asks for another place"
    assert second.files.dialog.selectedFiles() != [str(saved)]
    second.files.dialog.reject()
    assert file.load(saved).amounts == {"front_spread": "4"}
    assert not second.files.save_as(saved)
    assert "open in another window" in second.line.words.text()
    assert second.files.save_as(saved.with_name("other.skirt"))
    assert file.load(saved.with_name("other.skirt")).amounts == {"front_spread": "5"}


def test_a_file_that_cannot_be_read_leaves_the_table_as_it_was(opened, tmp_path):
    bad = tmp_path / "bad.skirt"
    bad.write_text('{"format": 99, "draft": {}}')
    window = opened(None)
    before = window.desk.job
    assert not window.files.open(bad)
    assert "newer Skirtwright" in window.line.words.text()
    assert window.desk.job is before
    again = opened(bad)
    assert again.isVisible()
    assert "newer Skirtwright" in again.line.words.text()


def test_recent_files(opened, saved, qtbot):
    window = opened(saved)
    window.acts.menus["recent"].aboutToShow.emit()
    (entry,) = window.acts.menus["recent"].actions()
    name, day = entry.text().split("  —  ")
    assert name == "&1 Orla Penhallow, Mermaid skirt", (
        "by client and style, not by path"
    )
    assert day == shown_day(time.strftime("%Y-%m-%d"), "en_GB")
    qtbot.waitUntil(lambda: not picture_of(saved).isNull())
    window.acts.menus["recent"].aboutToShow.emit()
    (entry,) = window.acts.menus["recent"].actions()
    seen = entry.icon().pixmap(44, 64).toImage()
    colours = {seen.pixelColor(x, 40).name() for x in range(seen.width())}
    assert QColor(window.colours.cloth).name() in colours, "her skirt, small"
    keep_picture(Path("other.skirt"), window.table.figure.small(window.colours), [])
    assert picture_of(saved).isNull(), "what is not remembered leaves nothing behind"
    saved.unlink()
    window.acts.menus["recent"].aboutToShow.emit()
    (entry,) = window.acts.menus["recent"].actions()
    assert not entry.isEnabled()


def test_it_begins_where_she_left_off(opened, saved):
    """The last order; the example only where there is none."""
    window = opened(None)
    assert window.keeper.path is None
    window.files.open(saved)
    edit(window, "5")
    window.files.save()
    window.close()
    again = opened(None)
    assert again.keeper.path == saved
    assert again.desk.job == file.load(saved)
    assert again.desk.saved
    again.close()
    saved.unlink()
    assert opened(None).keeper.path is None


def test_exporting_gives_what_the_command_line_gives(opened, saved, tmp_path):
    from skirtwright.cli import main

    window = opened(saved)
    assert window.files.export(tmp_path / "mine.svg")
    main(["export", str(saved), "-o", str(tmp_path / "theirs.svg")])
    mine, theirs = (tmp_path / f"{n}.svg" for n in ("mine", "theirs"))
    assert mine.read_bytes() == theirs.read_bytes()


def test_an_order_that_was_saved_is_so_after_printing_too(opened, saved, tmp_path):
    window = opened(saved)
    assert window.files.export(tmp_path / "first.svg")
    assert window.desk.saved
    assert [p.how for p in file.load(saved).prints] == ["drawing"]
    edit(window)
    before = saved.read_bytes()
    assert window.files.export(tmp_path / "second.svg")
    assert not window.desk.saved, "what she changed is hers to save"
    assert saved.read_bytes() == before
    window.files.save()
    saved.unlink()
    saved.mkdir()
    assert window.files.export(tmp_path / "third.svg"), "the print itself is there"
    assert not window.desk.saved, "it could not be noted"


def test_the_window_killed_while_editing_offers_the_work_back(opened, saved, home):
    """kill -9 of the whole program; one here, many of what keeps it in tests/job.

    On a busy machine the last edit may not be kept yet a second later: none before it
    is lost.
    """
    with subprocess.Popen(
        [sys.executable, "-c", SESSION, str(saved)], stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout.readline().strip() == "edit"
        assert child.stdout.readline().strip() == "edit"
        time.sleep(1.1)
        os.kill(child.pid, signal.SIGKILL)
    window = opened(saved)
    value = window.desk.state("front_spread").value
    assert any(value == pytest.approx(kept) for kept in (46, 47, 48))
    assert window.line.code
    assert not window.desk.saved


def test_a_fault_of_the_program_keeps_the_work_and_says_so(opened, qtbot, capsys):
    from skirtwright.app.main import _Hook

    window = opened(None)
    edit(window)
    try:
        raise RuntimeError("planted")  # noqa: TRY301
    except RuntimeError as trouble:
        _Hook(window)(type(trouble), trouble, trouble.__traceback__)
    qtbot.waitUntil(lambda: window.line.code == "fault")
    assert "Your work is kept" in window.line.words.text()
    assert "planted" in (autosave.state_folder() / "trouble.log").read_text()
    assert "planted" in capsys.readouterr().err
    kept = next(autosave.state_folder().glob("*.autosave"))
    assert json.loads(kept.read_text())["amounts"] == {"front_spread": "4.5"}


def test_a_read_only_medium(opened, saved, job, monkeypatch):
    """Nothing can be written or taken away there: kept in the folder for state."""
    window = opened(saved)
    edit(window)
    failing(monkeypatch, errno.EROFS, saved.parent)
    real = os.unlink

    def refuse(path, **named):
        if Path(path).parent == saved.parent:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))
        real(path, **named)

    monkeypatch.setattr(os, "unlink", refuse)
    assert window.close()
    assert file.load(saved) == job
    (kept,) = autosave.left_behind()
    assert kept.place.parent == autosave.state_folder()
    assert opened(saved).desk.job.amounts == {"front_spread": "4.5"}


def test_a_file_with_the_longest_name(opened, tmp_path, job):
    """Saved, kept beside it, and brought back; the version before too.

    In letters of three bytes: what counts letters, not bytes, makes it too long.
    """
    longest = (255 - len(".skirt")) // len("裙".encode())
    path = tmp_path / f"{'裙' * longest}.skirt"
    file.save(job, path)
    window = opened(path)
    edit(window)
    assert window.close()
    again = opened(path)
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.files.save()
    assert again.close()
    assert sorted(map(file.load, tmp_path.glob("*.skirt")), key=repr)
    (before,) = tmp_path.glob(".*.before")
    assert file.load(before) == job
    assert not list(tmp_path.glob(".*.autosave"))


BROKEN = {
    "cut short": lambda text: text[:-40],
    "newer": lambda text: text.replace('"format": ', '"format": 9', 1),
    "unworkable": lambda text: text.replace('"waist": "', '"waist": "x', 1),
}


@pytest.mark.parametrize(
    ("named", "broken"),
    [(True, "cut short"), (False, "newer"), (True, "unworkable")],
)
def test_kept_work_that_cannot_be_used_is_set_aside(opened, saved, named, broken):
    """Told with its new place; never overwritten, however long she works on."""
    window = opened(saved if named else None)
    edit(window)
    window.close()
    (kept,) = autosave.left_behind()
    text = BROKEN[broken](kept.place.read_text("utf-8"))
    kept.place.write_text(text, "utf-8")
    again = opened(saved if named else None)
    assert again.line.code
    assert "set aside as" in again.line.words.text()
    assert again.desk.saved
    edit(again, "5")
    again.close()
    (aside,) = kept.place.parent.glob("* not saved *.skirt")
    assert aside.read_text("utf-8") == text
    assert aside.name in again.line.words.text()
    assert len(autosave.left_behind()) == 1, "the work done since"


def test_a_file_saved_since_is_said_to_be_newer(opened, saved, job):
    window = opened(saved)
    edit(window)
    window.close()
    later = autosave.beside(saved).stat().st_mtime + 10
    theirs = set_amount(job, "length", "88").job
    file.save(theirs, saved)
    os.utime(saved, (later, later))
    again = opened(saved)
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert "it is newer" in again.line.words.text()
    assert again.line.buttons[0].text() == "Save somewhere else…", "not over theirs"
    again.line.buttons[1].click()
    assert again.desk.job == theirs


@pytest.mark.parametrize("folder_too", [True, False])
def test_work_on_a_file_that_is_gone(opened, saved, monkeypatch, folder_too):
    """It comes back under its name; a folder is not made again for it."""
    window = opened(saved)
    edit(window)
    if folder_too:
        failing(monkeypatch, errno.EROFS, saved.parent)
    window.close()
    monkeypatch.undo()
    monkeypatch.setenv("XDG_STATE_HOME", str(saved.parents[1] / "home"))
    saved.unlink()
    if folder_too:
        for each in saved.parent.iterdir():
            each.unlink()
        saved.parent.rmdir()
    again = opened(None)
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.keeper.path == saved
    assert "not to be found" in again.line.words.text()
    edit(again, "5")
    assert again.keeper.keep_now()
    assert saved.parent.exists() != folder_too
    assert again.files.save() != folder_too
    assert again.close()
    assert saved.exists() != folder_too
    assert len(autosave.left_behind()) == int(folder_too)


def test_work_on_a_file_that_is_broken_since(opened, saved):
    """The work comes back without the name, and the file is left as it is."""
    window = opened(saved)
    edit(window)
    window.close()
    saved.write_text("{")
    again = opened(None)
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.keeper.path is None
    assert "cannot be read" in again.line.words.text()
    again.close()
    assert saved.read_text() == "{"
    (kept,) = autosave.left_behind()
    assert kept.job().amounts == {"front_spread": "4.5"}


@pytest.mark.parametrize("variable", ["XDG_STATE_HOME", "XDG_CONFIG_HOME"])
def test_a_folder_of_the_program_that_is_closed(
    opened, home, tmp_path, monkeypatch, variable
):
    """It starts all the same, says that nothing is kept, saves where she says."""
    blocked = home / "blocked"
    blocked.write_text("a file where a folder should be")
    monkeypatch.setenv(variable, str(blocked))
    window = opened(None)
    assert "Nothing can be kept" in window.line.words.text()
    assert str(blocked) in window.line.words.text()
    edit(window)
    assert window.files.save_as(tmp_path / "clara.skirt")
    edit(window, "5")
    assert window.files.save()
    assert file.load(tmp_path / "clara.skirt").amounts == {"front_spread": "5"}
    assert window.close()


@pytest.mark.skipif(sys.platform != "linux", reason="a full tmpfs is Linux's")
def test_a_full_folder_for_state(opened, saved, home):
    """A real file system with no room left, where this machine lets us mount one."""
    full = home / "skirtwright"
    full.mkdir(exist_ok=True)
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(full)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("not allowed to mount")
    try:
        (full / "ballast").write_bytes(b"x" * 64 * 1024)
        window = opened(None)
        assert "Nothing can be kept" in window.line.words.text()
        edit(window)
        assert not window.close()
        assert window.files.open(saved) or window.files.save_as(saved)
        edit(window, "5")
        assert window.files.save()
        assert window.close()
    finally:
        subprocess.run(["umount", str(full)], check=True)
    assert file.load(saved).amounts == {"front_spread": "5"}


def test_the_file_that_is_open_is_opened_again(opened, saved, job):
    """It is not open in another window; unsaved work on it comes back."""
    window = opened(saved)
    for _ in range(2):
        assert window.files.open(saved)
        assert not window.keeper.second
        assert window.desk.saved
    edit(window)
    assert window.files.open(saved)
    assert not window.keeper.second
    assert window.desk.job.amounts == {"front_spread": "4.5"}
    assert not window.desk.saved
    assert window.files.save()
    assert file.load(saved).amounts == {"front_spread": "4.5"}
    assert window.close()
    assert autosave.left_behind() == ()


def test_what_cannot_be_kept_is_not_put_away(opened, saved, tmp_path, monkeypatch):
    """Neither for another file, nor for a new client, nor for kept work."""
    window = opened(None)
    edit(window)
    window.close()
    (kept,) = autosave.left_behind()
    window = opened(saved)
    edit(window, "5")
    before = window.desk.job
    other = Path(shutil.copy(saved, saved.with_name("other.skirt")))
    failing(monkeypatch, errno.ENOSPC)
    assert not window.files.open(other)
    assert not window.files.resume(kept)
    window.acts.by_name["new_client"].trigger()
    assert window.desk.job is before
    assert window.keeper.path == saved
    assert "cannot be kept" in window.line.words.text()
    monkeypatch.undo()
    assert window.files.save()
    assert file.load(saved).amounts == {"front_spread": "5"}

"""Saving, failing to save, closing, dying, and two windows on one file."""

from __future__ import annotations

import errno
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from skirtwright.draft import styles
from skirtwright.job import autosave, file, saving
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job

SESSION = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from skirtwright.app.main import open_window

window = open_window(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
row = window.measures.amounts["front_spread"]
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
    assert window.header.state.text() == "Saved in clara.skirt"
    assert "not saved" not in window.windowTitle()
    edit(window)
    assert window.header.state.text() == "● Not saved in clara.skirt yet"
    assert "not saved" in window.windowTitle()
    window.acts.by_name["save"].trigger()
    assert window.header.state.text() == "Saved in clara.skirt"
    assert file.load(saved) == window.desk.job
    window.desk.history.undo()
    assert "not saved" in window.windowTitle(), "undone past the saving"


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
        (errno.EROFS, "Read-only"),
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
    assert window.notice.isVisible()
    words = window.notice.words.text()
    assert "clara.skirt" in words
    assert code in words
    assert "Your work is still here" in words
    assert window.notice.buttons[0].text() == "Save somewhere else…"
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
    assert not window.notice.isVisible()
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
        assert "no room left" in window.notice.words.text()
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
    assert "is not there" in window.notice.words.text()
    assert window.keeper.keep_now(), "kept in the folder for state meanwhile"


def test_a_file_changed_by_others_is_not_written_over(opened, saved, job):
    window = opened(saved)
    theirs = set_amount(job, "length", "88").job
    file.save(theirs, saved)
    edit(window)
    assert not window.files.save()
    assert "changed by another program" in window.notice.words.text()
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


def test_closing_asks_nothing_and_loses_nothing(opened, saved, job):
    """Rules 15 and 16: no question, the file as saved, the work offered back."""
    window = opened(saved)
    edit(window)
    window.close()
    assert not window.isVisible()
    assert file.load(saved) == job
    again = opened(saved)
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.notice.isVisible()
    assert "not saved" in again.notice.words.text()
    assert "not saved" in again.windowTitle()
    again.notice.buttons[0].click()
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
    assert again.desk.job.amounts == {"front_spread": "4.5"}
    assert again.keeper.path is None
    again.desk.history.undo()
    again.close()
    third = opened(None)
    assert third.desk.saved
    assert third.desk.job.amounts == {}


def test_half_typed_is_taken_on_closing(opened):
    window = opened(None)
    line = window.measures.amounts["front_spread"].line
    line.setFocus()
    line.setText("5")
    line.setModified(True)
    window.close()
    assert opened(None).desk.job.amounts == {"front_spread": "5"}


def test_nothing_can_be_kept_anywhere_is_told_once(opened, monkeypatch):
    window = opened(None)
    edit(window)
    failing(monkeypatch, errno.ENOSPC)
    assert not window.close()
    assert window.isVisible()
    assert "cannot be kept" in window.notice.words.text()
    assert window.close(), "never asked twice"


def test_a_new_client_keeps_the_work_of_before(opened, tmp_path):
    window = opened(None)
    edit(window)
    window.acts.by_name["new_client"].trigger()
    assert "is kept" in window.notice.words.text()
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
    assert second.notice.isVisible()
    assert "another window" in second.notice.words.text()
    edit(first, "4")
    edit(second, "5")
    assert first.files.save()
    assert not second.files.save(), "it asks for another place"
    second.files.dialog.reject()
    assert file.load(saved).amounts == {"front_spread": "4"}
    assert not second.files.save_as(saved)
    assert "open in another window" in second.notice.words.text()
    assert second.files.save_as(saved.with_name("other.skirt"))
    assert file.load(saved.with_name("other.skirt")).amounts == {"front_spread": "5"}


def test_a_file_that_cannot_be_read_leaves_the_table_as_it_was(opened, tmp_path):
    bad = tmp_path / "bad.skirt"
    bad.write_text('{"format": 99, "draft": {}}')
    window = opened(None)
    before = window.desk.job
    assert not window.files.open(bad)
    assert "newer Skirtwright" in window.notice.words.text()
    assert window.desk.job is before
    again = opened(bad)
    assert again.isVisible()
    assert "newer Skirtwright" in again.notice.words.text()


def test_recent_files(opened, saved):
    window = opened(saved)
    window.acts.menus["recent"].aboutToShow.emit()
    (entry,) = window.acts.menus["recent"].actions()
    assert entry.text().startswith("&1 clara.skirt")
    saved.unlink()
    window.acts.menus["recent"].aboutToShow.emit()
    (entry,) = window.acts.menus["recent"].actions()
    assert not entry.isEnabled()


def test_exporting_gives_what_the_command_line_gives(opened, saved, tmp_path):
    from skirtwright.cli import main

    window = opened(saved)
    assert window.files.export(tmp_path / "mine.svg")
    main(["export", str(saved), "-o", str(tmp_path / "theirs.svg")])
    mine, theirs = (tmp_path / f"{n}.svg" for n in ("mine", "theirs"))
    assert mine.read_bytes() == theirs.read_bytes()


@pytest.mark.parametrize("named", [1, 2, 0])
def test_the_window_killed_while_editing_offers_the_work_back(
    opened, saved, named, home
):
    """kill -9 of the whole program; three here, fifty in tests/job."""
    given = [str(saved)] if named else []
    with subprocess.Popen(
        [sys.executable, "-c", SESSION, *given], stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout.readline().strip() == "edit"
        assert child.stdout.readline().strip() == "edit"
        time.sleep(1.1)
        os.kill(child.pid, signal.SIGKILL)
    window = opened(saved if named else None)
    value = window.desk.state("front_spread").value
    assert value in (pytest.approx(47), pytest.approx(48))
    assert window.notice.isVisible()
    assert not window.desk.saved


def test_a_fault_of_the_program_keeps_the_work_and_says_so(opened, qtbot, capsys):
    from skirtwright.app.main import _Hook

    window = opened(None)
    edit(window)
    try:
        raise RuntimeError("planted")  # noqa: TRY301
    except RuntimeError as trouble:
        _Hook(window)(type(trouble), trouble, trouble.__traceback__)
    qtbot.waitUntil(window.notice.isVisible)
    assert "Your work is kept" in window.notice.words.text()
    assert "planted" in (autosave.state_folder() / "trouble.log").read_text()
    assert "planted" in capsys.readouterr().err
    kept = next(autosave.state_folder().glob("*.autosave"))
    assert json.loads(kept.read_text())["amounts"] == {"front_spread": "4.5"}

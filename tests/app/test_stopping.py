"""What takes long in the window's own turn can be stopped, and all stays as it was."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest

from skirtwright.app import stopping
from skirtwright.draft import styles
from skirtwright.job import autosave, edits, file
from skirtwright.job.edits import Edited
from skirtwright.job.job import new_job
from skirtwright.problems import Refused


@pytest.fixture
def long(works_alone, monkeypatch) -> None:
    """All work takes long, and no other test has done it already."""
    monkeypatch.setattr(stopping, "AFTER_SECONDS", 0.0)
    monkeypatch.setattr(stopping, "_EACH_SECONDS", 0.0)


@pytest.fixture
def saved(tmp_path) -> Path:
    """An order of another style than the one on the table."""
    path = tmp_path / "later.skirt"
    job = edits.set_amount(new_job(styles.style("pegged")), "length", "61.7").job
    file.save(job, path)
    return path


def click(sheet) -> None:
    QTest.mouseClick(sheet.button, Qt.MouseButton.LeftButton)


def press_escape(sheet) -> None:
    QTest.keyClick(sheet, Qt.Key.Key_Escape)


def on_the_sheet(window, does) -> list[str]:
    """Have something done once the sheet lies over the window; what it said."""
    seen: list[str] = []

    def look() -> None:
        sheet = window.desk.stopping.sheet
        if sheet is not None and sheet.isVisible() and not seen:
            seen.append(sheet.accessibleName())
            does(sheet)

    timer = QTimer(window)
    timer.timeout.connect(look)
    timer.start(0)
    return seen


def stands(window) -> tuple[object, ...]:
    desk, keeper = window.desk, window.keeper
    return desk.job, desk.look, desk.saved, keeper.path, desk.history.count()


@pytest.mark.parametrize("stop", [click, press_escape])
def test_an_order_that_is_opened_can_be_stopped(opened, saved, long, stop):
    window = opened()
    window.desk.set_amounts({"front_spread": "4.5"})
    before = stands(window)
    seen = on_the_sheet(window, stop)
    assert not window.files.open(saved)
    assert seen == [
        "This takes longer than most skirts. If you stop it, all stays as it was."
    ]
    assert stands(window) == before
    assert window.desk.stopping.sheet is None
    assert window.line.now.words.startswith("It was stopped before it was done.")
    window.desk.history.undo()
    assert not window.desk.job.amounts


def test_not_stopped_it_is_opened_and_nothing_else_can_be_begun_meanwhile(
    opened, saved, long
):
    window, tried = opened(), []
    before = window.desk.job

    def begin_something(_) -> None:
        window.desk.pull({"front_spread": 45.0})
        QTest.keyClick(window, Qt.Key.Key_F2)
        QTest.mouseClick(window.band, Qt.MouseButton.LeftButton)
        for _ in range(2):
            with pytest.raises(Refused):
                window.desk.change(Edited(before, "edit.amounts", {"count": 1}))
        tried.append(window.desk.job)

    seen = on_the_sheet(window, begin_something)
    assert window.files.open(saved)
    assert len(seen) == 1
    assert tried == [before]
    assert window.keeper.path == saved
    assert window.desk.history.count() == 0
    assert window.desk.stopping.sheet is None


def test_a_change_can_be_stopped(opened, long):
    window = opened()
    before = stands(window)
    on_the_sheet(window, press_escape)
    draft = styles.style("inverted-pleat")
    with pytest.raises(Refused) as caught:
        window.desk.change(edits.set_style(window.desk.job, draft))
    assert caught.value.problem.code == "budget.stopped"
    assert stands(window) == before


@pytest.mark.parametrize("named", [True, False])
def test_work_kept_is_not_set_aside_where_bringing_it_back_is_stopped(
    opened, saved, home, long, named
):
    job = edits.set_amount(file.opened(saved.read_bytes(), ""), "length", "59.9").job
    window = opened()
    before = stands(window)
    session = autosave.Session(saved if named else None)
    place = session.keep(job)
    session.close()
    seen = on_the_sheet(window, click)
    (kept,) = autosave.left_behind()
    assert not window.files.resume(kept)
    assert seen
    assert stands(window) == before
    assert place.is_file()
    assert autosave.left_behind() == (kept,)


def test_what_is_done_soon_shows_nothing(opened, saved):
    window = opened()
    seen = on_the_sheet(window, click)
    assert window.files.open(saved)
    assert not seen

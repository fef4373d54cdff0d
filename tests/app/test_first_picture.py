"""What a start shows first: the same picture as is worked after it, or none."""

from __future__ import annotations

import stat
import subprocess
import sys
from pathlib import Path

import pytest
from places import settled
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtTest import QTest

import skirtwright
from skirtwright.app import first_picture
from skirtwright.app.canvas.painting import is_in_hand
from skirtwright.app.settings import Settings, settings_file
from skirtwright.draft import styles
from skirtwright.job import file, folders
from skirtwright.job.job import new_job
from skirtwright.job.saving import companion

STYLES = ("mermaid", "wrap", "tiered")
SIZE = (760, 640)
"""No larger than the screen the tests have."""


@pytest.fixture
def order(tmp_path) -> Path:
    return saved(tmp_path, styles.first())


def saved(folder: Path, style: str) -> Path:
    path = folder / f"{style}.skirt"
    file.save(new_job(styles.style(style)), path)
    return path


def closed_on(opened, path: Path, size=SIZE) -> Path:
    """The kept picture, after the window was closed on an order."""
    opened(path, size).close()
    return folders.first_picture_file()


def kept(path: Path | None) -> QImage | None:
    return first_picture.kept_picture(path, Settings())


def test_nothing_that_works_an_order_is_loaded_for_it():
    program = (
        "import sys; from skirtwright import __main__ as door; door.load_window()\n"
        "work = 'draft', 'geometry', 'pieces', 'checks', 'figure', 'lay', 'export'\n"
        "print([each for each in work if f'skirtwright.{each}' in sys.modules])"
    )
    command = [sys.executable, "-c", program]
    assert subprocess.check_output(command, text=True) == "[]\n"


@pytest.mark.parametrize("style", STYLES)
def test_it_is_the_fresh_table_to_the_pixel(opened, tmp_path, style):
    path = saved(tmp_path, style)
    window = opened(path, SIZE)
    # However she left it.
    window.table.camera.zoom_by(2.0, (300.0, 300.0))
    window.acts.by_name["cut"].setChecked(True)
    window.close()
    picture = kept(path)
    folders.first_picture_file().unlink()
    window = opened(path, SIZE)
    settled(window)
    table, inside = window.table, window.inside.size()
    # How much cloth is needed follows once the order rests.
    table.tell_cloth(())
    settled(window)
    fresh = table.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    assert picture.size() == inside
    part = picture.copy(QRect(table.pos(), table.size())).convertToFormat(
        QImage.Format.Format_RGB32
    )
    for image in (fresh, part):
        with QPainter(image) as painter:
            for item in filter(is_in_hand, table.frame.items):
                painter.fillRect(item.area, Qt.GlobalColor.black)
    assert any(map(is_in_hand, table.frame.items))
    assert part == fresh


def test_it_is_shown_before_anything_is_worked(qtbot, opened, order, monkeypatch):
    closed_on(opened, order)
    seen = []
    waited = first_picture.Cover.wait

    def wait(cover):
        waited(cover)
        whole = kept(order).size() == cover.size()
        seen.append((hasattr(cover.window(), "desk"), cover.isVisible(), whole))
        seen.append(cover.grab().toImage().pixelColor(400, 300).name())

    monkeypatch.setattr(first_picture.Cover, "wait", wait)
    picture = kept(order)
    window = first_picture_window(order)
    assert seen == [(False, True, True), picture.pixelColor(400, 300).name()]
    cover = window.findChild(first_picture.Cover)
    QTest.mouseClick(window.childAt(400, 300), Qt.MouseButton.LeftButton)
    assert cover.isVisible()
    assert window.childAt(400, 300) is cover
    qtbot.waitUntil(lambda: window.childAt(400, 300) is window.table)
    assert window.table.scene.layout.laid
    assert window.table.chosen is None
    window.close()
    window.deleteLater()


def first_picture_window(path: Path):
    from skirtwright.app.main import open_window

    return open_window(path)


def test_for_another_size_of_window_there_is_plain_ground(qtbot, opened, order):
    closed_on(opened, order)
    window = first_picture.QWidget()
    qtbot.addWidget(window)
    window.resize(500, 400)
    cover = first_picture.Cover(window, kept(order), "#123456")
    assert cover.grab().toImage().pixelColor(250, 200).name() == "#123456"


def damaged(order: Path, monkeypatch) -> None:
    place = folders.first_picture_file()
    content = bytearray(place.read_bytes())
    content[len(content) // 2] ^= 1
    place.write_bytes(content)


def cut_short(order: Path, monkeypatch) -> None:
    place = folders.first_picture_file()
    place.write_bytes(place.read_bytes()[:-9])


def empty(order: Path, monkeypatch) -> None:
    folders.first_picture_file().write_bytes(b"")


def other_order(order: Path, monkeypatch) -> None:
    order.write_bytes(order.read_bytes() + b"\n")


def other_setting(order: Path, monkeypatch) -> None:
    settings = Settings()
    settings.choose("unit", "in")
    settings.write_now()


def other_version(order: Path, monkeypatch) -> None:
    monkeypatch.setattr(skirtwright, "__version__", "0.0.9")


def other_resources(order: Path, monkeypatch) -> None:
    was = first_picture.program()
    monkeypatch.setattr(first_picture, "program", lambda: was + b" ")


def not_saved(order: Path, monkeypatch) -> None:
    companion(order, "autosave").write_bytes(order.read_bytes())


def gone(order: Path, monkeypatch) -> None:
    order.unlink()


CHANGES = (
    damaged,
    cut_short,
    empty,
    other_order,
    other_setting,
    other_version,
    other_resources,
    not_saved,
    gone,
)


def test_what_no_longer_stands_is_passed_over_and_taken_away(opened, order):
    place = closed_on(opened, order)
    files = {p: p.read_bytes() for p in (place, order, settings_file())}
    for change in CHANGES:
        for path, content in files.items():
            path.write_bytes(content)
        assert kept(order) is not None, change
        with pytest.MonkeyPatch.context() as monkeypatch:
            change(order, monkeypatch)
            assert kept(order) is None, change
        assert not place.exists(), change
        companion(order, "autosave").unlink(missing_ok=True)


def test_only_she_may_read_it_and_none_is_kept_of_what_is_not_saved(opened, order):
    place = closed_on(opened, order)
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    window = opened(order, SIZE)
    window.desk.set_amounts({"front_spread": "4.5"})
    window.close()
    assert not place.exists()


def test_nothing_of_it_outlives_the_order(opened, order, home):
    content = closed_on(opened, order).read_bytes()
    some = content[len(content) // 2 :][:64]
    assert [p for p in home.rglob("*") if p.is_file() and some in p.read_bytes()]
    order.unlink()
    opened(None).close()
    assert not [p for p in home.rglob("*") if p.is_file() and some in p.read_bytes()]
    assert not folders.first_picture_file().exists()


def test_where_it_cannot_be_written_the_next_start_does_without(
    opened, order, monkeypatch
):
    def full(*_, **__):
        raise first_picture.FileTrouble("file.disk_full", file="x", folder="y")

    monkeypatch.setattr(first_picture, "save_whole", full)
    assert not closed_on(opened, order).exists()

"""Preferences: one typed table, a form made from it, a bad entry set back alone."""

from __future__ import annotations

import os
import random
import sys
from pathlib import Path

import pytest
from places import amount, measurement, slip
from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow

from skirtwright.app.main import open_window
from skirtwright.app.settings import (
    PREFERENCES,
    Settings,
    SettingsForm,
    settings_file,
)
from skirtwright.job.edits import begun_in, set_measurement
from skirtwright.words import Manner, has_message, languages, say


def test_every_entry_has_words_for_itself_and_its_options():
    for entry in PREFERENCES:
        assert has_message(f"setting.{entry.name}")
        for option in entry.options:
            assert isinstance(option, entry.kind)
            if entry.name != "language":
                assert has_message(f"setting.{entry.name}.{option}")
    names = [say("language.name", manner=Manner(language=n)) for n in languages()]
    assert len(set(names)) == len(names), "a catalogue is without its language.name"


def test_a_choice_is_kept(qapp):
    settings = Settings()
    heard = []
    settings.changed.connect(heard.append)
    settings.choose("unit", "in")
    settings.choose("unit", "in")
    settings.choose("text_size", 33)
    settings.write_now()
    assert heard == ["unit"]
    again = Settings()
    assert again.manner.unit == "in"
    assert again.text_size == 100
    assert settings_file().is_file()


@pytest.mark.parametrize("entry", PREFERENCES, ids=lambda entry: entry.name)
def test_a_bad_entry_is_set_back_alone(qapp, entry):
    for bad in ("purple", "", "-3", "1e9", "@Invalid()", "a, b"):
        settings_file().unlink(missing_ok=True)
        kept = QSettings(str(settings_file()), QSettings.Format.IniFormat)
        for other in PREFERENCES:
            kept.setValue(other.name, other.options[-1])
        kept.setValue(entry.name, bad)
        kept.sync()
        settings = Settings()
        for other in PREFERENCES:
            wanted = entry.default if other is entry else other.options[-1]
            assert settings.value(other.name) == wanted, bad
        settings.write_now()
        again = QSettings(str(settings_file()), QSettings.Format.IniFormat)
        assert not again.contains(entry.name), bad


def test_a_file_that_is_no_settings_file_is_lived_with(qapp):
    settings_file().parent.mkdir(parents=True)
    settings_file().write_bytes(b"\x00\xff{{[[recent=3\nfolded=@\n")
    settings = Settings()
    assert settings.manner.unit == "cm"
    assert settings.recent() == []


def test_the_form_is_made_from_the_table_and_works_at_once(window):
    form = SettingsForm(window.settings, window)
    assert set(form.boxes) == {entry.name for entry in PREFERENCES}
    box = form.boxes["unit"]
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert amount(window, "length").unit.text() == "in"
    slip(window, "check")
    assert "in" in window.slips.check.figures.accessibleName()
    form.boxes["fraction"].activated.emit(2)
    assert measurement(window, "waist").line.text() == "28 3/8"
    form.boxes["text_size"].activated.emit(5)
    assert window.table.brushes.percent == 200
    assert window.slips.measure.client.font().pointSizeF() == pytest.approx(30)


def test_the_layout_is_kept_for_this_machine(opened):
    window = opened(None, (1300, 800))
    window.acts.by_name["steps"].setChecked(True)
    window.close()
    again = open_window(None)
    try:
        assert again.settings.layout("window") is not None
        assert again.slips.open_name == "", "a slip lies there as long as it is needed"
    finally:
        again.close()


KEYS = (
    *(entry.name for entry in PREFERENCES),
    *(
        "recent",
        "recent_called",
        "welcomed",
        "layout/window",
        "layout/paper",
        "true_scale",
    ),
)
VALUES = (
    *("cm", "8", "1e400", "nan", "inf", "-1", "9" * 400, "true", '"x', "a, b", "="),
    *("@Invalid()", "@Rect(a b)", "@Size(1)", "@ByteArray(\\0\\xff)", "@@x", "@"),
    *("@Variant(\\0\\0\\0\\x7f\\0)", "@Variant(\\0\\0\\0\\x3)"),
    *("[" * 50_000, "{" * 3_000, '"[1,2"', '"[\\"\\\\ud800\\"]"', "\\xd800", "%uD800"),
)


def live_with(data: bytes) -> None:
    """The window's settings read from a file of these bytes, used and kept again."""
    settings_file().parent.mkdir(parents=True, exist_ok=True)
    settings_file().write_bytes(data)
    settings = Settings()
    for entry in PREFERENCES:
        assert settings.value(entry.name) in entry.options
    assert settings.text_size, settings.manner
    assert all(path.name is not None for path in settings.recent())
    assert settings.called(Path("/a/b.skirt")) is not None
    assert settings.true_scale is None or settings.true_scale >= 1
    assert settings.welcomed in (True, False)
    for name in ("window", "paper"):
        kept = settings.layout(name)
        assert kept is None or QMainWindow().restoreGeometry(kept) in (True, False)
    settings.remember(Path("/a/b.skirt"))
    settings.choose("theme", "dark" if settings.theme != "dark" else "light")
    settings.write_now()
    again = Settings()
    assert again.theme == settings.theme
    assert again.recent()[0] == Path("/a/b.skirt")


def test_any_value_of_any_entry_is_lived_with(qapp):
    for value in VALUES:
        entries = (f"{key}={value}" for key in KEYS)
        live_with("\n".join(["[General]", *entries]).encode())


def test_any_file_of_settings_is_lived_with(qapp):
    """Damaged by chance, 60 times; seeded."""
    chance = random.Random(7)
    for _ in range(60):
        lines = ["[General]"] if chance.random() < 0.8 else []
        for _ in range(chance.randint(0, 9)):
            sign = chance.choice(("=", "=", " = ", ":", ""))
            lines.append(chance.choice(KEYS) + sign + chance.choice(VALUES))
            if chance.random() < 0.15:
                lines.append(chance.choice(("[layout]", "[", "[]", ";x", "\0")))
        data = bytearray("\n".join(lines).encode())
        for _ in range(chance.choice((0, 0, 4))):
            data[chance.randrange(len(data) or 1) : 1] = chance.randbytes(1)
        live_with(bytes(data))


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes there")
@pytest.mark.parametrize("make", [os.mkfifo, os.mkdir])
def test_settings_that_are_no_file_never_stop_the_window(qapp, make):
    settings_file().parent.mkdir(parents=True)
    make(settings_file())
    settings = Settings()
    settings.choose("unit", "in")
    settings.write_now()
    assert Settings().manner.unit == "in"
    assert not settings_file().is_file(), "what was there is left as it is"


def test_settings_opened_twice_are_gone_when_closed(window):
    for unit in ("in", "cm"):
        window.acts.by_name["settings"].trigger()
        window.settings.choose("unit", unit)
        window.commands.form.reject()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    window.settings.choose("unit", "in")
    QTest.qWait(1)
    assert window.findChildren(SettingsForm) == []


def test_an_order_is_told_in_the_unit_it_was_begun_in(window):
    """The window's unit changes words only; the next client begins in her own."""
    desk, settings = window.desk, window.settings
    in_inches = begun_in(desk.job, "in")
    in_centimetres = desk.job
    desk.begin(in_inches)
    assert settings.manner.unit == "in"
    assert settings.own_unit == "cm"
    slip(window, "measure")
    assert window.slips.measure.units["in"].isChecked()
    QTest.mouseClick(window.slips.measure.units["cm"], Qt.MouseButton.LeftButton)
    assert settings.manner.unit == "cm"
    assert desk.job is in_inches, "words only"
    desk.begin(in_centimetres)
    desk.begin(in_inches)
    assert settings.manner.unit == "in", "its own again"
    window.acts.by_name["new_client"].trigger()
    assert desk.job.unit == desk.job.card.unit == settings.manner.unit == "cm"


def test_until_a_figure_is_typed_her_unit_is_the_one_the_order_begins_in(window, keys):
    """Her name may be typed: what she is measured in is not known by it."""
    desk, settings = window.desk, window.settings
    window.acts.by_name["new_client"].trigger()
    keys("Ann Bird")
    window.take_typed()
    settings.choose("unit", "in")
    assert desk.job.unit == desk.job.card.unit == "in"
    assert desk.job == begun_in(desk.job, "in"), "its style in eighths as well"
    desk.change(set_measurement(desk.job, "waist", "29"))
    settings.choose("unit", "cm")
    assert desk.job.unit == "in", "from then on words only"
    window.acts.by_name["undo"].trigger()
    window.acts.by_name["undo"].trigger()
    assert desk.job.card.name == ""
    assert desk.job.unit == "in"

"""Preferences: one typed table, a form made from it, a bad entry set back alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings

from skirtwright.app.settings import (
    PREFERENCES,
    Settings,
    SettingsForm,
    settings_file,
)
from skirtwright.words import has_message


def test_every_entry_has_words_for_itself_and_its_options():
    for entry in PREFERENCES:
        assert has_message(f"setting.{entry.name}")
        for option in entry.options:
            assert isinstance(option, entry.kind)
            assert has_message(f"setting.{entry.name}.{option}")


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
@pytest.mark.parametrize("bad", ["purple", "", "-3", "1e9", "@Invalid()", "a, b"])
def test_a_bad_entry_is_set_back_alone(qapp, entry, bad):
    kept = QSettings(str(settings_file()), QSettings.Format.IniFormat)
    for other in PREFERENCES:
        kept.setValue(other.name, other.options[-1])
    kept.setValue(entry.name, bad)
    kept.sync()
    settings = Settings()
    for other in PREFERENCES:
        wanted = entry.default if other is entry else other.options[-1]
        assert settings.value(other.name) == wanted
    settings.write_now()
    assert not QSettings(str(settings_file()), QSettings.Format.IniFormat).contains(
        entry.name
    )


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
    assert window.measures.amounts["length"].unit.text() == "in"
    assert "in" in window.checks.figures.accessibleName()
    form.boxes["fraction"].activated.emit(2)
    assert window.card.rows_by_name["waist"].line.text() == "28 3/8"
    form.boxes["text_size"].activated.emit(5)
    assert window.checks.list.font().pointSizeF() == pytest.approx(22)


def test_the_layout_is_kept_for_this_machine(opened):
    window = opened(None, (1300, 800))
    window.acts.by_name["steps"].setChecked(True)
    window.acts.by_name["card"].setChecked(False)
    window.close()
    again = opened(None)
    assert again.steps.isVisible()
    assert not again.card.isVisible()
    assert not again.acts.by_name["card"].isChecked()

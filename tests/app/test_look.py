"""Colours and text: contrast, sizes, and eyes that see colours otherwise."""

from __future__ import annotations

from dataclasses import fields

import pytest
from contrast import contrast, linear
from places import settled
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QComboBox, QLabel, QPushButton, QToolButton

from sampling import some_of
from skirtwright.app.look import DARK, LIGHT, Colours
from skirtwright.app.slip_holder import SLIPS
from skirtwright.app.slips.rows import AmountRow
from skirtwright.job.edits import set_measurement

THEMES = pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])

# Simulation of colour blindness, full strength, on linear light: G. M. Machado,
# M. M. Oliveira, L. A. F. Fernandes, IEEE TVCG 15 (2009), table for severity 1.0.
BLIND = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def lab(rgb: list[float]) -> tuple[float, float, float]:
    r, g, b = (min(max(c, 0.0), 1.0) for c in rgb)
    x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047
    y = 0.2126 * r + 0.7152 * g + 0.0722 * b
    z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883
    fx, fy, fz = (
        t ** (1 / 3) if t > 0.008856 else 7.787 * t + 16 / 116 for t in (x, y, z)
    )
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def apart(first: str, second: str, matrix) -> float:
    seen = []
    for name in (first, second):
        rgb = linear(QColor(name))
        turned = [sum(m * c for m, c in zip(row, rgb, strict=True)) for row in matrix]
        seen.append(lab(turned))
    return sum((a - b) ** 2 for a, b in zip(*seen, strict=True)) ** 0.5


def test_the_contrast_known_from_the_paper():
    """#0072B2 on white 5.2, #F0E442 on #1E1E1E 12.6 (WCAG 2.2)."""
    assert contrast("#0072B2", "#FFFFFF") == pytest.approx(5.2, abs=0.05)
    assert contrast("#F0E442", "#1E1E1E") == pytest.approx(12.6, abs=0.05)


TINTS = ("front", "back", "other", "lining", "interfacing")


@THEMES
def test_text_stands_out(colours: Colours):
    """Rule 27: 4.5 to 1."""
    grounds = {
        "ink": ("strip", "field", "paper", "accent_tint", *TINTS),
        "faint": ("strip", "field", "accent_tint", "ground", "front", "back", "other"),
        "wrong": ("strip", "field", "accent_tint", "paper"),
        "caution": ("strip", "field", "paper"),
        "note": ("strip", "field"),
        "accent": ("strip", "paper", "ground", "accent_tint"),
        "on_accent": ("accent",),
        "button": ("strip", "paper", "accent_tint"),
        "on_button": ("button",),
        "pencil": ("paper",),
    }
    for text, on in grounds.items():
        for ground in on:
            ratio = contrast(getattr(colours, text), getattr(colours, ground))
            assert ratio >= 4.5, (text, ground, ratio)


@THEMES
def test_lines_and_controls_stand_out(colours: Colours):
    """Rules 22 and 27: 3 to 1, for lines, rims, focus and pull points."""
    lines = ("stitching", "cutting", "fold", "grain", "working", "mark", "pencil")
    for kind in (*lines, "pull", "pull_held"):
        for ground in ("paper", *TINTS):
            ratio = contrast(getattr(colours, kind), getattr(colours, ground))
            assert ratio >= 3.0, (kind, ground, ratio)
    for ground in ("ground", "paper"):
        assert contrast(colours.chalk, getattr(colours, ground)) >= 3.0
    for sign in ("accent", "wrong", "caution"):
        for ground in ("paper", "front", "back", "other"):
            assert contrast(getattr(colours, sign), getattr(colours, ground)) >= 3.0
    for rim in ("field_line", "accent", "button", "wrong"):
        for ground in ("strip", "field"):
            ratio = contrast(getattr(colours, rim), getattr(colours, ground))
            assert ratio >= 3.0, (rim, ground, ratio)
    assert contrast(colours.cutting, colours.ground) >= 3.0
    # What tells a cloth without its tint is seen, and never hides a line or a word.
    for ground in ("lining", "interfacing"):
        assert contrast(colours.weave, getattr(colours, ground)) >= 1.3
        assert contrast(colours.ink, colours.weave) >= 4.5
        for kind in lines:
            assert contrast(getattr(colours, kind), colours.weave) >= 2.0


@THEMES
@pytest.mark.parametrize("kind", BLIND)
def test_what_is_in_hand_is_told_from_lines_by_the_colour_blind(colours, kind):
    """Rule 29: the one accent beside the one colour of lines."""
    assert apart(colours.stitching, colours.accent, BLIND[kind]) >= 15


def test_every_colour_is_opaque_and_the_themes_differ():
    for field in fields(Colours):
        if field.name == "dark":
            continue
        for colours in (LIGHT, DARK):
            assert QColor(getattr(colours, field.name)).alpha() == 255
        assert getattr(LIGHT, field.name) != getattr(DARK, field.name)


@THEMES
def test_the_theme_changes_at_run_time(window, colours: Colours):
    """Rule 30."""
    window.settings.choose("theme", "dark" if colours.dark else "light")
    picture = window.grab().toImage()
    corner = picture.pixelColor(window.width() - 4, 4)
    assert corner == QColor(colours.strip)
    table = window.table.mapTo(window, window.table.rect().bottomRight())
    linen = {QColor(colours.ground).name(), QColor(colours.grid).name()}
    assert picture.pixelColor(table.x() - 3, table.y() - 3).name() in linen


def cut(window) -> list[str]:
    """Labels and buttons that are smaller than their text."""
    found = []
    for label in window.findChildren(QLabel):
        if not label.isVisible() or not label.text():
            continue
        wide = label.width() - label.contentsMargins().left() * 2
        if label.wordWrap():
            if label.heightForWidth(label.width()) > label.height() + 1:
                found.append(label.text())
        elif label.sizeHint().width() > wide + 1:
            found.append(label.text())
    buttons = window.findChildren(QPushButton) + window.findChildren(QToolButton)
    for button in buttons:
        hint = button.sizeHint()
        short = hint.width() > button.width() + 1 or hint.height() > button.height() + 1
        if button.isVisible() and button.text() and short:
            found.append(button.text())
    found += [
        box.currentText()
        for box in window.findChildren(QComboBox)
        if box.isVisible() and box.height() < box.fontMetrics().height()
    ]
    return found


def tall_names(slip):
    """The names of measures that take more than two lines; a flare takes one."""
    names = [row.name for row in slip.findChildren(AmountRow) if row.isVisible()]
    return [
        name.text()
        for name in names
        if name.heightForWidth(name.width()) // name.fontMetrics().lineSpacing()
        > (1 if "Flare at" in name.text() else 2)
    ]


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("percent", "size"),
    some_of(
        [
            (100, (1024, 700)),
            (150, (1440, 900)),
            (125, (1024, 700)),
            (100, (1440, 900)),
            (200, (1024, 700)),
        ],
        each=2,
    ),
)
def test_no_text_is_cut(opened, percent, size):
    """At 200 %, and at 1024 x 700."""
    window = opened(None, size)
    window.settings.choose("text_size", percent)
    settled(window)
    assert window.width() <= size[0]
    assert window.height() <= size[1]
    assert cut(window) == []
    assert window.table.width() == size[0]
    assert window.table.height() >= 160
    for name in SLIPS:
        window.acts.by_name[name].setChecked(True)
        settled(window)
        assert window.slips[name].isVisible()
        if percent == 100:
            scrolled = window.slips[name].scrolled
            assert window.slips[name].body.width() <= scrolled.viewport().width(), name
            assert tall_names(window.slips[name]) == []
        assert window.width() <= size[0]
        assert cut(window) == [], name


def test_twice_as_large_and_back_is_as_before(window):
    """Undo, redo and the menus never vanish; nothing is left of the other size."""
    window.acts.by_name["shape"].setChecked(True)
    settled(window)
    band = window.band
    held = [band, band.client, band.undo, band.redo, band.menu, *band.names]
    held += [window.table, window.slips.shape]

    def places():
        return [(widget.isVisible(), widget.geometry()) for widget in held]

    before = places()
    window.settings.choose("text_size", 200)
    settled(window)
    assert all(widget.isVisible() for widget in held)
    assert places() != before
    window.settings.choose("text_size", 100)
    settled(window)
    assert places() == before


def test_what_she_reads_is_large_enough(window):
    """At least 11 pt; a sentence on the lower edge and client and style 15 pt."""
    assert window.line.words.font().pointSizeF() >= 15
    assert window.band.client.font().pointSizeF() >= 20
    for name in SLIPS:
        window.acts.by_name[name].setChecked(True)
        for label in window.slips[name].findChildren(QLabel):
            assert label.font().pointSizeF() >= 11, label.text()


def test_checks_are_told_by_words_and_not_by_colour(window):
    """Rule 28: the gravest first and numbered; how grave it is stands in words."""
    window.desk.change(set_measurement(window.desk.job, "hip", "170"))
    window.acts.by_name["check"].trigger()
    found = window.slips.check.found
    assert [row.pin.text() for row in found] == [str(n + 1) for n in range(len(found))]
    assert found[0].accessibleName().startswith(("Wrong:", "Look at this:"))
    assert {
        row.words.palette().color(row.words.foregroundRole()).name().upper()
        for row in found
    } == {window.colours.ink}

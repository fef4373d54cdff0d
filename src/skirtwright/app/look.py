"""Colours of the window, light and dark: linen, paper, chalk and thread.

Kinds of line are told apart by pattern and weight, not by colour; lines stand out 3 to
1 from every ground they lie on, text 4.5 to 1 (tests/app/test_look.py measures them).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QGuiApplication,
    QPalette,
    QPixmap,
)
from PySide6.QtWidgets import QApplication

from skirtwright import shelf

Theme = Literal["system", "light", "dark"]

LETTERS = ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf")
POINTS = 12.75
"""Size of ordinary text at 100 %, in points: 17 px; the smallest is 1.5 less."""


@dataclass(frozen=True)
class Colours:
    """Every colour of the window, each as `#rrggbb`.

    Attributes:
        dark: True for light lines on a dark ground.
        ground: the table itself, linen.
        grid: the weave of the table; it carries no meaning.
        paper: what is drawn on, and the slips.
        paper_edge: its rim and its shadow.
        strip: the band over the table and the line under it.
        strip_line: between them and the table; carries no meaning.
        field: where she types.
        field_line: the rim of a field or button.
        ink: text.
        faint: text of less weight.
        pencil: what was not measured.
        chalk: level lines and dimensions on the table.
        button: buttons, links, what is open.
        on_button: text on a button.
        accent: in hand, or can be taken: the one accent.
        on_accent: text on the accent.
        accent_tint: a ground just touched by the accent.
        stitching, cutting, fold, grain, working: kinds of line.
        mark: balance marks, dots, hip and knee lines.
        pull: pull points.
        pull_held: the pull point in hand.
        wrong, caution, note: of a check's sign, beside its word.
        front, back, other: opaque tints of panels and pieces of the main cloth.
        lining, interfacing: the same of those cloths.
        weave: the faint lines or dots that tell those cloths without their tint.
        cloth: of the skirt on the figure.
        body: of the figure.
        tape: of the tape measure.
        reprint: a sheet to be printed again.
    """

    dark: bool
    ground: str
    grid: str
    paper: str
    paper_edge: str
    mirror: str
    strip: str
    strip_line: str
    field: str
    field_line: str
    ink: str
    faint: str
    pencil: str
    chalk: str
    button: str
    on_button: str
    accent: str
    on_accent: str
    accent_tint: str
    stitching: str
    cutting: str
    fold: str
    grain: str
    working: str
    mark: str
    pull: str
    pull_held: str
    wrong: str
    caution: str
    note: str
    front: str
    back: str
    other: str
    lining: str
    interfacing: str
    weave: str
    cloth: str
    body: str
    tape: str
    reprint: str


def _both() -> tuple[Colours, Colours]:
    """The light theme and the dark one."""
    pairs = shelf.read_json("window_colours.json")
    light, dark = ({name: pairs[name][n] for name in pairs} for n in (0, 1))
    return Colours(dark=False, **light), Colours(dark=True, **dark)


LIGHT, DARK = _both()


def colours_for(theme: Theme) -> Colours:
    """The colours of a theme; `system` asks the desktop."""
    if theme == "system":
        scheme = QGuiApplication.styleHints().colorScheme()
        return DARK if scheme == Qt.ColorScheme.Dark else LIGHT
    return DARK if theme == "dark" else LIGHT


@cache
def family() -> str:
    """The family of our own letters, loaded once from the shelf."""
    families: list[str] = []
    for name in LETTERS:
        number = QFontDatabase.addApplicationFont(str(shelf.path(f"fonts/{name}")))
        families += QFontDatabase.applicationFontFamilies(number)
    return families[0] if families else QApplication.font().family()


@cache
def letters(percent: int, step: float = 0.0, *, bold: bool = False) -> QFont:
    """A font for the window.

    Args:
        percent: her text size; 100 is ordinary.
        step: points more than ordinary text, before the percentage.
        bold: heavier.
    """
    font = QFont(family())
    font.setPointSizeF((POINTS + step) * percent / 100)
    font.setBold(bold)
    return font


def clear_pixmap(size: QSize, ratio: float) -> QPixmap:
    """A sheet with nothing on it, to be painted on.

    Args:
        size: px.
        ratio: pixels of the screen to one of them.
    """
    made = QPixmap(size * ratio)
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    return made


def palette(colours: Colours) -> QPalette:
    """The palette every ordinary control is painted with."""
    role = QPalette.ColorRole
    made = QPalette()
    for which, name in (
        (role.Window, colours.strip),
        (role.WindowText, colours.ink),
        (role.Base, colours.field),
        (role.AlternateBase, colours.strip),
        (role.Text, colours.ink),
        (role.PlaceholderText, colours.pencil),
        (role.Button, colours.strip),
        (role.ButtonText, colours.ink),
        (role.ToolTipBase, colours.field),
        (role.ToolTipText, colours.ink),
        (role.Highlight, colours.accent),
        (role.HighlightedText, colours.on_accent),
        (role.Accent, colours.accent),
        (role.Link, colours.accent),
        (role.BrightText, colours.wrong),
        (role.Mid, colours.field_line),
        (role.Dark, colours.field_line),
        (role.Midlight, colours.strip_line),
        (role.Light, colours.field),
        (role.Shadow, colours.paper_edge),
    ):
        made.setColor(which, QColor(name))
    off = QPalette.ColorGroup.Disabled
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(off, which, QColor(colours.field_line))
    return made


def box_palette(colours: Colours) -> QPalette:
    """That of boxes to tick: their rim is made from the ground they stand on."""
    made = palette(colours)
    made.setColor(QPalette.ColorRole.Window, QColor(colours.field_line))
    return made


def stylesheet(colours: Colours, percent: int) -> str:
    """What the palette cannot say: rims, rounding, focus, quiet buttons.

    Args:
        percent: her text size; letters are in points, so that they follow the screen.
    """
    c = colours

    def pt(pixels: float) -> str:
        """Letters so tall at 100 %, as points."""
        return f"{pixels * 0.75 * percent / 100:g}pt"

    return f"""
QWidget {{ font-family: "{family()}"; font-size: {pt(17)}; }}
QLabel[role="title"] {{ font-size: {pt(25)}; font-weight: bold; }}
QLabel[role="sentence"] {{ font-size: {pt(20)}; }}
QLabel[role="heading"], QLabel[role="strong"] {{ font-weight: bold; }}
QLabel[role="subheading"] {{
  font-weight: bold; margin-top: 8px; color: {c.faint}; qproperty-indent: 0;
}}
QLabel[role="faint"], QLabel[role="quiet"] {{ color: {c.faint}; font-size: {pt(15)}; }}
QLabel[role="wrong"] {{ color: {c.wrong}; font-weight: bold; font-size: {pt(15)}; }}
QLabel[role="hint"] {{
  color: {c.faint}; background: {c.ground}; border-radius: 6px; font-size: {pt(15)};
  padding: 3px 10px;
}}
QLabel[role="pin"] {{
  background: {c.ink}; color: {c.paper}; font-weight: bold; font-size: {pt(15)};
  border-radius: 14px; min-width: 28px; max-width: 28px;
  min-height: 28px; max-height: 28px;
}}
QLabel[role="pencil"] {{ color: {c.pencil}; }}
QFrame[thin="true"] {{ background: {c.strip_line}; }}
QFrame[question="true"] {{
  background: {c.accent_tint}; border-radius: 6px; border-left: 4px solid {c.accent};
}}
QFrame[band="true"] {{ background: {c.strip}; }}
QFrame[slip="true"] {{ background: {c.paper}; border-left: 1px solid {c.strip_line}; }}
QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; }}
QToolButton[title] {{
  font-size: {pt(27)}; border: none; padding: 0px 7px; text-align: left;
}}
QToolButton[title="client"] {{ font-weight: bold; }}
QFrame[narrow="true"] QToolButton[title] {{ font-size: {pt(20)}; }}
QToolButton[name="true"] {{
  font-size: {pt(20)}; border: none; border-bottom: 4px solid transparent;
  border-radius: 0px; padding: 4px 1px 0px 1px; margin: 0px 3px; min-height: 32px;
}}
QFrame[close="true"] QToolButton[name="true"] {{
  font-size: {pt(17)}; margin: 0px;
}}
QToolButton[name="true"]:checked {{
  background: transparent; border-bottom-color: {c.button};
}}
QToolButton[name="true"]:hover, QToolButton[title]:hover {{ color: {c.button}; }}
QToolButton[name="true"]:focus {{ border: none; border-bottom: 4px solid {c.accent}; }}
QToolButton[title]:focus {{ border: 2px solid {c.accent}; padding: 0px 5px; }}
QToolButton[sign="true"] {{ padding: 3px 1px; }}
QToolButton::menu-indicator {{ image: none; }}
QPlainTextEdit {{
  background: {c.field}; color: {c.ink}; border: 1px solid {c.field_line};
  border-radius: 5px; padding: 2px 4px;
}}
QPlainTextEdit[quiet="true"] {{
  background: transparent; border: 1px solid transparent; font-weight: bold;
}}
QPlainTextEdit[quiet="true"]:hover {{ border-color: {c.field_line}; }}
QPlainTextEdit:focus, QPlainTextEdit[quiet="true"]:focus {{
  border: 2px solid {c.accent}; padding: 1px 3px;
}}
QLineEdit {{
  background: {c.field}; color: {c.ink}; border: 1px solid {c.field_line};
  border-radius: 5px; padding: 5px 9px; font-size: {pt(20)};
  selection-background-color: {c.accent_tint}; selection-color: {c.ink};
}}
QLineEdit:focus {{ border: 2px solid {c.accent}; padding: 4px 8px; }}
QLineEdit[flat="true"] {{
  border-color: transparent; background: transparent; padding: 4px 3px;
}}
QLineEdit[flat="true"]:hover {{ border-color: {c.field_line}; }}
QLineEdit[flat="true"]:focus {{
  border: 2px solid {c.accent}; background: {c.field}; padding: 3px 2px;
}}
QLineEdit[lesser="true"] {{ font-size: {pt(17)}; }}
QLineEdit[stated="true"] {{ font-weight: bold; }}
*[moving="true"] {{ color: {c.accent}; }}
/* A label in bold might wrap, and all below it jump. */
QLineEdit[moving="true"] {{ font-weight: bold; }}
/* None above and below, in any state: the list's height is reckoned with it. */
QComboBox {{
  border: 1px solid {c.field_line}; border-radius: 5px; background: {c.field};
  padding: 0px 2px 0px 5px;
}}
QComboBox:focus {{ border: 2px solid {c.accent}; padding: 0px 1px 0px 4px; }}
QComboBox::drop-down {{ border: none; width: 14px; }}
QComboBox:disabled {{ color: {c.field_line}; }}
QComboBox QLineEdit, QComboBox QLineEdit:focus {{
  border: none; background: transparent; padding: 0px 2px; font-size: {pt(17)};
}}
QComboBox[flat="true"] {{
  border: 1px solid transparent; background: transparent; padding: 0px 1px;
}}
QComboBox[flat="true"]:focus {{ border: 2px solid {c.accent}; padding: 0px; }}
QComboBox QAbstractItemView {{
  background: {c.field}; color: {c.ink}; outline: none;
  selection-background-color: {c.accent}; selection-color: {c.on_accent};
}}
QComboBox QAbstractItemView::item {{ padding: 4px 6px; }}
QLineEdit[guess="true"] {{
  border-color: transparent; background: transparent;
}}
QLineEdit[guess="true"]:hover {{ border-color: {c.field_line}; }}
QLineEdit[guess="true"]:focus {{ border: 2px solid {c.accent}; background: {c.field}; }}
QLineEdit[quiet="true"] {{
  font-weight: bold; border-color: transparent; background: transparent;
  padding-left: 0px;
}}
QLineEdit[quiet="true"]:hover {{ border-color: {c.field_line}; }}
QLineEdit[quiet="true"]:focus {{ border: 2px solid {c.accent}; background: {c.field}; }}
QLineEdit[wrong="true"] {{ border: 2px dashed {c.wrong}; padding: 4px 8px; }}
QPushButton, QToolButton {{
  background: transparent; color: {c.ink}; border: 1px solid transparent;
  border-radius: 6px; padding: 5px 9px;
}}
QPushButton {{
  border: 1px solid {c.button}; color: {c.button}; background: transparent;
  padding: 8px 16px;
}}
QPushButton[remedy="true"] {{ border-color: {c.field_line}; text-align: left; }}
QPushButton[remedy="true"]:hover, QPushButton[remedy="true"]:focus {{
  border: 2px solid {c.accent}; background: {c.accent_tint};
}}
QPushButton[main="true"] {{ background: {c.button}; color: {c.on_button}; }}
QFrame[band="true"] QPushButton {{ padding: 8px 22px; }}
QPushButton:hover, QToolButton:hover {{ background: {c.accent_tint}; }}
QPushButton[main="true"]:hover {{ color: {c.button}; }}
QToolButton:checked {{ background: {c.accent_tint}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {c.accent}; }}
QPushButton:focus {{ padding: 7px 15px; }}
QToolButton:focus {{ padding: 4px 8px; }}
QPushButton:disabled, QToolButton:disabled {{ color: {c.field_line}; }}
QPushButton[main="true"]:disabled {{
  background: transparent; border-color: {c.field_line};
}}
QToolButton[small="true"] {{
  padding: 0px; min-width: 27px; min-height: 30px; border: 1px solid transparent;
  color: {c.button}; background: transparent; font-size: {pt(20)};
}}
QToolButton[small="true"]:hover {{ border-color: {c.accent}; }}
QToolButton[fold="true"], QToolButton[fold="true"]:checked {{
  background: transparent; border: 2px solid transparent; padding: 6px 2px;
  color: {c.button}; text-align: left;
}}
QToolButton[fold="true"]:focus {{ border-color: {c.accent}; }}
QToolButton[link="true"] {{
  color: {c.button}; padding: 2px 1px; border: 1px solid transparent;
}}
QToolButton[link="true"]:checked {{ background: transparent; font-weight: bold; }}
QToolButton[lesser="true"] {{ font-size: {pt(15)}; }}
QToolButton[lesser="true"][pictured="true"] {{ padding: 4px 1px; }}
QToolButton[unit="true"] {{ color: {c.faint}; padding: 2px 4px; }}
QToolButton[unit="true"]:checked {{ color: {c.ink}; font-weight: bold; }}
QToolButton[link="true"]:focus {{ border: 2px solid {c.accent}; padding: 1px 0px; }}
QFrame[check="true"] {{ border: 2px solid transparent; }}
QFrame[check="true"]:hover {{ background: {c.accent_tint}; border-radius: 6px; }}
QFrame[check="true"]:focus {{ border: 2px solid {c.accent}; border-radius: 6px; }}
QFrame[piece="true"] {{
  border: 1px solid transparent; border-left: 3px solid transparent;
  border-radius: 5px;
}}
QFrame[piece="true"][chosen="true"] {{
  border-left-color: {c.accent}; background: {c.accent_tint};
}}
QFrame[beside="true"] {{
  background: {c.paper}; border: 1px solid {c.accent}; border-radius: 7px;
}}
QProgressBar {{
  border: 1px solid {c.field_line}; background: {c.field}; border-radius: 5px;
  min-height: 8px; max-height: 8px;
}}
QProgressBar::chunk {{ background: {c.button}; border-radius: 4px; }}
QSlider {{ min-height: 24px; }}
QSlider::groove:horizontal {{
  height: 4px; border-radius: 2px; background: {c.field_line};
}}
QSlider::sub-page:horizontal {{ background: {c.accent}; border-radius: 2px; }}
QSlider::handle:horizontal {{
  width: 14px; height: 14px; margin: -7px 0; border-radius: 9px;
  background: {c.field}; border: 2px solid {c.accent};
}}
QSlider::handle:horizontal:focus {{ background: {c.accent}; border-color: {c.ink}; }}
QFrame[tape="true"] {{ border-top: 1px solid {c.strip_line}; }}
QListWidget {{ background: transparent; color: {c.ink}; outline: none; }}
QListWidget::item {{ padding: 3px 6px; border: 1px solid transparent; }}
QListWidget::item:selected {{
  background: {c.accent_tint}; color: {c.ink}; border: 1px solid {c.accent};
  border-radius: 4px;
}}
QListWidget::indicator {{ width: 24px; height: 24px; }}
QDialog[over="true"] {{ border: 1px solid {c.strip_line}; }}
QDialog QListWidget {{ background: {c.field}; border: 1px solid {c.field_line}; }}
QListWidget:focus {{ border: 2px solid {c.accent}; border-radius: 4px; }}
QListWidget[styles="true"], QListWidget[styles="true"]:focus {{ border: none; }}
QScrollBar:vertical {{ background: transparent; width: 12px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 12px; margin: 0; }}
QScrollBar::handle {{ background: {c.field_line}; border-radius: 4px; margin: 2px; }}
QScrollBar::handle:vertical {{ min-height: 32px; }}
QScrollBar::handle:horizontal {{ min-width: 32px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QMenu {{ icon-size: 44px; }}
QCheckBox::indicator {{ width: 24px; height: 24px; }}
QToolTip {{
  background: {c.field}; color: {c.ink}; border: 1px solid {c.field_line};
  padding: 4px;
}}
"""

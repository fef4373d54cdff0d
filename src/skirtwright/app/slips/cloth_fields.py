"""What she may say of a cloth: its figures, how it lies, whether it has a nap."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen
from PySide6.QtWidgets import (
    QButtonGroup,
    QLabel,
    QToolButton,
    QWidget,
)

from skirtwright.app.desk import Desk, with_unit
from skirtwright.app.fields import NumberLine, dress, sentence_label, tell
from skirtwright.app.layouts import in_grid, in_row
from skirtwright.app.look import Colours, clear_pixmap
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.cloths import LENGTHS, price_with_measure
from skirtwright.lay.cloth_to_cut import Cloth, Fold
from skirtwright.measures.units import show_length, show_number
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say

FOLDS: tuple[Fold, ...] = ("lengthwise", "crosswise", "single")

_SHARES = ("shrinks_along", "shrinks_across")
_YARD = 0.9144
"""m."""

_PICTURE = QSize(64, 40)


class ClothField(QWidget):
    """One figure of a cloth."""

    def __init__(self, desk: Desk, name: str) -> None:
        super().__init__()
        self._desk, self.name, self._material = desk, name, ""
        self.label, self.unit = QLabel(), QLabel()
        self.label.setWordWrap(True)
        self.unit.setProperty("role", "faint")
        self.unit.setMinimumWidth(34)
        self.line = NumberLine(longest="124 15/16", rim=13)
        self.line.setProperty("flat", True)
        self.label.setBuddy(self.line)
        self.said = sentence_label()
        grid = in_grid(self, (0, 2, 0, 2), across=3, down=2)
        for column, widget in enumerate((self.label, self.line, self.unit)):
            grid.addWidget(widget, 0, column, Qt.AlignmentFlag.AlignVCenter)
        grid.addWidget(self.said, 1, 0, 1, 3)
        grid.setColumnStretch(0, 1)
        self.line.entered.connect(self._enter)
        self.line.restored.connect(lambda: tell(self.said, ""))
        self.line.set_back.connect(lambda: self._set(""))
        self.line.stepped.connect(self._step)

    def say_again(self) -> None:
        """Labels in her manner."""
        manner = self._desk.manner
        words = say(f"cloth_field.{self.name}", manner=manner)
        self.label.setText(words)
        by = "a_yard" if manner.unit == "in" else "a_metre"
        unit: str = manner.unit
        if self.name == "price":
            unit = say(f"cloth_field.{by}", manner=manner)
        self.unit.setText("%" if self.name in _SHARES else unit)
        self.line.setAccessibleName(f"{words}, {self.unit.text()}".rstrip(", "))
        empty = self.name == "on_hand"
        hint = say("cloth_field.to_buy", {}, manner) if empty else ""
        self.line.setPlaceholderText(hint)

    def show_cloth(self, material: str, cloth: Cloth, *, wrong: bool) -> None:
        """The figure as it stands; bold where she set it.

        Args:
            material: as the pieces name it.
            wrong: what the order says is no cloth: figures stand as they are written.
        """
        if material != self._material:
            self._material = material
            self.line.restore()
            tell(self.said, "")
        written = str(getattr(self._desk.job.chosen_cloth(material), self.name))
        self.line.rest_at(written if wrong and written else self._shown(cloth))
        for widget in (self.line, self.label):
            dress(widget, "stated", bool(written))
        if not self.line.wrong:
            tell(self.said, "")

    def _shown(self, cloth: Cloth) -> str:
        manner, value = self._desk.manner, getattr(cloth, self.name)
        if self.name in _SHARES:
            # What the pieces are cut larger for does not shrink the cloth as it lies.
            chosen = self._desk.job.chosen_cloth(self._material)
            try:
                value = chosen.shrinks()[_SHARES.index(self.name)]
            except SkirtwrightError:
                return str(getattr(chosen, self.name))
        if value is None or (value == 0 and self.name != "selvedge"):
            return ""
        if self.name in LENGTHS:
            fraction = manner.fraction if manner.unit == "in" else None
            return show_length(value, manner.unit, fraction)
        if self.name == "price" and manner.unit == "in":
            value *= _YARD
        return show_number(100 * value if self.name in _SHARES else value, 2)

    def _enter(self, text: str) -> None:
        text = text.strip()
        if self.name in LENGTHS:
            text = with_unit(text, self._desk.manner.unit, self._desk.job.unit)
        if self.name == "price" and self._desk.manner.unit != self._desk.job.unit:
            text = price_with_measure(text, self._desk.manner.unit)
        self._set(text.removesuffix("%").strip())

    def _step(self, steps: int) -> None:
        """By a centimetre, or a half inch; by one of a share or price."""
        desk = self._desk
        value = getattr(desk.job.cloth(self._material), self.name) or 0.0
        if self.name not in LENGTHS:
            in_yards = self.name == "price" and desk.manner.unit == "in"
            by = 100 if self.name in _SHARES else _YARD if in_yards else 1
            self._enter(show_number(max(by * value + steps, 0.0), 2))
            return
        step = 12.7 if desk.manner.unit == "in" else 10.0
        self._set(f"{show_number(max(value + steps * step, 0.0), 2)} mm")

    def _set(self, text: str) -> None:
        desk = self._desk
        try:
            desk.change(set_cloth(desk.job, self._material, **{self.name: text}))
        except SkirtwrightError as refused:
            self.line.refuse()
            words = in_one_sentence(refused.problem, desk.manner)
            tell(self.said, words, "wrong")
            self.line.setAccessibleDescription(words)
            return
        self.line.setAccessibleDescription("")
        tell(self.said, "")


class FoldRow(QWidget):
    """How the cloth lies, a small picture of each way."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._material = desk, ""
        self.label, self.said = QLabel(), sentence_label("wrong")
        self.buttons: dict[Fold, QToolButton] = {}
        self._group = QButtonGroup(self)
        row = in_row(spacing=2)
        for fold in FOLDS:
            button = self.buttons[fold] = QToolButton()
            button.setCheckable(True)
            button.setIconSize(_PICTURE)
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            button.setProperty("lesser", True)
            button.setProperty("pictured", True)
            button.clicked.connect(partial(self._choose, fold))
            self._group.addButton(button)
            row.addWidget(button, 1)
        grid = in_grid(self, (0, 4, 0, 4), down=4)
        grid.setColumnStretch(1, 1)
        grid.addWidget(self.label, 0, 0)
        grid.addLayout(row, 1, 0)
        grid.addWidget(self.said, 2, 0)

    def say_again(self, colours: Colours) -> None:
        """Names in her manner, pictures in the colours of her theme."""
        manner = self._desk.manner
        self.label.setText(say("cloth_field.fold", manner=manner))
        for fold, button in self.buttons.items():
            button.setText(say(f"cloth_field.{fold}", manner=manner))
            how = say(f"cloth_field.{fold}.help", manner=manner)
            button.setToolTip(how)
            button.setAccessibleName(f"{button.text()}. {how}")
            button.setIcon(_picture(fold, colours, self.devicePixelRatioF()))

    def show_cloth(self, material: str, fold: Fold) -> None:
        """How it lies: as she chose, or open where a piece does not go on it folded."""
        self._material = material
        self.buttons[fold].setChecked(True)
        tell(self.said, "")

    def _choose(self, fold: Fold) -> None:
        desk = self._desk
        try:
            desk.change(set_cloth(desk.job, self._material, fold=fold))
        except SkirtwrightError as refused:
            self.show_cloth(self._material, desk.job.cloth(self._material).fold)
            words = in_one_sentence(refused.problem, desk.manner)
            tell(self.said, words, "wrong")


def _picture(fold: Fold, colours: Colours, ratio: float) -> QIcon:
    """A cloth that lies so, its length from left to right, one layer over the other."""
    pixmap = clear_pixmap(_PICTURE, ratio)
    under = {
        "lengthwise": QRectF(4, 9, 56, 26),
        "crosswise": QRectF(9, 4, 51, 30),
        "single": QRectF(4, 5, 56, 30),
    }[fold]
    upper = {
        "lengthwise": QRectF(4, 9, 56, 20),
        "crosswise": QRectF(9, 4, 42, 30),
        "single": QRectF(),
    }[fold]
    with QPainter(pixmap) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(colours.pencil), 1.2))
        for area, tint in ((under, colours.cloth), (upper, colours.mirror)):
            if not area.isEmpty():
                painter.setBrush(QColor(tint))
                painter.drawRect(area)
        heavy = QPen(QColor(colours.fold), 4.0)
        heavy.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(heavy)
        if fold == "lengthwise":
            painter.drawLine(QPointF(4, 9), QPointF(60, 9))
        elif fold == "crosswise":
            painter.drawLine(QPointF(9, 4), QPointF(9, 34))
    return QIcon(pixmap)

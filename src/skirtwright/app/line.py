"""The lower edge: one sentence with its buttons, and nothing when all is well.

What has just happened comes before what to look at in the skirt; neither is ever in
the way, and nothing waits for an answer.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QLabel,
    QPushButton,
    QWidget,
)

from skirtwright.app.layouts import in_row
from skirtwright.app.settings import Settings
from skirtwright.words import has_message, say

Way = tuple[str, Callable[[], object] | None]
"""A button and what it does; None for one that keeps its place and does nothing."""

Ways = Mapping[str, Callable[[], object] | None]
"""Buttons by their message ids, those with a figure in them as they are said."""


def nothing() -> None:
    """Nothing more is to be done."""


CLOSE: Ways = {"notice.close": nothing}
"""The button of a notice that has been read."""


@dataclass(frozen=True)
class Notice:
    """A sentence, and its buttons with what each does.

    Attributes:
        room: sentences that take turns with it: the line is as tall for each.
        passes: it goes with the next thing she does.
    """

    words: str
    ways: tuple[Way, ...] = ()
    room: tuple[str, ...] = ()
    passes: bool = False


_AT_THE_FOOT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom
"""A longer sentence does not move what is under the pointer."""

_MOST_BESIDE = 0.6
"""Of the width buttons have beside a sentence; wider ones stand below it."""


class SentenceLine(QFrame):
    """The last thing told and not yet done with; else what to look at.

    Signals:
        changed: there is another sentence, or none.
    """

    changed = Signal()

    def __init__(self, settings: Settings, parent: QWidget) -> None:
        super().__init__(parent)
        self._settings = settings
        self.setProperty("band", True)
        self._told: dict[str, Notice] = {}
        self._standing = Notice("")
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(24, 6, 24, 6)
        self._row.setSpacing(12)
        self._ways = in_row(spacing=12)
        self.words = QLabel()
        self.words.setProperty("role", "sentence")
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self._row.addWidget(self.words, 1)
        self._row.addLayout(self._ways)
        self._row.setAlignment(self._ways, _AT_THE_FOOT)
        self.buttons: list[QPushButton] = []
        self.hide()

    @property
    def code(self) -> str:
        """What kind of thing is told; empty for what to look at, or nothing."""
        return next(reversed(self._told), "")

    @property
    def now(self) -> Notice:
        """What the line says."""
        return self._told[self.code] if self._told else self._standing

    def tell(
        self,
        code: str,
        words: str,
        ways: Ways = CLOSE,
        room: Sequence[str] = (),
        *,
        passes: bool = False,
    ) -> None:
        """Tell something.

        Args:
            code: what kind of thing it is; another of the kind takes its place.
            ways: buttons and what each does; each also ends it.
            room: sentences that will take turns with it.
            passes: it goes with the next thing she does, closed or not.
        """
        manner = self._settings.manner
        named = tuple(
            (say(name, manner=manner) if has_message(name) else name, does)
            for name, does in ways.items()
        )
        self._told.pop(code, None)
        self._told[code] = Notice(words, named, tuple(room), passes)
        self._show()

    def stand(self, words: str, ways: Sequence[Way]) -> None:
        """What to look at while nothing is told; empty when all is well."""
        standing = Notice(words, tuple(ways))
        if (words, _names(standing)) == (self._standing.words, _names(self._standing)):
            self._standing = standing
            return
        self._standing = standing
        if not self._told:
            self._show()

    def done(self, code: str) -> None:
        """Nothing of that kind is left to tell."""
        if self._told.pop(code, None) is not None:
            self._show()

    def drop_passing(self) -> None:
        """She has gone on to something else: what was told of the last is over."""
        for code in [code for code, told in self._told.items() if told.passes]:
            self.done(code)

    def _show(self) -> None:
        held = next((b.accessibleName() for b in self.buttons if b.hasFocus()), "")
        for button in self.buttons:
            self._ways.removeWidget(button)
            button.hide()
            button.deleteLater()
        now, code = self.now, self.code
        self.words.setText(now.words)
        self.setAccessibleName(now.words)
        self.buttons = []
        for number, (name, does) in enumerate(now.ways):
            button = QPushButton(name)
            button.setAccessibleName(name)
            button.setEnabled(does is not None)
            # The first does what the sentence asks for.
            button.setProperty("main", number == 0)
            button.clicked.connect(self._doing(code, number))
            self._ways.addWidget(button)
            self.buttons.append(button)
            # At once: the room it takes tells how many lines the words need.
            button.show()
        self.setVisible(bool(now.words))
        for button in self.buttons:
            if button.accessibleName() == held:
                button.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    def _doing(self, code: str, number: int) -> Callable[[], None]:
        def run() -> None:
            _, does = self.now.ways[number]
            held = self.buttons[number].hasFocus()
            self.done(code)
            if does is not None:
                does()
            if held and code and self.code == code:
                # The next step of the same: the keys go on where they were.
                same = self.buttons[number]
                then = same if same.isEnabled() else self.buttons[0]
                then.setFocus(Qt.FocusReason.OtherFocusReason)

        return run

    def tall(self, wide: int, least: int) -> int:
        """The height it needs at a width, px; none when there is nothing to say."""
        if not self.now.words:
            return 0
        edges = self._row.contentsMargins()
        self._write_names(wide - edges.left() - edges.right())
        below = self._ways_wide() > _MOST_BESIDE * wide
        way = QBoxLayout.Direction
        self._row.setDirection(way.TopToBottom if below else way.LeftToRight)
        self._row.invalidate()
        needed = self._row.totalHeightForWidth(wide)
        return max(least, needed, *map(partial(self._of_turn, wide), self.now.room))

    def _write_names(self, room: int) -> None:
        """The names of the buttons; the longest on two lines where all are too wide."""
        names = {button: button.accessibleName() for button in self.buttons}
        lacking = self._ways_wide() - room
        for button, name in names.items():
            lacking += _across(button, name) - _across(button, button.text())
        for button in sorted(names, key=lambda b: -_across(b, names[b])):
            if lacking > 0:
                parted = _on_two_lines(names[button])
                lacking -= _across(button, names[button]) - _across(button, parted)
                names[button] = parted
        for button, name in names.items():
            if button.text() != name:
                button.setText(name)
                self._ways.invalidate()

    def _of_turn(self, wide: int, words: str) -> int:
        """The height a sentence would need beside the same buttons, px."""
        edges, gap = self._row.contentsMargins(), self._row.spacing()
        below = self._row.direction() == QBoxLayout.Direction.TopToBottom
        taken = 0 if below else gap + self._ways_wide()
        room = QRect(0, 0, wide - edges.left() - edges.right() - taken, 10_000)
        wraps = Qt.TextFlag.TextWordWrap
        tall = self.words.fontMetrics().boundingRect(room, wraps, words).height()
        tall += gap + self._ways.sizeHint().height() if below else 0
        return tall + edges.top() + edges.bottom()

    def _ways_wide(self) -> int:
        """The width of the buttons beside one another, px."""
        return self._ways.sizeHint().width()


def _across(button: QPushButton, words: str) -> int:
    """The width of words on a button, px."""
    return max(map(button.fontMetrics().horizontalAdvance, words.split("\n")))


def _on_two_lines(words: str) -> str:
    """Words broken at the space that is nearest to their middle."""
    spaces = [place for place, sign in enumerate(words) if sign == " "]
    middle = min(spaces, key=lambda place: abs(2 * place - len(words)), default=None)
    if middle is None:
        return words
    return f"{words[:middle]}\n{words[middle + 1 :]}"


def _names(told: Notice) -> tuple[str, ...]:
    return tuple(name for name, _ in told.ways)

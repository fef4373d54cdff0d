"""The frame of the window: the table from edge to edge, and what lies over it.

What the commands do stands above it, in files of their own that know the frame and not
the window.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QMainWindow,
    QWidget,
)

from skirtwright.app.first_picture import Cover
from skirtwright.app.guard import guarded
from skirtwright.app.look import colours_for
from skirtwright.app.settings import Settings
from skirtwright.words import say

if TYPE_CHECKING:
    from skirtwright.app.actions import Actions
    from skirtwright.app.band import Band
    from skirtwright.job.job import Job

_LINE = 56
"""Height of a sentence at the lower edge, at ordinary text size, px."""

_MOST_SLIP = 0.6
"""Of the window's width, for a slip with large text."""

_FRAME = 40
"""Height of the frame a desktop draws round a window, px, about."""

_HINT_STEP = 6
_HINT_MS = 8000
"""How long is told what has just happened, ms."""


class Hint(QLabel):
    """A quiet sentence over the table's lower edge, while there is one to say.

    Attributes:
        room: where it may lie, px of the window.
        taken: what it is not to cover where it can be helped.
        open: what it is never to cover.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("role", "hint")
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.room = QRect()
        self.taken: Callable[[], Sequence[QRect]] = tuple
        self.open: Callable[[], Sequence[QRect]] = tuple
        self._away = QTimer(self, singleShot=True, interval=_HINT_MS)
        self._away.timeout.connect(lambda: self.tell(""))
        self.hide()

    def tell(self, words: str) -> None:
        """What is pointed at, or what has just happened; nothing for nothing."""
        self.setText(words)
        self.setVisible(bool(words))
        if words:
            self._away.start()
            self.fit()

    def fit(self) -> None:
        """As wide and as tall as the sentence, low in its room on nothing else.

        Where there is no such place it lies on what is drawn, never on what is open.
        """
        wide = min(self.fontMetrics().horizontalAdvance(self.text()) + 28, 900)
        wide = min(wide, self.room.width())
        tall = self.heightForWidth(wide)
        room, taken = self.room, self.taken() if self.text() else ()
        lefts = (room.center().x() - wide // 2, room.left(), room.right() - wide)
        places = [
            QRect(left, foot - tall, wide, tall)
            for foot in range(room.bottom(), room.top() + tall, -_HINT_STEP)
            for left in lefts
        ]
        low = QRect(lefts[0], room.bottom() - tall, wide, tall)
        places = list(_free(places, self.open())) or [low]
        self.setGeometry(next(_free(places, taken), places[0]))


def _free(places: Sequence[QRect], taken: Sequence[QRect]) -> Iterator[QRect]:
    """Those of the places that lie on nothing taken."""
    return (p for p in places if not any(p.intersects(each) for each in taken))


class Frame(QMainWindow):
    """The table and what lies over it: band, sentence, one slip.

    Args:
        settings: hers.
        first: a picture of the order about to be opened, shown before all else.

    Attributes:
        bare: True while only the table is to be seen.
        over: what lies over the whole table, such as the styles to choose from.
    """

    acts: Actions
    band: Band
    bare = False
    over: QWidget | None = None

    def __init__(self, settings: Settings, first: QImage | None = None) -> None:
        super().__init__()
        settings.setParent(self)
        self.settings = settings
        self._restore()
        self._cover: Cover | None = None
        if first is not None:
            self._cover = Cover(self, first, colours_for(settings.theme).strip)
            self.show()
            self._cover.wait()
        self._load_rest()

    def _load_rest(self) -> None:
        # Loaded only now: the first picture is on the screen.
        from skirtwright.app.bookkeeping import Bookkeeping
        from skirtwright.app.canvas.table import Table
        from skirtwright.app.cloth_work import ClothWork
        from skirtwright.app.desk import Desk
        from skirtwright.app.keeping import Keeper
        from skirtwright.app.line import SentenceLine
        from skirtwright.app.mending import Mending
        from skirtwright.app.piece_desk import PieceDesk
        from skirtwright.app.slip_holder import SlipHolder
        from skirtwright.app.welcome import Welcome

        settings = self.settings
        self.desk = Desk(settings, self)
        self.keeper = Keeper(self.desk)
        self.colours = colours_for(settings.theme)
        self.inside = QWidget()
        self.setCentralWidget(self.inside)
        self.table = Table(self.colours, self.inside)
        self.line = SentenceLine(settings, self.inside)
        self.pointed = Hint(self.inside)
        self.pointed.taken, self.pointed.open = self._taken, self._open
        self.piece_desk = PieceDesk(self.desk)
        self.mending = Mending(self.desk)
        self.cloth_work = ClothWork(self.desk)
        self.bookkeeping = Bookkeeping(self)
        self.slips = SlipHolder(
            self.desk,
            self.piece_desk,
            self.mending,
            self.cloth_work,
            self.bookkeeping,
            self.inside,
        )
        self.welcome = Welcome(self.desk, self.line)
        self.line.changed.connect(self.arrange)
        self.slips.changed.connect(self._another_slip)
        other = Qt.FocusReason.OtherFocusReason
        self.slips.left.connect(lambda: self.table.setFocus(other))

    # Where everything lies

    def _restore(self) -> None:
        kept = self.settings.layout("window")
        if not isinstance(kept, QByteArray) or not self.restoreGeometry(kept):
            room = self.screen().availableGeometry()
            # The desktop's own frame stands round it, and must fit too.
            self.resize(min(1440, room.width()), min(900, room.height() - _FRAME))
            aside = (room.width() - self.width()) // 2
            self.move(room.left() + aside, room.top())
            # Where Qt will bring it back to, so that it stands there from the first.
            self.restoreGeometry(self.saveGeometry())

    def uncover(self) -> None:
        """Take the picture of the start away, now that all is ready under it."""
        if self._cover is not None:
            self._cover.raise_()
            QTimer.singleShot(0, self, self._take_cover_away)

    def _take_cover_away(self) -> None:
        cover, self._cover = self._cover, None
        self.arrange()
        if cover is not None:
            # What was done to the picture meanwhile was done to nothing.
            cover.raise_()
            QApplication.processEvents()
            cover.hide()
            cover.deleteLater()

    def at_rest(self) -> QPixmap:
        """The window as it opens on this order: a clear band, nothing in hand."""
        from skirtwright.app.canvas.table import Table

        size = self.inside.size()
        above = self.band.tall(size.width())
        table = Table(self.colours)
        table.resize(size.width(), size.height() - above)
        table.camera.true_scale = self.settings.true_scale
        table.set_text_size(self.settings.text_size)
        table.set_manner(self.settings.manner)
        table.show_look(self.desk.look)
        drawn, painted = self._sheet(size), self._sheet(table.size())
        # Apart: moved along while it is painted, curves are rounded another way.
        with QPainter(painted) as painter:
            table.paint_at_rest(painter)
        drawn.fill(QColor(self.colours.strip))
        with QPainter(drawn) as painter:
            painter.drawPixmap(0, above, painted)
        return drawn

    def _sheet(self, size: QSize) -> QPixmap:
        """As sharp as the screen it stands on."""
        made = QPixmap(size * self.devicePixelRatioF())
        made.setDevicePixelRatio(self.devicePixelRatioF())
        return made

    def slip_wide(self) -> int:
        """Width of the open slip, px; none when none is open."""
        from skirtwright.app.slip_holder import WIDE

        slip = self.slips.now
        if slip is None or self.bare:
            return 0
        percent = self.settings.text_size
        if percent <= 100:
            return WIDE
        wide = max(WIDE * (50 + percent // 2) // 100, slip.needs())
        return min(wide, max(round(_MOST_SLIP * self.inside.width()), WIDE))

    def arrange(self) -> None:
        """Band above, table under it to every edge, the rest over the table."""
        if not hasattr(self, "band"):
            return
        from skirtwright.app.slip_holder import WIDE

        wide, tall = self.inside.width(), self.inside.height()
        above = 0 if self.bare else self.band.tall(wide)
        least = _LINE * self.settings.text_size // 100
        below = 0 if self.bare else self.line.tall(wide, least)
        over = self.slip_wide()
        self.band.setVisible(not self.bare)
        self.band.setGeometry(0, 0, wide, above)
        self.table.setGeometry(0, above, wide, tall - above)
        self.line.setVisible(below > 0)
        self.line.setGeometry(0, tall - below, wide, below)
        slip = self.slips.now
        if slip is not None:
            slip.setGeometry(wide - over, above, over, tall - above - below)
            slip.setVisible(over > 0)
        self.pointed.room = QRect(24, above, wide - over - 48, tall - above - below - 8)
        self.pointed.fit()
        if self.over is not None:
            self.over.setGeometry(0, above, wide, tall - above - below)
        for widget in (self.pointed, slip, self.over, self.line):
            if widget is not None:
                widget.raise_()
        self.table.set_covered(right=over, bottom=below)
        if slip is not None and over > WIDE:
            # With large text it knows only once it is shown how wide it must be.
            QTimer.singleShot(0, self, self._fit_slip)

    def _fit_slip(self) -> None:
        slip = self.slips.now
        if slip is not None and slip.width() != self.slip_wide():
            self.arrange()

    def _another_slip(self) -> None:
        from skirtwright.app.slip_holder import SLIPS

        name = self.slips.open_name
        if name:
            self.bare = False
        for each in SLIPS:
            self.acts.by_name[each].setChecked(each == name)
        self.table.show_allowances(name == "cut")
        self.table.show_cloths(on=name == "cloth")
        self.arrange()

    def lay_over(self, widget: QWidget | None) -> None:
        """Lay something over the whole table, or take it away again."""
        if self.over is not None:
            self.over.hide()
            self.over.deleteLater()
        self.over = widget
        # The keyboard does not go behind what lies over it.
        policy = Qt.FocusPolicy
        self.table.setFocusPolicy(
            policy.StrongFocus if widget is None else policy.NoFocus
        )
        self.arrange()
        if widget is not None:
            widget.show()

    def show_bare(self, on: bool) -> None:
        """Only the table, or band and sentence with it."""
        self.bare = on
        self.slips.say_again()
        self.arrange()

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._cover is not None:
            self._cover.setGeometry(self.rect())
        self.arrange()

    # What is in hand

    def point(self, words: str) -> None:
        """What is pointed at; while something is pulled its value is told beside it."""
        self.pointed.tell("" if self.table.pull else words)

    def _taken(self) -> list[QRect]:
        """What a sentence is not to cover, px of the window."""
        from skirtwright.app.canvas.cards import rect_of

        table = self.table
        area = table.figure_area()
        areas = [rect_of(area)] if table.figure.is_large and area else table.drawn()
        return [each.toAlignedRect().translated(table.pos()) for each in areas]

    def _open(self) -> list[QRect]:
        """What is open on the table and is read or typed in, px of the window."""
        table = self.table
        cards = (w for w in table.findChildren(QWidget) if w.property("beside"))
        return [w.geometry().translated(table.pos()) for w in cards if w.isVisible()]

    def show_changes(self, before: Job, after: Job) -> None:
        """Have the fields in sight that differ between two orders."""
        slip = self.slips.now
        if slip is not None:
            amounts = _differing(before.amounts, after.amounts)
            card = _differing(before.card.measurements, after.card.measurements)
            slip.bring_in_sight([*amounts, *card])

    @guarded(otherwise=False)
    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002 - Qt's name
        """Tab; and what is hidden or disabled hands the keyboard on, but to no button.

        A key she meant for what is gone would else do what she never looked at.
        """
        held = self.focusWidget()
        gone = held is not None and not (held.isEnabled() and held.isVisible())
        slip, moved = self.slips.now, super().focusNextPrevChild(next)
        then = self.focusWidget()
        left = slip and slip.isAncestorOf(held) and not slip.isAncestorOf(then)
        if gone and (left or then is None or isinstance(then, QAbstractButton)):
            (slip or self.table).setFocus(Qt.FocusReason.OtherFocusReason)
        return moved

    def take_typed(self) -> None:
        """Take what is half typed in the field in hand; say what is asked of others."""
        from skirtwright.app.slips.question import Question

        held = self.focusWidget()
        if held is not None:
            held.clearFocus()
            held.setFocus(Qt.FocusReason.OtherFocusReason)
        asked = [each.open_words for each in self.findChildren(Question)]
        if any(asked):
            values = {"asked": " ".join(filter(None, asked))}
            words = say("field.still_asked", values, self.settings.manner)
            self.line.tell("asked", words, passes=True)


def _differing(before: Mapping[str, str], after: Mapping[str, str]) -> list[str]:
    """The names that have another text, or one only on one side."""
    names = {**before, **after}
    return [name for name in names if before.get(name) != after.get(name)]

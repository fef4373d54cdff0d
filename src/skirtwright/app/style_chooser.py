"""Styles chosen as they look on the client at hand, over the whole table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from PySide6.QtCore import (
    QLineF,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QFrame,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from skirtwright.app.canvas.drawing import Brushes, paint_linen
from skirtwright.app.canvas.view import View
from skirtwright.app.desk import Desk
from skirtwright.app.figure_view import Figure, FigureView, paint
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.app.look import Colours, colours_for, letters
from skirtwright.app.shown_figures import length_about
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.job import fitting_edits
from skirtwright.job.edits import set_style
from skirtwright.job.job import Job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.guessed import with_guesses
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.remembered import Remembered
from skirtwright.words import Manner, in_one_sentence, say, says, translate

_ACROSS, _DOWN = 6, 2
"""Of the sheet in an ordinary window; what is more is scrolled to."""

_NARROWEST, _LOWEST = 200, 300
"""Of one card at ordinary text size, px."""

_BESIDE_NAME = 20
"""Of a card's width no name reaches into, px."""

_NAME = Qt.ItemDataRole.UserRole
CARD = Qt.ItemDataRole.UserRole + 1


@dataclass(frozen=True)
class StyleCard:
    """A style as it stands on the sheet.

    Attributes:
        family: what it stands among, over the first of them; else empty.
        told: how long it is and how wide, or what it still needs.
        figure: worn, once it is drawn.
        is_now: it is the order's own style.
        look: in a word that something is to be looked at; else empty.
    """

    title: str
    family: str = ""
    told: str = ""
    figure: Figure | None = None
    is_now: bool = False
    look: str = ""


@dataclass(frozen=True)
class Worn:
    """A style as it is worn.

    Attributes:
        figure: on the client, from the front; None where it cannot be worn.
        finished: its finished measures, mm.
        refused: why it cannot be drawn for her.
    """

    figure: Figure | None = None
    finished: Mapping[str, float | None] = field(default_factory=dict)
    refused: Problem | None = None


WornStyles = Remembered[Worn, Job, Colours]
"""The styles as they are worn, kept from one visit to the next."""


def worn(job: Job, colours: Colours) -> Worn:
    """An order's skirt on its client."""
    try:
        look = Worktable().look(job)
    except SkirtwrightError as error:
        return Worn(refused=error.problem)
    view = FigureView()
    view.show(look.report)
    return Worn(view.small(colours), look.report.finished)


def figures_told(
    finished: Mapping[str, float | None], manner: Manner, *, guessed: bool = False
) -> str:
    """How long a skirt is, and how wide at the hem; nothing where one is not known."""
    told = {
        name: length_about(value, manner)
        for name in ("length", "sweep")
        if (value := finished.get(name)) is not None
    }
    message = "styles.figures_guessed" if guessed else "styles.figures"
    return say(message, told, manner) if len(told) == 2 else ""


class Cards(QStyledItemDelegate):
    """Paints the cards: the skirt on her, its name and its figures."""

    colours: Colours
    percent = 100
    lines = 1
    size = QSize(_NARROWEST, _LOWEST)

    @guarded(otherwise=lambda: QSize(_NARROWEST, _LOWEST))
    def sizeHint(self, *_: object) -> QSize:
        return self.size

    @guarded()
    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """One card; the one in hand lies on paper, that under the pointer has a rim."""
        card, colours = index.data(CARD), self.colours
        if card is None:
            return
        area = QRectF(option.rect).adjusted(6, 4, -6, -4)
        in_hand = index == option.widget.currentIndex()  # type: ignore[attr-defined]
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if in_hand:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colours.paper_edge))
            painter.drawRoundedRect(area.translated(0, 3), 4, 4)
            painter.setBrush(QColor(colours.paper))
            painter.drawRoundedRect(area, 4, 4)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.setPen(QColor(colours.field_line))
            painter.drawRoundedRect(area, 4, 4)
        self._words(painter, area, card, in_hand=in_hand)
        if card.figure is not None:
            foot = area.bottom() - self.words_tall()
            above = QFontMetricsF(self._fonts(bold=True)[2]).height() + 10
            figure = QRectF(area.left(), area.top() + above, area.width(), 0)
            figure.setBottom(foot - 6)
            paint(painter, figure, card.figure, one_scale=True)
        painter.restore()

    def words_tall(self) -> float:
        """Height of name and figures under a figure, px."""
        name, told, _ = self._fonts(bold=True)
        names = self.lines * QFontMetricsF(name).height()
        return names + QFontMetricsF(told).height() + 14

    def give_room(self, titles: Iterable[str]) -> None:
        """A second line for names, where one of them needs it."""
        metrics = QFontMetricsF(self._fonts(bold=True)[0])
        widest = max(map(metrics.horizontalAdvance, titles), default=0.0)
        self.lines = 2 if widest > self.size.width() - _BESIDE_NAME else 1

    def _fonts(self, *, bold: bool) -> tuple:  # type: ignore[type-arg]
        percent = self.percent
        return (
            letters(percent, 2.0, bold=bold),
            letters(percent, -1.0),
            letters(percent, -1.0, bold=True),
        )

    def _words(
        self, painter: QPainter, area: QRectF, card: StyleCard, *, in_hand: bool
    ) -> None:
        colours = self.colours
        name, told, family = self._fonts(bold=in_hand or card.is_now)
        centre = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
        painter.setFont(family)
        painter.setPen(QColor(colours.faint))
        left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        painter.drawText(area.adjusted(8, 6, -8, 0), left, card.family)
        if card.look:
            painter.setPen(QColor(colours.wrong))
            painter.drawText(area.adjusted(8, 6, -8, 0), left, card.look)
        top = area.bottom() - self.words_tall() + 2
        line = QRectF(area.left() + 4, top, area.width() - 8, 0)
        painter.setFont(name)
        painter.setPen(QColor(colours.ink))
        line.setHeight(self.lines * QFontMetricsF(name).height())
        wraps = Qt.TextFlag.TextWordWrap.value | centre.value
        line.setTop(painter.drawText(line, wraps, card.title).bottom())
        metrics = QFontMetricsF(told)
        line.setHeight(metrics.height())
        painter.setFont(told)
        painter.setPen(QColor(colours.faint))
        right = Qt.TextElideMode.ElideRight
        short = metrics.elidedText(card.told, right, line.width())
        painter.drawText(line, centre, short)
        line.translate(0, metrics.height())
        if card.is_now:
            painter.setPen(QPen(QColor(colours.button), 3.0))
            middle, half = area.center().x(), 46.0
            low = line.top() + 3
            painter.drawLine(QLineF(middle - half, low, middle + half, low))


class OverTable(QFrame):
    """Cards over the whole table, on its linen; Escape leaves all as it was.

    Signals:
        finished: she is done here.
    """

    finished = Signal()

    def __init__(self, desk: Desk, parent: QWidget) -> None:
        super().__init__(parent)
        self._desk = desk
        self._cards = Cards(self)
        self._cards.colours = colours_for(desk.settings.theme)
        self._cards.percent = desk.settings.text_size

    def _show_cards(self, on: QListWidget) -> None:
        """Let a list show its items as cards side by side."""
        on.setProperty("styles", True)
        on.setItemDelegate(self._cards)
        on.viewport().setAttribute(Qt.WidgetAttribute.WA_Hover)
        on.setViewMode(QListWidget.ViewMode.IconMode)
        on.setMovement(QListWidget.Movement.Static)
        on.setResizeMode(QListWidget.ResizeMode.Adjust)
        on.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        on.setFrameShape(QFrame.Shape.NoFrame)

    def reject(self) -> None:
        """Done here, with nothing taken."""
        self.hide()
        self.finished.emit()

    @guarded()
    def paintEvent(self, event: QPaintEvent) -> None:
        brushes = Brushes(self._cards.colours, self._desk.manner)
        with QPainter(self) as painter:
            paint_linen(painter, View(), self.rect(), brushes)

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.reject()
        else:
            super().keyPressEvent(event)


_GATHERED_MS = 1000
"""Between two letters of one word, at most; common practice, no source."""


class StylesList(QListWidget):
    """Cards that are found by the letters typed, begun in any word of their names."""

    def __init__(self) -> None:
        super().__init__()
        self._typed, self._pressed_at, self._last_at = "", 0, 0

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Letters belong together by when she pressed them, however late they come."""
        self._pressed_at = event.timestamp()
        super().keyPressEvent(event)

    @guarded()
    def keyboardSearch(self, letters: str) -> None:
        """Go on to the next name so begun, else to one with a word so begun."""
        goes_on = self._pressed_at - self._last_at <= _GATHERED_MS
        self._typed = (self._typed if goes_on else "") + letters.casefold()
        self._last_at = self._pressed_at
        # One letter again and again goes through all it begins.
        once = len(set(self._typed)) == 1
        wanted = self._typed[:1] if once else self._typed
        rows, here = self.count(), self.currentRow() + once
        titles = {
            row: self.item(row).data(CARD).title.casefold()
            for row in ((here + step) % rows for step in range(rows))
            if self.item(row).data(CARD)
        }
        begun = [row for row, title in titles.items() if title.startswith(wanted)]
        within = [row for row, title in titles.items() if f" {wanted}" in title]
        if wanted.strip() and (begun or within):
            self.setCurrentRow((begun or within)[0])


class StylesChooser(OverTable):
    """One figure for each style on the shelf; Enter or a double click takes it.

    Signals:
        pointed: another style is in hand: what is to be said of it.
        leaves_out: it was taken, and has no place for some of what was altered at a
            fitting: a line each.
        taken: it is on the table; the order as it was before.
    """

    pointed = Signal(str)
    leaves_out = Signal(list)
    taken = Signal(Job)

    def __init__(self, desk: Desk, parent: QWidget, worn_styles: WornStyles) -> None:
        super().__init__(desk, parent)
        manner = desk.manner
        worn_styles.next_round()
        self._worn_styles = worn_styles
        self.list = StylesList()
        self.list.setAccessibleName(say("styles.title", manner=manner))
        self._show_cards(self.list)
        self.list.viewport().setAutoFillBackground(False)
        in_column(self.list, on=self, margins=(12, 8, 12, 0))
        self._lay_out()
        self.list.itemActivated.connect(lambda _: self.take())
        self.list.currentRowChanged.connect(lambda _: self.pointed.emit(self.words()))
        # The one she has comes first, for she looks there.
        self._waiting: list[str] = sorted(
            self._names(), key=lambda name: name != desk.job.draft.id
        )
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.draw_next)
        self._timer.start(0)

    def _lay_out(self) -> None:
        """A card for every style, by families; what is worn on them follows."""
        manner, now = self._desk.manner, self._desk.job.draft.id
        for family, names in styles.families():
            for name in names:
                title = translate(styles.style(name).title, manner)
                first = translate(family, manner) if name == names[0] else ""
                item = QListWidgetItem(title)
                item.setData(_NAME, name)
                item.setData(CARD, StyleCard(title, first, is_now=name == now))
                self.list.addItem(item)
                if name == now:
                    self.list.setCurrentItem(item)

    def _items(self) -> list[QListWidgetItem]:
        return [self.list.item(row) for row in range(self.list.count())]

    def _item(self, name: str) -> QListWidgetItem:
        return next(item for item in self._items() if item.data(_NAME) == name)

    def _begin_rows(self, across: int) -> None:
        """Each family begins a row: what is left of the one above stays empty."""
        for item in self._items():
            if item.data(_NAME) is None:
                self.list.takeItem(self.list.row(item))
        for item in self._items():
            row = self.list.row(item)
            for _ in range(-row % across if item.data(CARD).family else 0):
                empty = QListWidgetItem()
                empty.setFlags(Qt.ItemFlag.NoItemFlags)
                self.list.insertItem(row, empty)

    def draw_next(self) -> None:
        """Draw one more style; the list stays usable meanwhile."""
        if not self._waiting:
            self._timer.stop()
            return
        if self._desk.stopping.asks:
            return  # The one she took comes first.
        name = self._next()
        self._waiting.remove(name)
        item, manner = self._item(name), self._desk.manner
        card: StyleCard = item.data(CARD)
        job = set_style(self._desk.job, styles.style(name)).job
        guessed = self._desk.waits is not None
        if guessed:
            job = job.replace(card=with_guesses(job.card))
        found = self._worn_styles.of(name, job, self._cards.colours)
        figure = found.figure
        if figure is not None:
            # What is not measured is guessed, and what is guessed is dashed.
            figure = replace(figure, guessed=guessed)
        told = figures_told(found.finished, manner, guessed=guessed)
        told = says(found.refused, manner) if found.refused else told
        made = StyleCard(card.title, card.family, told, figure, card.is_now)
        item.setData(CARD, made)
        item.setText(f"{card.title}\n{told}".strip())
        said = translate(styles.style(name).help, manner)
        item.setToolTip(said if figure else told)

    def _next(self) -> str:
        """What is in sight comes before what must be scrolled to."""
        seen = self.list.viewport().rect()

        def in_sight(name: str) -> bool:
            return self.list.visualItemRect(self._item(name)).intersects(seen)

        return next(filter(in_sight, self._waiting), self._waiting[0])

    def words(self) -> str:
        """What is to be said of the style in hand."""
        draft = self.in_hand()
        return self._words_of(draft) if draft is not None else ""

    def every_words(self) -> list[str]:
        """What is to be said of each style in its turn."""
        return [self._words_of(styles.style(name)) for name in self._names()]

    def _names(self) -> list[str]:
        return [item.data(_NAME) for item in self._items() if item.data(_NAME)]

    def _words_of(self, draft: Draft) -> str:
        """Its name and what it is; the figure shows the rest."""
        manner = self._desk.manner
        title, help_text = translate(draft.title, manner), translate(draft.help, manner)
        first = help_text.partition(".")[0].partition(":")[0]
        return f"{title}: {first[:1].lower()}{first[1:]}."

    def in_hand(self) -> Draft | None:
        """The style in hand."""
        item = self.list.currentItem()
        name = item.data(_NAME) if item is not None else None
        return styles.style(name) if name is not None else None

    def put_in_hand(self, name: str) -> None:
        """Go to a style by its id."""
        self.list.setCurrentItem(self._item(name))

    def take(self, *, leaving_out: bool = False) -> None:
        """Draft this style for the client at hand; undo leads back.

        Args:
            leaving_out: even where it has no place for what was altered at a fitting.
        """
        draft, desk = self.in_hand(), self._desk
        if draft is not None and draft.id != desk.job.draft.id:
            before, edited = desk.job, set_style(desk.job, draft)
            try:
                left = () if leaving_out else desk.leaves_out(edited.job)
                if left:
                    lines = fitting_edits.told(
                        edited.job.replace(fitting=left), readings=False
                    )
                    self.leaves_out.emit([line.said(desk.manner) for line in lines])
                    return
                desk.change(edited, leaving_out=True)
            except SkirtwrightError as refused:
                words = in_one_sentence(refused.problem, desk.manner)
                self.pointed.emit(words)
                return
            self.taken.emit(before)
        self.reject()

    def reject(self) -> None:
        """Done, with the style that is on the table."""
        self._timer.stop()
        super().reject()

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Two rows of six in an ordinary window; as many as fit in another."""
        super().resizeEvent(event)
        percent = self._cards.percent
        wide = self.width() - 24 - self.list.verticalScrollBar().sizeHint().width()
        tall = self.height() - 8
        across = max(1, min(_ACROSS, wide * 100 // (_NARROWEST * percent)))
        self._cards.size = QSize(wide // across - 1, 0)
        self._cards.give_room(
            translate(styles.style(name).title, self._desk.manner)
            for name in self._names()
        )
        least = _LOWEST + round(self._cards.words_tall()) - 50
        self._cards.size = QSize(wide // across - 1, max(least, tall // _DOWN))
        self.list.setGridSize(self._cards.size)
        self._begin_rows(across)

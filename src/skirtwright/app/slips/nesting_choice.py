"""Several sizes over one another on paper: of a chart, or of clients of the book."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QStringListModel,
    Qt,
    Signal,
)
from PySide6.QtWidgets import QCompleter, QLineEdit, QWidget

from skirtwright.app.bookkeeping import Bookkeeping
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.app.slips.printing_rows import OptionRow, TextRow
from skirtwright.export.nested import Nest, sized
from skirtwright.export.sheet import MOST_SIZES
from skirtwright.job import edits
from skirtwright.job.job import Job
from skirtwright.job.worktable import Look, Worktable
from skirtwright.measures.card import Card
from skirtwright.measures.sizes import chart, charts, size
from skirtwright.problems import BadInput, NotFound, SkirtwrightError
from skirtwright.telling.names_in_words import plain
from skirtwright.words import Manner, say

_CLIENTS = "clients"

_REMEMBERED = 12
"""Looks of sizes kept: more than are drawn at once."""


@dataclass(frozen=True)
class Sizes:
    """What is to be drawn over one another.

    Attributes:
        cards: each with what its size is called, the smallest first.
        on: the point all meet in, as `Nest` has it.
    """

    cards: tuple[tuple[str, Card], ...]
    on: str = ""


class SizesWorked:
    """Works an order for each size, once for each; in any thread."""

    def __init__(self) -> None:
        self._table = Worktable()
        self._known: list[tuple[Job, Look]] = []

    def look(self, job: Job, card: Card) -> Look:
        """The order for another card.

        Raises:
            SkirtwrightError: it cannot be worked, or its drawing stops.
        """
        other = edits.set_card(job, card).job
        look = next((look for known, look in self._known if known == other), None)
        if look is None:
            look = self._table.look(other)
            if look.report.refusals:
                raise SkirtwrightError.of(look.report.refusals[0])
            self._known = [*self._known, (other, look)][-_REMEMBERED:]
        return look

    def nest(self, job: Job, sizes: Sizes) -> Nest:
        """All sizes, as the command line draws them.

        Raises:
            SkirtwrightError: one cannot be worked, or they cannot be drawn together.
        """
        looks = [(name, self.look(job, card).report) for name, card in sizes.cards]
        return Nest(tuple(looks), sizes.on).checked()


class _Offered(QCompleter):
    """Offers clients of the book while the last of several names is typed.

    Args:
        line: where they are typed, with commas between them.
        book: whose clients they are.
    """

    def __init__(self, line: QLineEdit, book: Bookkeeping) -> None:
        super().__init__(line)
        self._line, self._book, self._names = line, book, QStringListModel(self)
        self.setModel(self._names)
        self.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setFilterMode(Qt.MatchFlag.MatchContains)
        line.textEdited.connect(self._find)
        line.setCompleter(self)

    def _find(self, text: str) -> None:
        (sought,) = self.splitPath(text)
        self._names.setStringList(self._book.names(sought) if sought else ())

    @guarded(list)
    def splitPath(self, path: str) -> list[str]:
        return [path.rpartition(",")[2].strip()]

    @guarded("")
    def pathFromIndex(self, index: QModelIndex | QPersistentModelIndex) -> str:
        """All names, with the one chosen in place of what was typed of it."""
        before = self._line.text().rpartition(",")[0]
        return ", ".join(filter(None, (before, str(index.data()))))


class NestingChoice(QWidget):
    """Which sizes, and where they meet; the order alone at first.

    Signals:
        changed: another choice.
    """

    changed = Signal()

    def __init__(self, book: Bookkeeping) -> None:
        super().__init__()
        self._book, self._edges = book, tuple[str, ...]()
        self._manner = Manner()
        self.which, self.on = OptionRow("nest"), OptionRow("nest_on")
        self.sizes, self.clients = TextRow("nest_sizes"), TextRow("nest_clients")
        _Offered(self.clients.line, book)
        column = in_column(on=self, spacing=10)
        for row in (self.which, self.sizes, self.clients, self.on):
            column.addWidget(row)
            row.changed.connect(self._change)

    @property
    def is_on(self) -> bool:
        """Whether sizes are drawn over one another."""
        return bool(self.which.key)

    def wanted(self) -> Sizes | None:
        """The sizes with their cards; None where the order stands alone.

        Raises:
            SkirtwrightError: there is no such size or client, or only one.
        """
        if not self.is_on:
            return None
        if self.which.key != _CLIENTS:
            known = chart(self.which.key)
            names = sized(known.names, self.sizes.text or _all_of(known.names))
            cards = tuple((name, size(known.id, name)) for name in names)
            return Sizes(cards, self.on.key)
        found = list(self._cards())
        if len(found) < 2:
            raise BadInput("nest.too_few", self.clients.text)
        return Sizes(tuple((card.name, card) for card in found), self.on.key)

    def _cards(self) -> Iterator[Card]:
        """Of each client named; a name may have a comma in it."""
        asked = [name.strip() for name in self.clients.text.split(",")]
        rest = [name for name in asked if name]
        while rest:
            for many in range(len(rest), 0, -1):
                try:
                    card = self._book.card_of(", ".join(rest[:many]))
                except NotFound:
                    if many == 1:
                        raise
                    continue
                yield card
                rest = rest[many:]
                break

    def mark(self, where: str) -> None:
        """Mark the line that keeps sizes from being printed; none for no place."""
        for row in (self.sizes, self.clients):
            row.mark(wrong=bool(where) and row.isVisible() and where in row.text)

    def show_edges(self, edges: Sequence[str]) -> None:
        """The edges of the first piece, at whose ends sizes may meet."""
        if tuple(edges) != self._edges:
            self._edges = tuple(edges)
            self._fill_edges()

    def say_again(self, manner: Manner) -> None:
        """Names in her language."""
        self._manner = manner
        alone = ("", say("printing.nest.alone", manner=manner))
        clients = (_CLIENTS, say("printing.nest.clients", manner=manner))
        of_charts = [(one.id, one.title) for one in charts()]
        self.which.fill([alone, *of_charts, clients], manner)
        for row in (self.sizes, self.clients):
            row.say_again(manner)
        self._fill_edges()
        self._fit()

    def _fill_edges(self) -> None:
        manner = self._manner
        waist = ("", say("printing.nest_on.waist", manner=manner))
        ends = [
            (
                f"{edge} {end}",
                say(f"printing.nest_on.{end}", {"edge": plain(edge)}, manner),
            )
            for edge in self._edges
            for end in ("start", "end")
        ]
        self.on.fill([waist, *ends], manner)

    def _change(self) -> None:
        self._fit()
        self.changed.emit()

    def _fit(self) -> None:
        clients = self.which.key == _CLIENTS
        self.sizes.setVisible(self.is_on and not clients)
        self.clients.setVisible(clients)
        self.on.setVisible(self.is_on)


def _all_of(names: Sequence[str]) -> str:
    return f"{names[0]}-{names[min(len(names), MOST_SIZES) - 1]}"

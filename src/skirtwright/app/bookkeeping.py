"""The client book beside the window: sought in, written in, worked on in a thread."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, cast

from PySide6.QtCore import QObject, QThread, Signal

from skirtwright.app.guard import guarded, report
from skirtwright.job.folders import client_book
from skirtwright.job.in_book import in_book
from skirtwright.job.prints import today
from skirtwright.problems import SkirtwrightError

if TYPE_CHECKING:
    from skirtwright.figure.drawn_figure import Picture
    from skirtwright.measures.card import Card
    from skirtwright.workroom.book import Book, Client, KeptOrder
    from skirtwright.workroom.book_file import Salvaged

DAMAGED = ("book.damaged", "book.not_one")
"""Troubles of a book that can be begun anew with what can be read of it."""

_Answer = TypeVar("_Answer")

_WAIT_SECONDS = 0.1
"""For another window that writes: what takes longer is told, and tried again."""


@dataclass(frozen=True)
class Found:
    """What the book has of what is sought.

    Attributes:
        orders: the first of them, the unfinished due first.
        clients: those for whom nothing was made yet.
        more: there are more than these.
        read_only: nothing can be kept in the book where it lies.
    """

    orders: tuple[KeptOrder, ...] = ()
    clients: tuple[Client, ...] = ()
    more: bool = False
    read_only: bool = False


class Bookkeeping(QObject):
    """The client book, opened when it is first asked for something.

    Signals:
        changed: there is something else in it.
    """

    changed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.path = client_book()
        self._book: Book | None = None
        self._seen = 0
        self._aside: set[_Aside] = set()
        self._pictures: dict[int, Picture] = {}

    @property
    def is_there(self) -> bool:
        """Whether there is a book yet."""
        return self.path.exists()

    @property
    def book(self) -> Book:
        """The book, open.

        Raises:
            SkirtwrightError: it cannot be opened.
        """
        if self._book is None:
            from skirtwright.workroom.book import Book

            self._book = Book(self.path, wait=_WAIT_SECONDS)
            self._seen = self._book.changes()
        return self._book

    def card_of(self, name: str) -> Card:
        """The latest card of the client of a name.

        Raises:
            SkirtwrightError: the book cannot be read, or has no such client or card.
        """
        return self.book.card_of(name)

    def names(self, sought: str, most: int = 12) -> list[str]:
        """Of clients in whose name is what is sought; none where it cannot be read."""
        try:
            found = self.book.clients(sought, most) if self.is_there else ()
        except SkirtwrightError:
            return []
        return [client.name for client in found]

    def found(self, sought: str, most: int) -> Found:
        """Orders, then clients without any, that have all the words sought.

        Raises:
            SkirtwrightError: the book cannot be read.
        """
        if not self.is_there:
            return Found()
        orders = self.book.found_orders(sought, most + 1)
        left = most + 1 - len(orders)
        clients = self.book.without_orders(sought, left) if left else ()
        more = len(orders) + len(clients) > most
        clients, read_only = clients[: max(most - len(orders), 0)], self.book.read_only
        return Found(orders[:most], clients, more, read_only)

    def has_orders(self) -> bool:
        """Whether there is anything to be made; no where the book cannot be read."""
        try:
            return self.is_there and self.book.has_orders()
        except SkirtwrightError:
            return False

    def called(self, number: int) -> str:
        """An order by client and title; by its number where that cannot be read."""
        if not self.is_there:
            return str(number)
        try:
            order, _ = self.book.order_text(number)
        except SkirtwrightError:
            return str(number)
        return f"{order.client.name}, {order.title}"

    def is_cut(self, path: Path | None) -> bool:
        """Whether an order is one of the book whose cloth is cut by now."""
        known = in_book(path) if path is not None else None
        if known is None:
            return False
        from skirtwright.workroom.book_tables import STAGES

        try:
            order, _ = self.book.order_text(known[1])
        except SkirtwrightError:
            return False
        return STAGES.index(order.stage) >= STAGES.index("cut")

    def picture(self, number: int) -> Picture:
        """An order on its client; nothing where that is not kept or cannot be read."""
        try:
            return self.book.picture(number)
        except SkirtwrightError:
            return ()

    def keep_picture(self, number: int, picture: Picture) -> None:
        """How an order looks on the client.

        Raises:
            SkirtwrightError: it cannot be written.
        """
        if self._pictures.get(number) != picture:
            self.write(lambda book: book.set_picture(number, picture))
            self._pictures[number] = picture

    def look_again(self) -> None:
        """Tell when another window has written in the book since."""
        if self._book is None:
            return
        try:
            seen = self._book.changes()
        except SkirtwrightError:
            # Whoever asks it for something is told why it cannot be read.
            return
        if seen != self._seen:
            self._seen = seen
            self.changed.emit()

    def write(self, work: Callable[[Book], object]) -> None:
        """Write something short in the book.

        Raises:
            SkirtwrightError: it cannot be written; all stays.
        """
        work(self.book)
        self.changed.emit()

    def mend(
        self,
        then: Callable[[tuple[Path, Salvaged]], object],
        refused: Callable[[SkirtwrightError], object],
    ) -> None:
        """Begin a new book with what can be read of one that is damaged.

        Args:
            then: told where the damaged one lies now, and what was read of it.
            refused: told why it cannot be done.
        """
        from skirtwright.workroom.book_file import put_aside

        self.close()
        try:
            aside = put_aside(self.path, today())
        except SkirtwrightError as trouble:
            refused(trouble)
            return
        self.aside(lambda book: (aside, book.salvage(aside)), then, refused)

    # What takes longer

    def aside(
        self,
        work: Callable[[Book], _Answer],
        then: Callable[[_Answer], object],
        refused: Callable[[SkirtwrightError], object],
    ) -> None:
        """Work with the book in a thread of its own; the window stays usable.

        Args:
            work: done in the thread, with a book opened there.
            then: done here with what it gave.
            refused: done here with what kept it from being done.
        """
        self.close()
        aside = _Aside(self, self.path, work)
        self._aside.add(aside)

        def ended() -> None:
            self._aside.discard(aside)
            aside.wait()
            trouble = aside.trouble
            if aside.fault is not None:
                report(aside.fault)
            elif trouble is None:
                then(cast(_Answer, aside.answer))
            else:
                refused(trouble)
            self.changed.emit()
            aside.deleteLater()

        aside.finished.connect(ended)
        aside.start()

    def wait(self) -> None:
        """Until nothing is worked on any more."""
        for aside in tuple(self._aside):
            aside.wait()

    def close(self) -> None:
        """Let go of the book; it is opened again when it is asked for something."""
        book, self._book = self._book, None
        if book is not None:
            book.close()


class _Aside(QThread):
    """One piece of work, in a thread."""

    def __init__(
        self, parent: QObject, path: Path, work: Callable[[Book], object]
    ) -> None:
        super().__init__(parent)
        self._path, self._work = path, work
        self.answer: object = None
        self.trouble: SkirtwrightError | None = None
        self.fault: Exception | None = None

    @guarded()
    def run(self) -> None:
        from skirtwright.workroom.book import Book

        try:
            with Book(self._path) as book:
                self.answer = self._work(book)
        except SkirtwrightError as trouble:
            self.trouble = trouble
        except Exception as fault:  # noqa: BLE001 - told by the window, not here
            self.fault = fault

"""Pictures of orders that came into the book without one, drawn beside the window."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer

from skirtwright.app.beside import Beside
from skirtwright.app.bookkeeping import Bookkeeping
from skirtwright.figure.drawn_figure import read_picture
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.workroom.beside_window import Seen, seen
from skirtwright.workroom.book import KeptOrder

REST_MS = 300
"""After the last change of what is shown: while she types nothing is begun."""

_Known = tuple[int, int]
"""The number of an order and its version."""


class MissingPictures(QObject):
    """Draws what is shown and has no picture, one after another, each once."""

    def __init__(self, parent: QObject, book: Bookkeeping) -> None:
        super().__init__(parent)
        self._book = book
        self._beside = Beside(self)
        self._beside.answered.connect(self._answered)
        self._wanted: list[_Known] = []
        self._tried: set[_Known] = set()
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._next)

    def want(self, orders: Sequence[KeptOrder]) -> None:
        """These are shown without a picture; what was wanted before is not."""
        known = [(order.number, order.version) for order in orders]
        self._wanted = [one for one in known if one not in self._tried]
        if self._wanted and not self._beside.waiting:
            self._rest.start()

    def stop(self) -> None:
        """Nothing is shown any more."""
        self._rest.stop()
        self._wanted = []
        self._beside.stop()

    def _next(self) -> None:
        while self._wanted and not self._beside.waiting:
            one = self._wanted.pop(0)
            self._tried.add(one)
            text = self._text(one)
            if text:
                self._beside.ask(one, seen, text)

    def _answered(self, known_as: _Known, answer: Seen | Problem) -> None:
        # Saved anew meanwhile, it has the picture of its newer self.
        if isinstance(answer, Seen) and answer.picture and self._text(known_as):
            picture = read_picture(answer.picture)
            try:
                self._book.keep_picture(known_as[0], picture)
            except SkirtwrightError:
                # It goes without; whatever she does with the book is told why.
                self._wanted = []
        self._next()

    def _text(self, one: _Known) -> str:
        """The text of an order as it was shown; nothing where it is another now."""
        try:
            order, text = self._book.book.order_text(one[0])
        except SkirtwrightError:
            return ""
        return text if order.version == one[1] else ""

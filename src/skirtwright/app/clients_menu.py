"""What all that the menu of clients does shares: who is in hand, and what is told."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from skirtwright.app.bookkeeping import DAMAGED
from skirtwright.app.files import Files
from skirtwright.app.line import CLOSE
from skirtwright.app.window_frame import Frame
from skirtwright.job.in_book import in_book
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_two_sentences, say

if TYPE_CHECKING:
    from skirtwright.workroom.book import Client, KeptOrder
    from skirtwright.workroom.book_file import Salvaged

CODE = "book"
"""What is told of the book."""


class ClientsMenu(QObject):
    """The client in hand, and the one sentence about the book."""

    def __init__(self, window: Frame, files: Files) -> None:
        super().__init__(window)
        self.window, self.files = window, files
        self.book = window.bookkeeping

    # In hand

    def order_on_table(self) -> KeptOrder | None:
        """The order of the book that is on the table."""
        path = self.window.keeper.path
        known = in_book(path) if path is not None else None
        if known is None or not self.book.is_there:
            return None
        try:
            return self.book.book.order_text(known[1])[0]
        except SkirtwrightError:
            return None

    def order_in_hand(self) -> KeptOrder | None:
        """The order pointed at in the open slip of orders, else that on the table."""
        slips = self.window.slips
        if slips.open_name == "orders":
            return slips.orders.order_in_hand()
        return self.order_on_table()

    def client_in_hand(self) -> Client | None:
        """The client pointed at in the open slip of orders, else on the table."""
        slips = self.window.slips
        if slips.open_name == "orders":
            client: Client | None = slips.orders.client_in_hand()
            if client is not None:
                return client
        order = self.order_on_table()
        return None if order is None else order.client

    def with_client(self, does: Callable[[Client], object]) -> None:
        """Do something for the client in hand, or for the one on the table.

        Where there is none in the book, the slip of orders is opened to choose one.
        """
        client = self.client_in_hand()
        if client is not None:
            does(client)
            return
        self.window.acts.by_name["orders"].setChecked(True)
        self.window.point(self.words("orders.choose"))

    # Telling

    def words(self, code: str, values: Mapping[str, object] | None = None) -> str:
        """A sentence in her language."""
        return say(code, values or {}, self.window.settings.manner)

    def say(self, words: str) -> None:
        """Tell something that she may close."""
        self.window.line.tell(CODE, words)

    def tell(self, trouble: SkirtwrightError) -> None:
        """Tell what is wrong, with a way to mend a damaged book."""
        manner, problem = self.window.settings.manner, trouble.problem
        words = in_two_sentences(problem, manner)
        mend = {"orders.mend": self.mend} if problem.code in DAMAGED else {}
        self.window.line.tell(CODE, words, {**mend, **CLOSE})

    def mend(self) -> None:
        """A new book with what can be read of the damaged one, which stays."""
        self.book.mend(self._mended, self.tell)

    def _mended(self, answer: tuple[Path, Salvaged]) -> None:
        aside, taken = answer
        manner = self.window.settings.manner
        kept = self.words("clients.damaged_kept", {"file": aside.name})
        self.say(f"{taken.said(manner)} {kept}")

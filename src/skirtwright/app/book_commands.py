"""The client book and its files: taken in, written out, deleted from, backed up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from skirtwright.app.clients_menu import CODE, ClientsMenu
from skirtwright.app.line import Ways, nothing
from skirtwright.job.in_book import SUFFIX as BOOK
from skirtwright.job.in_book import path_of
from skirtwright.job.prints import today
from skirtwright.job.saving import save_whole
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence
from skirtwright.workroom.sealed import SUFFIX, seal

if TYPE_CHECKING:
    from skirtwright.app.passphrase_form import PassphraseForm
    from skirtwright.workroom.book import Book, Client, KeptOrder
    from skirtwright.workroom.people import RefusedRow


_Deleted = tuple[tuple[Path, ...], Callable[[], None], tuple[Path, ...]]
"""What is in the book no more, by its paths; what deletes the rest; what is left."""

_ENTRY = ".json"


class BookCommands(ClientsMenu):
    """Files in and out of the client book, deleting, and backups."""

    passphrase: PassphraseForm | None = None

    def table(self) -> Mapping[str, Callable[..., object]]:
        """Each row's name with what does it."""
        return {
            "take_in": self.ask_take_in,
            "export_client": self.ask_export,
            "forget_order": self.ask_forget_order,
            "forget_client": self.ask_forget,
            "back_up": self.ask_back_up,
            "restore": self.ask_restore,
        }

    # Files in and out

    def ask_take_in(self) -> None:
        """Clients and orders from a file into the book."""
        kinds = (".csv", ".skirt", _ENTRY, SUFFIX)
        self.files.ask("clients.take_in", kinds[0], self.take_in, *kinds[1:])

    def take_in(self, path: Path, passphrase: str = "") -> None:
        """Take a file in; rows that cannot be taken are named."""
        from skirtwright.workroom.book_entries import add_file

        def refused(trouble: SkirtwrightError) -> None:
            if trouble.problem.code not in ("sealed.shut", "sealed.wrong"):
                self.tell(trouble)
                return
            self.window.line.done(CODE)
            words = in_one_sentence(trouble.problem, self.window.settings.manner)
            self._ask_passphrase(words, partial(self.take_in, path), new=False)

        words = self.words("clients.taking_in", {"file": path.name})
        self.window.line.tell(CODE, words, {})
        self.book.aside(
            lambda book: add_file(book, path, today(), passphrase),
            self._taken_in,
            refused,
        )

    def _ask_passphrase(
        self, words: str, then: Callable[[str], object], *, new: bool
    ) -> None:
        from skirtwright.app.passphrase_form import PassphraseForm

        manner = self.window.settings.manner
        form = PassphraseForm(words, new=new, manner=manner, parent=self.window)
        form.given.connect(then)
        form.finished.connect(form.deleteLater)
        self.passphrase = form
        form.open()

    def _taken_in(
        self, answer: tuple[tuple[Client, ...], tuple[RefusedRow, ...]]
    ) -> None:
        clients, refused = answer
        manner = self.window.settings.manner
        words = [self.words("book.added", {"count": len(clients)})]
        for row in refused[:_NAMED]:
            why = in_one_sentence(row.problem, manner)
            words.append(self.words("book.row_refused", {"row": row.row, "why": why}))
        if len(refused) > _NAMED:
            words.append(self.words("clients.refused", {"count": len(refused)}))
        self.say(" ".join(words))
        self.window.acts.by_name["orders"].setChecked(True)

    def ask_export(self) -> None:
        """All that is kept of a client, as a file."""
        self.with_client(self._ask_export)

    def _ask_export(self, client: Client) -> None:
        words = self.words("passphrase.new")
        self._ask_passphrase(words, partial(self._ask_where, client), new=True)

    def _ask_where(self, client: Client, passphrase: str) -> None:
        then = partial(self.export, client, passphrase=passphrase)
        kind = SUFFIX if passphrase else _ENTRY
        self.files.ask("clients.export", kind, then, save=True, called=client.name)

    def export(self, client: Client, path: Path, passphrase: str = "") -> None:
        """Write all that is kept of a client, for her eyes alone."""
        from skirtwright.workroom.book_entries import entry_of

        def work(book: Book) -> None:
            data = entry_of(book, client).encode()
            data = seal(data, passphrase) if passphrase else data
            save_whole(path, data, mode=0o600)

        values = {"name": client.name, "file": path.name}
        self._aside("clients.exported", values, work)

    # Deleting

    def ask_forget_order(self) -> None:
        """Delete one order; asked, since nothing can bring it back."""
        order = self.order_in_hand()
        if order is None:
            self.window.acts.by_name["orders"].setChecked(True)
            self.window.point(self.words("orders.choose_order"))
            return
        values = {"name": order.client.name, "title": order.title}
        forget = partial(self.forget_order, order)
        ways: Ways = {"clients.keep_order": nothing, "clients.forget_order": forget}
        words = self.words("clients.ask_forget_order", values)
        self.window.line.tell(CODE, words, ways)

    def forget_order(self, order: KeptOrder) -> None:
        """Delete an order with its unsaved work and picture."""
        from skirtwright.workroom.forgetting import deleted_order

        def work(book: Book) -> _Deleted:
            return (path_of(book.path, order.number),), deleted_order(book, order), ()

        values = {"name": order.client.name, "title": order.title}
        self._delete(work, "clients.order_forgotten", values)

    def ask_forget(self) -> None:
        """Delete a client; asked, since nothing can bring her back."""
        self.with_client(self._ask_forget)

    def _ask_forget(self, client: Client) -> None:
        try:
            cards, orders = self.book.book.counts(client)
        except SkirtwrightError as trouble:
            self.tell(trouble)
            return
        values = {"name": client.name, "cards": cards, "orders": orders}
        forget = partial(self.forget, client)
        ways: Ways = {"clients.keep": nothing, "clients.forget": forget}
        words = self.words("clients.ask_forget", values)
        self.window.line.tell(CODE, words, ways)

    def forget(self, client: Client) -> None:
        """Delete a client with her orders, unsaved work and pictures."""
        from skirtwright.workroom.forgetting import deleted, put_aside_with

        def work(book: Book) -> _Deleted:
            orders = book.orders(client)
            paths = tuple(path_of(book.path, order.number) for order in orders)
            rest = deleted(book, client)
            return paths, rest, put_aside_with(book, client.name)

        self._delete(work, "book.forgotten", {"name": client.name}, client.name)

    def _delete(
        self,
        work: Callable[[Book], _Deleted],
        said: str,
        values: Mapping[str, object],
        name: str = "",
    ) -> None:
        """Delete from the book, and once that has let go, from all beside it.

        What is deleted goes from the table and from what was open lately; so does an
        order without a file of its own that has the name of a client deleted.
        """
        window = self.window

        def done(answer: _Deleted) -> None:
            paths, rest, left = answer
            window.settings.forget(paths, name)
            keeper, on_table = window.keeper, window.desk.job.card.name
            if keeper.path in paths or (name == on_table and keeper.file is None):
                keeper.drop()
            try:
                rest()
            except SkirtwrightError as trouble:
                self.tell(trouble)
            else:
                words = [self.words(said, values)]
                for place in left:
                    where = {"name": name, "file": place.name}
                    words.append(self.words("book.still_aside", where))
                window.line.tell(CODE, " ".join(words), passes=not left)

        self.book.aside(work, done, self.tell)

    # Backups

    def ask_back_up(self) -> None:
        """The whole book into one file."""
        called = f"{self.book.path.stem} {today()}"
        self.files.ask("clients.back_up", BOOK, self.back_up, save=True, called=called)

    def back_up(self, path: Path) -> None:
        """Copy the book as it stands at this moment."""
        values = {"file": path.name}
        self._aside("clients.backed_up", values, lambda book: book.back_up(path))

    def ask_restore(self) -> None:
        """The book as it was, from a backup."""
        self.files.ask("clients.restore", BOOK, self.restore)

    def restore(self, path: Path) -> None:
        """Take over a backup; what was in the book is kept beside it."""

        def work(book: Book) -> int:
            book.restore(path)
            return len(book.clients())

        def done(count: int) -> None:
            values = {"file": path.name, "count": count}
            self.say(self.words("book.restored", values))

        self.book.aside(work, done, self.tell)

    def _aside(
        self, said: str, values: Mapping[str, object], work: Callable[[Book], object]
    ) -> None:
        """Do something in a thread, and say that it is done."""
        done = self.words(said, values)
        self.book.aside(work, lambda _: self.say(done), self.tell)


_NAMED = 3
"""Rows of a table that are refused, said one by one."""

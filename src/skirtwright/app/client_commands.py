"""What the menu of clients does: orders in the book, files in and out, backups."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from skirtwright.app.bookkeeping import DAMAGED
from skirtwright.app.fields import tell
from skirtwright.app.files import Files
from skirtwright.app.line import Way
from skirtwright.app.window_frame import Frame
from skirtwright.job.edits import Edited, begun_in
from skirtwright.job.fitting_edits import again, told
from skirtwright.job.in_book import SUFFIX as BOOK
from skirtwright.job.in_book import in_book, path_of
from skirtwright.job.job import Job
from skirtwright.job.prints import today
from skirtwright.job.saving import save_whole
from skirtwright.measures.card import Card
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, remedy, say, says
from skirtwright.workroom.sealed import SUFFIX, seal

if TYPE_CHECKING:
    from skirtwright.app.many_at_once import ManyAtOnce
    from skirtwright.app.passphrase_form import PassphraseForm
    from skirtwright.app.quote_form import QuoteForm
    from skirtwright.app.slips.orders_slip import OnTable, OrdersSlip
    from skirtwright.workroom.book import Book, Client, KeptOrder
    from skirtwright.workroom.book_file import Salvaged
    from skirtwright.workroom.people import RefusedRow

_CODE = "book"
"""What is told of the book."""

_Deleted = tuple[tuple[Path, ...], Callable[[], None], tuple[Path, ...]]
"""What is in the book no more, by its paths; what deletes the rest; what is left."""

_ENTRY = ".json"


class ClientCommands(QObject):
    """Clients and their orders, as far as menus and the slip of orders ask for them."""

    def __init__(self, window: Frame, files: Files) -> None:
        super().__init__(window)
        self._window, self._files = window, files
        self._book = window.bookkeeping
        self.form: QuoteForm | None = None
        self.passphrase: PassphraseForm | None = None
        self.over: ManyAtOnce | None = None
        files.mend_wanted.connect(self.mend)

    def table(self) -> Mapping[str, Callable[..., object]]:
        """Each row's name with what does it."""
        return {
            "new_order": self.new_order,
            "keep_in_book": self._files.keep_in_book,
            "quote": self.quote,
            "many": self.many,
            "take_in": self.ask_take_in,
            "export_client": self.ask_export,
            "forget_order": self.ask_forget_order,
            "forget_client": self.ask_forget,
            "back_up": self.ask_back_up,
            "restore": self.ask_restore,
        }

    def connect_slip(self, slip: OrdersSlip, new_client: Callable[[], object]) -> None:
        """Hear what is asked for in the slip of orders."""
        slip.order_wanted.connect(self.open_order)
        slip.client_wanted.connect(self.new_order_of)
        slip.new_client.connect(new_client)
        slip.mend_wanted.connect(self.mend)
        slip.on_table = self._on_table
        slip.keep_wanted.connect(self._files.keep_in_book)
        self._window.keeper.moved.connect(slip.show_on_table)
        self._window.desk.changed.connect(slip.show_on_table)
        slip.more.setMenu(self._window.acts.menus["clients"])

    def _on_table(self) -> OnTable:
        """The order on the table, as the list of orders shows it."""
        from skirtwright.app.slips.orders_slip import OnTable

        path, job = self._window.keeper.path, self._window.desk.job
        known = in_book(path) if path is not None else None
        if known is not None:
            return OnTable(number=known[1])
        return OnTable(to_keep="" if job.sample else job.card.name.strip())

    # Orders

    def open_order(self, order: KeptOrder) -> None:
        """An order of the book comes on the table."""
        if self._files.open(path_of(self._book.path, order.number)):
            self._window.slips.put_away()
            self._window.table.setFocus()
            self._files.tell_left()

    def new_order(self) -> None:
        """Another order of the client in hand, on her latest measurements.

        One on the table who is not in the book yet brings her measurements from there.
        """
        card = self._window.desk.job.card
        on_table = self._on_table()
        if self._client_in_hand() is None and on_table.to_keep:
            self._begin(card)
        else:
            self._with_client(self.new_order_of)

    def new_order_of(self, client: Client) -> None:
        """Another order of a client, in the style that is on the table."""
        window = self._window
        try:
            cards = self._book.book.cards(client)
        except SkirtwrightError as trouble:
            self._tell(trouble)
            return
        unit = window.settings.own_unit
        blank = Card(name=client.name, measurements={}, unit=unit)
        card = cards[0].card if cards else blank
        if self._begin(card) and cards:
            self._offer_former(client)

    def _begin(self, card: Card) -> bool:
        """A new order on a card, in the style that is on the table.

        Returns:
            False when what is on the table cannot be kept, and stays: it is told.
        """
        window = self._window
        window.take_typed()
        job = begun_in(Job(card=card, draft=window.desk.job.draft), card.unit)
        try:
            window.keeper.begin_new(job)
        except SkirtwrightError:
            return False
        window.table.fit_all()
        if card.measurements:
            window.slips.put_away()
        else:
            window.slips.show("measure", on=True)
        self._files.tell_left()
        return True

    def _offer_former(self, client: Client) -> None:
        """What was altered at her last fitting is offered, never done unasked."""
        found = self._former(client)
        if found is None:
            return
        former, done = found
        lines = tuple(line.strip(" .") for line in self._said(done))
        manner = self._window.settings.manner
        values = {"name": client.name, "what": "; ".join(lines)}
        ways: list[Way] = [
            (say("clients.alter_again", manner=manner), partial(self._alter, former)),
            (say("clients.not_again", manner=manner), _nothing),
        ]
        self._window.line.tell("former", say("clients.former", values, manner), ways)

    def _former(self, client: Client) -> tuple[Job, Job] | None:
        """Her latest order with alterations that can be made on this one too.

        With it the order on the table with those alone that would be made.
        """
        desk = self._window.desk
        try:
            for order in self._book.book.orders(client):
                job = self._book.book.order(order.number)[1]
                made = self._again(job)
                if made is not None:
                    added = made.job.fitting[len(desk.job.fitting) :]
                    return job, made.job.model_copy(update={"fitting": added})
        except SkirtwrightError:
            # An offer less: what is wrong with the book is told when she asks it.
            return None
        return None

    def _again(self, former: Job) -> Edited | None:
        """The order on the table with what was altered before and has a place here."""
        desk = self._window.desk
        edited = again(desk.job, former, desk.look.worked.stated, today())
        if edited is None:
            return None
        left = desk.leaves_out(edited.job)
        fitting = tuple(one for one in edited.job.fitting if one not in left)
        if len(fitting) == len(desk.job.fitting):
            return None
        return replace(edited, job=edited.job.model_copy(update={"fitting": fitting}))

    def _said(self, done: Job) -> list[str]:
        manner = self._window.settings.manner
        return [line.said(manner) for line in told(done)]

    def _alter(self, former: Job) -> None:
        try:
            edited = self._again(former)
            if edited is not None:
                self._window.desk.change_drawn(edited)
        except SkirtwrightError as refused:
            self._tell(refused)

    def _with_client(self, does: Callable[[Client], object]) -> None:
        """Do something for the client in hand, or for the one on the table.

        Where there is none in the book, the slip of orders is opened to choose one.
        """
        client = self._client_in_hand()
        if client is not None:
            does(client)
            return
        self._window.acts.by_name["orders"].setChecked(True)
        self._window.point(say("orders.choose", manner=self._window.settings.manner))

    def _client_in_hand(self) -> Client | None:
        slips = self._window.slips
        if slips.open_name == "orders":
            client: Client | None = slips.orders.client_in_hand()
            if client is not None:
                return client
        path = self._window.keeper.path
        known = in_book(path) if path is not None else None
        if known is None or not self._book.is_there:
            return None
        try:
            return self._book.book.order_text(known[1])[0].client
        except SkirtwrightError:
            return None

    # A quote, and many at once

    def quote(self) -> None:
        """What the order on the table comes to, on one page."""
        from skirtwright.app.quote_form import QuoteForm

        window = self._window
        window.take_typed()
        path, is_kept = window.keeper.path, window.keeper.is_in_book
        form = QuoteForm(window.desk, self._files, window, in_book=is_kept)
        self.form = form
        form.written.connect(self._quoted)
        form.asked.connect(lambda price: self._priced(path, price))
        form.finished.connect(form.deleteLater)
        form.open()

    def _priced(self, path: Path | None, price: str) -> None:
        """The sum of the quote is what is asked for the order."""
        form, manner = self.form, self._window.settings.manner
        known = in_book(path) if path is not None else None
        if form is None or known is None:
            return
        try:
            order = self._book.book.order_text(known[1])[0]
            self._book.write(lambda book: book.set_price(order, price))
        except SkirtwrightError as trouble:
            tell(form.said, in_one_sentence(trouble.problem, manner), "wrong")
        else:
            tell(form.said, say("quote.is_asked", {"price": price}, manner), "ink")

    def _quoted(self, path: Path) -> None:
        manner = self._window.settings.manner
        self._say(say("quote.written", {"file": path.name}, manner))

    def many(self) -> None:
        """One style on many clients, over the whole table."""
        from skirtwright.app.many_at_once import ManyAtOnce

        window = self._window
        if window.over is not None:
            return
        window.take_typed()
        try:
            over = self.over = ManyAtOnce(window.desk, self._book, window.inside)
        except SkirtwrightError as trouble:
            self._tell(trouble)
            return
        over.told.connect(self._tell_many)
        over.finished.connect(self._many_done)
        over.kept.connect(self._many_kept)
        window.lay_over(over)
        self._tell_many(over.words())
        over.sought.setFocus()

    def _tell_many(self, words: str) -> None:
        over, manner = self.over, self._window.settings.manner
        if over is None:
            return
        ways: list[Way] = [
            (say("many.keep", manner=manner), over.keep if over.ready else None),
            (say("many.print", manner=manner), self._ask_print if over.ready else None),
            (say("many.stop", manner=manner), over.stop if over.working else None),
            (say("many.leave", manner=manner), over.reject),
        ]
        self._window.line.tell("many", words, ways)

    def _ask_print(self) -> None:
        """Into which folder each of them is printed."""
        over = self.over
        if over is not None:
            paper = self._window.slips.paper.choices.paper.key
            then = partial(over.print_in, paper=paper)
            self._files.ask_folder("many.print_in", then)

    def _many_done(self) -> None:
        self.over = None
        self._window.line.done("many")
        self._window.lay_over(None)
        self._window.table.setFocus()

    def _many_kept(self, count: int, gone: list[str]) -> None:
        manner = self._window.settings.manner
        words = say("many.kept", {"count": count}, manner)
        if gone:
            words += " " + say("many.gone", {"names": gone}, manner)
        self._say(words)

    # Files in and out

    def ask_take_in(self) -> None:
        """Clients and orders from a file into the book."""
        kinds = (".csv", ".skirt", _ENTRY, SUFFIX)
        self._files.ask("clients.take_in", kinds[0], self.take_in, *kinds[1:])

    def take_in(self, path: Path, passphrase: str = "") -> None:
        """Take a file in; rows that cannot be taken are named."""
        from skirtwright.workroom.book_entries import add_file

        def refused(trouble: SkirtwrightError) -> None:
            if trouble.problem.code not in ("sealed.shut", "sealed.wrong"):
                self._tell(trouble)
                return
            self._window.line.done(_CODE)
            words = in_one_sentence(trouble.problem, self._window.settings.manner)
            self._ask_passphrase(words, partial(self.take_in, path), new=False)

        self._telling("clients.taking_in", {"file": path.name})
        self._book.aside(
            lambda book: add_file(book, path, today(), passphrase),
            self._taken_in,
            refused,
        )

    def _ask_passphrase(
        self, words: str, then: Callable[[str], object], *, new: bool
    ) -> None:
        from skirtwright.app.passphrase_form import PassphraseForm

        manner = self._window.settings.manner
        form = PassphraseForm(words, new=new, manner=manner, parent=self._window)
        form.given.connect(then)
        form.finished.connect(form.deleteLater)
        self.passphrase = form
        form.open()

    def _taken_in(
        self, answer: tuple[tuple[Client, ...], tuple[RefusedRow, ...]]
    ) -> None:
        clients, refused = answer
        manner = self._window.settings.manner
        words = [say("book.added", {"count": len(clients)}, manner)]
        for row in refused[:_NAMED]:
            why = in_one_sentence(row.problem, manner)
            words.append(say("book.row_refused", {"row": row.row, "why": why}, manner))
        if len(refused) > _NAMED:
            words.append(say("clients.refused", {"count": len(refused)}, manner))
        self._say(" ".join(words))
        self._window.acts.by_name["orders"].setChecked(True)

    def ask_export(self) -> None:
        """All that is kept of a client, as a file."""
        self._with_client(self._ask_export)

    def _ask_export(self, client: Client) -> None:
        words = say("passphrase.new", manner=self._window.settings.manner)
        self._ask_passphrase(words, partial(self._ask_where, client), new=True)

    def _ask_where(self, client: Client, passphrase: str) -> None:
        then = partial(self.export, client, passphrase=passphrase)
        kind = SUFFIX if passphrase else _ENTRY
        self._files.ask("clients.export", kind, then, called=client.name)

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
        order = self._order_in_hand()
        manner = self._window.settings.manner
        if order is None:
            self._window.acts.by_name["orders"].setChecked(True)
            self._window.point(say("orders.choose_order", manner=manner))
            return
        values = {"name": order.client.name, "title": order.title}
        ways: list[Way] = [
            (say("clients.keep_order", manner=manner), _nothing),
            (
                say("clients.forget_order", manner=manner),
                partial(self.forget_order, order),
            ),
        ]
        words = say("clients.ask_forget_order", values, manner)
        self._window.line.tell(_CODE, words, ways)

    def _order_in_hand(self) -> KeptOrder | None:
        slips, path = self._window.slips, self._window.keeper.path
        if slips.open_name == "orders":
            return slips.orders.order_in_hand()
        known = in_book(path) if path is not None else None
        if known is None or not self._book.is_there:
            return None
        try:
            return self._book.book.order_text(known[1])[0]
        except SkirtwrightError:
            return None

    def forget_order(self, order: KeptOrder) -> None:
        """Delete an order with its unsaved work and picture."""
        from skirtwright.workroom.forgetting import deleted_order

        def work(book: Book) -> _Deleted:
            return (path_of(book.path, order.number),), deleted_order(book, order), ()

        values = {"name": order.client.name, "title": order.title}
        self._delete(work, "clients.order_forgotten", values)

    def ask_forget(self) -> None:
        """Delete a client; asked, since nothing can bring her back."""
        self._with_client(self._ask_forget)

    def _ask_forget(self, client: Client) -> None:
        manner = self._window.settings.manner
        try:
            cards, orders = self._book.book.counts(client)
        except SkirtwrightError as trouble:
            self._tell(trouble)
            return
        values = {"name": client.name, "cards": cards, "orders": orders}
        ways: list[Way] = [
            (say("clients.keep", manner=manner), lambda: None),
            (say("clients.forget", manner=manner), partial(self.forget, client)),
        ]
        words = say("clients.ask_forget", values, manner)
        self._window.line.tell(_CODE, words, ways)

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
        window = self._window

        def done(answer: _Deleted) -> None:
            paths, rest, left = answer
            window.settings.forget(paths, name)
            keeper, on_table = window.keeper, window.desk.job.card.name
            if keeper.path in paths or (name == on_table and keeper.file is None):
                keeper.drop()
            try:
                rest()
            except SkirtwrightError as trouble:
                self._tell(trouble)
            else:
                words = [say(said, values, window.settings.manner)]
                for place in left:
                    where = {"name": name, "file": place.name}
                    manner = window.settings.manner
                    words.append(say("book.still_aside", where, manner))
                self._say(" ".join(words))

        self._book.aside(work, done, self._tell)

    # Backups

    def ask_back_up(self) -> None:
        """The whole book into one file."""
        called = f"{self._book.path.stem} {today()}"
        self._files.ask("clients.back_up", BOOK, self.back_up, called=called)

    def back_up(self, path: Path) -> None:
        """Copy the book as it stands at this moment."""
        values = {"file": path.name}
        self._aside("clients.backed_up", values, lambda book: book.back_up(path))

    def ask_restore(self) -> None:
        """The book as it was, from a backup."""
        self._files.ask("clients.restore", BOOK, self.restore)

    def restore(self, path: Path) -> None:
        """Take over a backup; what was in the book is kept beside it."""

        def work(book: Book) -> int:
            book.restore(path)
            return len(book.clients())

        def done(count: int) -> None:
            values = {"file": path.name, "count": count}
            manner = self._window.settings.manner
            self._say(say("book.restored", values, manner))

        self._book.aside(work, done, self._tell)

    def mend(self) -> None:
        """A new book with what can be read of the damaged one, which stays."""
        self._book.mend(self._mended, self._tell)

    def _mended(self, answer: tuple[Path, Salvaged]) -> None:
        aside, taken = answer
        manner = self._window.settings.manner
        kept = say("clients.damaged_kept", {"file": aside.name}, manner)
        self._say(f"{taken.said(manner)} {kept}")

    # Telling

    def _aside(
        self, said: str, values: Mapping[str, object], work: Callable[[Book], object]
    ) -> None:
        """Do something in a thread, and say that it is done."""
        manner = self._window.settings.manner
        done = say(said, values, manner)
        self._book.aside(work, lambda _: self._say(done), self._tell)

    def _telling(self, code: str, values: Mapping[str, object]) -> None:
        words = say(code, values, self._window.settings.manner)
        self._window.line.tell(_CODE, words, [])

    def _say(self, words: str) -> None:
        close = (say("notice.close", manner=self._window.settings.manner), _nothing)
        self._window.line.tell(_CODE, words, [close])

    def _tell(self, trouble: SkirtwrightError) -> None:
        manner, problem = self._window.settings.manner, trouble.problem
        words = f"{says(problem, manner)} {remedy(problem, manner)}".strip()
        if problem.code in DAMAGED:
            ways: list[Way] = [
                (say("orders.mend", manner=manner), self.mend),
                (say("notice.close", manner=manner), _nothing),
            ]
            self._window.line.tell(_CODE, words, ways)
        else:
            self._say(words)


_NAMED = 3
"""Rows of a table that are refused, said one by one."""


def _nothing() -> None:
    """A notice that has been read."""

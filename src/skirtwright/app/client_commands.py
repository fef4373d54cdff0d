"""What the menu of clients does with orders: opened, begun, quoted, many at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from skirtwright.app.book_commands import BookCommands
from skirtwright.app.clients_menu import ClientsMenu
from skirtwright.app.fields import tell
from skirtwright.app.files import Files
from skirtwright.app.line import Ways, nothing
from skirtwright.app.window_frame import Frame
from skirtwright.job.edits import Edited, begun_like
from skirtwright.job.fitting_edits import again, told
from skirtwright.job.in_book import in_book, path_of
from skirtwright.job.job import Job
from skirtwright.job.prints import today
from skirtwright.measures.card import Card
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence

if TYPE_CHECKING:
    from skirtwright.app.many_at_once import ManyAtOnce
    from skirtwright.app.quote_form import QuoteForm
    from skirtwright.app.slips.orders_slip import OnTable, OrdersSlip
    from skirtwright.workroom.book import Client, KeptOrder


_OF_ROW = ("new_order", "export_client", "forget_order", "forget_client")
"""What can be done with the order or client of a row, beside opening it."""


class ClientCommands(ClientsMenu):
    """Clients and their orders, as far as menus and the slip of orders ask for them."""

    def __init__(self, window: Frame, files: Files) -> None:
        super().__init__(window, files)
        self.of_book = BookCommands(window, files)
        self.form: QuoteForm | None = None
        self.over: ManyAtOnce | None = None
        files.mend_wanted.connect(self.mend)

    def table(self) -> Mapping[str, Callable[..., object]]:
        """Each row's name with what does it."""
        return {
            "new_order": self.new_order,
            "keep_in_book": self.files.keep_in_book,
            "quote": self.quote,
            "many": self.many,
            **self.of_book.table(),
        }

    def connect_slip(self, slip: OrdersSlip, new_client: Callable[[], object]) -> None:
        """Hear what is asked for in the slip of orders."""
        slip.order_wanted.connect(self.open_order)
        slip.client_wanted.connect(self.new_order_of)
        slip.new_client.connect(new_client)
        slip.mend_wanted.connect(self.mend)
        slip.on_table = self._on_table
        slip.keep_wanted.connect(self.files.keep_in_book)
        self.window.keeper.moved.connect(slip.show_on_table)
        self.window.desk.changed.connect(slip.show_on_table)
        acts = self.window.acts
        slip.more.setMenu(acts.menus["clients"])
        slip.of_row = [acts.by_name[name] for name in _OF_ROW]
        slip.of_order_only = acts.by_name["forget_order"]

    def _on_table(self) -> OnTable:
        """The order on the table, as the list of orders shows it."""
        from skirtwright.app.slips.orders_slip import OnTable

        path, job = self.window.keeper.path, self.window.desk.job
        known = in_book(path) if path is not None else None
        if known is not None:
            return OnTable(number=known[1])
        return OnTable(to_keep="" if job.sample else job.card.name.strip())

    # Orders

    def open_order(self, order: KeptOrder) -> None:
        """An order of the book comes on the table."""
        if self.files.open(path_of(self.book.path, order.number)):
            self.window.slips.put_away()
            self.window.table.setFocus()
            self.files.tell_left()

    def new_order(self) -> None:
        """Another order of the client in hand, on her latest measurements.

        One on the table who is not in the book yet brings her measurements from there.
        """
        card = self.window.desk.job.card
        on_table = self._on_table()
        if self.client_in_hand() is None and on_table.to_keep:
            self._begin(card)
        else:
            self.with_client(self.new_order_of)

    def new_order_of(self, client: Client) -> None:
        """Another order of a client, in the style that is on the table."""
        window = self.window
        try:
            cards = self.book.book.cards(client)
        except SkirtwrightError as trouble:
            self.tell(trouble)
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
        window = self.window
        window.take_typed()
        job = begun_like(window.desk.job, card, card.unit)
        try:
            window.keeper.begin_new(job)
        except SkirtwrightError:
            return False
        window.table.fit_all()
        if card.measurements:
            window.slips.put_away()
        else:
            window.slips.show("measure", on=True)
        self.files.tell_left()
        window.point(self.words("clients.begun", {"name": card.name}))
        return True

    def _offer_former(self, client: Client) -> None:
        """What was altered at her last fitting is offered, never done unasked."""
        found = self._former(client)
        if found is None:
            return
        former, done = found
        lines = tuple(line.strip(" .") for line in self._said(done))
        values = {"name": client.name, "what": "; ".join(lines)}
        again = partial(self._alter, former)
        ways: Ways = {"clients.alter_again": again, "clients.not_again": nothing}
        self.window.line.tell("former", self.words("clients.former", values), ways)

    def _former(self, client: Client) -> tuple[Job, Job] | None:
        """Her latest order with alterations that can be made on this one too.

        With it the order on the table with those alone that would be made.
        """
        desk = self.window.desk
        try:
            for order in self.book.book.orders(client):
                job = self.book.book.order(order.number)[1]
                made = self._fitted_as_before(job)
                if made is not None:
                    added = made.job.fitting[len(desk.job.fitting) :]
                    return job, made.job.replace(fitting=added)
        except SkirtwrightError:
            # An offer less: what is wrong with the book is told when she asks it.
            return None
        return None

    def _fitted_as_before(self, former: Job) -> Edited | None:
        """The order on the table with what was altered before and has a place here."""
        desk = self.window.desk
        edited = again(desk.job, former, desk.look.worked.stated, today())
        if edited is None:
            return None
        left = desk.leaves_out(edited.job)
        fitting = tuple(one for one in edited.job.fitting if one not in left)
        if len(fitting) == len(desk.job.fitting):
            return None
        return replace(edited, job=edited.job.replace(fitting=fitting))

    def _said(self, done: Job) -> list[str]:
        manner = self.window.settings.manner
        return [line.said(manner) for line in told(done)]

    def _alter(self, former: Job) -> None:
        try:
            edited = self._fitted_as_before(former)
            if edited is not None:
                self.window.desk.change_drawn(edited)
        except SkirtwrightError as refused:
            self.tell(refused)

    # A quote, and many at once

    def quote(self) -> None:
        """What the order on the table comes to, on one page."""
        from skirtwright.app.quote_form import QuoteForm

        window = self.window
        window.take_typed()
        path, is_kept = window.keeper.path, window.keeper.is_in_book
        form = QuoteForm(window.desk, self.files, window, in_book=is_kept)
        self.form = form
        form.written.connect(self._quoted)
        form.asked.connect(lambda price: self._priced(path, price))
        form.finished.connect(form.deleteLater)
        form.open()

    def _priced(self, path: Path | None, price: str) -> None:
        """The sum of the quote is what is asked for the order."""
        form, manner = self.form, self.window.settings.manner
        known = in_book(path) if path is not None else None
        if form is None or known is None:
            return
        try:
            order = self.book.book.order_text(known[1])[0]
            self.book.write(lambda book: book.set_price(order, price))
        except SkirtwrightError as trouble:
            tell(form.said, in_one_sentence(trouble.problem, manner), "wrong")
        else:
            tell(form.said, self.words("quote.is_asked", {"price": price}), "ink")

    def _quoted(self, path: Path) -> None:
        self.say(self.words("quote.written", {"file": path.name}))

    def many(self) -> None:
        """One style on many clients, over the whole table."""
        from skirtwright.app.many_at_once import ManyAtOnce

        window = self.window
        if window.over is not None:
            return
        window.take_typed()
        try:
            over = self.over = ManyAtOnce(window.desk, self.book, window.inside)
        except SkirtwrightError as trouble:
            self.tell(trouble)
            return
        over.told.connect(self._tell_many)
        over.finished.connect(self._many_done)
        over.kept.connect(self._many_kept)
        over.left.connect(self.say)
        window.lay_over(over)
        self._tell_many(over.words())
        over.sought.setFocus()

    def _tell_many(self, words: str) -> None:
        over = self.over
        if over is None:
            return
        ways: Ways = {
            "many.keep": over.keep if over.ready else None,
            "many.print": self._ask_print if over.ready else None,
            "many.stop": over.stop if over.working else None,
            "many.leave": over.reject,
        }
        self.window.line.tell("many", words, ways)

    def _ask_print(self) -> None:
        """Into which folder each of them is printed."""
        over = self.over
        if over is not None:
            paper = self.window.slips.paper.choices.paper.key
            then = partial(over.print_in, paper=paper)
            self.files.ask_folder("many.print_in", then)

    def _many_done(self) -> None:
        self.over = None
        self.window.line.done("many")
        self.window.lay_over(None)
        self.window.table.setFocus()

    def _many_kept(self, count: int, gone: list[str]) -> None:
        words = self.words("many.kept", {"count": count})
        if gone:
            words += " " + self.words("many.gone", {"names": gone})
        self.say(words)

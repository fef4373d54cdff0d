"""The client book: clients, their cards by date, their orders.

One SQLite file, in write-ahead mode, synced at every commit. An order is the text of
its .skirt file, a card the text of a card file, so that either goes in and out whole.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from skirtwright.figure.drawn_figure import Picture, read_picture, written_picture
from skirtwright.job import file
from skirtwright.job.job import Job
from skirtwright.measures.card import Card, read_card
from skirtwright.problems import BadInput, NotFound, nearest
from skirtwright.workroom.book_file import BookFile
from skirtwright.workroom.book_tables import STAGES
from skirtwright.workroom.people import name_key


@dataclass(frozen=True)
class Client:
    """One client.

    Attributes:
        number: hers for good.
        name: as it was written.
    """

    number: int
    name: str
    notes: str = ""


@dataclass(frozen=True)
class DatedCard:
    """Measurements taken on a day, YYYY-MM-DD."""

    number: int
    taken: str
    card: Card


@dataclass(frozen=True)
class KeptOrder:
    """An order in the book, without its drawing.

    Attributes:
        number: its own for good.
        title, style: as it is told from others.
        due: a day, YYYY-MM-DD, or nothing.
        version: goes up each time it is saved.
        price: as typed, or nothing.
    """

    number: int
    client: Client
    title: str
    style: str
    stage: str
    due: str
    version: int
    price: str = ""


_ORDERS = (
    "SELECT s.id, c.id, c.name, c.notes, s.title, s.style, s.stage, s.due, s.version,"
    " coalesce((SELECT asked FROM price WHERE id = s.id), '')"
    " FROM skirt s JOIN client c ON c.id = s.client"
)
_DUE_FIRST = " ORDER BY s.stage = 'finished', s.due = '', s.due, s.id DESC"


def _order_of(row: tuple[Any, ...]) -> KeptOrder:
    return KeptOrder(row[0], Client(*row[1:4]), *row[4:])


class Book(BookFile):
    """The client book; how it is opened, see `BookFile`."""

    # Clients

    def clients(self, sought: str = "", most: int = -1) -> tuple[Client, ...]:
        """The first clients whose name holds what is sought, by name.

        Args:
            sought: empty for all.
            most: so many; less than nothing for all.
        """
        found = self._rows(
            "SELECT id, name, notes FROM client WHERE instr(sought, ?)"
            " ORDER BY sought LIMIT ?",
            name_key(sought),
            most,
        )
        return tuple(Client(*row) for row in found)

    def client_named(self, name: str) -> Client:
        """The client of a name, in whatever capitals and letters made of parts.

        Raises:
            NotFound: there is none; the nearest is named.
            BadInput: there are several.
        """
        wanted = name_key(name)
        found = [c for c in self.clients(wanted) if name_key(c.name) == wanted]
        if len(found) > 1:
            raise BadInput("book.several", name, name=name)
        if not found:
            near = nearest(name, [client.name for client in self.clients()])
            raise NotFound("book.no_client", name, name=name, nearest=near)
        return found[0]

    def add_client(self, name: str, notes: str = "") -> Client:
        """A new client.

        Raises:
            BadInput: there is one of that name.
        """
        plain = name.strip()
        if not plain:
            raise BadInput("book.no_name", name)
        if any(name_key(c.name) == name_key(plain) for c in self.clients(plain)):
            raise BadInput("book.client_twice", plain, name=plain)
        number = self._change(
            "INSERT INTO client (name, sought, notes) VALUES (?, ?, ?)",
            plain,
            name_key(plain),
            notes,
        )
        return Client(number, plain, notes)

    def has(self, client: Client) -> bool:
        """Whether a client is in it still, under the name she was read with."""
        asked = "SELECT 1 FROM client WHERE id = ? AND name = ?"
        return bool(self._rows(asked, client.number, client.name))

    def rename(self, client: Client, name: str) -> Client:
        """Another name for a client, which nobody else in the book has."""
        plain = name.strip()
        asked = "UPDATE client SET name = ?, sought = ? WHERE id = ?"
        self._change(asked, plain, name_key(plain), client.number)
        return replace(client, name=plain)

    def forget(self, client: Client) -> None:
        """Delete a client with her cards and orders, from the bytes of the file too.

        What was kept of the book beside it is deleted with her, for she is in that.

        Raises:
            FileTrouble: she is deleted, and another window keeps the bytes for now.
        """
        self._change("DELETE FROM client WHERE id = ?", client.number)
        self._leave_no_bytes(client.name)

    def forget_order(self, order: KeptOrder) -> None:
        """Delete an order with its price and picture, as `forget` does a client.

        Raises:
            FileTrouble: it is deleted, and another window keeps the bytes for now.
        """
        self._change("DELETE FROM skirt WHERE id = ?", order.number)
        self._leave_no_bytes(order.title)

    # Cards

    def add_card(self, client: Client, card: Card, taken: str) -> None:
        """Keep measurements taken on a day."""
        self._change(
            "INSERT INTO card (client, taken, document) VALUES (?, ?, ?)",
            client.number,
            taken,
            card.model_dump_json(exclude_defaults=True),
        )

    def keep_card(self, client: Client, card: Card, day: str) -> None:
        """Keep the measurements of an order, unless she has a card with them.

        They stand instead of her latest, where that was taken the same day.
        """
        known = self.cards(client)
        if card in [kept.card for kept in known]:
            return
        if known and known[0].taken == day:
            self._change("DELETE FROM card WHERE id = ?", known[0].number)
        self.add_card(client, card, day)

    def cards(self, client: Client) -> tuple[DatedCard, ...]:
        """Her cards, the latest first."""
        found = self._rows(
            "SELECT id, taken, document FROM card WHERE client = ?"
            " ORDER BY taken DESC, id DESC",
            client.number,
        )
        return tuple(
            DatedCard(number, taken, read_card(text, client.name))
            for number, taken, text in found
        )

    def counts(self, client: Client) -> tuple[int, int]:
        """How many cards and how many orders she has."""
        ((cards, orders),) = self._rows(
            "SELECT (SELECT count(*) FROM card WHERE client = ?),"
            " (SELECT count(*) FROM skirt WHERE client = ?)",
            client.number,
            client.number,
        )
        return cards, orders

    def card_of(self, name: str) -> Card:
        """The latest card of the client of a name.

        Raises:
            NotFound: there is no such client, or she was never measured.
            BadInput: there are several of that name.
        """
        client = self.client_named(name)
        cards = self.cards(client)
        if not cards:
            raise NotFound("book.not_measured", client.name, name=client.name)
        return cards[0].card

    # Orders

    def orders(self, client: Client | None = None) -> tuple[KeptOrder, ...]:
        """Orders, of one client or of all: the unfinished due first, the rest after."""
        number = client and client.number
        asked = f"{_ORDERS} WHERE ? IS NULL OR c.id = ?{_DUE_FIRST}"
        return tuple(map(_order_of, self._rows(asked, number, number)))

    def has_orders(self) -> bool:
        """Whether there is an order in it."""
        return bool(self._rows("SELECT 1 FROM skirt LIMIT 1"))

    def found_orders(self, sought: str, most: int) -> tuple[KeptOrder, ...]:
        """The first orders with all the words sought, the unfinished due first.

        A word may stand in the client's name, in the order's title, in what the style
        is called in the book, or in what is noted of the client.
        """
        words = name_key(sought).split()
        held = (
            "(instr(c.sought, ?) OR instr(plain(s.title), ?)"
            " OR instr(plain(s.style), ?) OR instr(plain(c.notes), ?))"
        )
        which = " AND ".join([held] * len(words)) or "1"
        values = [word for word in words for _ in range(4)]
        asked = f"{_ORDERS} WHERE {which}{_DUE_FIRST} LIMIT ?"
        return tuple(map(_order_of, self._rows(asked, *values, most)))

    def without_orders(self, sought: str, most: int) -> tuple[Client, ...]:
        """The first clients with all the words sought for whom nothing was made yet."""
        words = name_key(sought).split()
        held = "AND (instr(sought, ?) OR instr(plain(notes), ?)) " * len(words)
        asked = (
            "SELECT id, name, notes FROM client c WHERE NOT EXISTS"  # noqa: S608 - ours
            f" (SELECT 1 FROM skirt WHERE client = c.id) {held}"
            "ORDER BY sought LIMIT ?"
        )
        values = [word for word in words for _ in range(2)]
        found = self._rows(asked, *values, most)
        return tuple(Client(*row) for row in found)

    def order_text(self, number: int) -> tuple[KeptOrder, str]:
        """An order with the text of its file.

        Raises:
            NotFound: it is not in the book.
        """
        known = self._rows(f"{_ORDERS} WHERE s.id = ?", number)
        found = self._rows("SELECT document FROM skirt WHERE id = ?", number)
        if not known or not found:
            raise NotFound("book.no_order", str(number), number=number)
        return _order_of(known[0]), found[0][0]

    def order(self, number: int) -> tuple[KeptOrder, Job]:
        """An order whole.

        Raises:
            NotFound: it is not in the book.
            BadInput: its text cannot be read.
        """
        known, text = self.order_text(number)
        return known, file.read(text, known.title)

    def add_order(self, client: Client, job: Job, due: str = "") -> KeptOrder:
        """Keep a new order; it is drafted, or measured when it has no figures yet."""
        title, style = job.title or job.draft.title, job.draft.id
        number = self._change(
            "INSERT INTO skirt (client, title, style, stage, due, document)"
            " VALUES (?, ?, ?, 'drafted', ?, ?)",
            client.number,
            title,
            style,
            due,
            file.written(job),
        )
        return KeptOrder(number, client, title, style, "drafted", due, 1)

    def save_order(self, order: KeptOrder, job: Job) -> KeptOrder:
        """Keep an order anew.

        Where it was saved by another window since it was read, both are kept: this one
        as an order of its own.

        Raises:
            FileTrouble: it cannot be written.
        """
        title, style = job.title or job.draft.title, job.draft.id
        changed = self._rows(
            "UPDATE skirt SET title = ?, style = ?, document = ?, version = version + 1"
            " WHERE id = ? AND version = ? RETURNING id",
            title,
            style,
            file.written(job),
            order.number,
            order.version,
        )
        if not changed:
            return self.add_order(order.client, job, order.due)
        up = {"title": title, "style": style, "version": order.version + 1}
        return replace(order, **up)  # type: ignore[arg-type]

    def set_stage(self, order: KeptOrder, stage: str, due: str) -> None:
        """How far an order is, and when it is due.

        Raises:
            BadInput: there is no such stage.
        """
        if stage not in STAGES:
            raise BadInput("book.no_stage", stage, stage=stage, known=list(STAGES))
        self._change(
            "UPDATE skirt SET stage = ?, due = ? WHERE id = ?",
            stage,
            due,
            order.number,
        )

    def move_to_client(self, order: KeptOrder, client: Client) -> KeptOrder:
        """Put an order down to another client."""
        asked = "UPDATE skirt SET client = ? WHERE id = ?"
        self._change(asked, client.number, order.number)
        return replace(order, client=client)

    def set_price(self, order: KeptOrder, price: str) -> None:
        """What is asked for an order, as typed; nothing for nothing."""
        self._change("DELETE FROM price WHERE id = ?", order.number)
        if price:
            self._change("INSERT INTO price VALUES (?, ?)", order.number, price)

    def set_picture(self, number: int, picture: Picture) -> None:
        """How an order looks on the client; one that is in the book no more has none.

        Raises:
            FileTrouble: it cannot be written.
        """
        asked = "INSERT OR REPLACE INTO picture SELECT id, ? FROM skirt WHERE id = ?"
        self._change(asked, written_picture(picture), number)

    def picture(self, number: int) -> Picture:
        """How an order looks on the client; nothing where that is not kept."""
        found = self._rows("SELECT lines FROM picture WHERE id = ?", number)
        return read_picture(found[0][0]) if found else ()

"""What goes into the client book from files, and what of one client comes out."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from skirtwright.draft.alterations import alterable
from skirtwright.job import file
from skirtwright.job.job import Job
from skirtwright.job.reading import load_bytes
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.records import Record, ruled
from skirtwright.measures.strict_json import read_as, read_strict
from skirtwright.problems import BadInput, NotFound
from skirtwright.workroom.book import Book, Client, DatedCard, KeptOrder
from skirtwright.workroom.book_tables import STAGES
from skirtwright.workroom.people import RefusedRow, name_key, read_people
from skirtwright.workroom.sealed import is_sealed, unseal


def check_day(text: str) -> str:
    """A day, as ISO 8601 writes it.

    Raises:
        BadInput: it is none.
    """
    try:
        return dt.date.fromisoformat(text).isoformat()
    except ValueError as trouble:
        raise BadInput("cli.not_a_day", text, text=text) from trouble


class _CardEntry(Record):
    """A card and the day it was taken."""

    taken: str
    card: Card

    def refuse(self) -> None:
        """Refuse what is no day."""
        check_day(self.taken)


class _OrderEntry(Record):
    """An order, how far it is, and the day it is due."""

    stage: str
    due: str = ""
    order: dict[str, Any]

    def refuse(self) -> None:
        """Refuse what is no day or no stage."""
        if self.due:
            check_day(self.due)
        if self.stage not in STAGES:
            values = {"stage": self.stage, "known": list(STAGES)}
            raise BadInput("book.no_stage", self.stage, **values)


class _ClientEntry(Record):
    """All that is kept of one client."""

    client: str = ruled(min_length=1, max_length=200)
    notes: str = ""
    cards: tuple[_CardEntry, ...] = ()
    orders: tuple[_OrderEntry, ...] = ()


def add_file(
    book: Book, path: Path, day: str, passphrase: str = ""
) -> tuple[tuple[Client, ...], tuple[RefusedRow, ...]]:
    """Take a file in: a table of people, a card, an order, or one client's entry.

    Args:
        path: the file, told by what is in it.
        day: on which cards without a day of their own were taken.

    Returns:
        Whose something was taken in, and rows of a table that were not.

    Raises:
        SkirtwrightError: the file cannot be read; nothing of it is taken in.
    """
    data = load_bytes(path)
    if is_sealed(data):
        data = unseal(data, passphrase, path.name)
    elif path.suffix.lower() not in (".json", file.SUFFIX):
        people = read_people(data, path.name)
        with book.transaction():
            added = [_with_card(book, p.card, day) for p in people.persons]
        return tuple(added), people.refused
    raw = read_strict(data, path.name)
    with book.transaction():
        return (_added(book, raw, data, path.name, day),), ()


def _added(book: Book, raw: Any, data: bytes, what: str, day: str) -> Client:
    if isinstance(raw, dict) and "client" in raw:
        return _entry_added(book, read_as(_ClientEntry, raw, what), what)
    if isinstance(raw, dict) and "draft" in raw:
        job = file.read(data, what)
        client = _with_card(book, job.card, day)
        book.add_order(client, job)
        return client
    card = read_as(Card, raw, what)
    values_of(card)
    return _with_card(book, card, day)


def _entry_added(book: Book, entry: _ClientEntry, what: str) -> Client:
    client = book.add_client(entry.client, entry.notes)
    for one in entry.cards:
        values_of(one.card)
        named = one.card.replace(name=client.name)
        book.add_card(client, named, check_day(one.taken))
    for each in entry.orders:
        due = each.due and check_day(each.due)
        kept = book.add_order(client, file.read(json.dumps(each.order), what), due)
        book.set_stage(kept, each.stage, due)
    return client


def _with_card(book: Book, card: Card, day: str) -> Client:
    """The client of a card, new or known, with the card if it is not her latest."""
    if not card.name.strip():
        raise BadInput("book.no_name", card.name)
    try:
        client = book.client_named(card.name)
    except NotFound:
        client = book.add_client(card.name)
    if [card] != [kept.card for kept in book.cards(client)[:1]]:
        book.add_card(client, card, day)
    return client


def keep_order(
    book: Book, job: Job, number: int | None, before: str | None, day: str
) -> KeptOrder:
    """Keep an order in the book as it stands, with its card for its client.

    It belongs to the client whose name is on its card: one in the book, else a new one;
    a client with this order alone takes another name with it. A card that a fitting
    changed is hers only once she says so: see `learn`.

    Args:
        number: of the order in the book; None for a new one.
        before: its text when it was read or kept last. Where the book holds another,
            or none of that number any more, what the book holds stays as it is, and
            this is an order of its own.
        day: today, of a card that differs from her last.

    Returns:
        The order as it is kept.

    Raises:
        SkirtwrightError: it cannot be kept; nothing is changed.
    """
    with book.transaction():
        known, due = _unchanged_order(book, number, before, job.card.name)
        client = _client_for(book, job.card.name, known)
        if not (fitted_card(job) and book.cards(client)):
            book.keep_card(client, job.card, day)
        if known is None:
            return book.add_order(client, job, due)
        if client != known.client:
            known = book.move_to_client(known, client)
        return book.save_order(known, job)


def _unchanged_order(
    book: Book, number: int | None, before: str | None, name: str
) -> tuple[KeptOrder | None, str]:
    """The order of a number, if the book holds what was read of it.

    And the day it is due, if it is still an order of the client of that name.
    """
    if number is None:
        return None, ""
    try:
        known, text = book.order_text(number)
    except NotFound:
        return None, ""
    if text == before:
        return known, known.due
    return None, known.due if name_key(known.client.name) == name_key(name) else ""


def fitted_card(job: Job) -> bool:
    """Whether the card of an order says what the pins said, beside the tape."""
    return any(alterable(one.what).measurement for one in job.fitting)


def to_learn(book: Book, number: int, job: Job) -> bool:
    """Whether an order's card says something of its client that no card of hers does.

    Raises:
        SkirtwrightError: the book cannot be read.
    """
    client = book.order_text(number)[0].client
    known = [kept.card for kept in book.cards(client)]
    return fitted_card(job) and job.card not in known


def learn(book: Book, number: int, job: Job, day: str) -> None:
    """Keep the card of an order as its client's, from a day on.

    Raises:
        SkirtwrightError: the book cannot be read or written.
    """
    book.add_card(book.order_text(number)[0].client, job.card, day)


def _client_for(book: Book, name: str, known: KeptOrder | None) -> Client:
    if not name.strip():
        raise BadInput("book.no_name", name)
    if known is not None and name_key(known.client.name) == name_key(name):
        return known.client
    try:
        return book.client_named(name)
    except NotFound:
        if known is not None and len(book.orders(known.client)) == 1:
            return book.rename(known.client, name)
        return book.add_client(name)


def entry_of(book: Book, client: Client) -> str:
    """All that is kept of one client, as JSON that can be taken in again."""
    orders = []
    for kept in reversed(book.orders(client)):
        job = book.order(kept.number)[1]
        orders.append(
            {
                "stage": kept.stage,
                "due": kept.due,
                "order": json.loads(file.written(job)),
            }
        )
    whole = {
        "client": client.name,
        "notes": client.notes,
        "cards": [_card_entry(one) for one in reversed(book.cards(client))],
        "orders": orders,
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def _card_entry(one: DatedCard) -> dict[str, Any]:
    card = one.card.model_dump(exclude_defaults=True)
    return {"taken": one.taken, "card": card}


def differences(
    before: Card, after: Card
) -> Sequence[tuple[str, float | None, float | None]]:
    """What differs between two cards: the measurement, and both figures in mm."""
    old, new = values_of(before), values_of(after)
    names = dict.fromkeys((*old, *new))
    return [
        (name, old.get(name), new.get(name))
        for name in names
        if old.get(name) != new.get(name)
    ]

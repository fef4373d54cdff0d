"""The client book by the command line."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from skirtwright import __version__
from skirtwright.cli.done import (
    DONE,
    WRONG,
    Done,
    Options,
    report_saved,
    translated_label,
    wants_suffix,
)
from skirtwright.cli.passphrases import asked_passphrase
from skirtwright.job.folders import client_book
from skirtwright.job.in_book import is_number
from skirtwright.job.prints import today
from skirtwright.job.saving import check_place, is_file_there, save_whole, take_away
from skirtwright.problems import BadInput, SkirtwrightError
from skirtwright.words import in_one_sentence, say
from skirtwright.workroom.book import Book, Client, KeptOrder
from skirtwright.workroom.book_entries import add_file, differences, entry_of
from skirtwright.workroom.forgetting import deleted_order, forget, put_aside_with
from skirtwright.workroom.sealed import SUFFIX, seal


def run(options: Options) -> Done:
    """One thing done with the book."""
    if options.output is not None and options.what != "export":
        raise BadInput("cli.not_together", "-o", first="-o", second=options.what)
    make = options.what in ("add", "restore", "salvage")
    if options.passphrase and options.what not in ("add", "export"):
        values = {"first": "--passphrase", "second": options.what}
        raise BadInput("cli.not_together", "--passphrase", **values)
    if make and options.book:
        check_place(options.book)
    with _opened(options.book or client_book(), make=make) as opened:
        done = ACTIONS[options.what](options, opened)
        sought = options.subject if options.what == "list" else None
        listed = [_entry(opened, client) for client in opened.clients(sought or "")]
    report = {"skirtwright": __version__, "clients": listed}
    saved = report_saved(options, json.dumps(report, ensure_ascii=False))
    return replace(done, saves=(*done.saves, *saved))


@contextmanager
def _opened(place: Path, *, make: bool) -> Iterator[Book]:
    """The book; one that was made for what is then refused goes again."""
    is_new = make and not is_file_there(place)
    refused, is_empty = True, False
    try:
        with Book(place, make=make) as opened:
            try:
                yield opened
                refused = False
            finally:
                is_empty = refused and is_new and not opened.clients()
    finally:
        if is_empty:
            take_away(place)


def _entry(opened: Book, client: Client) -> dict[str, Any]:
    kept = opened.counts(client)
    return {"name": client.name, "cards": kept[0], "orders": kept[1]}


def _list(options: Options, opened: Book) -> Done:
    """Clients with their cards and orders; what changed between the last two cards."""
    clients = opened.clients(options.subject or "")
    lines = [say("book.listed", {"count": len(clients)}, options.manner)]
    for client in clients:
        try:
            lines += _client_lines(options, opened, client)
        except SkirtwrightError as refused:  # What of the others can be read is.
            why = in_one_sentence(refused.problem, options.manner)
            told = {"name": client.name, "why": why}
            lines.append("  " + say("book.unread", told, options.manner))
    if opened.read_only:
        lines.append(say("book.read_only", manner=options.manner))
    return Done(tuple(lines))


def _client_lines(options: Options, opened: Book, client: Client) -> list[str]:
    cards, orders = opened.cards(client), opened.orders(client)
    values = {"name": client.name, "orders": len(orders)}
    if cards:
        said = say("book.one", {**values, "taken": cards[0].taken}, options.manner)
    else:
        said = say("book.one_not_measured", values, options.manner)
    lines = ["  " + said]
    if len(cards) > 1:
        lines += _changed(options, cards[1].card, cards[0].card)
    return lines + [_order_line(options, one) for one in orders]


def _order_line(options: Options, one: KeptOrder) -> str:
    named = say("orders.numbered", {"title": one.title, "number": one.number})
    stage = say(f"stage.{one.stage}", manner=options.manner)
    return "    " + ", ".join(filter(None, (named, stage, one.due)))


def _changed(options: Options, before: Any, after: Any) -> list[str]:
    told = []
    for name, old, new in differences(before, after):
        if old is not None and new is not None:
            label = translated_label(name, options.manner)
            values = {"label": label, "before": old, "after": new}
            told.append("    " + say("book.changed", values, options.manner))
    return told


def _add(options: Options, opened: Book) -> Done:
    place = Path(_subject(options))
    passphrase = asked_passphrase(twice=False) if options.passphrase else ""
    clients, refused = add_file(opened, place, today(), passphrase)
    values = {"count": len(clients)}
    lines = [say("book.added", values, options.manner)]
    for row in refused:
        told = {"row": row.row, "why": in_one_sentence(row.problem, options.manner)}
        lines.append("  " + say("book.row_refused", told, options.manner))
    return Done(tuple(lines), code=WRONG if refused else DONE)


def _export(options: Options, opened: Book) -> Done:
    name = _subject(options)
    if options.output is None:
        raise BadInput("cli.required", "-o", names="-o")
    wants_suffix(options.output, (SUFFIX if options.passphrase else ".json",))
    client = opened.client_named(name)
    data = entry_of(opened, client).encode()
    if options.passphrase:
        data = seal(data, asked_passphrase(twice=True))
    save = partial(save_whole, options.output, data, mode=0o600)
    return Done((client.name,), (save,), (options.output,))


def _forget(options: Options, opened: Book) -> Done:
    client = opened.client_named(_subject(options))
    forget(opened, client)
    lines = [say("book.forgotten", {"name": client.name}, options.manner)]
    for place in put_aside_with(opened, client.name):
        values = {"name": client.name, "file": place.name}
        lines.append(say("book.still_aside", values, options.manner))
    return Done(tuple(lines))


def _forget_order(options: Options, opened: Book) -> Done:
    """One order, by the number it is listed with; its client's cards stay."""
    text = _subject(options)
    if not is_number(text):
        raise BadInput("cli.not_an_order", text, text=text)
    order, _ = opened.order_text(int(text))
    deleted_order(opened, order)()
    values = {"name": order.client.name, "title": order.title}
    return Done((say("clients.order_forgotten", values, options.manner),))


def _backup(options: Options, opened: Book) -> Done:
    place = Path(_subject(options))
    check_place(place)
    if os.path.lexists(place):
        raise BadInput("book.backup_there", str(place), file=place.name)
    opened.back_up(place)
    return Done((), saved=(place,))


def _restore(options: Options, opened: Book) -> Done:
    place = _existing_file(options)
    opened.restore(place)
    values = {"file": place.name, "count": len(opened.clients())}
    return Done((say("book.restored", values, options.manner),))


def _salvage(options: Options, opened: Book) -> Done:
    taken = opened.salvage(_existing_file(options))
    code = DONE if taken.whole else WRONG
    return Done((taken.said(options.manner),), code=code)


def _existing_file(options: Options) -> Path:
    place = Path(_subject(options))
    if not is_file_there(place):
        raise BadInput("book.not_there", str(place), file=place.name)
    return place


def _subject(options: Options) -> str:
    text: str | None = options.subject
    if text is None:
        raise BadInput("cli.required", "", names=_WANTS[options.what])
    return text


ACTIONS: dict[str, Callable[[Options, Book], Done]] = {
    "list": _list,
    "add": _add,
    "export": _export,
    "forget": _forget,
    "forget-order": _forget_order,
    "backup": _backup,
    "restore": _restore,
    "salvage": _salvage,
}
"""What can be done with the book."""

DELETING = ("forget", "forget-order")
"""What of it is never offered for a word that is not known."""

_WANTS = {
    "add": "FILE",
    "export": "NAME",
    "forget": "NAME",
    "forget-order": "NUMBER",
    "backup": "FILE",
    "restore": "FILE",
    "salvage": "FILE",
}

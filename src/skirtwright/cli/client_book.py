"""The client book by the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from skirtwright import __version__
from skirtwright.cli.verbs import (
    DONE,
    WRONG,
    Done,
    Options,
    report_saved,
    translated_label,
)
from skirtwright.job.prints import today
from skirtwright.job.saving import check_place, save_whole
from skirtwright.problems import BadInput
from skirtwright.words import in_one_sentence, say
from skirtwright.workroom import book
from skirtwright.workroom.book import Book
from skirtwright.workroom.book_entries import add_file, differences, entry_of


def run(options: Options) -> Done:
    """One thing done with the book."""
    with Book(options.book or book.place()) as opened:
        return ACTIONS[options.what](options, opened)


def _list(options: Options, opened: Book) -> Done:
    """Clients with their cards and orders; what changed between the last two cards."""
    clients = opened.clients(options.subject or "")
    lines = [say("book.listed", {"count": len(clients)}, options.manner)]
    listed = []
    for client in clients:
        cards, orders = opened.cards(client), opened.orders(client)
        taken = cards[0].taken if cards else ""
        values = {"name": client.name, "taken": taken, "orders": len(orders)}
        lines.append("  " + say("book.one", values, options.manner))
        if len(cards) > 1:
            lines += _changed(options, cards[1].card, cards[0].card)
        lines += [f"    {one.title}: {one.stage} {one.due}".rstrip() for one in orders]
        listed.append({"name": client.name, "cards": len(cards), "measured": taken})
    report = {"skirtwright": __version__, "clients": listed}
    return Done(tuple(lines), report_saved(options, json.dumps(report)))


def _changed(options: Options, before: Any, after: Any) -> list[str]:
    told = []
    for name, old, new in differences(before, after):
        if old is not None and new is not None:
            label = translated_label(name, options.manner)
            values = {"label": label, "before": old, "after": new}
            told.append("    " + say("book.changed", values, options.manner))
    return told


def _add(options: Options, opened: Book) -> Done:
    clients, refused = add_file(opened, Path(_subject(options)), today())
    values = {"count": len(clients)}
    lines = [say("book.added", values, options.manner)]
    for row in refused:
        told = {"row": row.row, "why": in_one_sentence(row.problem, options.manner)}
        lines.append("  " + say("book.row_refused", told, options.manner))
    return Done(tuple(lines), code=WRONG if refused else DONE)


def _export(options: Options, opened: Book) -> Done:
    client = opened.client_named(_subject(options))
    if options.output is None:
        raise BadInput("cli.required", "-o", names="-o")
    data = entry_of(opened, client).encode()
    save = partial(save_whole, options.output, data, mode=0o600)
    return Done((client.name,), (save,), (options.output,))


def _forget(options: Options, opened: Book) -> Done:
    client = opened.client_named(_subject(options))
    opened.forget(client)
    return Done((say("book.forgotten", {"name": client.name}, options.manner),))


def _backup(options: Options, opened: Book) -> Done:
    place = Path(_subject(options))
    check_place(place)
    if place.exists() and place.samefile(opened.path):
        raise BadInput("cli.output_is_input", str(place), file=place.name)
    opened.back_up(place)
    return Done((), saved=(place,))


def _restore(options: Options, opened: Book) -> Done:
    place = _there(options)
    opened.restore(place)
    values = {"file": place.name, "count": len(opened.clients())}
    return Done((say("book.restored", values, options.manner),))


def _salvage(options: Options, opened: Book) -> Done:
    taken, whole = opened.salvage(_there(options))
    code = "book.salvaged" if whole else "book.salvaged_in_part"
    line = say(code, {"count": taken}, options.manner)
    return Done((line,), code=DONE if whole else WRONG)


def _there(options: Options) -> Path:
    place = Path(_subject(options))
    if not place.is_file():
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
    "backup": _backup,
    "restore": _restore,
    "salvage": _salvage,
}
"""What can be done with the book."""

_WANTS = {
    "add": "FILE",
    "export": "NAME",
    "forget": "NAME",
    "backup": "FILE",
    "restore": "FILE",
    "salvage": "FILE",
}

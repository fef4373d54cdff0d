"""A client or one order deleted: from the book, and from all that is kept beside it.

What lies in files of her own, wherever they were put, stays.
"""

from __future__ import annotations

from pathlib import Path

from skirtwright.job import autosave
from skirtwright.job.folders import first_picture_file, recent_pictures_folder
from skirtwright.job.in_book import in_book
from skirtwright.job.job import Job
from skirtwright.job.saving import take_away
from skirtwright.problems import FileTrouble
from skirtwright.workroom.book import Book, Client, KeptOrder
from skirtwright.workroom.people import name_key


def forget(book: Book, client: Client) -> None:
    """Delete a client with her cards, orders, unsaved work and pictures.

    Raises:
        FileTrouble: she is deleted, but another window still has the book or her work
            open; the sentence says so.
    """
    numbers = {order.number for order in book.orders(client)}
    named = name_key(client.name)

    def is_hers(source: Path | None, job: Job) -> bool:
        known = in_book(source) if source is not None else None
        if known is not None and known[0].resolve() == book.path.resolve():
            return known[1] in numbers or name_key(job.card.name) == named
        # Work on a file of its own stays where that file does.
        return source is None and name_key(job.card.name) == named

    closed = autosave.forget(is_hers)
    _take_pictures_away()
    book.forget(client)
    if not closed:
        raise FileTrouble("book.work_open", str(book.path), name=client.name)


def forget_order(book: Book, order: KeptOrder) -> None:
    """Delete an order with its unsaved work and pictures; its client's cards stay.

    Raises:
        FileTrouble: it is deleted, but another window still has the book or the order
            open; the sentence says so.
    """

    def is_of_it(source: Path | None, _: Job) -> bool:
        known = in_book(source) if source is not None else None
        if known is None or known[1] != order.number:
            return False
        return known[0].resolve() == book.path.resolve()

    closed = autosave.forget(is_of_it)
    _take_pictures_away()
    book.forget_order(order)
    if not closed:
        raise FileTrouble("book.order_open", str(book.path), name=order.title)


def _take_pictures_away() -> None:
    """What was drawn of orders open last: whose each is cannot be told; no loss."""
    take_away(first_picture_file())
    for picture in recent_pictures_folder().glob("*"):
        take_away(picture)

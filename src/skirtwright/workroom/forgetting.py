"""A client or one order deleted: from the book, and from all that is kept beside it.

What lies in files of her own, wherever they were put, stays.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from pathlib import Path

from skirtwright.job import autosave
from skirtwright.job.folders import first_picture_file, recent_pictures_folder
from skirtwright.job.in_book import in_book
from skirtwright.job.job import Job
from skirtwright.job.saving import take_away
from skirtwright.problems import FileTrouble
from skirtwright.workroom.book import Book, Client, KeptOrder
from skirtwright.workroom.book_file import ASIDE
from skirtwright.workroom.people import name_key, path_holds_name


def forget(book: Book, client: Client) -> None:
    """Delete a client with her cards, orders, unsaved work and pictures.

    Raises:
        FileTrouble: the book refuses, and all stays; or she is deleted, but another
            window still has the book or her work open. The sentence says which.
    """
    deleted(book, client)()


def deleted(book: Book, client: Client) -> Callable[[], None]:
    """Delete a client from the book.

    Returns:
        What deletes her unsaved work and pictures then; it raises a FileTrouble where
        another window still has the book or her work open.

    Raises:
        FileTrouble: the book refuses; all stays.
    """
    numbers = {order.number for order in book.orders(client)}
    named = name_key(client.name)

    def is_of_client(source: Path | None, job: Job) -> bool:
        known = in_book(source) if source is not None else None
        is_here = known is not None and known[0].resolve() == book.path.resolve()
        by_number = known is not None and is_here and known[1] in numbers
        return by_number or name_key(job.card.name) == named

    told = _from_book(partial(book.forget, client), lambda: book.has(client))
    is_open = FileTrouble("book.work_open", str(book.path), name=client.name)

    def beside() -> None:
        written = json.dumps(client.name, ensure_ascii=False)
        closed = autosave.forget(
            is_of_client,
            lambda text: name_key(written) in name_key(text),
            lambda path: path_holds_name(path, client.name),
        )
        _pictures_away()
        _tell(is_open, told, closed=closed)

    return beside


def put_aside_with(book: Book, name: str) -> tuple[Path, ...]:
    """Damaged books put aside beside this one in which a client may be read still.

    Others are in them too, of whom this may be all there is: they are hers to delete.
    """
    found = sorted(book.path.parent.glob(f"{book.path.stem}{ASIDE}*"))
    return tuple(one for one in found if name.encode() in one.read_bytes())


def deleted_order(book: Book, order: KeptOrder) -> Callable[[], None]:
    """Delete an order from the book; its client's cards stay.

    Returns:
        What deletes its unsaved work and pictures then, as of `deleted`.

    Raises:
        FileTrouble: the book refuses; all stays.
    """

    def is_of_order(source: Path | None, _: Job) -> bool:
        known = in_book(source) if source is not None else None
        if known is None or known[1] != order.number:
            return False
        return known[0].resolve() == book.path.resolve()

    def is_there() -> bool:
        return order.number in {one.number for one in book.orders(order.client)}

    told = _from_book(partial(book.forget_order, order), is_there)
    is_open = FileTrouble("book.order_open", str(book.path), name=order.title)

    def beside() -> None:
        closed = autosave.forget(is_of_order)
        _pictures_away()
        _tell(is_open, told, closed=closed)

    return beside


def _from_book(
    delete: Callable[[], None], is_there: Callable[[], bool]
) -> FileTrouble | None:
    """Delete from the book; what is to be told where it is deleted all the same."""
    try:
        delete()
    except FileTrouble as trouble:
        if is_there():
            raise
        return trouble
    return None


def _pictures_away() -> None:
    """Of orders open last: whose each is cannot be told; no loss."""
    take_away(first_picture_file())
    for picture in recent_pictures_folder().glob("*"):
        take_away(picture)


def _tell(is_open: FileTrouble, told: FileTrouble | None, *, closed: bool) -> None:
    """What is not gone yet, once all has been done."""
    if not closed:
        raise is_open
    if told is not None:
        raise told

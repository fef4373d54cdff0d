"""The .skirt file: one order as JSON, one step per line, read strictly."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from skirtwright.budget import bounded
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.job.job import Job
from skirtwright.job.own_files import is_own
from skirtwright.job.prints import AS_NOW, Print
from skirtwright.job.reading import load_bytes
from skirtwright.job.saving import companion, save_whole
from skirtwright.job.upgrade import FORMAT, upgraded
from skirtwright.measures.records import take
from skirtwright.measures.strict_json import read_as, read_strict
from skirtwright.problems import BadInput

SUFFIX = ".skirt"

_BY_LINE = frozenset(
    {
        "steps",
        "choices",
        "amounts",
        "seams",
        "pieces",
        "cloths",
        "fitting",
        "prints",
        "stride",
        "pulls",
    }
)


def written(job: Job) -> str:
    """The text of a .skirt file: stable order, a record to a line."""
    rest = job.replace(prints=(), draft=None)
    dumped = _dumped(rest)
    dumped["prints"] = [_print_dumped(one, job.draft) for one in job.prints]
    dumped["draft"] = _draft_dumped(job.draft)
    return _laid_out({"format": FORMAT, **dumped}, 0) + "\n"


def _dumped(one: Job | Print) -> dict[str, Any]:
    """A record with a card; an age stands there only where it is given."""
    dumped = one.model_dump(by_alias=True)
    if one.card.age is None:
        del dumped["card"]["age"]
    return dumped


def _draft_dumped(draft: Draft) -> dict[str, Any]:
    return draft.model_dump(by_alias=True, exclude_unset=True)


def _print_dumped(one: Print, own: Draft) -> dict[str, Any]:
    """A record of a print; its draft stands there only where it is not the order's."""
    dumped = _dumped(one.replace(draft=None))
    if isinstance(one.draft, Draft):
        as_now = one.draft == own
        dumped["draft"] = AS_NOW if as_now else _draft_dumped(one.draft)
    return dumped


def _laid_out(value: Any, depth: int) -> str:
    """JSON with each member of the outer objects, and each record, on its line."""
    if not isinstance(value, dict) or not value:
        return _flat(value)
    lines = []
    for key, member in value.items():
        if depth < 1 and isinstance(member, dict):
            text = _laid_out(member, depth + 1)
        elif key in _BY_LINE and isinstance(member, list | tuple) and member:
            text = _records(member)
        else:
            text = _flat(member)
        lines.append(f"{_flat(key)}: {text}")
    return "{\n" + ",\n".join(lines) + "\n}"


def _records(items: Sequence[Any]) -> str:
    return "[\n" + ",\n".join(_record(item) for item in items) + "\n]"


def _record(item: Any) -> str:
    if isinstance(item, dict) and "group" in item and item.get("steps"):
        head = {key: value for key, value in item.items() if key != "steps"}
        return _flat(head)[:-1] + ', "steps": ' + _records(item["steps"]) + "}"
    return _flat(item)


def _flat(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def read(text: str | bytes, what: str) -> Job:
    """An order from the text of a .skirt file.

    Raises:
        BadInput: it is too large or too deep, not JSON, of a newer format, or has a
            key or value that does not belong, or a name of its draft is nowhere; the
            sentence names the place.
        NotFound: its draft grows from a style that is not there.
    """
    raw = read_strict(text, what)
    with bounded():
        return _order_of(raw, what)


def _order_of(raw: Any, what: str) -> Job:
    if not isinstance(raw, dict) or "draft" not in raw:
        raise BadInput("file.not_an_order", what, what=what)
    raw = upgraded(dict(raw), what)
    raw.pop("format")
    job: Job = read_as(Job, raw, what)
    _check_once((own.piece for own in job.pieces), what)
    _check_once((own.material for own in job.cloths), what, "cloth", "material")
    for one in job.prints:
        _check_once((own.piece for own in one.pieces), what)
        spots = one.laid.pieces if one.laid else ()
        _check_once((spot.piece for spot in spots), what)
    draft = styles.whole(job.draft, what)
    prints = tuple(_with_draft(one, draft, what) for one in job.prints)
    return job.replace(draft=draft, prints=prints)


def _with_draft(one: Print, own: Draft, what: str) -> Print:
    """A print with its draft: the order's own, or one that was its own before."""
    if isinstance(one.draft, Draft):
        return one.replace(draft=styles.whole(one.draft, what))
    return one.replace(draft=own) if one.draft == AS_NOW else one


def _check_once(
    names: Iterable[str], what: str, of: str = "piece", called: str = "piece"
) -> None:
    """Refuse two records for one piece or cloth: only one of them could hold."""
    met: set[str] = set()
    for name in names:
        if name in met:
            values = {"what": what, called: name}
            raise BadInput(f"file.{of}_twice", name, **values)
        met.add(name)


def taken(data: bytes) -> Job:
    """An order from the bytes that `written` gave, unchecked."""
    raw = json.loads(data)
    raw.pop("format")
    job = take(Job, raw)
    prints = tuple(
        one.replace(draft=job.draft) if one.draft == AS_NOW else one
        for one in job.prints
    )
    return job.replace(prints=prints)


def load(path: Path) -> Job:
    """An order from a file.

    Raises:
        FileTrouble: the file cannot be read.
        BadInput: see `read`.
    """
    return opened(load_bytes(path), path.name)


def opened(data: bytes, what: str) -> Job:
    """An order from a file's bytes; what was saved here is not checked once more.

    Raises:
        BadInput: see `read`.
    """
    return taken(data) if is_own(data) else read(data, what)


STYLE_SUFFIX = ".json"
"""The ending of a style file."""


def save_style(draft: Draft, path: Path) -> None:
    """Save a style whole, as a file that orders can be made of.

    Raises:
        FileTrouble: it cannot be written; what was there stays.
    """
    save_whole(path, (_laid_out(_draft_dumped(draft), 0) + "\n").encode())


def save(job: Job, path: Path) -> None:
    """Save an order whole; the version before it is kept beside it.

    Raises:
        FileTrouble: it cannot be written; what was there stays.
    """
    save_whole(path, written(job).encode(), keep=companion(path, "before"))

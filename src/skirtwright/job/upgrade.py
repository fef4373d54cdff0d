"""Old .skirt files brought up to date, one step per format."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from skirtwright.draft.draft_upgrade import upgraded as draft_upgraded
from skirtwright.problems import BadInput

FORMAT = 6
"""The format this program writes."""


def _one_record_a_piece(raw: dict[str, Any]) -> dict[str, Any]:
    """Format 1 had a record for each edge: only its allowance could be set."""
    pieces: dict[str, dict[str, Any]] = {}
    records = raw.get("pieces", [])
    if not isinstance(records, list):
        return raw
    for record in records:
        try:
            piece, edge, width = (record[k] for k in ("piece", "edge", "allowance"))
            known = pieces.setdefault(piece, {"piece": piece, "allowances": {}})
            known["allowances"][edge] = width
        except (KeyError, TypeError):
            # Not what format 1 wrote: reading refuses it, with its place.
            return raw
    return {**raw, "pieces": list(pieces.values())}


def _with_draft_format(raw: dict[str, Any]) -> dict[str, Any]:
    """Format 2 held drafts of format 1, whether they said so or not."""
    draft = raw.get("draft")
    return {**raw, "draft": {"format": 1, **draft}} if isinstance(draft, dict) else raw


def _nothing_to_upgrade(raw: dict[str, Any]) -> dict[str, Any]:
    """An order without what the next format can keep besides.

    Format 3 kept no record of prints and no cloths, 4 no lays by hand and no fittings;
    5 cut no piece apart, and none across its grain.
    """
    return raw


STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {
    1: _one_record_a_piece,
    2: _with_draft_format,
    3: _nothing_to_upgrade,
    4: _nothing_to_upgrade,
    5: _nothing_to_upgrade,
}
"""From each old format to the next; format 1 is the first."""


def upgraded(raw: dict[str, Any], what: str) -> dict[str, Any]:
    """The data of a file in the present format.

    Raises:
        BadInput: there is no format number, or it is newer than this program.
    """
    number = raw.get("format")
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise BadInput("file.no_format", what, what=what)
    if number > FORMAT:
        raise BadInput("file.newer", what, what=what, format=number, known=FORMAT)
    while number < FORMAT:
        raw = STEPS[number](raw)
        number += 1
    if isinstance(raw.get("draft"), dict):
        raw = {**raw, "draft": draft_upgraded(raw["draft"], what)}
    prints = raw.get("prints")
    if isinstance(prints, list):
        raw = {**raw, "prints": [_print_upgraded(one, what) for one in prints]}
    return {**raw, "format": FORMAT}


def _print_upgraded(raw: Any, what: str) -> Any:
    """A record of a print with its draft in the present format, if it has one."""
    draft = raw.get("draft") if isinstance(raw, dict) else None
    if not isinstance(draft, dict):
        return raw
    return {**raw, "draft": draft_upgraded(draft, what)}

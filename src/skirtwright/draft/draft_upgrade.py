"""Old drafts brought up to date, one step per format; a style file or an order's."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

from skirtwright.draft.draft import FORMAT
from skirtwright.draft.runs import Run
from skirtwright.problems import BadInput

_ROLES = {
    "waist": "waist",
    "side": "side",
    "other_side": "side",
    "centre": "centre",
    "hem": "hem",
    "joins": "waist_join",
    "outer": "facing_edge",
    "start": "facing_end",
    "end": "facing_end",
    "front_edge": "opening",
    "open_edge": "opening",
    "vent": "opening",
    "underlap": "turned_in",
    "left_end": "turned_in",
    "right_end": "turned_in",
    "inside": "turned_in",
    "caught": "caught",
    "round": "pocket",
    "pocket_bag.top": "pocket",
    "pocket_facing.joins": "caught",
    "pocket_facing.start": "caught",
    "pocket_facing.end": "caught",
    "front_hem_facing.joins": "seam",
    "back_hem_facing.joins": "seam",
    "front_yoke_facing.yoke_line": "facing_edge",
    "back_yoke_facing.yoke_line": "facing_edge",
    "casing.left": "waist_join",
    "casing.right": "turned_in",
    "casing.foot": "channel",
    "casing.top": "channel",
    "band.left": "waist_join",
    "band.right": "turned_in",
    "band.foot": "turned_in",
    "band.top": "turned_in",
    "placket_facing.left": "opening",
    "placket_facing.right": "facing_edge",
    "placket_facing.top": "caught",
    "placket_facing.foot": "caught",
    "placket_underlap.left": "opening",
    "placket_underlap.right": "opening",
    "placket_underlap.top": "caught",
    "placket_underlap.foot": "turned_in",
    **{
        f"{tie}.{edge}": "turned_in"
        for tie in ("tie_long", "tie_short")
        for edge in ("foot", "right", "top", "left")
    },
}
"""What format 1 took an edge to be by its name; `piece.edge` before `edge`."""

_HALF = re.compile(r"(.+)_(left|right)")
"""What it took a panel cut once to be of one half by."""

_LEVELS = {"hip": "hip", "knee": "knee", "break": "knee"}
"""The level of the body it took a mark to be at by its name."""


def _names_told(raw: dict[str, Any]) -> dict[str, Any]:
    """Format 1 judged by names; format 2 is told what an edge, mark and piece is."""
    try:
        edges = _edges_of_panels(raw)
        pieces = [_told(piece, edges) for piece in raw.get("pieces", ())]
        steps = [_levelled(step) for step in raw.get("steps", ())]
    except (AttributeError, KeyError, TypeError):
        # Not what format 1 wrote: reading refuses it, with its place.
        return raw
    return {**raw, **({"pieces": pieces} if pieces else {}), "steps": steps}


def _edges_of_panels(raw: dict[str, Any]) -> dict[str, dict[str, None]]:
    """The edges that pieces and seams name, by panel."""
    found: dict[str, dict[str, None]] = {}
    for piece in raw.get("pieces", ()):
        named = (*piece.get("allowances", ()), *piece.get("folds", ()))
        found.setdefault(piece["panel"], {}).update(dict.fromkeys(named))
    for seam in raw.get("seams", ()):
        for part in (part for side in seam["sides"] for part in side):
            run = Run.of(part)
            found.setdefault(run.piece, {})[run.edge] = None
    return found


def _told(piece: dict[str, Any], edges: dict[str, dict[str, None]]) -> dict[str, Any]:
    name, panel = piece["name"], piece["panel"]
    roles = dict(_roles_of(name, panel, edges[panel]))
    body = next((half for half in ("front", "back") if name.startswith(half)), "")
    when = {"when": piece["when"]} if "when" in piece else {}
    of_half = _HALF.fullmatch(panel) if _is_single(piece) else None
    half = {"half": of_half[2], "whole": _HALF.sub(r"\1", name)} if of_half else {}
    return {
        **{key: value for key, value in piece.items() if key != "when"},
        **({"roles": roles} if roles else {}),
        **({"body": body} if body else {}),
        **half,
        **when,
    }


def _is_single(piece: dict[str, Any]) -> bool:
    return not piece.get("folds") and str(piece.get("count", "1")).strip() == "1"


def _roles_of(
    name: str, panel: str, edges: dict[str, None]
) -> Iterator[tuple[str, str]]:
    for edge in edges:
        keys = (f"{name}.{edge}", f"{panel}.{edge}", edge)
        role = next((_ROLES[key] for key in keys if key in _ROLES), "seam")
        if role != "seam":
            yield edge, role


def _levelled(step: dict[str, Any]) -> dict[str, Any]:
    if "steps" in step:
        return {**step, "steps": [_levelled(inner) for inner in step["steps"]]}
    if step.get("kind") == "mark" and step["name"] in _LEVELS:
        return {**step, "level": _LEVELS[step["name"]]}
    return step


_CALLED = {
    "handles": "pulls",
    "start_handle": "start_reach",
    "end_handle": "end_reach",
}
"""What format 2 called handles: the pulls of a style and the reaches of a curve."""


def _pulls_and_reaches(raw: Any) -> Any:
    """Format 2 called two things handles; format 3 has a word for each."""
    if not isinstance(raw, dict):
        return raw
    # Where both words stand the old one stays, and reading refuses it.
    names = {key: _CALLED.get(key, key) for key in raw}
    new = {key if name in raw else name: raw[key] for key, name in names.items()}
    if isinstance(new.get("steps"), list):
        new["steps"] = [_pulls_and_reaches(step) for step in new["steps"]]
    return new


STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {
    1: _names_told,
    2: _pulls_and_reaches,
}
"""From each old format to the next; format 1 is the first."""


def upgraded(raw: dict[str, Any], what: str) -> dict[str, Any]:
    """The data of a draft in the present format.

    Raises:
        BadInput: it is newer than this program.
    """
    # A style without a number is as 3 or as 2: both are read, either way.
    number = raw.get("format", 2)
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        # Reading refuses it, with its place.
        return raw
    if number > FORMAT:
        raise BadInput("file.newer", what, what=what, format=number, known=FORMAT)
    while number < FORMAT:
        raw = STEPS[number](raw)
        number += 1
    return {**raw, "format": FORMAT}

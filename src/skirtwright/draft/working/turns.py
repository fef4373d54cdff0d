"""Pieces and seams of repeated groups, one for each turn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, TypeVar

from skirtwright.draft.draft import PieceOf, Seam
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.problems import SkirtwrightError

if TYPE_CHECKING:
    from skirtwright.draft.working.recompute import Worked

_Repeated = TypeVar("_Repeated", PieceOf, Seam)

_NUMBER = re.compile(r"\bi\b")
_TURN = re.compile(r"(.+)\[([0-9]+)\]\.(.+)")
_LABEL = "{i}"
_PLAIN = frozenset({"name", "title", "material", "folds", "turned_up", "lines"})


class Turns:
    """Writes pieces and seams out; one that stays the same stays the same object."""

    def __init__(self) -> None:
        self._made: dict[tuple[object, ...], tuple[Any, Any]] = {}

    def pieces(self, worked: Worked) -> tuple[PieceOf, ...]:
        """The pieces of a draft, those repeated with a group once for each turn."""
        return tuple(self._all(worked, worked.draft.pieces))

    def seams(self, worked: Worked) -> tuple[Seam, ...]:
        """The seams of a draft, those repeated with a group once for each turn."""
        return tuple(self._all(worked, worked.draft.seams))

    def _all(self, worked: Worked, items: tuple[_Repeated, ...]) -> Iterator[_Repeated]:
        for item in items:
            if item.repeat is not None:
                for turn in range(1, _count(worked, item.repeat) + 1):
                    yield from self._one(worked, item, turn)
            elif any("[" in panel for panel in _panels(item)):
                yield from self._one(worked, item, None)
            else:
                yield item

    def _one(
        self, worked: Worked, item: _Repeated, turn: int | None
    ) -> Iterator[_Repeated]:
        """An item in a turn; none where one of its panels has no such turn."""
        written = {panel: _in_turn(panel, turn) for panel in _panels(item)}
        try:
            panels: dict[str, str] = {
                panel: worked.leans_on(text, Reads.PANEL)[0]
                for panel, text in written.items()
            }
        except SkirtwrightError:
            return
        key = (id(item), turn, *panels.values())
        kept = self._made.get(key)
        if kept is None or kept[0] is not item:
            kept = self._made[key] = (item, _made(item, turn, panels))
        yield kept[1]


def turns_not_cut(worked: Worked) -> Iterator[tuple[str, str, int]]:
    """Panels of a turn that no piece is cut from, where one is from other turns.

    Yields:
        The group, the panel, and how many turns there are.
    """
    cut = {piece.panel for piece in worked.pieces}
    alike = {match.group(1, 3) for match in map(_TURN.fullmatch, cut) if match}
    drawn: dict[tuple[str | Any, ...], list[tuple[int, str]]] = {}
    for name, value in worked.values.items():
        match = _TURN.fullmatch(name) if isinstance(value, Panel) else None
        if match and match.group(1, 3) in alike and match[2] != "0":
            drawn.setdefault(match.group(1, 3), []).append((int(match[2]), name))
    for (group, _), turns in drawn.items():
        for _, name in sorted(turns):
            if name not in cut:
                yield group, name, len(turns)


def _count(worked: Worked, text: str) -> int:
    """How many turns; none where that was said not to be workable."""
    try:
        return max(round(float(worked.read(text, Reads.RATIO))), 0)
    except SkirtwrightError:
        return 0


def _panels(item: PieceOf | Seam) -> tuple[str, ...]:
    """The panels an item names, as written."""
    if isinstance(item, PieceOf):
        return (item.panel,)
    parts = (part for side in item.sides for part in side)
    return tuple(dict.fromkeys(_split(part)[1] for part in parts))


def _split(part: str) -> tuple[str, str, str]:
    """The sign, panel and edge of a part of a seam's run."""
    panel, _, edge = part.removeprefix("-").rpartition(".")
    return "-" if part.startswith("-") else "", panel, edge


def _in_turn(text: str, turn: int | None) -> str:
    return text if turn is None else _NUMBER.sub(str(turn), text)


def _made(item: _Repeated, turn: int | None, panels: dict[str, str]) -> _Repeated:
    """The item of a turn, its panels by their own names."""

    def written(value: Any) -> Any:
        if isinstance(value, str):
            return _in_turn(value, turn)
        if isinstance(value, dict):
            return {key: written(inner) for key, inner in value.items()}
        if isinstance(value, list | tuple):
            return [written(inner) for inner in value]
        return value

    dumped = item.model_dump(exclude_unset=True, exclude={"repeat"})
    new = {k: v if k in _PLAIN else written(v) for k, v in dumped.items()}
    if turn is not None:
        new["name"] = f"{item.name}_{turn}"
        number = str(turn)
        title = item.title.replace(_LABEL, number)
        new["title"] = title if _LABEL in item.title else f"{title} {number}".strip()
    if isinstance(item, PieceOf):
        new["panel"] = panels[item.panel]
    else:
        new["sides"] = [
            [f"{sign}{panels[panel]}.{edge}" for sign, panel, edge in map(_split, side)]
            for side in item.sides
        ]
    return type(item).model_validate(new)

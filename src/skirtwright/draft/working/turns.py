"""Pieces and seams of repeated groups, one for each turn."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any, Protocol, TypeVar

from skirtwright.draft.counting import whole_number
from skirtwright.draft.draft import PieceOf, Seam
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Read, Reads
from skirtwright.measures.records import take
from skirtwright.problems import Problem, SkirtwrightError

Repeated = TypeVar("Repeated", PieceOf, Seam)

_NUMBER = re.compile(r"\bi\b")
_TURN = re.compile(r"(.+)\[([0-9]+)\]\.(.+)")
_LABEL = "{i}"
_PLAIN = frozenset({"name", "title", "material", "folds", "turned_up", "lines"})


class Reading(Protocol):
    """A worked draft, as far as it is asked here."""

    def read(self, text: str, how: Reads) -> Any:
        """A text worked at the end of the draft."""


def written_out(
    items: tuple[Repeated, ...],
    counts: tuple[int, ...],
    bind: Callable[[str, Reads], Read],
) -> Iterator[Repeated]:
    """Pieces or seams of a draft, those repeated with a group once for each turn.

    Args:
        items: as the draft has them.
        counts: the turns of each, as `turns_of` has them.
        bind: binds a text at the end of the draft.
    """
    for item, count in zip(items, counts, strict=True):
        if item.repeat is not None:
            turns: Iterable[int | None] = range(1, count + 1)
        elif any("[" in panel for panel in _panels(item)):
            turns = (None,)
        else:
            yield item
            continue
        for turn in turns:
            texts = [_in_turn(panel, turn) for panel in _panels(item)]
            try:
                panels = [bind(text, Reads.PANEL).leans_on[0] for text in texts]
            except SkirtwrightError:
                # One of its panels has no such turn.
                continue
            yield _in_a_turn(item, turn, *panels)


def turns_of(items: Iterable[PieceOf | Seam], worked: Reading) -> tuple[int, ...]:
    """How many turns each is repeated in; none where `without_turns` says why."""
    return tuple(_count(worked, item.repeat) if item.repeat else 0 for item in items)


def turns_not_cut(
    pieces: Iterable[PieceOf], values: Mapping[str, Any]
) -> Iterator[tuple[str, str, int]]:
    """Panels of a turn that no piece is cut from, where one is from other turns.

    Yields:
        The group, the panel, and how many turns there are.
    """
    cut = {piece.panel for piece in pieces}
    alike = {match.group(1, 3) for match in map(_TURN.fullmatch, cut) if match}
    drawn: dict[tuple[str | Any, ...], list[tuple[int, str]]] = {}
    for name, value in values.items() if alike else ():
        match = _TURN.fullmatch(name) if isinstance(value, Panel) else None
        if match and match.group(1, 3) in alike and match[2] != "0":
            drawn.setdefault(match.group(1, 3), []).append((int(match[2]), name))
    for (group, _), turns in drawn.items():
        for _, name in sorted(turns):
            if name not in cut:
                yield group, name, len(turns)


def without_turns(
    items: Iterable[PieceOf | Seam], worked: Reading
) -> Iterator[Problem]:
    """Why pieces or seams are repeated in no turn, where that is a fault."""
    for item in items:
        if item.repeat is None:
            continue
        try:
            turns = float(worked.read(item.repeat, Reads.RATIO))
        except SkirtwrightError as error:
            yield replace(error.problem, where=error.problem.where or item.name)
            continue
        if whole_number(turns) is None:
            values = {"count": turns}
            yield Problem("draft.not_a_count", "wrong", item.name, values, stops=True)


def _count(worked: Reading, text: str) -> int:
    try:
        return whole_number(float(worked.read(text, Reads.RATIO))) or 0
    except SkirtwrightError:
        return 0


def _panels(item: PieceOf | Seam) -> tuple[str, ...]:
    """The panels an item names, as written."""
    if isinstance(item, PieceOf):
        return (item.panel,)
    return tuple(dict.fromkeys(run.piece for side in item.sides for run in side))


def _in_turn(text: str, turn: int | None) -> str:
    return text if turn is None else _NUMBER.sub(str(turn), text)


def _in_a_turn(item: Repeated, turn: int | None, *names: str) -> Repeated:
    """An item of a turn.

    Args:
        names: those of its panels, in order.
    """
    panels = dict(zip(_panels(item), names, strict=True))

    def written(value: Any) -> Any:
        if isinstance(value, str):
            return _in_turn(value, turn)
        if isinstance(value, dict):
            return {key: written(inner) for key, inner in value.items()}
        if isinstance(value, list | tuple):
            return [written(inner) for inner in value]
        return value

    dumped = item.model_dump(exclude_unset=True)
    dumped.pop("repeat", None)
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
            [str(run.on(panels[run.piece])) for run in side] for side in item.sides
        ]
    return take(type(item), new)

"""Names, places and directions of a draft in words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.measures.working_parsing import parse_place
from skirtwright.measures.working_writing import written
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Phrase, Sayable, has_message, say

SMALLEST = 0.05
"""What is smaller, mm, nobody draws."""

_NEAR = 0.01
_STRAIGHT_DEG = 0.05
_AXES = ("right", "up", "left", "down")


@lru_cache(maxsize=4096)
def plain(name: str) -> str:
    """A name as a person reads it: `front.side end` is `front side end`.

    Some numbers of a draft are called otherwise in the trade.
    """
    known = f"number.{name}"
    if has_message(known):
        return say(known)
    spaced = re.sub(r"\[(\d+)\]", r" \1", name.replace("_", " "))
    return re.sub(r"(?<=[a-z0-9\]])\.(?=[a-z])", " ", spaced)


def named(name: str) -> Phrase:
    """A name, to stand in a sentence."""
    return Phrase("place.line", {"name": plain(name)})


def edge_words(name: str) -> Sayable:
    """What an edge is called: some need another word than the style's own."""
    known = f"edge.{name}"
    if has_message(known):
        return Phrase(known)
    return named(name)


# Lines and places


def _split(name: str, seen: Mapping[str, Any]) -> tuple[Any, str]:
    """What a name begins with, as it stood, and the part of it that is meant."""
    parts = name.split(".")
    for size in range(len(parts), 0, -1):
        base = ".".join(parts[:size])
        if base in seen:
            return seen[base], ".".join(parts[size:])
    return None, ""


def line_words(name: str, seen: Mapping[str, Any]) -> Sayable:
    """A line, an edge or a mark."""
    panel, rest = _split(name, seen)
    if isinstance(panel, Panel) and panel.mark(rest) is not None:
        return Phrase("place.mark_line", {"name": plain(name)})
    return named(name)


def place_words(text: str, seen: Mapping[str, Any], point: Any = None) -> Sayable:
    """A place on a draft, from the text that names it and where it lies."""
    try:
        tree = parse_place(text)
    except SkirtwrightError:
        return named(text)
    name = written(tree.object)
    panel, rest = _split(name, seen)
    if tree.how is None:
        return _point_words(name, panel, rest)
    line = line_words(name, seen)
    if tree.how == "mark" and tree.argument is not None:
        values = {"line": line, "mark": plain(written(tree.argument))}
        return Phrase("place.on_mark", values)
    if tree.how == "middle":
        return Phrase("place.middle", {"line": line})
    if tree.how in ("start", "end"):
        return _end_words(panel, rest, line, tree.how == "start")
    chain = _chain(panel, rest)
    if chain is None or not isinstance(point, Point):
        return named(text)
    walked = chain.nearest(point)[0]
    along: dict[str, Any] = {"line": line, "distance": walked}
    met = _met_at(panel, rest, start=True)
    if met:
        return Phrase("place.along_from", {**along, "met": edge_words(met)})
    return Phrase(
        "place.along", {**along, "begins": Phrase("place.start", {"line": line})}
    )


def own_place_words(
    text: str, edge: str, seen: Mapping[str, Any], point: Any
) -> Sayable:
    """A place on an edge that has just been named."""
    before, at_mark, mark = text.partition(" at mark ")
    if at_mark and before == edge:
        return Phrase("place.the_mark", {"mark": plain(mark)})
    if text == f"{edge} end":
        return Phrase("place.its_end")
    return place_words(text, seen, point)


def _point_words(name: str, panel: Any, rest: str) -> Sayable:
    fold, part = Fold.part_of(rest)
    if isinstance(panel, Panel) and fold and (fold.kind, part) == ("dart", "tip"):
        owner = name.removesuffix(f".{rest}")
        values = {"panel": plain(owner), "number": str(fold.number)}
        return Phrase("place.dart_tip", values)
    return named(name)


def _chain(panel: Any, rest: str) -> Chain | None:
    if isinstance(panel, Chain):
        return panel
    if isinstance(panel, Panel):
        try:
            part = panel.part(rest)
        except SkirtwrightError:
            return None
        return part if isinstance(part, Chain) else None
    return None


def _end_words(panel: Any, rest: str, line: Sayable, start: bool) -> Sayable:
    """The end of an edge is where the next one meets it; a mark ends on an edge."""
    met = _met_at(panel, rest, start=start)
    if met:
        return Phrase("place.corner", {"line": line, "met": edge_words(met)})
    return Phrase(f"place.{'start' if start else 'end'}", {"line": line})


def _met_at(panel: Any, rest: str, *, start: bool) -> str:
    """The edge that an edge or a mark meets at its start or its end, or nothing."""
    if not isinstance(panel, Panel):
        return ""
    if any(edge.name == rest for edge in panel.edges):
        return panel.neighbours(rest)[0 if start else 1][0].name
    chain = _chain(panel, rest)
    return edge_at(panel, chain.start if start else chain.end) if chain else ""


def edge_at(panel: Panel, place: Point) -> str:
    """The edge a place lies on, or nothing."""
    for edge in panel.edges:
        if edge.chain.nearest(place)[1] < _NEAR:
            return edge.name
    return ""


# Directions


def way_words(step: Point) -> Sayable:
    """A direction: straight down, or so many degrees off it towards a side."""
    turned = step.heading_deg() % 360.0
    axis = round(turned / 90.0)
    off = turned - 90.0 * axis
    name = _AXES[axis % 4]
    if abs(off) < _STRAIGHT_DEG:
        return Phrase(f"way.{name}")
    towards = _AXES[(axis + (1 if off > 0 else -1)) % 4]
    values = {"way": Phrase(f"way.{name}"), "angle": abs(off)}
    return Phrase("way.off", {**values, "towards": Phrase(f"way.towards_{towards}")})


def side_words(step: Point) -> Sayable:
    """To which side a step leads: the nearest of the four."""
    axis = round((step.heading_deg() % 360.0) / 90.0) % 4
    return Phrase(f"way.towards_{_AXES[axis]}")


def beside_words(step: Point) -> Sayable:
    """On which side of something a step leads: above it, to the left of it."""
    axis = round((step.heading_deg() % 360.0) / 90.0) % 4
    return Phrase(f"way.beside_{_AXES[axis]}")


def offset_words(step: Point) -> Sayable:
    """A step from one place to another: so far across and so far up or down."""
    across = None
    if abs(step.x) >= SMALLEST:
        side = "right" if step.x > 0 else "left"
        across = Phrase(f"offset.{side}", {"by": abs(step.x)})
    if abs(step.y) < SMALLEST:
        return across or Phrase("offset.nothing")
    along = "up" if step.y > 0 else "down"
    values = {"by": abs(step.y)}
    if across is None:
        return Phrase(f"offset.straight_{along}", values)
    further = Phrase(f"offset.{along}", values)
    return Phrase("offset.both", {"across": across, "further": further})

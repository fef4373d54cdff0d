"""Panels that are only rectangles, told in one sentence: bands, strips, plackets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.shapes.panel import Edge, Mark, Panel
from skirtwright.draft.working.replay import Moment
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line
from skirtwright.telling.names_in_words import SMALLEST, edge_words, plain
from skirtwright.telling.sentences import Sentence
from skirtwright.words import Phrase, Sayable, Several

_SCAFFOLD = ("start", "join")


@dataclass(frozen=True)
class Strip:
    """A rectangle with its marks.

    Attributes:
        path: of the step that draws it.
        panel: with all its marks.
        within: the steps that are told with it: its corners, sides and marks.
    """

    path: str
    name: str
    panel: Panel
    within: tuple[str, ...]

    def said(self) -> Sentence:
        """The strip in one sentence."""
        left, foot, right, top = _box(self.panel)
        values: dict[str, Any] = {
            "name": plain(self.name),
            "wide": right - left,
            "high": top - foot,
        }
        marks = (*_split_sides(self.panel), *_marks(self.panel))
        if not marks:
            return Sentence(self.path, "making.strip", values)
        values["marks"] = Several(tuple(marks))
        return Sentence(self.path, "making.strip_marked", values)


def strips_in(moments: Sequence[Moment]) -> Iterator[Strip]:
    """The rectangles among the steps that are drawn."""
    by_path = {moment.path: moment for moment in moments}
    for moment in moments:
        if moment.step.kind not in ("outline", "rectangle"):
            continue
        panel = moment.after
        if isinstance(panel, Panel) and _is_rectangle(panel):
            strip = _strip(moment, by_path)
            if strip is not None:
                yield strip


def _strip(moment: Moment, by_path: dict[str, Moment]) -> Strip | None:
    """The strip with all that is drawn for it alone; None if more is done with it."""
    name = moment.bound.results[0]
    marking = [
        other
        for other in by_path.values()
        if other.step.kind == "mark" and other.bound.results[0] == name
    ]
    own = {moment.path, *(mark.path for mark in marking)}
    for other in by_path.values():
        if name in other.bound.results and other.path not in own:
            return None
    scaffold = _scaffold([moment, *marking], by_path)
    told = own | scaffold
    used_elsewhere = {
        path
        for other in by_path.values()
        if other.path not in told
        for path in other.reads.values()
    }
    if used_elsewhere & scaffold:
        return None
    panel = marking[-1].after if marking else moment.after
    within = tuple(path for path in told if path != moment.path)
    return Strip(moment.path, name, panel, within)


def _scaffold(moments: Sequence[Moment], by_path: dict[str, Moment]) -> set[str]:
    """The points and straight lines that something is drawn from."""
    waiting = [path for moment in moments for path in moment.reads.values()]
    found: set[str] = set()
    while waiting:
        path = waiting.pop()
        made = by_path.get(path)
        if path not in found and made is not None and made.step.kind in _SCAFFOLD:
            found.add(path)
            waiting.extend(made.reads.values())
    return found


def _is_rectangle(panel: Panel) -> bool:
    left, foot, right, top = _box(panel)
    corners = {(left, foot), (right, foot), (right, top), (left, top)}
    met: set[tuple[float, float]] = set()
    for edge in panel.edges:
        for segment in edge.chain.segments:
            if not isinstance(segment, Line):
                return False
            across = abs(segment.start.x - segment.end.x) < SMALLEST
            if not across and abs(segment.start.y - segment.end.y) >= SMALLEST:
                return False
            ends = (segment.start, segment.end)
            near = (c for c in corners for end in ends if end.to(Point(*c)) < SMALLEST)
            met.update(near)
    return met == corners and not panel.darts


def _box(panel: Panel) -> tuple[float, float, float, float]:
    """Left, foot, right and top, mm."""
    ring = panel.ring()
    across, up = [point.x for point in ring], [point.y for point in ring]
    return min(across), min(up), max(across), max(up)


def _side_of(edge: Edge, box: tuple[float, float, float, float]) -> str:
    middle = edge.chain.start.between(edge.chain.end, 0.5)
    away = {
        "left": abs(middle.x - box[0]),
        "foot": abs(middle.y - box[1]),
        "right": abs(middle.x - box[2]),
        "top": abs(middle.y - box[3]),
    }
    return min(away, key=lambda name: away[name])


def _split_sides(panel: Panel) -> Iterator[Sayable]:
    """The sides that are more than one edge, with the length of each."""
    box = _box(panel)
    sides: dict[str, list[Edge]] = {}
    for edge in panel.edges:
        sides.setdefault(_side_of(edge, box), []).append(edge)
    for side, edges in sides.items():
        if len(edges) < 2:
            continue
        edges.sort(key=lambda edge: _along(edge, side))
        parts = tuple(
            Phrase(
                "making.strip_edge",
                {"edge": edge_words(edge.name), "length": edge.chain.length},
            )
            for edge in edges
        )
        yield Phrase(f"making.strip_{side}", {"edges": Several(parts)})


def _along(edge: Edge, side: str) -> float:
    middle = edge.chain.start.between(edge.chain.end, 0.5)
    return -middle.y if side in ("left", "right") else middle.x


def _marks(panel: Panel) -> Iterator[Sayable]:
    left, foot, right, top = _box(panel)
    for mark in panel.marks:
        if isinstance(mark.shape, Point):
            where = {"right": mark.shape.x - left, "up": mark.shape.y - foot}
            yield Phrase("making.strip_point", {"mark": plain(mark.name), **where})
            continue
        yield _line_mark(panel, mark, mark.shape, (right - left, top - foot))


def _line_mark(
    panel: Panel, mark: Mark, line: Chain, size: tuple[float, float]
) -> Sayable:
    """A line right across is told by its distance from the side it runs along."""
    left, foot, _, _ = _box(panel)
    step = line.end - line.start
    upright = abs(step.x) < SMALLEST and abs(abs(step.y) - size[1]) < SMALLEST
    level = abs(step.y) < SMALLEST and abs(abs(step.x) - size[0]) < SMALLEST
    if upright or level:
        sides = ("left",) if upright else ("foot",)
        edges = [e for e in panel.edges if _side_of(e, _box(panel)) in sides]
        longest = max(edges, key=lambda edge: edge.chain.length)
        distance = line.start.x - left if upright else line.start.y - foot
        values = {"mark": plain(mark.name), "distance": distance}
        return Phrase("making.strip_line", {**values, "edge": edge_words(longest.name)})
    ends = sorted([line.start, line.end], key=lambda end: (end.x, end.y))
    values = {
        "mark": plain(mark.name),
        "right": ends[0].x - left,
        "far_right": ends[1].x - left,
        "up": ends[0].y - foot,
        "far_up": ends[1].y - foot,
    }
    if abs(step.x) < SMALLEST:
        return Phrase("making.strip_upright", values)
    if abs(step.y) < SMALLEST:
        return Phrase("making.strip_level", values)
    return Phrase("making.strip_from_to", values)

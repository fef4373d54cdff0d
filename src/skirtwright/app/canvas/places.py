"""Where on the table lies what is told: a check, a seam, a step, a measure."""

from __future__ import annotations

from collections.abc import Mapping

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.scene import Scene
from skirtwright.draft.draft import Group
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Problem

_TAKEN_AT: Mapping[str, tuple[str, ...]] = {
    "waist": ("waist",),
    "hip": ("hip",),
    "waist_to_hip": ("hip",),
    "thigh": ("hip",),
    "knee": ("knee", "hem"),
    "waist_to_knee": ("knee", "hem"),
    "step_allowed": ("knee", "hem"),
    "length": ("hem",),
    "sweep": ("hem",),
    "waist_to_floor_front": ("hem",),
    "waist_to_floor_side": ("hem",),
    "waist_to_floor_back": ("hem",),
    "height": ("hem",),
}
"""Roles of edges and levels of the body by the measure, the first that is there."""


_AT_THE_LOWEST = frozenset(
    {"check.train", "check.point_on_floor", "check.point_near_floor"}
)
"""Of the place that lies nearest to the floor, or on it."""

_AT_THE_FOOT = frozenset({"check.off_grain", "check.seam_lean"})
"""Of the lower end of an edge or a seam, where it meets the hem."""


def place_of_measure(scene: Scene, measure: str) -> Point | None:
    """The middle of the first edge or level a measure is taken at, or None."""
    if measure == "top_hip":
        # The upper hip lies half way between the two.
        ends = [place_of_measure(scene, name) for name in ("waist", "hip")]
        return ends[0].between(ends[1], 0.5) if ends[0] and ends[1] else ends[1]
    finished = scene.look.report.finished if scene.look else {}
    parts = _TAKEN_AT.get(measure, ())
    if measure == "step_allowed" and finished and finished.get("knee") is None:
        # Not narrowed above its hem: it is the hem that holds her step.
        parts = ("hem",)
    for part in parts:
        for laid in scene.layout.laid:
            piece = scene.piece_of(laid)
            line = _line(piece, part) if piece else None
            if line is not None:
                return laid.at(line.at(line.length / 2))
    return None


def _line(piece: Piece, part: str) -> Chain | None:
    for edge in piece.edges:
        if edge.role == part:
            return piece.panel.edge(edge.name).chain
    return piece.panel.level(part)


def locate(scene: Scene, problem: Problem) -> Point | None:
    """The place of the table a problem is about; None for one that lies not on it."""
    where = problem.where
    lowest = _lowest(scene) if problem.code in _AT_THE_LOWEST else None
    if lowest is not None:
        return lowest
    handle = next((h for h in scene.points if where in h.amounts), None)
    if handle:
        return scene.at(handle)
    first, _, rest = where.partition(".")
    laid = scene.layout.find("piece", first) or scene.layout.of_panel(first)
    foot = problem.code in _AT_THE_FOOT
    if laid:
        return _part_of(scene.panel_of(laid), rest, laid, foot=foot)
    return (
        place_of_measure(scene, where)
        or _seam_place(scene, where, foot=foot)
        or _step_place(scene, where)
    )


def card_with(scene: Scene, where: str) -> str | None:
    """The card of the stack on which a piece or the first of a seam lies, or None."""
    sewn = _pieces_of_seam(scene, where)
    wanted = sewn[0] if sewn else where.partition(".")[0]
    for card in scene.layout.stack:
        if any(name == wanted for _, name in card.things):
            return card.key
    return None


def _part_of(panel: Panel, rest: str, laid: Laid, *, foot: bool = False) -> Point:
    """The middle of an edge, its `end` that is named, or its foot; a dart's tip."""
    name, _, end = rest.partition(" ")
    for edge in panel.edges:
        if edge.name == name:
            if foot:
                ends = map(laid.at, (edge.chain.start, edge.chain.end))
                return min(ends, key=lambda place: place.y)
            share = {"start": 0.0, "end": 1.0}.get(end, 0.5)
            return laid.at(edge.chain.at(edge.chain.length * share))
    tips = (dart.tip for dart in panel.darts if dart.name == name)
    tip = next(tips, None)
    return laid.box.middle if tip is None else laid.at(tip)


def _pieces_of_seam(scene: Scene, name: str) -> list[str]:
    seams = scene.good.report.cut.seams if scene.good else ()
    found = (walked.seam for walked in seams if walked.seam.name == name)
    return [run.piece for seam in found for side in seam.sides for run in side]


def _lowest(scene: Scene) -> Point | None:
    """The lowest place of the hems that lie on the table."""
    places = [
        laid.at(place)
        for laid in scene.layout.laid
        if (piece := scene.piece_of(laid)) is not None
        for edge in piece.edges
        if edge.role == "hem"
        for place in piece.panel.edge(edge.name).chain.flattened(1.0)
    ]
    return min(places, key=lambda place: place.y, default=None)


def _seam_place(scene: Scene, where: str, *, foot: bool = False) -> Point | None:
    """The middle of a seam's first edge, or its foot."""
    seams = scene.good.report.cut.seams if scene.good else ()
    for walked in seams:
        if walked.seam.name == where and walked.seam.sides[0]:
            run = walked.seam.sides[0][0]
            laid = scene.layout.find("piece", run.piece)
            if laid:
                return _part_of(scene.panel_of(laid), run.edge, laid, foot=foot)
    return None


def _step_called(scene: Scene, name: str) -> Step | None:
    """The step of the order's draft that has a name, or None."""
    waiting = list(scene.look.job.draft.steps) if scene.look else []
    while waiting:
        one = waiting.pop()
        if isinstance(one, Group):
            waiting.extend(one.steps)
        elif isinstance(one, Step) and one.step == name:
            return one
    return None


def _step_place(scene: Scene, where: str) -> Point | None:
    """What a step drew: its point, the middle of its line, or its panel's darts."""
    if scene.good is None:
        return None
    worked = scene.good.worked
    name = next((n for n, paths in worked.made_by.items() if where in paths), None)
    name = name or where.rpartition("/")[2]
    value = worked.values.get(name)
    panel = max((p for p in scene.panels if name.startswith(p)), key=len, default="")
    step = _step_called(scene, where.rpartition("/")[2])
    panel = getattr(step, "panel", panel)
    laid = scene.layout.of_panel(panel)
    if laid is None:
        return None
    edge = getattr(step, "edge", None)
    if isinstance(edge, str) and isinstance(value, Panel | None):
        return _part_of(scene.panel_of(laid), edge, laid)
    mark = scene.panel_of(laid).mark(str(getattr(step, "name", "")))
    drawn = mark.shape if mark is not None else value
    if isinstance(drawn, Point):
        return laid.at(drawn)
    if isinstance(drawn, Chain):
        return laid.at(drawn.at(drawn.length / 2))
    darts = scene.panel_of(laid).darts
    if "dart" in name and darts:
        return laid.at(darts[0].tip)
    return laid.box.middle

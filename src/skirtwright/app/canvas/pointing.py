"""What lies under the pointer, and what there is to say about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import mark_name
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.stepping import shown
from skirtwright.app.canvas.view import View
from skirtwright.draft.pulls import Handle
from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.geometry.box import box_of
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import holds
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.edge_names import edge_title
from skirtwright.pieces.wording.labels import cut_line
from skirtwright.problems import NotFound
from skirtwright.telling.names_in_words import plain
from skirtwright.words import Manner, has_message, say, translate

REACH = 9.0
"""How near the pointer must come to a line or a corner, px."""

_FLAT = 0.4
Kind = Literal["corner", "dart", "edge", "line", "thing"]


@dataclass(frozen=True)
class Found:
    """Something on the table.

    Attributes:
        name: as a place of the draft, such as `front.side`; what is asked why.
        laid: the panel or piece it belongs to.
        shape: its line or its place, in the drafted coordinates.
    """

    kind: Kind
    name: str
    laid: Laid
    shape: Chain | Point | None = None


def find(scene: Scene, view: View, x: float, y: float) -> Found | None:
    """What lies under a pixel: corners first, then lines, then what they enclose."""
    place = view.table(x, y)
    reach = REACH / view.scale
    best: tuple[float, Found] | None = None
    around: Found | None = None
    for laid in scene.layout.laid:
        if not laid.box.grown(reach).holds(place):
            continue
        panel = scene.panel_of(laid)
        here = laid.drafted(place)
        for away, found in _lines_and_corners(scene, laid, panel, here, reach):
            if best is None or away < best[0]:
                best = away, found
        piece = scene.piece_of(laid)
        if holds(panel.outline.flattened(1.0), here):
            around = Found("thing", laid.panel, laid)
        elif piece and holds(piece.cut, here):
            around = _edge_beside(piece, laid, here)
    return best[1] if best else around


def _edge_beside(piece: Piece, laid: Laid, here: Point) -> Found:
    """The edge whose allowance a place lies in."""
    edge = min(piece.panel.edges, key=lambda each: each.chain.nearest(here)[1])
    return Found("edge", f"{laid.panel}.{edge.name}", laid, edge.chain)


def _lines_and_corners(
    scene: Scene, laid: Laid, panel: Panel, here: Point, reach: float
) -> Iterator[tuple[float, Found]]:
    """What lies within reach, with how far away; corners count as nearer."""
    base = laid.panel
    for dart in panel.darts:
        away = dart.tip.to(here)
        if away <= reach:
            yield away / 3, Found("dart", f"{base}.{dart.name}.tip", laid, dart.tip)
    for name, corner in corners(scene, panel):
        away = corner.to(here)
        if away <= reach:
            yield away / 3 - SAME, Found("corner", name, laid, corner)
    lines: list[tuple[Kind, str, Chain]] = [
        ("edge", e.name, e.chain) for e in panel.edges
    ]
    lines += [
        ("line", m.name, m.shape) for m in panel.marks if isinstance(m.shape, Chain)
    ]
    for kind, name, chain in lines:
        gap = _distance_within(chain, here, reach)
        if gap is not None:
            yield gap, Found(kind, f"{base}.{name}", laid, chain)


def corners(scene: Scene, panel: Panel) -> Iterator[tuple[str, Point]]:
    """The named points of the draft that lie on a panel's corners."""
    if scene.good is None:
        return
    ends = [edge.chain.start for edge in panel.edges]
    ends += [s.end for edge in panel.edges for s in edge.chain.segments]
    values = scene.good.worked.values
    named = [(n, v) for n, v in values.items() if isinstance(v, Point)]
    for end in ends:
        name = next((n for n, point in named if point.is_at(end)), None)
        if name:
            yield name, end


def _distance_within(chain: Chain, here: Point, reach: float) -> float | None:
    """How far a line is, when it is within reach."""
    points = chain.flattened(_FLAT)
    if not box_of(points).grown(reach).holds(here):
        return None
    away = min(_from_side(here, first, second) for first, second in pairwise(points))
    return away if away <= reach else None


def _from_side(here: Point, first: Point, second: Point) -> float:
    along = second - first
    size = along.dot(along)
    share = (here - first).dot(along) / size if size else 0.0
    return first.between(second, min(max(share, 0.0), 1.0)).to(here)


def found_again(scene: Scene, found: Found) -> Found | None:
    """The same thing after a change; None when it is gone."""
    laid = scene.layout.find(found.laid.kind, found.laid.name)
    if laid is None or scene.good is None:
        return None
    shape: Any = None
    try:
        if found.kind == "corner":
            shape = scene.good.worked.values[found.name]
        elif found.kind != "thing":
            shape = scene.panel_of(laid).part(found.name.partition(".")[2])
    except (KeyError, NotFound):
        return None
    return Found(found.kind, found.name, laid, shape)


# What there is to say


def describe(scene: Scene, found: Found, manner: Manner) -> str:
    """The sentence of something on the table, with its numbers."""
    panel = scene.panel_of(found.laid)
    piece = scene.piece_of(found.laid)
    rest = found.name.partition(".")[2]
    values: dict[str, Any] = {"panel": title_of(scene, found.laid, manner)}
    if found.kind == "thing":
        if piece is None:
            return say("table.panel", values, manner)
        return say("table.piece", {**values, "cut": cut_line(piece, manner)}, manner)
    if found.kind == "corner":
        return _corner_said(scene, found, values, manner)
    if found.kind == "dart":
        dart = panel.dart(rest.removesuffix(".tip"))
        return say("table.dart", {**values, **_dart(panel, dart)}, manner)
    if found.kind == "line":
        values["line"] = mark_name(rest, manner)
        values["length"] = found.shape.length if isinstance(found.shape, Chain) else 0
        return say("table.line", values, manner)
    return _edge_said(panel, piece, rest, values, manner)


def _dart(panel: Panel, dart: Dart) -> dict[str, Any]:
    left, right = panel.legs(dart)
    middle = left.between(right, 0.5)
    return {"width": left.to(right), "depth": middle.to(dart.tip)}


def _edge_said(
    panel: Panel, piece: Piece | None, edge: str, values: dict[str, Any], manner: Manner
) -> str:
    values = {**values, "edge": edge_title(edge, manner)}
    values["length"] = panel.edge(edge).chain.length
    if piece is None:
        return say("table.edge", values, manner)
    if edge in piece.spec.folds:
        return say("table.edge_on_fold", values, manner)
    cut = next(e for e in piece.edges if e.name == edge)
    values["allowance"] = cut.allowance if cut.allowances else 0.0
    return say("table.edge_of_piece", values, manner)


def _corner_said(
    scene: Scene, found: Found, values: dict[str, Any], manner: Manner
) -> str:
    """A corner says the step that drew it."""
    said = say("table.corner", {**values, "name": plain(found.name)}, manner)
    if scene.good is None:
        return said
    made_by = scene.good.worked.made_by.get(found.name, ())
    if not made_by:
        return said
    from skirtwright.telling.sentences import sentence

    step = sentence(scene.good.worked, made_by[-1])
    if not has_message(step.message):
        return said
    return say(step.message, step.values, manner)


def title_of(scene: Scene, laid: Laid, manner: Manner) -> str:
    """What a panel or piece is called."""
    for piece in scene.pieces:
        held = piece.name if laid.kind == "piece" else piece.spec.panel
        if held == laid.name:
            return translate(piece.spec.title, manner)
    return plain(laid.name).capitalize()


def point_said(scene: Scene, handle: Handle, manner: Manner) -> str:
    """What a pull point does, and where its amount stands."""
    state = scene.state(handle.amount)
    if state is None:
        return ""
    told, (value,) = state.amount.told(state.value)
    label = translate(told, manner)
    values = {"label": label, "value": shown(state, value, manner)}
    if not scene.is_dim(handle):
        return say("table.pull", values, manner)
    more = scene.stronger_amount(handle)
    if more is None:
        return say("table.pull_vain", values, manner)
    values["more"] = translate(more.amount.label, manner)
    return say("table.pull_other", values, manner)

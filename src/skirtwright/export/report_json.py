"""The report as others read it: JSON, mm, mm2, degrees; x right, y up."""

from __future__ import annotations

from typing import Any

from skirtwright import __version__
from skirtwright.draft.halves.halving import both_sides
from skirtwright.draft.shapes.panel import Panel
from skirtwright.figure.body import Body, Section
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import without_repeats
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.lay.cloth_to_cut import sold
from skirtwright.lay.lay import Lay, Placed
from skirtwright.measures.measurements import SIDES, known_measurement
from skirtwright.measures.units import Unit
from skirtwright.pieces.folding import folded
from skirtwright.pieces.larger import Shrinks
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Problem
from skirtwright.report import Report
from skirtwright.words import Manner, remedy, says

_CROSSING = ("edge", "distance", "intake", "width", "legs", "folded")


def as_json(report: Report, manner: Manner = Manner()) -> dict[str, Any]:
    """The report as others read it: mm, mm2, degrees; x right, y up."""
    worked, cut = report.worked, report.cut
    stated = worked.stated
    return {
        "skirtwright": __version__,
        "title": report.title,
        "style": worked.draft.id,
        "measurements": _measurements(report),
        "estimated": list(stated.estimated),
        "unused": list(report.unused),
        "amounts": {n: s.value for n, s in stated.amounts.items() if s.applies},
        "choices": dict(stated.choices),
        "points": {
            name: _plain(value)
            for name, value in worked.values.items()
            if isinstance(value, Point)
        },
        "panels": {
            name: _panel(value)
            for name, value in worked.values.items()
            if isinstance(value, Panel)
        },
        "pieces": [
            _piece(piece, piece.name in cut.hidden, report.shrinks)
            for piece in cut.listed
        ],
        "seams": [
            {
                "name": walked.seam.name,
                "sides": [
                    [[run.piece, run.signed] for run in side]
                    for side in walked.seam.sides
                ],
                "lengths": list(walked.lengths),
                "ease": walked.seam.ease,
                "difference": walked.difference,
                "half": walked.seam.half,
            }
            for walked in cut.seams
        ],
        "finished": dict(report.finished),
        "figure": figure_as_json(report.body),
        "lay": [_lay(laid, manner.unit) for laid in report.lays],
        "altered": [line.said(manner) for line in report.altered],
        "problems": [_problem(problem, manner) for problem in report.problems],
    }


def _measurements(report: Report) -> dict[str, float]:
    """Those drafted with; behind one taken by sides, where its mean is, each side."""
    taken = both_sides(report.taken)
    found: dict[str, float] = {}
    for name, value in report.worked.stated.measurements.items():
        found[name] = value
        share = 2 if known_measurement(name).sides == "half" else 1
        for side, whole in zip(SIDES, taken.get(name, ()), strict=False):
            found[f"{name}_{side}"] = whole / share
    return found


def figure_as_json(body: Body | None) -> dict[str, Any] | None:
    """Her sections: mm, z up from the floor, x to her left, y to her front."""
    if body is None:
        return None
    return {"sections": [_section(section) for section in body.sections]}


def _section(section: Section) -> dict[str, Any]:
    return {
        **_fields(section, "name", "height"),
        "heights": [section.left, section.right],
        "girth": section.girth,
        "girths": [oval.girth for oval in section.ovals],
        "guessed": section.guessed,
        "rings": [[list(place) for place in oval.ring()] for oval in section.ovals],
    }


def _fields(thing: Any, *names: str) -> dict[str, Any]:
    """Some of what a thing holds, under the names it has there."""
    return {name: _plain(getattr(thing, name)) for name in names}


def _plain(value: Any) -> Any:
    """A place as two numbers, and several of anything as a list."""
    if isinstance(value, Point):
        return [value.x, value.y]
    return [*map(_plain, value)] if isinstance(value, list | tuple) else value


def _panel(panel: Panel) -> dict[str, Any]:
    return {
        "area": panel.area,
        "edges": [
            {
                "name": edge.name,
                **_fields(edge.chain, "length", "start", "end"),
            }
            for edge in panel.edges
        ],
        "outline": _plain(outline(panel)),
    }


def outline(panel: Panel) -> list[Point]:
    """A panel's outline as a simple ring within 0.05 mm, first point not repeated.

    It is flattened 25 times finer than that, so that lengths and widths worked from it,
    several added, agree with the true ones to a hundredth of a millimetre.
    """
    return without_repeats(panel.outline.flattened(OUTLINE / 25))


def _piece(piece: Piece, hidden: bool, shrinks: Shrinks) -> dict[str, Any]:
    spec = piece.spec
    along, across = shrinks.get(spec.material, (0.0, 0.0))
    return {
        "name": piece.name,
        "title": spec.title,
        "hidden": hidden,
        **_fields(spec, "panel", "body", "material"),
        "cut": _fields(spec, "count", "folds", "mirrored"),
        "edges": [
            {
                **_fields(edge, "name", "role", "length", "start", "end"),
                "allowance": edge.allowances[-1][0] if edge.allowances else 0.0,
                "allowances": [
                    {"width": width, "length": length}
                    for width, length in edge.allowances
                ],
            }
            for edge in piece.edges
        ],
        "darts": [
            _fields(dart, "name", "edge", "tip", "legs", "intake")
            for dart in piece.darts
        ],
        "pleats": [
            {
                "name": fold.name,
                "edges": [_fields(met, *_CROSSING) for met in fold.edges],
            }
            for fold in folded(piece.panel, halves_hang=True)
        ],
        "stitch_area": piece.stitch_area,
        "cut_area": piece.cut_area,
        "stitch_outline": _plain(outline(piece.panel)),
        "cut_outline": _plain(piece.cut),
        "notches": [_fields(n, "edge", "distance", "count") for n in piece.notches],
        "grain_deg": piece.grain_deg,
        "cut_larger": {"along": 1 / (1 - along), "across": 1 / (1 - across)},
    }


def _lay(laid: Lay, unit: Unit) -> dict[str, Any]:
    cloth = laid.cloth
    return {
        "material": cloth.material,
        "cloth_width": cloth.width,
        "usable": [cloth.edge, cloth.edge + cloth.room],
        "length": laid.length,
        "needed": laid.bought,
        "bought": sold(laid.bought, unit),
        "efficiency": laid.efficiency,
        "folded": cloth.fold != "single",
        **_fields(cloth, "fold", "one_way"),
        "placed": [_placed(placed) for placed in laid.placed],
    }


def _placed(placed: Placed) -> dict[str, Any]:
    origin = placed.motion(Point(0, 0))
    return {
        "piece": placed.copy.piece.name,
        "x": origin.x,
        "y": origin.y,
        **_fields(placed.way, "rotation_deg", "mirrored"),
        **_fields(placed.copy, "on_fold", "opened", "gives"),
        "outline": _plain(placed.outline),
    }


def _problem(problem: Problem, manner: Manner) -> dict[str, Any]:
    return {
        **_fields(problem, "code", "severity", "where"),
        "says": says(problem, manner),
        "remedy": remedy(problem, manner),
    }

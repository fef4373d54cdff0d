"""Finishing a panel for cutting: its cutting line, its marks, and what cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import Any, Final

from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.geometry import Chain, Line, bend_deg, straight
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.marks.inner_marks import clips, lengthen_lines
from skirtwright.pieces.marks.notches import dart_notches, fold_notches, notch
from skirtwright.pieces.outline.allowance import CuttingLine, cutting_line, runs_of
from skirtwright.pieces.piece import CutDart, Piece, PieceEdge
from skirtwright.pieces.spec import NotchSpec, PieceSpec
from skirtwright.problems import Problem

DRILL: Final = 15.0
"""From a dart's tip to its drill mark, mm (common practice, no source)."""

_BRACKET: Final = 15.0
"""How far a fold bracket stands off the fold, mm (common practice, no source)."""

_BENT_FOLD_DEG: Final = 0.01


def make_piece(panel: Panel, spec: PieceSpec, worn: Panel | None = None) -> Piece:
    """Finish a panel for cutting.

    A setting whose edge, or whose mark, the panel no longer has is passed over and
    said.

    Raises:
        BadInput: an allowance is negative or not a number.
    """
    kept, problems = _kept(panel, spec)
    known = {
        "spec": spec,
        "panel": panel,
        "edges": tuple(_edge(panel, kept, edge.name) for edge in panel.edges),
        "worn": worn,
    }
    return Piece.later(partial(_finished, kept, tuple(problems), known), **known)


def _finished(
    kept: PieceSpec, said: tuple[Problem, ...], known: Mapping[str, Any]
) -> Piece:
    """A piece finished for cutting, as far as its settings have their edges."""
    panel: Panel = known["panel"]
    line = cutting_line(panel, kept.allowances, kept.folds, kept.corners)
    problems = [*said, *_bent_folds(panel, kept), *_short(kept, line)]
    asked = []
    for wanted in kept.notches:
        if 0 <= wanted.distance <= panel.edge(wanted.edge).chain.length + SAME:
            asked.append(notch(panel, line.ring, wanted))
        else:
            problems.append(_off_edge(panel, kept, wanted))
    legs = [n for dart in panel.darts for n in dart_notches(panel, line.ring, dart)]
    marks = [(name, panel.mark(name)) for name in kept.inside]
    allowances = {k: v for k, v in kept.allowances.items() if k not in kept.folds}
    return Piece(
        **known,
        cut=line.ring,
        darts=tuple(_dart(panel, dart) for dart in panel.darts),
        notches=(*asked, *legs, *fold_notches(panel, line.ring)),
        brackets=tuple(_bracket(panel, name) for name in kept.folds),
        inside=tuple((name, mark.shape) for name, mark in marks if mark),
        problems=tuple(problems),
        clips=tuple(clips(panel, line.ring, allowances)),
        lengthen=lengthen_lines(panel, line.ring, kept.inside),
    )


def _kept(panel: Panel, spec: PieceSpec) -> tuple[PieceSpec, list[Problem]]:
    """The settings whose edges and marks are there, and a note for each that isn't."""
    known = {edge.name for edge in panel.edges}
    asked = [*spec.folds, *spec.allowances, *(edge for edge, _ in spec.corners)]
    asked += [n.edge for n in spec.notches] + (
        [spec.grain.along] * bool(spec.grain.along)
    )
    lost = [name for name in dict.fromkeys(asked) if name not in known]
    lost += [name for name in spec.inside if panel.mark(name) is None]
    if not lost:
        return spec, []
    problems = [
        Problem(
            "pieces.edge_gone",
            "note",
            f"{spec.name}.{name}",
            {"piece": spec.title, "edge": name},
        )
        for name in lost
    ]
    kept = replace(
        spec,
        folds=tuple(name for name in spec.folds if name in known),
        allowances={k: v for k, v in spec.allowances.items() if k in known},
        corners={k: v for k, v in spec.corners.items() if k[0] in known},
        notches=tuple(n for n in spec.notches if n.edge in known),
    )
    return kept, problems


def _edge(panel: Panel, spec: PieceSpec, name: str) -> PieceEdge:
    chain = panel.edge(name).chain
    runs = () if name in spec.folds else spec.allowances.get(name, ())
    widths = tuple((width, part.length) for part, width in runs_of(chain, runs, name))
    role = spec.role(name)
    return PieceEdge(name, chain.length, chain.start, chain.end, widths, role)


def _dart(panel: Panel, dart: Dart) -> CutDart:
    left, right = panel.legs(dart)
    middle = left.between(right, 0.5)
    long = dart.tip.to(middle)
    drill = dart.tip.between(middle, min(DRILL / long, 0.5) if long else 0.0)
    fold = Line(dart.tip, middle)
    down, up = panel.leg_lines(dart)
    return CutDart(
        dart.name,
        dart.edge,
        dart.tip,
        (left, right),
        left.to(right),
        drill,
        fold,
        down.and_then(up.reversed()),
    )


def _bracket(panel: Panel, name: str) -> Chain:
    """A line beside the fold with an arm to it at either end."""
    edge = panel.edge(name)
    first, last = edge.ringwise.start, edge.ringwise.end
    inwards = (last - first).left().unit() * _BRACKET
    low, high = first.between(last, 0.15), first.between(last, 0.85)
    return straight(low, low + inwards, high + inwards, high)


def _bent_folds(panel: Panel, spec: PieceSpec) -> Iterator[Problem]:
    for name in spec.folds:
        chain = panel.edge(name).chain
        way = chain.end - chain.start
        directions = [s.start_direction for s in chain.segments]
        directions += [s.end_direction for s in chain.segments]
        if any(abs(bend_deg(way, step)) > _BENT_FOLD_DEG for step in directions):
            yield Problem(
                "pieces.fold_not_straight",
                "wrong",
                f"{spec.name}.{name}",
                {"piece": spec.title, "edge": name},
            )


def _short(spec: PieceSpec, line: CuttingLine) -> Iterator[Problem]:
    for name, hollow in line.hollows.items():
        yield Problem(
            "pieces.allowance_hollow",
            "note",
            f"{spec.name}.{name}",
            {
                "piece": spec.title,
                "edge": name,
                "radius": hollow.radius,
                "left": hollow.width,
            },
        )
    for name, missing in line.short.items():
        yield Problem(
            "pieces.allowance_short",
            "caution",
            f"{spec.name}.{name}",
            {"piece": spec.title, "edge": name, "missing": missing},
        )


def _off_edge(panel: Panel, spec: PieceSpec, wanted: NotchSpec) -> Problem:
    return Problem(
        "pieces.notch_off_edge",
        "caution",
        f"{spec.name}.{wanted.edge}",
        {
            "piece": spec.title,
            "edge": wanted.edge,
            "distance": wanted.distance,
            "length": panel.edge(wanted.edge).chain.length,
        },
    )

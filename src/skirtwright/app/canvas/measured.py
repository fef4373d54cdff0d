"""Where on the table a finished or a body measure is taken."""

from __future__ import annotations

from collections.abc import Mapping

from skirtwright.app.canvas.scene import Scene
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece

_TAKEN_AT: Mapping[str, tuple[str, ...]] = {
    "waist": ("waist",),
    "hip": ("hip",),
    "waist_to_hip": ("hip",),
    "top_hip": ("hip",),
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


def place_of_measure(scene: Scene, measure: str) -> Point | None:
    """The middle of the first edge or level a measure is taken at, or None."""
    for part in _TAKEN_AT.get(measure, ()):
        for laid in scene.layout.laid:
            if laid.kind != "piece":
                continue
            piece = next(p for p in scene.pieces if p.name == laid.name)
            line = _line(piece, part)
            if line is not None:
                return line.at(line.length / 2) + laid.offset
    return None


def _line(piece: Piece, part: str) -> Chain | None:
    for edge in piece.edges:
        if edge.role == part:
            return piece.panel.edge(edge.name).chain
    return piece.panel.level(part)

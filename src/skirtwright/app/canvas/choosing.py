"""Pieces and their edges chosen, by hand on the table or from elsewhere."""

from __future__ import annotations

from skirtwright.app.canvas.pointing import Found
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import View
from skirtwright.geometry.chain import Chain
from skirtwright.problems import NotFound


def found_piece(scene: Scene, name: str, edge: str = "") -> Found | None:
    """A piece on the table, or an edge of it; None when it is not there."""
    laid = scene.layout.find("piece", name)
    if laid is None:
        return None
    if not edge:
        return Found("thing", laid.panel, laid)
    try:
        chain = scene.panel_of(laid).edge(edge).chain
    except NotFound:
        return None
    return Found("edge", f"{laid.panel}.{edge}", laid, chain)


def edge_of(found: Found | None) -> tuple[str, str] | None:
    """The piece and the edge of it that was found; None for anything else."""
    if found is None or found.kind != "edge" or found.laid.kind != "piece":
        return None
    return found.laid.name, found.name.partition(".")[2]


def along(found: Found, view: View, x: float, y: float) -> float:
    """How far along a found edge the place next to a pixel is walked, mm."""
    if not isinstance(found.shape, Chain):
        return 0.0
    return found.shape.nearest(found.laid.drafted(view.table(x, y)))[0]

"""Every finding of the checks can be shown on the table, one click away."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parents[2] / "pieces"))

from wrong_drafts import WRONG

from skirtwright.app.canvas.laying import Laid, Layout
from skirtwright.app.canvas.places import locate
from skirtwright.app.canvas.scene import Scene
from skirtwright.geometry.box import box_of
from skirtwright.geometry.point import Point
from skirtwright.problems import Problem


def table_of(found):
    """The pieces of a draft made wrong on purpose, laid out side by side."""
    laid, panels = [], {}
    for number, piece in enumerate(found.cut.pieces):
        offset = Point(1500.0 * number, 0.0)
        box = box_of(piece.cut).moved(offset)
        panel = piece.spec.panel
        panels[panel] = piece.panel
        laid.append(Laid("piece", piece.name, panel, offset, False, box, box))
    good = SimpleNamespace(worked=found.worked, report=SimpleNamespace(cut=found.cut))
    return Scene(
        good=good, panels=panels, pieces=found.cut.pieces, layout=Layout(tuple(laid))
    )


def test_every_finding_of_a_wrong_draft_has_its_place():
    for code, made_wrong in WRONG.items():
        found = made_wrong()
        scene = table_of(found)
        told = [problem for problem in found if problem.code == f"check.{code}"]
        assert told, code
        for problem in told:
            place = locate(scene, problem)
            assert place is not None, (code, problem.where)
            boxes = [laid.box.grown(1) for laid in scene.layout.laid]
            assert any(box.holds(place) for box in boxes), code


def test_the_place_is_the_very_spot():
    """The end of an edge, the tip of a dart, the edge a measure is taken along."""
    found = WRONG["dart_tip"]()
    scene = table_of(found)
    front = found.cut.pieces[0]
    where = {
        "front.dart[1]": front.darts[0].tip,
        "front.side end": front.panel.edge("side").chain.end,
        "front.hem start": front.panel.edge("hem").chain.start,
        "waist": front.panel.edge("waist").chain.at(
            front.panel.edge("waist").chain.length / 2
        ),
    }
    for name, place in where.items():
        assert locate(scene, Problem("x", "wrong", name)).to(place) < 1e-6, name
    # A sentence about the hem end of an edge points at its foot.
    side = front.panel.edge("side").chain
    foot = min((side.start, side.end), key=lambda place: place.y)
    grain = Problem("check.off_grain", "wrong", "front.side")
    assert locate(scene, grain).to(foot) < 1e-6

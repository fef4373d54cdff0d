"""Signs on the table for what there is to look at."""

from __future__ import annotations

from skirtwright.app.canvas.places import locate
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import View
from skirtwright.geometry.point import Point
from skirtwright.problems import Problem

ABOVE = 22.0
"""How far above its place a sign stands, px."""

_HALF = 14.0


class Signs:
    """The signs.

    Attributes:
        places: each check that is more than a note, with its place on the table.
        shown: the one she asked to be shown, or clicked.
        hovered: the one under the pointer.
    """

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self.places: list[tuple[Problem, Point]] = []
        self.shown: Problem | None = None
        self.hovered: Problem | None = None

    def renew(self) -> None:
        """Signs for the order as it stands."""
        look = self._scene.look
        problems = look.problems if look else ()
        found = [(p, locate(self._scene, p)) for p in problems if p.severity != "note"]
        self.places = [(problem, place) for problem, place in found if place]
        if all(self.shown != problem for problem, _ in self.places):
            self.shown = None
        self.hovered = None

    def show(self, problem: Problem) -> Point | None:
        """Put a ring round a check's place; None when it is about nothing drawn."""
        place = locate(self._scene, problem)
        self.shown = problem if place else None
        if place and all(known != problem for known, _ in self.places):
            self.places.append((problem, place))
        return place

    def hit(self, view: View, x: float, y: float) -> Problem | None:
        """The check whose sign lies under a pixel."""
        for problem, place in self.places:
            at = view.screen(place)
            if max(abs(at[0] - x), abs(at[1] - ABOVE - y)) <= _HALF:
                return problem
        return None

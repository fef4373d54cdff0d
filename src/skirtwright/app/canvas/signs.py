"""Numbered pins on the table for what there is to look at: three at most."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.app.canvas.fitting import Area
from skirtwright.app.canvas.places import locate
from skirtwright.app.canvas.scene import Scene
from skirtwright.geometry.point import Point
from skirtwright.problems import Problem

MOST = 3
"""Pins on the table at once."""

PIN = 32.0
"""Across a pin, px."""


@dataclass(frozen=True)
class Pin:
    """A pin where it stands.

    Attributes:
        number: of its check, the gravest being the first; 0 for a note.
        place: on the table, mm, where its leader ends.
        area: of the pin, px.
    """

    number: int
    problem: Problem
    place: Point
    area: Area


class Signs:
    """What is pinned.

    Attributes:
        places: the gravest checks, each with its number and its place on the table.
    """

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self.places: list[tuple[int, Problem, Point]] = []
        self.shown: Problem | None = None
        self.hovered: Problem | None = None

    def renew(self) -> None:
        """Pins for the order as it stands."""
        self.places = []
        for problem in self._serious():
            place = locate(self._scene, problem)
            if place and len(self.places) < MOST:
                self._pin(problem, place)
        if all(self.shown != problem for _, problem, _ in self.places):
            self.shown = None
        self.hovered = None

    def _serious(self) -> list[Problem]:
        """All that is more than a note, the gravest first."""
        problems = self._scene.look.problems if self._scene.look else ()
        return [problem for problem in problems if problem.severity != "note"]

    def _pin(self, problem: Problem, place: Point) -> None:
        serious = self._serious()
        number = serious.index(problem) + 1 if problem in serious else 0
        self.places.append((number, problem, place))

    def show(self, problem: Problem) -> Point | None:
        """Put a ring round a check's place; None when it is about nothing drawn.

        It is pinned for it, in the place of the least grave.
        """
        place = locate(self._scene, problem)
        self.shown = problem if place else None
        if place and all(known != problem for _, known, _ in self.places):
            del self.places[MOST - 1 :]
            self._pin(problem, place)
        return place

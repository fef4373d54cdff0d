"""Papers, rolls, plotters and line styles, read from resources.

The tables are data, so that a paper or a machine is added without code. Names are
compared without regard to capitals. What is asked for and not there is bad input that
lists what there is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

from skirtwright.export.sheet import LAYERS, SIZE_LAYERS, Layer
from skirtwright.problems import BadInput
from skirtwright.shelf import read_toml

Ink = tuple[float, float, float]
"""Red, green and blue, 0 to 1."""


@dataclass(frozen=True)
class Paper:
    """A sheet for a home printer, upright, mm."""

    key: str
    name: str
    width: float
    height: float
    margin: float


@dataclass(frozen=True)
class Roll:
    """Paper on a roll, or large cut sheets, mm."""

    key: str
    name: str
    width: float
    longest_page: float
    sheets: bool = False


@dataclass(frozen=True)
class Plotter:
    """A pen plotter or cutter. Attributes as `resources/plotters/plotters.toml`."""

    key: str
    name: str
    step: float
    roll: float
    longest_frame: float
    origin: Literal["corner", "centre"]
    most: int
    pens: Mapping[Layer, int]
    solid_pens: Mapping[Layer, int] = field(default_factory=dict)
    grain_along: bool = True
    speed: int = 0
    prefix: str = ""

    def pens_for(self, *, solid: bool) -> dict[Layer, int]:
        """Which tool takes each kind of line, with dashes or with solid lines."""
        pens = {**self.pens, **(self.solid_pens if solid else {})}
        # Sizes over one another are drawn: no knife can cut them all.
        pen = pens.get("stitching", pens.get("cutting", 1))
        return dict.fromkeys(SIZE_LAYERS, pen) | pens


@dataclass(frozen=True)
class LineStyle:
    """How one kind of line is drawn: pen in mm, dashes in mm, ink."""

    weight: float
    dash: tuple[float, ...]
    ink: Ink


@dataclass(frozen=True)
class Look:
    """The styles of all kinds of line, and the colour of the paper."""

    paper: Ink
    styles: Mapping[Layer, LineStyle]


Found = TypeVar("Found")

LEAST_ROLL = 250.0
"""A roll must at least hold the two test squares side by side, mm."""

MOST_ROLL = 5000.0

_SIZE_WEIGHT = 5 / 7
"""Of the pen of a cutting line: 0.5 mm for 0.7, the next in the series of ISO 128."""


def papers() -> dict[str, Paper]:
    """Every known paper, by key."""
    return {k: Paper(k, **v) for k, v in read_toml("papers/papers.toml").items()}


def rolls() -> dict[str, Roll]:
    """Every known roll, by key."""
    return {k: Roll(k, **v) for k, v in read_toml("papers/rolls.toml").items()}


def plotters() -> dict[str, Plotter]:
    """Every known plotter, by key."""
    return {k: Plotter(k, **v) for k, v in read_toml("plotters/plotters.toml").items()}


def looks() -> dict[str, Look]:
    """Line styles: `paper`, `projector-light`, `projector-dark`."""
    tables = read_toml("papers/lines.toml")
    return {key: _look(rows) for key, rows in tables.items() if key != "sizes"}


def paper_named(name: str) -> Paper:
    """The paper of that key or name.

    Raises:
        BadInput: `print.unknown_paper`, values name and known.
    """
    return _named(papers(), name, "print.unknown_paper")


def roll_named(name: str) -> Roll:
    """The roll of that key or name.

    Raises:
        BadInput: `print.unknown_roll`.
    """
    return _named(rolls(), name, "print.unknown_roll")


def plotter_named(name: str) -> Plotter:
    """The plotter of that key or name.

    Raises:
        BadInput: `print.unknown_plotter`.
    """
    return _named(plotters(), name, "print.unknown_plotter")


def own_roll(width_mm: float) -> Roll:
    """A roll of her own width, or the known one that is exactly as wide.

    Raises:
        BadInput: `print.roll_size`, when it is no width a roll can have.
    """
    if not math.isfinite(width_mm) or not LEAST_ROLL <= width_mm <= MOST_ROLL:
        raise BadInput(
            "print.roll_size", "roll", width=width_mm, least=LEAST_ROLL, most=MOST_ROLL
        )
    longest = max(roll.longest_page for roll in rolls().values())
    return Roll("own", "", width_mm, longest)


def _named(table: Mapping[str, Found], name: str, code: str) -> Found:
    wanted = name.strip().casefold()
    for key, entry in table.items():
        if wanted in (key.casefold(), str(getattr(entry, "name", "")).casefold()):
            return entry
    raise BadInput(code, name, name=name, known=", ".join(table))


def _look(rows: Mapping[str, Any]) -> Look:
    styles: dict[Layer, LineStyle] = {}
    sizes = iter(read_toml("papers/lines.toml")["sizes"]["dashes"])
    for layer in LAYERS:
        of_size = layer in SIZE_LAYERS
        row = rows["cutting" if of_size else layer]
        weight = _SIZE_WEIGHT * row["weight"] if of_size else row["weight"]
        parts = next(sizes) if of_size else row["dash"]
        dash = tuple(round(part * weight, 4) for part in parts)
        styles[layer] = LineStyle(weight, dash, tuple(row["ink"]))
    return Look(tuple(rows["paper"]), styles)

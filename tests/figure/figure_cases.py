"""The figure's golden pictures: each style of the shelf on the sample client."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from drafting import OneWorktable
from skirtwright.draft import styles
from skirtwright.export.figure_picture import figure_svg
from skirtwright.figure.drawn_figure import VIEWS, Line
from skirtwright.figure.views import dressed
from skirtwright.figure.wearing import Wearing
from skirtwright.job.job import new_job

FOLDER = Path(__file__).parents[1] / "golden" / "figures"
APART = 900.0
"""Between front, side and back on one picture, mm."""


WORKTABLE = OneWorktable()
"""Shared: it only remembers what need not be worked again."""


@cache
def look_of(style, **choices):
    job = new_job(styles.style(style))
    return WORKTABLE.look(job.replace(choices=choices))


def worn_by_sample(style, *, fine=False, **choices):
    """A style on the sample client."""
    return look_of(style, **choices).report.worn(Wearing(), fine=fine)


def three_views(skirt):
    """Front, side and back beside one another."""
    return tuple(
        Line(line.kind, tuple((x + number * APART, y) for x, y in line.points))
        for number, view in enumerate(VIEWS)
        for line in dressed(skirt, view)
    )


def svg_of(style):
    return figure_svg(three_views(worn_by_sample(style)), style)

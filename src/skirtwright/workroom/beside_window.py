"""What the window has worked in another process: a text in, plain values out."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.export.quote import Needed, Terms, needed, quote_pdf
from skirtwright.figure.drawn_figure import written_picture
from skirtwright.figure.views import dressed
from skirtwright.job import file
from skirtwright.job.worktable import Look, Worktable, laid
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import Manner
from skirtwright.workroom.one_person import ORDER


@dataclass(frozen=True)
class Seen:
    """An order as it is shown small.

    Attributes:
        picture: the skirt on her, as `drawn_figure.read_picture` reads it; empty where
            nothing hangs from her waist.
        problems: what is wrong with it or to be looked at, the gravest first.
        finished: finished measures, mm; None where the style has none.
    """

    picture: str
    problems: tuple[Problem, ...]
    finished: dict[str, float | None]


def _worked(text: str) -> Look:
    return Worktable().look(file.read(text, ORDER)).unrefused()


def seen(text: str) -> Seen | Problem:
    """An order worked and drawn on its client.

    Args:
        text: of a .skirt file.

    Returns:
        What is to be shown; what kept it from being worked.
    """
    try:
        report = _worked(text).report
        skirt = report.worn()
    except SkirtwrightError as refused:
        return refused.problem
    picture = written_picture(dressed(skirt, "front")) if skirt else ""
    found = tuple(p for p in report.problems if p.severity != "note")
    return Seen(picture, found, dict(report.finished))


def needs(text: str, manner: Manner) -> Needed | Problem:
    """What an order takes, its pieces laid on their cloths.

    Args:
        text: of a .skirt file.

    Returns:
        It; what kept it from being worked.
    """
    try:
        return needed(laid(_worked(text)).report, manner)
    except SkirtwrightError as refused:
        return refused.problem


def quoted(text: str, day: str, terms: Terms, manner: Manner) -> bytes | Problem:
    """The quote of an order, its pieces laid on their cloths.

    Args:
        text: of a .skirt file.
        day: as it is to be read.

    Returns:
        A PDF; what kept it from being made.
    """
    paper = "letter" if manner.unit == "in" else "a4"
    try:
        look = laid(_worked(text))
        name = look.job.card.name
        return quote_pdf(look.report, name, day, terms, manner, paper)
    except SkirtwrightError as refused:
        return refused.problem

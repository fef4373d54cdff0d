"""A contact sheet: every style of the shelf, worn by five bodies, as a PDF to look at.

    python tests/bench/contact_sheet.py [FILE.pdf] [ROW ...]

A row a style, or one with an addition (`mermaid at_hem=godets`), a column a body: small
waist, straight figure, apple, tall and large, a child. Where a style refuses a body the
sentence stands in its place; under each figure stands what is wrong with it, if
anything is. All bodies are invented.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from skirtwright.draft import styles
from skirtwright.figure.views import dressed
from skirtwright.figure.wearing import Wearing
from skirtwright.job.job import Job, new_job
from skirtwright.job.worktable import Look, Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import says

BODIES = {
    "small waist": {"waist": "60", "hip": "97", "waist_to_hip": "21"},
    "straight figure": {"waist": "83", "hip": "88", "waist_to_hip": "21"},
    "apple": {"waist": "112", "hip": "110", "waist_to_hip": "20"},
    "tall, large": {
        "waist": "101",
        "hip": "128",
        "waist_to_hip": "24",
        "height": "182",
    },
    "child": {"waist": "56", "hip": "66", "waist_to_hip": "13", "height": "122"},
}
"""Centimetres."""

KNEES = {"tall, large": "66", "child": "41"}
"""Waist to knee; of the others 58."""

WIDE, HIGH, LEFT, TOP = 150.0, 180.0, 90.0, 30.0
"""Of a cell, and of the margins, points."""

ADDED = ("at_hem", "patch_pocket", "pocket", "overlay", "closing", "below_yoke")
"""Choices of which a style is shown with each option: its additions."""

ROWS = 4
"""To a page."""


def rows() -> Iterator[str]:
    """Every style; behind one that takes additions, it with each of them."""
    for style in styles.names():
        yield style
        for choice in styles.style(style).choices:
            if choice.name in ADDED:
                others = (
                    each
                    for each in choice.offered
                    if each != choice.default
                    and (choice.name != "closing" or each == "buttons_front")
                )
                yield from (f"{style} {choice.name}={option}" for option in others)


def ordered(row: str, body: str) -> Job:
    """An order of a style by one of the bodies, with what is added to it."""
    style, *chosen = row.split()
    job = new_job(styles.style(style))
    choices = dict(choice.split("=") for choice in chosen)
    job = job.replace(choices=choices)
    taken = {"waist_to_knee": KNEES.get(body, "58"), **BODIES[body]}
    card = job.card.replace(measurements=taken, unit="cm")
    return job.replace(card=card, unit="cm")


def sheet(path: Path, names: list[str]) -> None:
    """Write the sheet."""
    width, height = LEFT + len(BODIES) * WIDE, TOP + ROWS * HIGH
    canvas, table = Canvas(str(path), pagesize=(width, height)), Worktable()
    for number, style in enumerate(names):
        row = number % ROWS
        if row == 0:
            for column, body in enumerate(BODIES):
                canvas.drawString(LEFT + column * WIDE + 8, height - 18, body)
        foot = height - TOP - (row + 1) * HIGH
        canvas.setFontSize(9)
        for line, word in enumerate(style.split()):
            canvas.drawString(6, foot + HIGH / 2 - 11 * line, word)
        for column, body in enumerate(BODIES):
            cell(canvas, table, ordered(style, body), LEFT + column * WIDE, foot)
        if row == ROWS - 1 or number == len(names) - 1:
            canvas.showPage()
        print(style, flush=True)
    canvas.save()


def cell(canvas: Canvas, table: Worktable, job: Job, left: float, foot: float) -> None:
    """One figure, or why there is none."""
    canvas.setFontSize(5)
    try:
        look = table.look(job)
    except SkirtwrightError as error:
        write(canvas, [says(error.problem)], left, foot + HIGH / 2)
        return
    told = list(dict.fromkeys(wrong_of(look)))
    write(canvas, told[:4], left, foot + 6 * min(len(told), 4))
    worn = look.report.worn(Wearing()) if look.drawn else None
    if worn is None:
        return
    scale = (HIGH - 40) / 1900
    for line in dressed(worn, "front"):
        path = canvas.beginPath()
        for n, (x, y) in enumerate(line.points):
            place = left + WIDE / 2 + x * scale, foot + 32 + y * scale
            (path.lineTo if n else path.moveTo)(*place)
        canvas.setLineWidth(0.6 if line.kind == "skirt" else 0.25)
        canvas.drawPath(path)


def wrong_of(look: Look) -> Iterator[str]:
    """What stops it or is wrong with it."""
    for problem in look.problems:
        if problem.stops or problem.severity == "wrong":
            yield says(problem)


def write(canvas: Canvas, lines: list[str], left: float, top: float) -> None:
    """Short lines of what is told."""
    for n, line in enumerate(lines):
        canvas.drawString(left + 2, top - 6 * n, line[:58])


if __name__ == "__main__":
    given = sys.argv[1:]
    target = Path(given[0] if given else "contact_sheet.pdf")
    sheet(target, given[1:] or list(rows()))

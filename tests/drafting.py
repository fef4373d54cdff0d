"""Short ways for tests to draft: a style for a body, or a draft of a few steps."""

from __future__ import annotations

import math
from functools import cache, lru_cache

from bodies import HOUSE
from skirtwright.checks.all_checks import Checking
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.draft.halves.halving import Halving
from skirtwright.draft.inputs import Inputs, Stated
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Reworking, Worked
from skirtwright.export.report_json import as_json
from skirtwright.job.job import Job
from skirtwright.job.worktable import Look, Worktable
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.walked_seams import WalkedSeam
from skirtwright.report import Report, report


def draft_of(raw, what):
    """A draft from read JSON, with the drafts it grows from copied in."""
    return styles.with_origins(styles._written(raw, what), styles.origin, what)


def work(style, body=None, reworking=None, **amounts) -> Worked:
    """A style worked for a body; amounts in mm, choices as words."""
    if isinstance(style, str) and reworking is None:
        return _worked(style, _frozen(body or HOUSE), _frozen(amounts))
    draft = styles.style(style) if isinstance(style, str) else style
    known = {choice.name for choice in draft.choices}
    chosen = {n: v for n, v in amounts.items() if n in known}
    rest = {n: v for n, v in amounts.items() if n not in known}
    inputs = Inputs(body or HOUSE, rest, chosen, draft.unit)
    return (reworking or Reworking()).work(draft, inputs)


def reported(style, body=None, **amounts) -> Report:
    """A style worked, cut and reported."""
    if isinstance(style, str):
        return _reported(style, _frozen(body or HOUSE), _frozen(amounts))
    worked = work(style, body, **amounts)
    return report(worked, Cutting().cut(worked, {}), "Test")


def _frozen(given: dict) -> tuple:
    return tuple(given.items())


# What one test asked for and another asks again is the same frozen value; of another
# order of the same style only what differs is worked, as at her table. A whole draft
# instead of a style's name is worked afresh.


@lru_cache(maxsize=256)
def _worked(style: str, body: tuple, amounts: tuple) -> Worked:
    kept, *_ = _remembering(style)
    return work(styles.style(style), dict(body), kept, **dict(amounts))


@lru_cache(maxsize=256)
def _reported(style: str, body: tuple, amounts: tuple) -> Report:
    _, cutting, checking = _remembering(style)
    worked = _worked(style, body, amounts)
    return report(worked, cutting.cut(worked, {}), "Test", checking)


def reported_apart(style, body, chosen=None, amounts=None) -> Report:
    """A style for a body of which one half may differ from the other."""
    kept, cutting, checking = _remembering(style)
    given = Inputs(body, amounts or {}, chosen or {})
    worked = kept.work(*_halving(style).of(styles.style(style), given))
    return report(worked, cutting.cut(worked, {}), "", checking, body)


LOOKS: list[Look] = []
"""Of whole orders: the latest first."""

LOOKS_KEPT = 40
"""More than there are styles: some tests look at one after another."""


def look_of(job: Job) -> Look:
    """An order as it stands, worked like the other orders of its style.

    The very order that another test looked at is the look it had; its draft is the very
    same object, since to a window any other is another style, laid out anew.
    """
    found = next(
        (one for one in LOOKS if one.job.draft is job.draft and one.job == job), None
    )
    if found is None:
        found = worktable_of(job.draft.id).look(job)
    LOOKS[:] = [found, *(look for look in LOOKS if look is not found)][:LOOKS_KEPT]
    return found


@cache
def worktable_of(style: str) -> Worktable:
    """The one that all orders of a style are worked on."""
    return Worktable()


class OneWorktable:
    """In place of each window's and each command's: what one has worked, all have."""

    def look(self, job: Job, provisional: dict[str, float] | None = None) -> Look:
        if provisional is None:
            return look_of(job)
        return worktable_of(job.draft.id).look(job, provisional)

    def stated(self, job: Job) -> Stated:
        return worktable_of(job.draft.id).stated(job)


@cache
def _halving(style: str) -> Halving:
    return Halving()


@cache
def _remembering(style: str) -> tuple[Reworking, Cutting, Checking]:
    return Reworking(), Cutting(), Checking()


def as_read(style, body=None, **amounts) -> dict:
    """The report as others read it."""
    return as_json(reported(style, body, **amounts))


def small(*steps, amounts=(), choices=(), measurements=(), **more) -> Draft:
    """A draft of a few steps; an amount is (name, default) or a whole mapping."""
    full = [
        amount
        if isinstance(amount, dict)
        else {
            "name": amount[0],
            "kind": amount[2] if len(amount) > 2 else "length",
            "label": amount[0],
            "default": amount[1],
            "least": "-100",
            "most": "1000",
        }
        for amount in amounts
    ]
    return draft_of(
        {
            "format": 1,
            "id": "made",
            "title": "Made for a test",
            "measurements": list(measurements),
            "amounts": full,
            "choices": list(choices),
            "steps": list(steps),
            **more,
        },
        "made",
    )


def pieces(report: Report) -> dict[str, Piece]:
    """The pieces that are cut, by their names."""
    return {piece.name: piece for piece in report.cut.pieces}


def seam(report: Report, name: str) -> WalkedSeam:
    """A seam that is sewn, walked."""
    return next(w for w in report.cut.seams if w.seam.name == name)


def unfinished(style: str) -> Draft:
    """A style's own steps without those its finishings bring: the shell alone."""
    draft = styles.style(style)
    own = [
        s for s in draft.steps if "finishing/" not in (getattr(s, "from_", "") or "")
    ]
    return draft.replace(steps=tuple(own))


def worked_of(*steps, **more) -> Worked:
    """A draft of a few steps worked with its defaults."""
    return Reworking().work(small(*steps, **more), Inputs())


def length_of(worked: Worked, working: str) -> float:
    """A working of lengths at the end of the draft, mm."""
    return worked.read(working, Reads.LENGTH)


def point(name: str, right: float, up: float) -> dict:
    """A step that places a point, in cm."""
    return {"step": name, "kind": "start", "right": str(right), "up": str(up)}


def square_panel(width=20, height=30, name="panel") -> list[dict]:
    """Steps for a panel: bottom, right, top, left; in cm, from the zero point."""
    corners = {
        "a": (0, 0),
        "b": (width, 0),
        "c": (width, height),
        "d": (0, height),
    }
    steps = [point(f"{name}_{n}", *at) for n, at in corners.items()]
    for edge, ends in (
        ("bottom", "ab"),
        ("right", "bc"),
        ("top", "dc"),
        ("left", "da"),
    ):
        through = [f"{name}_{end}" for end in ends]
        steps.append(
            {"step": f"{name}_{edge}_line", "kind": "join", "through": through}
        )
    edges = {e: f"{name}_{e}_line" for e in ("bottom", "right", "top", "left")}
    steps.append({"step": name, "kind": "outline", "edges": edges})
    return steps


@cache
def kinds() -> dict:
    """Every kind of step by its word."""
    from skirtwright.draft.kinds import ALL

    return ALL


def angle_at(before, after) -> float:
    """The angle from one direction to another, degrees, 0 to 180."""
    cosine = before.dot(after) / (before.size() * after.size())
    return math.degrees(math.acos(max(-1.0, min(1.0, cosine))))


def panels(worked: Worked) -> dict[str, Panel]:
    """The panels of a worked draft."""
    return {n: v for n, v in worked.values.items() if isinstance(v, Panel)}

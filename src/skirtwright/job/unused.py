"""Which measurements of the card change nothing as the order stands, by trying."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.job.edits import set_measurement
from skirtwright.job.job import Job
from skirtwright.job.remedies import Try
from skirtwright.job.worktable import Look
from skirtwright.measures.measurements import measurements, read_measurement
from skirtwright.problems import SkirtwrightError

_TIMES = (1.1, 0.9)
"""How much larger and smaller a measurement is tried: some are limits only."""


def measurements_to_try(job: Job) -> tuple[str, ...]:
    """The measurements that may be of no use: taken, and not asked for by the style."""
    needed = set(job.draft.measurements)
    taken = job.card.measurements
    return tuple(n for n in measurements() if n in taken and n not in needed)


def unused(look: Look, try_out: Try) -> Iterator[str]:
    """The measurements that change no piece, no finished measure and no finding.

    Args:
        try_out: works an order; it may raise any SkirtwrightError.

    Yields:
        After every try: the name where it is of no use, else nothing.
    """
    job = look.job
    for name in measurements_to_try(job):
        value = read_measurement(name, job.card.measurements[name], job.card.unit)
        for n in _TIMES:
            is_of_use = _changes(look, name, n * value, try_out)
            yield "" if is_of_use or n != _TIMES[-1] else name
            if is_of_use:
                break


def _changes(look: Look, name: str, value: float, try_out: Try) -> bool:
    try:
        other = try_out(set_measurement(look.job, name, f"{value:.1f} mm").job)
    except SkirtwrightError:
        return True
    before, after = look.report.finished, other.report.finished
    is_same = other.pieces == look.pieces and dict(before) == dict(after)
    return not is_same or _said(look) != _said(other)


def _said(look: Look) -> set[tuple[str, str, str]]:
    """What the checks found, beside what they say of measurements themselves."""
    return {
        (problem.code, problem.where, repr(problem.values))
        for problem in look.problems
        if not problem.code.startswith("measures.")
    }

"""The verb `fit`: what is altered at a fitting, and what can be."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Any

from skirtwright.cli.done import Done, Options, done, wants_suffix
from skirtwright.cli.verbs import look_at
from skirtwright.draft.alterations import (
    MOST_ALTERATIONS,
    Alteration,
    alterable,
    typed_alteration,
)
from skirtwright.job import file, fitting_edits
from skirtwright.job.job import Job
from skirtwright.job.prints import today
from skirtwright.job.worktable import Look, Worktable
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.unit_marking import length_with_unit
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput
from skirtwright.words import Manner, say, translate


def fit(options: Options) -> Done:
    """An order altered as the pins say, and kept."""
    if options.output:
        wants_suffix(options.output, (file.SUFFIX,))
    _check_count(len(options.alter))
    look = look_at(options, whole=not options.take_back)
    table, job = Worktable(), look.job
    if options.take_back:
        job = _taken_back(table, job, set(options.take_back))
    _check_count(len(job.fitting) + len(options.alter))
    made = []
    for what, how in options.alter:
        made.append(alteration_of(what, how, options.manner.unit, job.unit))
        job = fitting_edits.alter(job, made[-1], table.stated(job)).job
    if job is not look.job:
        # All at once: each is a search, within which the whole draft is drawn again.
        look = table.look(job).unrefused()
    for problem in (problem for one, problem in look.left_out if one in made):
        raise BadInput.of(problem)
    lines = tuple(_told(look, options.manner))
    if not options.output:
        return done(options, look, lines)
    return done(options, look, lines, partial(file.save, look.job, options.output))


def _check_count(count: int) -> None:
    """Refuse more alterations than an order has, before any is worked."""
    if count > MOST_ALTERATIONS:
        raise BadInput("fitting.too_many", str(count), most=MOST_ALTERATIONS)


def _taken_back(table: Worktable, job: Job, numbers: Iterable[int]) -> Job:
    """The order without some of its alterations, which may be what stops its draft."""
    for number in sorted(numbers, reverse=True):
        if not 1 <= number <= len(job.fitting):
            raise BadInput("fitting.no_number", str(number), number=number)
        job = fitting_edits.without(job, number - 1, table.stated(job)).job
    return job


def alteration_of(what: str, how: str, unit: Unit, kept: Unit) -> Alteration:
    """An alteration as it is written on the command line.

    Args:
        what: the name of what is altered.
        how: by how much; then, where they are said, the side and `waist to hip`, parted
            by semicolons. Of a hem the readings off the floor, parted so.
        unit: of lengths without one.
        kept: the unit the order keeps its lengths in.

    Raises:
        BadInput: a part is none of these.
        NotFound: nothing of that name can be altered.
    """
    known = alterable(what)
    first, *others = (part.strip() for part in how.split(";"))

    def marked(text: str) -> str:
        return text if unit == kept else length_with_unit(text, unit)

    if known.reads:
        readings = tuple(marked(text) for text in (first, *others))
        return typed_alteration(what=what, readings=readings, on=today())
    said: dict[str, Any] = {"by": marked(first), "on": today()}
    said |= {"first": known.first, "last": known.last}
    # Each may be said once: of two, she could not know which holds.
    sided, stretched = known.has_sides, known.seam is not None
    for part in others:
        if part in SIDES and not known.has_sides:
            raise BadInput("fitting.both_sides", part, alteration=known.label)
        begins, to, ends = part.partition(" to ")
        if part in SIDES and sided:
            said["side"], sided = part, False
        elif to and stretched:
            stretched = False
            said["first"], said["last"] = marked(begins.strip()), marked(ends.strip())
        else:
            raise BadInput("fitting.not_understood", part, what=what, text=part)
    return typed_alteration(what=what, **said)


def _told(look: Look, manner: Manner) -> Iterable[str]:
    """What was altered; where nothing was, what can be."""
    lines = [line.said(manner) for line in fitting_edits.told(look.job)]
    if lines:
        yield from (f"{number}  {line}" for number, line in enumerate(lines, 1))
        return
    yield say("fitting.can_be", {}, manner)
    for known in fitting_edits.offered(look.worked.stated):
        line = f"{known.id:<20} {translate(known.label, manner)}"
        yield f"{line}. {translate(known.help, manner)}" if known.seam else line

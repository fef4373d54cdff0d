"""What is altered at a fitting: each alteration one change of the order.

One that is drawn is kept with the order and written into its draft; one of an amount of
the style or of her card changes that amount or measurement, and is kept as a note of
what was done.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from skirtwright.draft.alterations import (
    MOST_ALTERATIONS,
    PLACES,
    Alterable,
    Alteration,
    alterable,
    alterables,
    depth_of,
    read_at,
)
from skirtwright.draft.inputs import Stated
from skirtwright.job import edits
from skirtwright.job.edits import Edited
from skirtwright.job.job import Job
from skirtwright.measures.measurements import known_measurement
from skirtwright.measures.unit_marking import length_with_unit
from skirtwright.measures.units import Unit, read_length, show_length
from skirtwright.problems import BadInput, NotFound, Problem
from skirtwright.words import Phrase, Sayable, Several

if TYPE_CHECKING:
    from skirtwright.draft.altering import LeftOut


def offered(stated: Stated) -> tuple[Alterable, ...]:
    """What can be altered of an order as it stands."""
    return tuple(
        known
        for known in alterables()
        if not known.amounts or _amount(known, stated) is not None
    )


def alter(job: Job, alteration: Alteration, stated: Stated) -> Edited:
    """The order with something altered.

    Raises:
        BadInput: a figure cannot be read, or the style has nothing to alter there.
        NotFound: nothing of that name can be altered.
    """
    known = alterable(alteration.what)
    if len(job.fitting) >= MOST_ALTERATIONS:
        raise BadInput("fitting.too_many", known.id, most=MOST_ALTERATIONS)
    if not alteration.alters(job.unit):
        code = "fitting.level_already" if known.reads else "fitting.nothing"
        raise BadInput(code, known.id, alteration=known.label)
    changed = _applied(job, known, alteration, stated, 1.0)
    kept = (*job.fitting, alteration)
    return _edited(changed, kept, "edit.altered", known)


def without(job: Job, number: int, stated: Stated) -> Edited:
    """The order with one alteration taken back.

    Of one that changed an amount which another style has not, only the note goes.

    Raises:
        BadInput: its figure cannot be read, or what it changed on her card is there no
            more.
    """
    alteration = job.fitting[number]
    known = alterable(alteration.what)
    is_note = known.amounts and _amount(known, stated) is None
    changed = job if is_note else _applied(job, known, alteration, stated, -1.0)
    kept = job.fitting[:number] + job.fitting[number + 1 :]
    return _edited(changed, kept, "edit.altered_back", known)


def _edited(
    job: Job, kept: tuple[Alteration, ...], message: str, known: Alterable
) -> Edited:
    changed = job.replace(fitting=kept)
    return Edited(changed, message, {"label": known.label})


def _applied(
    job: Job, known: Alterable, alteration: Alteration, stated: Stated, way: float
) -> Job:
    """The order with the amount or measurement changed that one is of."""
    if known.amounts:
        return _with_amount(job, known, way * alteration.length(job.unit), stated)
    if known.measurement:
        return _with_measurement(job, known, alteration, way)
    if known.reads:
        alteration.cut_off(job.unit)
    else:
        alteration.sides(job.unit)
        alteration.check_places(job.unit)
    return job


def _amount(known: Alterable, stated: Stated) -> str | None:
    """The amount of the style that an alteration changes."""
    states = stated.amounts
    return next((n for n in known.amounts if n in states and states[n].applies), None)


def _with_amount(job: Job, known: Alterable, by: float, stated: Stated) -> Job:
    name = _amount(known, stated)
    if name is None:
        raise BadInput("fitting.no_amount", known.id, alteration=known.label)
    value = stated.amounts[name].value + known.amounts[name] * by
    text = edits.amount_text(stated.amounts[name].amount, value)
    return edits.set_amount(job, name, text).job


def _with_measurement(
    job: Job, known: Alterable, alteration: Alteration, way: float
) -> Job:
    """Her card with one side's measurement changed; both sides are entered apart."""
    name = str(known.measurement)
    if not alteration.side:
        raise BadInput("fitting.which_side", known.id, alteration=known.label)
    by = way * alteration.length(job.unit)
    own = f"{name}_{alteration.side}"
    if own not in job.card.measurements:
        job = edits.part_sides(job, name).job
    taken = job.inputs().measurements
    if own not in taken:
        label = known_measurement(name).label
        raise BadInput("fitting.not_measured", name, label=label)
    text = show_length(taken[own] + by, job.card.unit, digits=3, with_unit=True)
    return edits.set_measurement(job, own, text).job


def again(job: Job, former: Job, stated: Stated, day: str) -> Edited | None:
    """The order with what was altered for her before; None where nothing of it fits.

    What altered her card is left out, for the card has it; so are readings of a hem,
    which are of that skirt alone, and what another style has no place for.

    Args:
        former: an earlier order of hers; its lengths keep the unit they were typed in.
    """

    def given(text: str) -> str:
        return length_with_unit(text, former.unit)

    changed, count = job, 0
    for alteration in former.fitting:
        known = alterable(alteration.what)
        if known.measurement or known.reads:
            continue
        typed = alteration.replace(on=day)
        if former.unit != job.unit:
            typed = typed.with_units(given)
        try:
            changed = alter(changed, typed, stated).job
        except (BadInput, NotFound):
            continue
        count += 1
    return Edited(changed, "edit.altered_again", {"count": count}) if count else None


def told(
    job: Job, *, readings: bool = True, besides: Iterable[LeftOut] = ()
) -> tuple[Sayable, ...]:
    """What was altered, a line each.

    Args:
        readings: with what was read off the floor, or without.
        besides: what is left out, and so not said.
    """
    left = [alteration for alteration, _ in besides]
    drawn = (each for each in job.fitting if each not in left)
    return tuple(_line(job, each, readings=readings) for each in drawn)


def left_out_words(job: Job, left_out: Iterable[LeftOut]) -> Iterator[Problem]:
    """What there is to say of alterations that a style has no place for."""
    for alteration, problem in left_out:
        why = Phrase(f"problem.{problem.code}", problem.values)
        values = {"line": _line(job, alteration, readings=False), "why": why}
        yield Problem("fitting.left_out", "caution", alteration.what, values)


def _line(job: Job, alteration: Alteration, *, readings: bool) -> Sayable:
    known = alterable(alteration.what)
    label: Sayable | str = known.label
    if alteration.side:
        label = Phrase(f"fitting.of_{alteration.side}", {"label": known.label})
    values: dict[str, Any] = {"label": label}
    if known.reads:
        most = max(max(both) for both in alteration.cut_off(job.unit).values())
        values["most"] = most
        if not readings:
            return Phrase("fitting.levelled", values)
        read = Several(tuple(_readings(job, alteration)))
        return Phrase("fitting.levelled_read", {**values, "read": read})
    by = alteration.length(job.unit)
    values["by"] = abs(by)
    if not known.seam:
        return Phrase(f"fitting.{known.ways[by < 0]}", values)
    ends = {"first": alteration.first, "last": alteration.last}
    values |= {end: _place(text, job.unit) for end, text in ends.items()}
    values["most"] = _most(alteration, job.unit)
    return Phrase(f"fitting.seam_{'less' if by < 0 else 'more'}", values)


def _most(alteration: Alteration, unit: Unit) -> Phrase:
    """Where along the seam all of it is let out or taken in."""
    starts = depth_of(alteration.first, unit) == 0
    if alteration.last == "hem":
        return Phrase("fitting.all_along" if starts else "fitting.most_at_hem")
    return Phrase("fitting.most_at_waist" if starts else "fitting.most_half_way")


def _readings(job: Job, alteration: Alteration) -> Iterator[Phrase]:
    """What was read off the floor, place by place."""
    texts = alteration.readings
    for place, text in zip(read_at(len(texts)), texts, strict=True):
        at, height = Phrase(f"fitting.read_{place}"), read_length(text, job.unit)
        yield Phrase("fitting.read", {"place": at, "height": height})


def _place(text: str, unit: Unit) -> Sayable:
    if text in PLACES:
        return Phrase(f"fitting.at_{text}")
    return Phrase("fitting.at_depth", {"depth": read_length(text, unit)})

"""Every change to an order: a function from one order to the next, with its name.

The name is a message id and its values; it completes "Undo ...".
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from skirtwright.draft import styles
from skirtwright.draft.draft import Amount, Choice, Draft
from skirtwright.draft.inch_defaults import in_inches
from skirtwright.draft.variants import variant
from skirtwright.job.job import Job
from skirtwright.measures.card import Card, read_age
from skirtwright.measures.letters import check_letters
from skirtwright.measures.measurements import (
    SIDES,
    known_measurement,
    read_measurement,
)
from skirtwright.measures.unit_marking import length_with_unit, with_units
from skirtwright.measures.units import Unit, show_length, show_number
from skirtwright.problems import NotFound, nearest


@dataclass(frozen=True)
class Edited:
    """An order after a change, and what the change is called."""

    job: Job
    name: str
    values: Mapping[str, Any]


def _set(held: Mapping[str, str], name: str, text: str | None) -> dict[str, str]:
    """A mapping with one entry set or, for None, taken out; order is kept."""
    kept = dict(held)
    if text is None:
        kept.pop(name, None)
    else:
        kept[name] = text
    return kept


def set_measurement(job: Job, name: str, text: str | None) -> Edited:
    """A measurement as typed; None takes it off the card.

    Raises:
        BadInput: an unknown measurement, or a text that is not a usable length.
    """
    known = known_measurement(name)
    if text is not None:
        read_measurement(name, text, job.card.unit)
    measurements = _set(job.card.measurements, name, text)
    card = job.card.replace(measurements=measurements)
    changed = job.replace(card=card, sample=False)
    return Edited(changed, "edit.measurement", {"label": known.label})


def part_sides(job: Job, name: str) -> Edited:
    """A measurement taken for left and right: both as the whole was, until typed.

    Raises:
        BadInput: an unknown measurement.
    """
    text = job.card.measurements.get(name)
    changed = set_measurement(job, name, None)
    if text is None:
        return changed
    share = 2 if known_measurement(name).sides == "half" else 1
    value = read_measurement(name, text, job.card.unit) / share
    each = text if share == 1 else _length_text(value, job.card.unit)
    for side in SIDES:
        job = set_measurement(changed.job, f"{name}_{side}", each).job
        changed = Edited(job, changed.name, changed.values)
    return changed


def join_sides(job: Job, name: str) -> Edited:
    """One measurement again: halves that go round together, or the mean of lengths.

    Raises:
        BadInput: an unknown measurement.
    """
    typed = [job.card.measurements.get(f"{name}_{side}") for side in SIDES]
    values = [read_measurement(name, t, job.card.unit) for t in typed if t is not None]
    for side in SIDES:
        job = set_measurement(job, f"{name}_{side}", None).job
    if not values:
        return set_measurement(job, name, job.card.measurements.get(name))
    mean = sum(values) / len(values)
    whole = 2 * mean if known_measurement(name).sides == "half" else mean
    return set_measurement(job, name, _length_text(whole, job.card.unit))


def _length_text(value: float, unit: Unit) -> str:
    return show_length(value, unit, digits=3, with_unit=True)


def set_amount(job: Job, name: str, text: str | None) -> Edited:
    """An amount as typed, a working; None sets it back to its default.

    Whether the text can be worked shows when the draft is; see `Worktable.try_out`.

    Raises:
        NotFound: the draft has no such amount.
    """
    amount = job.draft.amount(name)
    if amount is None:
        known = [a.name for a in job.draft.amounts]
        raise NotFound("draft.no_amount", name, name=name, nearest=nearest(name, known))
    changed = job.replace(amounts=_set(job.amounts, name, text))
    message = "edit.amount" if text is not None else "edit.amount_back"
    return Edited(changed, message, {"label": amount.label})


def amount_text(amount: Amount, value: float) -> str:
    """A value of an amount, mm, degrees or a plain number, as it would be typed."""
    if amount.kind == "length":
        return f"{show_number(value, 2)} mm"
    if amount.kind == "angle":
        return f"{show_number(value, 2)} deg"
    return show_number(value, 0 if amount.kind == "count" else 3)


def set_choice(job: Job, name: str, option: str) -> Edited:
    """A choice made.

    Raises:
        NotFound: the draft has no such choice or option.
    """
    choice = job.draft.choice(name)
    if choice is None:
        known = [c.name for c in job.draft.choices]
        raise NotFound("draft.no_choice", name, name=name, nearest=nearest(name, known))
    if option not in choice.options:
        raise NotFound(
            "draft.no_option",
            name,
            choice=choice.label,
            option=option,
            known=", ".join(choice.options),
        )
    kept = None if option == choice.default else option
    changed = job.replace(choices=_set(job.choices, name, kept))
    return Edited(changed, "edit.choice", {"label": choice.label})


def set_client(job: Job, name: str) -> Edited:
    """The client's name.

    Raises:
        BadInput: it is no text a file can hold.
    """
    check_letters(name, "text.name")
    card = job.card.replace(name=name)
    return Edited(job.replace(card=card, sample=False), "edit.client", {"name": name})


def set_age(job: Job, typed: str) -> Edited:
    """The wearer's age in whole years; nothing typed, none.

    Raises:
        BadInput: it is no whole number of years.
    """
    card = job.card.replace(age=read_age(typed))
    return Edited(job.replace(card=card), "edit.age", {})


def set_card(job: Job, card: Card) -> Edited:
    """Another client's card."""
    return Edited(
        job.replace(card=card, sample=False), "edit.card", {"name": card.name}
    )


def set_title(job: Job, title: str) -> Edited:
    """The order's title.

    Raises:
        BadInput: it is no text a file can hold.
    """
    check_letters(title, "text.name")
    return Edited(job.replace(title=title), "edit.title", {"title": title})


def set_unit(job: Job, unit: Unit) -> Edited:
    """The unit of bare numbers; what was typed keeps the unit it was typed in."""

    def marked(text: str) -> str:
        return with_units(text, job.unit)

    def given(text: str) -> str:
        return length_with_unit(text, job.unit)

    lengths = {a.name for a in job.draft.amounts if a.kind == "length"}
    amounts = {
        name: marked(text) if name in lengths else text
        for name, text in job.amounts.items()
    }
    pieces = tuple(
        piece.replace(
            allowances={e: marked(t) for e, t in piece.allowances.items()},
            notches=tuple(
                notch.replace(at=marked(notch.at)) for notch in piece.notches
            ),
            joins=tuple(map(marked, piece.joins)),
        )
        for piece in job.pieces
    )
    changed = job.replace(
        unit=unit,
        amounts=amounts,
        pieces=pieces,
        cloths=tuple(one.with_units(job.unit) for one in job.cloths),
        fitting=tuple(one.with_units(given) for one in job.fitting),
    )
    return Edited(changed, "edit.unit", {"unit": unit})


def set_variant(job: Job, name: str) -> Edited:
    """A ready way of sharing: what of it the draft knows is set, the rest stays.

    Raises:
        NotFound: there is no such variant.
    """
    found = variant(name)
    amounts = {n: text for n, text in found.amounts.items() if job.draft.amount(n)}
    choices = {n: option for n, option in found.choices.items() if job.draft.choice(n)}
    amounts, choices = {**job.amounts, **amounts}, {**job.choices, **choices}
    changed = job.replace(amounts=amounts, choices=choices)
    return Edited(changed, "edit.variant", {"title": found.title})


def begun_like(job: Job, card: Card, unit: Unit) -> Job:
    """A new order for a card, in the style of another and with its choices.

    What was set in lengths was set for that other body, and is worked out anew.
    """
    return begun_in(Job(card=card, draft=job.draft, choices=job.choices), unit)


def begun_in(job: Job, unit: Unit) -> Job:
    """A new order in a unit, which it keeps: in inches it is drafted in eighths."""
    return set_unit(job.replace(draft=_in_unit(job.draft, unit)), unit).job


def _in_unit(draft: Draft, unit: Unit) -> Draft:
    """A style in the lengths of a unit; one off the shelf also back in centimetres."""
    if unit == "in":
        return in_inches(draft)
    kept = styles.style(draft.id) if draft.id in styles.names() else draft
    return kept if draft is not kept and draft == in_inches(kept) else draft


def set_style(job: Job, draft: Draft) -> Edited:
    """Another style; the card and the amounts and choices both know are kept."""
    draft = _in_unit(draft, job.unit)
    amounts = {n: text for n, text in job.amounts.items() if draft.amount(n)}
    choices = {
        name: option
        for name, option in job.choices.items()
        if (choice := draft.choice(name)) and option in choice.offered
    }
    changed = job.replace(draft=draft, amounts=amounts, choices=choices)
    return Edited(changed, "edit.style", {"title": draft.title})


def choices_gone(before: Job, after: Job) -> list[Choice]:
    """What had been chosen, not as the style itself has it, and another style lacks."""
    return [
        choice
        for choice in before.draft.choices
        if before.choices.get(choice.name, choice.default) != choice.default
        and choice.name not in after.choices
    ]

"""What the cloth she has will give: an amount taken as far as the pieces still go on.

Lays are the judge. Where one skirt goes on the cloth a smaller one is taken to go on
it too, so that the range is halved again and again; what is found is never taken on
trust: its lay is the proof.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from skirtwright.budget import look_up
from skirtwright.draft.draft import Amount
from skirtwright.draft.inputs import AmountState
from skirtwright.job.edits import Edited, amount_text, set_amount
from skirtwright.job.job import Job
from skirtwright.job.joining import offers
from skirtwright.job.worktable import Look, Worktable
from skirtwright.lay.cloth_to_cut import Cloth, opened, widths_sold
from skirtwright.lay.lay import QUICK, TRIES, Lay, lay
from skirtwright.measures.units import Unit
from skirtwright.problems import (
    BadInput,
    NotFound,
    Problem,
    Refused,
    SkirtwrightError,
    nearest,
)
from skirtwright.words import Left, Manner, Phrase, remedy, say, says, translate

_HALVED = 9
"""How often the range is halved: to a five-hundredth of it."""

_AHEAD = 0.02
"""How much further is tried once more: a lay may by chance come out too long."""

_STEPS: dict[str, float] = {"length": 1.0, "angle": 0.1, "ratio": 0.01, "count": 1.0}
_EIGHTH = 25.4 / 8

Told = Callable[[float], None]


@dataclass(frozen=True)
class Given:
    """What the cloth gives.

    Attributes:
        edited: the order with the amounts so far, one step of its history.
        lay: the proof; it goes on the cloth.
        values: the amounts found: mm, degrees or plain.
        most: True where the style itself gives no more.
        too_wide: the piece that with more is wider than the cloth, if it is that.
        would: what would do for more then, each with its figure.
    """

    edited: Edited
    look: Look
    lay: Lay
    values: dict[str, float]
    most: bool
    too_wide: Problem | None = None
    would: tuple[Phrase, ...] = ()


@dataclass(frozen=True)
class NothingFits:
    """That not even the least goes on the cloth.

    Attributes:
        needed: what the least would take, mm; None where it does not lie there at all.
        too_wide: the piece that is wider than the cloth, if it is that.
        would: what would do, each with its figure.
    """

    needed: float | None
    too_wide: Problem | None
    would: tuple[Phrase, ...]


class _Search:
    """Takes amounts together from their least to their most.

    Args:
        cloth: with the length she has.
        unit: hers, for the steps of a length.
    """

    def __init__(
        self, job: Job, names: Sequence[str], cloth: Cloth, unit: Unit
    ) -> None:
        self.job, self.cloth, self.unit = job, cloth, unit
        self.table = Worktable()
        stated = self.table.look(job).worked.stated.amounts
        for name in names:
            if name not in stated or not stated[name].applies:
                known = [n for n, state in stated.items() if state.applies]
                near = nearest(name, known)
                raise NotFound("draft.no_amount", name, name=name, nearest=near)
        self.states = [stated[name] for name in names]

    def values(self, share: float) -> dict[str, float]:
        """The amounts at a share of their ranges, down to a step she can set."""
        return {state.amount.name: self._value(state, share) for state in self.states}

    def _value(self, state: AmountState, share: float) -> float:
        step = _STEPS[state.amount.kind]
        if state.amount.kind == "length" and self.unit == "in":
            step = _EIGHTH
        value = state.least + share * (state.most - state.least)
        down = math.floor(value / step + 1e-9) * step
        return min(max(down, state.least), state.most)

    def edited(self, values: dict[str, float]) -> Edited:
        """The order with the amounts set, one change."""
        job, edited = self.job, None
        for state in self.states:
            name = state.amount.name
            edited = set_amount(job, name, amount_text(state.amount, values[name]))
            job = edited.job
        assert edited is not None  # noqa: S101 -- at least one is asked for
        return edited

    def laid(
        self, values: dict[str, float], cloth: Cloth, tries: int
    ) -> tuple[Look, Lay] | None:
        """The skirt with these amounts on a cloth; None where it cannot lie there."""
        look_up()
        try:
            look = self.table.look(self.edited(values).job)
            report = look.report
            found = None if report.refusals else lay(report.to_cut, cloth, tries)
        except SkirtwrightError:
            return None
        return (look, found) if found else None

    def too_wide(self, values: dict[str, float]) -> Problem | None:
        """The piece that with these amounts is wider than the cloth, if one is."""
        try:
            lay(self.table.look(self.edited(values).job).report.to_cut, self.cloth, 1)
        except Refused as refused:
            return refused.problem if "room" in refused.problem.values else None
        except SkirtwrightError:
            return None
        return None

    def goes(self, share: float, tries: int) -> tuple[Look, Lay] | None:
        """The skirt at a share of the ranges, where it goes on the cloth."""
        found = self.laid(self.values(share), self.cloth, tries)
        on_hand = self.cloth.on_hand
        return found if found and on_hand and found[1].bought <= on_hand else None


def largest(
    job: Job,
    names: Sequence[str],
    cloth: Cloth,
    unit: Unit,
    told: Told | None = None,
) -> Given | NothingFits:
    """Amounts taken as far as the pieces still go on the cloth she has.

    Args:
        names: of the amounts, which grow together by the same share of their ranges.
        cloth: with the length she has.
        unit: hers.
        told: what share of the work is done.

    Raises:
        NotFound: there is no such amount.
        BadInput: no length on hand is known, or no amount is named.
    """
    if not names:
        raise BadInput("cloth.no_amount", cloth.material)
    if cloth.on_hand is None:
        raise BadInput("cloth.none_on_hand", cloth.material)
    search = _Search(job, names, cloth, unit)
    told = told or (lambda _: None)
    whole = search.goes(1.0, TRIES)
    if whole:
        return _given(search, 1.0, whole)
    least = search.goes(0.0, TRIES)
    if least is None:
        return _nothing(search)
    low, high = 0.0, 1.0
    for number in range(_HALVED):
        told((number + 1) / (_HALVED + 1))
        middle = (low + high) / 2
        # A quick lay that goes is proof; one that does not is tried in earnest.
        found = search.goes(middle, QUICK) or search.goes(middle, TRIES)
        low, high = (middle, high) if found else (low, middle)
    while low + _AHEAD < 1.0 and search.goes(low + _AHEAD, TRIES):
        low, high = low + _AHEAD, min(low + 2 * _AHEAD, 1.0)
    # Laid with more tries a quick lay may settle a little longer: she gets that one.
    while not (last := search.goes(low, TRIES)) and low:
        low = max(low - 0.5**_HALVED, 0.0)
    given = _given(search, low, last or least, high)
    told(1.0)
    return given


def _given(
    search: _Search, share: float, proof: tuple[Look, Lay], beyond: float | None = None
) -> Given:
    """What is found; where a piece is too wide at the share beyond, what would do."""
    values = search.values(share)
    edited = search.edited(values)
    if beyond is None:
        return Given(edited, *proof, values, most=True)
    # Figures she can tell from those of the cloth are of a little more than that.
    more = search.values(min(share + _AHEAD, 1.0))
    bound = search.too_wide(search.values(beyond))
    wide = search.too_wide(more) if bound else None
    would = tuple(_would(search, more)) if wide else ()
    return Given(edited, *proof, values, most=False, too_wide=wide, would=would)


def _nothing(search: _Search) -> NothingFits:
    values = search.values(0.0)
    found = search.laid(values, search.cloth, TRIES)
    return NothingFits(
        found[1].bought if found else None,
        None if found else search.too_wide(values),
        tuple(_would(search, values)),
    )


def _would(search: _Search, values: dict[str, float]) -> Iterator[Phrase]:
    """What would do: a join, another way to lay it, another width, a shorter skirt."""
    cloth, on_hand = search.cloth, search.cloth.on_hand or 0.0
    yield from _joined(search, values)
    if cloth.fold != "single":
        single = search.laid(values, opened(cloth), TRIES)
        if single and single[1].bought <= on_hand:
            yield Phrase("lay.would_single", {"length": single[1].bought})
    for width in widths_sold(search.unit):
        if width <= cloth.width:
            continue
        wider = search.laid(values, replace(cloth, width=width), QUICK)
        if wider and wider[1].bought <= on_hand:
            told = {"width": width, "length": wider[1].bought}
            yield Phrase("lay.would_width", told)
            break
    names = {state.amount.name for state in search.states}
    least_job = search.edited(values).job
    for amount in search.job.draft.amounts:
        if amount.group != "length" or amount.name in names or amount.kind != "length":
            continue
        shorter = _shorter(least_job, amount.name, search)
        if shorter:
            yield shorter
        break


def _joined(search: _Search, values: dict[str, float]) -> Iterator[Phrase]:
    """Joins and seams with which the least goes on the cloth."""
    cloth, on_hand = search.cloth, search.cloth.on_hand or 0.0
    job = search.edited(values).job
    for offer in offers(search.table.look(job), cloth, search.table):
        look = search.table.look(offer.edited(job).job)
        found = lay(look.report.to_cut, cloth, QUICK)
        if found and found.bought <= on_hand:
            told = {"way": offer.says(job, search.unit), "length": found.bought}
            yield Phrase("lay.would_joined", told)


def _shorter(job: Job, name: str, search: _Search) -> Phrase | None:
    """By how much a length has to come down for the pieces to go on the cloth."""
    try:
        other = _Search(job, [name], search.cloth, search.unit)
        state = other.states[0]
        if other.goes(0.0, QUICK) is None:
            return None
        low, high = 0.0, (state.value - state.least) / (state.most - state.least)
        for _ in range(_HALVED):
            middle = (low + high) / 2
            low, high = (middle, high) if other.goes(middle, QUICK) else (low, middle)
    except (Refused, NotFound, ZeroDivisionError):
        return None
    value = other.values(low)[name]
    return Phrase(
        "lay.would_shorter",
        {"label": state.amount.label, "value": value, "by": Left(state.value, value)},
    )


# In words


def given_sentences(
    found: Given | NothingFits,
    job: Job,
    names: Sequence[str],
    cloth: Cloth,
    manner: Manner,
) -> Iterator[str]:
    """What the cloth gives, or what would do.

    Args:
        found: by `largest`, which was asked
        names: for these amounts
        cloth: on this cloth.
    """
    amounts = [amount for amount in job.draft.amounts if amount.name in names]
    if isinstance(found, NothingFits):
        yield from _nothing_sentences(found, amounts, cloth, manner)
        return
    for amount in amounts:
        value = found.values[amount.name]
        kind = amount.kind if amount.kind in ("length", "angle") else "number"
        shown = say(f"making.amount_{kind}", {"value": value}, manner)
        said = {"label": translate(amount.label, manner), "value": shown}
        yield say("lay.gives_most" if found.most else "lay.gives", said, manner)
    if found.too_wide:
        yield say("lay.gives_wide", found.too_wide.values, manner)
        yield remedy(found.too_wide, manner)
    yield from (would.said(manner) for would in found.would)


def _nothing_sentences(
    found: NothingFits, amounts: Iterable[Amount], cloth: Cloth, manner: Manner
) -> Iterator[str]:
    labels = ", ".join(translate(amount.label, manner) for amount in amounts)
    wide = "" if found.needed is not None else "_wide"
    needed, there = found.needed or 0.0, cloth.on_hand or 0.0
    said = {"label": labels, "length": there, "needed": needed}
    short = {"short": Left(needed, there)}
    yield say(f"lay.gives_nothing{wide}", {**said, **short}, manner)
    if found.too_wide:
        yield says(found.too_wide, manner)
    yield from (would.said(manner) for would in found.would)

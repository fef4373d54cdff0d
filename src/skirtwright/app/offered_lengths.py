"""Lengths by name as they are on the client at hand: the knee, the ankle, the floor."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from skirtwright.app.desk import Desk
from skirtwright.app.shown_figures import length_about, unbroken
from skirtwright.draft.inputs import AmountState
from skirtwright.measures.named_lengths import (
    NamedLength,
    lengths_with_names,
    named_lengths,
)
from skirtwright.words import Manner, say, translate


@dataclass(frozen=True)
class Offered:
    """A named length on her.

    Attributes:
        told: its name and how long it is.
        working: what an amount is set to for it.
        value: how long it is, mm.
    """

    told: str
    working: str
    value: float


def names_for(desk: Desk, state: AmountState) -> list[Offered]:
    """The named lengths an amount may have on her, from the shortest."""
    if desk.waits is not None or state.amount.name not in lengths_with_names():
        return []
    stated = desk.look.worked.stated
    found = []
    for named in named_lengths():
        value = named.value(stated.values)
        if state.least <= value <= state.most:
            guessed = named.is_guessed(stated.estimated)
            told = _told(named, value, desk.manner, guessed=guessed)
            found.append(Offered(told, named.working, value))
    return found


def named_beyond(desk: Desk, state: AmountState) -> str:
    """The name she chose, with what is wrong, where the style takes no such length."""
    typed = desk.job.amounts.get(state.amount.name)
    stated, manner = desk.look.worked.stated, desk.manner
    for named in named_lengths():
        if desk.waits is None and named.working == typed:
            value = named.value(stated.values)
            if not state.least <= value <= state.most:
                guessed = named.is_guessed(stated.estimated)
                told = {"told": _told(named, value, manner, guessed=guessed)}
                beyond = "less" if value < state.least else "more"
                return say(f"lengths.{beyond}", told, manner)
    return ""


def working_named(text: str, manner: Manner) -> str | None:
    """What a length is worked from that is typed as its name; None for no name."""
    wanted = text.strip().casefold()
    for named in named_lengths():
        if wanted == translate(named.label, manner).casefold():
            return named.working
    return None


def amounts_named(text: str, names: Iterable[str], manner: Manner) -> dict[str, str]:
    """What the first of these amounts with names is worked from; empty for no name."""
    working = working_named(text, manner)
    may = [name for name in names if name in lengths_with_names()]
    return {may[0]: working} if working and may else {}


def _told(named: NamedLength, value: float, manner: Manner, *, guessed: bool) -> str:
    message = "lengths.guessed" if guessed else "lengths.one"
    values = {
        "name": translate(named.label, manner),
        "figure": f"{length_about(value, manner)} {manner.unit}",
    }
    return unbroken(say(message, values, manner))

"""A draft for an order in inches: what the program chooses in it, in eighths of one.

Amounts with their ranges, allowances, what is told to the making-up sheet, and the
numbers and strips these are handed on by, take the inch column (`inch_column`). What
only shapes a line keeps its centimetres.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from skirtwright.draft.draft import AllowanceRun, Amount, Draft, Group, PieceOf, Told
from skirtwright.measures.inch_column import with_inches

_HANDED_ON = {"number": ("value",), "rectangle": ("wide", "high")}
"""Kinds of step whose lengths are told or cut as they are, with their fields.

A number may be a count: of it, and of what is told, only what says its centimetres is
changed."""


def in_inches(draft: Draft) -> Draft:
    """A draft whose own lengths are exact eighths of an inch where they are listed."""
    if draft.unit != "cm":
        return draft
    return draft.replace(
        amounts=tuple(map(_amount, draft.amounts)),
        steps=tuple(_steps(draft.steps)),
        pieces=tuple(map(_piece, draft.pieces)),
        sewing={name: _told(said) for name, said in draft.sewing.items()},
    )


def _amount(amount: Amount) -> Amount:
    if amount.kind != "length":
        return amount
    fields = ("default", "least", "most")
    return amount.replace(
        **{name: with_inches(getattr(amount, name), is_length=True) for name in fields}
    )


def _piece(piece: PieceOf) -> PieceOf:
    made = {edge: _allowance(held) for edge, held in piece.allowances.items()}
    return piece.replace(allowances=made)


def _allowance(
    held: str | tuple[AllowanceRun, ...],
) -> str | tuple[AllowanceRun, ...]:
    if isinstance(held, str):
        return with_inches(held, is_length=True)
    return tuple(
        run.replace(width=with_inches(run.width, is_length=True)) for run in held
    )


def _told(said: str | Told) -> str | Told:
    if isinstance(said, str):
        return with_inches(said, is_length=False)
    return said.replace(value=with_inches(said.value, is_length=False))


def _steps(items: Iterable[Any]) -> Iterable[Any]:
    for item in items:
        if isinstance(item, Group):
            yield item.replace(steps=tuple(_steps(item.steps)))
        else:
            fields = _HANDED_ON.get(item.kind, ())
            sized = item.kind == "rectangle"
            made = {
                name: with_inches(getattr(item, name), is_length=sized)
                for name in fields
            }
            yield item.replace(**made) if made else item

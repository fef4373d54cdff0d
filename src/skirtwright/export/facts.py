"""What a printed page says about the order, as plain words."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.export.sheet import Mark, Sheet
from skirtwright.words import Manner, say

Row = tuple[str, str]
"""A name and what there is to say of it."""


@dataclass(frozen=True)
class CoverFacts:
    """Words for the first page and the foot of every other.

    Attributes:
        finished: finished measures, name and length.
        cut_list: pieces, number, name and how often and how to cut.
        allowances: what the cutting line includes.
        widths: edges, each with its allowances; of other cloths those that differ.
        toile: what a toile includes; empty for a pattern.
        notes: anything else to be read before cutting.
        figure: the skirt on her, mm, from its lower left corner.
    """

    client: str = ""
    style: str = ""
    date: str = ""
    finished: tuple[Row, ...] = ()
    cut_list: tuple[tuple[int, str, str], ...] = ()
    allowances: str = ""
    widths: tuple[Row, ...] = ()
    toile: str = ""
    notes: tuple[str, ...] = ()
    figure: tuple[Mark, ...] = ()


def scale_said(sheet: Sheet, manner: Manner) -> str:
    """Full size, or 1 : 2 and so on."""
    if sheet.scale == 1.0:
        return say("print.full_size", manner=manner)
    return say("print.part_size", {"times": 1 / sheet.scale}, manner)


def units_said(manner: Manner) -> str:
    """Which unit the lengths on the page are in."""
    return say(f"print.lengths_in.{manner.unit}", manner=manner)


def one_line(sheet: Sheet, facts: CoverFacts, manner: Manner) -> str:
    """Client, title, scale and units; the client is named once."""
    client = "" if facts.client in sheet.title else facts.client
    parts = (client, sheet.title, scale_said(sheet, manner), units_said(manner))
    return " · ".join(part for part in parts if part)

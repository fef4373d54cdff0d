"""Figures as fields show them, step them and tell them, without Qt."""

from __future__ import annotations

import re

from skirtwright.draft.draft import STEPS
from skirtwright.measures.units import show_length, show_number
from skirtwright.words import Manner, say

_WITHIN_A_FIGURE = re.compile(r"(?<=\d) (?=(?:cm|mm|in)\b|%|°|\d+/\d)")


def unbroken(text: str) -> str:
    """The text, its figures on one line with their fractions and units."""
    return _WITHIN_A_FIGURE.sub("\u00a0", text)


def shown(kind: str, value: float, manner: Manner) -> str:
    """A figure as a field shows it, without its unit."""
    if kind == "length":
        fraction = manner.fraction if manner.unit == "in" else None
        digits = None if manner.unit == "in" else 2 if manner.unit == "cm" else 1
        return show_length(value, manner.unit, fraction, digits=digits)
    if kind == "count":
        return show_number(value, 0)
    # A share reads as a part of a hundred.
    return show_number(100 * value if kind == "ratio" else value, 2)


def length_about(value: float, manner: Manner) -> str:
    """A length to a millimetre, or her fraction, without its unit."""
    if manner.unit == "in":
        return show_length(value, "in", manner.fraction)
    return show_length(value, manner.unit, digits=1)


def unit_shown(kind: str, manner: Manner) -> str:
    """The unit beside a field."""
    if kind == "length":
        return manner.unit
    return {"angle": "°", "ratio": "%"}.get(kind, "")


def unit_spoken(kind: str, manner: Manner) -> str:
    """The unit as assistive technology reads it; empty for plain numbers."""
    if kind == "length":
        return say(f"unit.{manner.unit}", manner=manner)
    words = {"angle": "unit.degrees", "ratio": "unit.percent"}.get(kind)
    return say(words, manner=manner) if words else ""


def step_of(kind: str, manner: Manner) -> float:
    """What one press of an arrow changes: a mm, her fraction of an inch, one."""
    if kind == "length":
        return 25.4 / manner.fraction if manner.unit == "in" else 1.0
    return STEPS[kind]


def stepped_text(kind: str, value: float, manner: Manner) -> str:
    """A stepped figure as it would be typed."""
    if kind == "ratio":
        return show_number(value, 4)
    unit = "deg" if kind == "angle" else unit_shown(kind, manner)
    return f"{shown(kind, value, manner)} {unit}".strip()

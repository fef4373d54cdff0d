"""Lengths, numbers and angles as people write them, and as they are shown.

Inside the program a length is millimetres and an angle is degrees. An inch is exactly
25.4 mm. The grammar of a number stands here once; workings use it too.

A number is ASCII digits with a decimal point or a decimal comma (`74`, `74.5`,
`74,5`, `.5`), a fraction (`3/8`, `⅜`), or a whole number and a fraction with a space
or a hyphen between (`29 1/8`, `29-1/8`, `24⅜`). No exponents, no thousands marks.
"""

from __future__ import annotations

import math
import re
import unicodedata
from typing import Final, Literal

from skirtwright.problems import BadInput

Unit = Literal["cm", "in", "mm"]

MM_PER: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "yd": 914.4}

LONGEST_TEXT = 40
"""Characters a typed number may have; more is not a number someone meant."""

VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
"""The single-character fractions that are read."""

# What may stand between a whole number and its fraction: spaces, or one hyphen.
_BETWEEN = r"(?:[ \u00a0\u2009\u202f]+|[ ]?[-\u2010\u2011][ ]?)"
_NUMBER = (
    rf"(?:(?P<whole>[0-9]{{1,9}}){_BETWEEN})?"
    r"(?P<top>[0-9]{1,6})[ ]?[/\u2044][ ]?(?P<bottom>[0-9]{1,6})"
    rf"|(?P<wholes>[0-9]{{1,9}})?{_BETWEEN}?(?P<vulgar>[{VULGAR}])"
    r"|(?P<decimal>[0-9]{1,12}(?:[.,][0-9]{0,20})?|[.,][0-9]{1,20})"
)
_SIGNED = re.compile(
    rf"\s*(?P<sign>[-+\u2212]?)\s*(?:{_NUMBER})\s*"
    r"(?P<unit>[A-Za-z]+|[\"\u2033\u201d\u00b0]|'')?\s*"
)
_THOUSANDS = re.compile(r"[0-9]{1,3},[0-9]{3}")

_LENGTH_UNITS = {
    "mm": "mm",
    "cm": "cm",
    "m": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "”": "in",
    "''": "in",
    "yd": "yd",
    "yard": "yd",
    "yards": "yd",
}


def read_length(text: str, unit: Unit = "cm") -> float:
    """The length written in `text`, in mm.

    Args:
        text: such as `74`, `74 cm`, `74,5`, `740mm`, `29 1/8`, `29-1/8"`, `24⅜`.
        unit: the unit of a number written without one.

    Raises:
        BadInput: when it is not a length; the problem names the text.
    """
    match = _match(text, "units.not_a_length")
    written = (match["unit"] or "").lower()
    if written and written not in _LENGTH_UNITS:
        raise BadInput("units.not_a_length", text=text)
    known = _LENGTH_UNITS[written] if written else unit
    # A thousandth of a millimetre is never meant: this comma marks thousands.
    if known == "mm" and _THOUSANDS.fullmatch(match["decimal"] or ""):
        raise BadInput("units.thousands", text=text)
    return _value(match) * MM_PER[known]


def read_number(text: str) -> float:
    """The plain number (a count or a ratio) written in `text`, without a unit.

    Raises:
        BadInput: when it is not a number, or carries a unit.
    """
    match = _match(text, "units.not_a_number")
    if match["unit"]:
        raise BadInput("units.not_a_number", text=text)
    return _value(match)


def _match(text: str, code: str) -> re.Match[str]:
    if len(text) > LONGEST_TEXT:
        raise BadInput("units.too_long", text=text[:LONGEST_TEXT], most=LONGEST_TEXT)
    match = _SIGNED.fullmatch(text)
    if match is None:
        raise BadInput(code, text=text)
    return match


def _value(match: re.Match[str]) -> float:
    """The number of a match, without its unit; zero is never negative."""
    value = _unsigned(match)
    return -value if match["sign"] in ("-", "\u2212") and value else value


def _unsigned(match: re.Match[str]) -> float:
    if match["decimal"]:
        return float(match["decimal"].replace(",", "."))
    if match["vulgar"]:
        return int(match["wholes"] or 0) + unicodedata.numeric(match["vulgar"])
    whole, top, bottom = match["whole"], int(match["top"]), int(match["bottom"])
    # `24 12/8` is a slip of the pen: nobody means 25 1/2 by it.
    if bottom == 0 or (whole is not None and top >= bottom):
        raise BadInput("units.not_a_fraction", text=match.string.strip())
    return int(whole or 0) + top / bottom


def show_length(
    mm: float,
    unit: Unit = "cm",
    fraction: int | None = None,
    *,
    digits: int | None = None,
    with_unit: bool = False,
) -> str:
    """A length as she reads it: `74.5`, or `29 1/8` in inches.

    Args:
        fraction: inches only: the denominator to round to, 8 when not given.
        digits: decimals at most (noughts at the end fall away). Given for inches it
            asks for decimals instead of a fraction; else 1.
    """
    value = mm / MM_PER[unit]
    if unit == "in" and (digits is None or fraction is not None):
        shown = _show_mixed(value, fraction or 8)
    else:
        shown = show_number(value, 1 if digits is None else digits)
    return f"{shown} {unit}" if with_unit else shown


def next_mark(value: float, step: float, steps: int) -> float:
    """A value so many steps on, each on a mark of a scale: between two, the next."""
    marks = value / step
    near = round(marks)
    if abs(marks - near) > 1e-6:
        near = math.floor(marks) + (0 if steps > 0 else 1)
    return (near + steps) * step


def show_number(value: float, digits: int = 2) -> str:
    """A plain number with at most `digits` decimals and no noughts at the end."""
    shown = f"{value:.{digits}f}"
    if "." in shown:
        shown = shown.rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def _show_mixed(value: float, fraction: int) -> str:
    """Rounded first and split afterwards, so that no 8/8 is ever shown."""
    parts = math.floor(abs(value) * fraction + 0.5)
    whole, rest = divmod(parts, fraction)
    sign = "-" if value < 0 and parts else ""
    if not rest:
        return f"{sign}{whole}"
    shared = math.gcd(rest, fraction)
    part = f"{rest // shared}/{fraction // shared}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"

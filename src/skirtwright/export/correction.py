"""Putting right a printer that prints a little large or small.

She measures the two sides of the printed 100 mm square and types what she read; the
next print is drawn that much larger or smaller, each way by itself. What a printer
needs is kept by its name in a small JSON text; reading and writing the file is left
to the caller.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass

from skirtwright.measures.letters import check_letters
from skirtwright.measures.strict_json import read_strict
from skirtwright.problems import BadInput, nearest

SQUARE = 100.0
"""Side of the metric test square, mm."""

MOST = 0.10
"""A printer further out than this is set to fit the page, not out of true."""


@dataclass(frozen=True)
class Correction:
    """How much larger to draw, along the short and the long edge of the paper."""

    across: float = 1.0
    along: float = 1.0

    @property
    def is_none(self) -> bool:
        """True when nothing is put right."""
        return self.across == 1.0 and self.along == 1.0


AS_IT_IS = Correction()


def correction_from(
    read_across_mm: float, read_along_mm: float, before: Correction = AS_IT_IS
) -> Correction:
    """What to draw by, from what she read on the 100 mm square.

    Args:
        read_across_mm: the side along the short edge of the paper, as measured.
        read_along_mm: the side along the long edge.
        before: the correction the measured page was printed with.

    Raises:
        BadInput: `print.correction_beyond`, when a reading, or the correction it
            leads to, is more than 10 % out.
    """
    readings = {"across": read_across_mm, "along": read_along_mm}
    factors = {}
    for way, read in readings.items():
        factor = getattr(before, way) * SQUARE / read if read > 0 else math.inf
        worst = max(abs(read / SQUARE - 1), abs(factor - 1))
        if not worst <= MOST + 1e-9:
            raise BadInput(
                "print.correction_beyond",
                way,
                read=read,
                least=SQUARE * (1 - MOST),
                most=SQUARE * (1 + MOST),
            )
        factors[way] = factor
    return Correction(**factors)


def correction_for(kept: str, printer: str) -> Correction:
    """The correction kept for a printer; none when nothing is kept.

    Args:
        kept: the JSON text of the file, or an empty text.

    Raises:
        BadInput: `print.corrections_unread`, when the text is not what was written.
    """
    return Correction(**_rows(kept).get(printer, {}))


def check_kept(kept: str, printer: str) -> None:
    """Refuse a printer of which nothing is kept.

    Raises:
        BadInput: `print.unknown_printer`, values name, nearest; or see
            `correction_for`.
    """
    known = _rows(kept)
    if printer not in known:
        values = {"name": printer, "nearest": nearest(printer, known)}
        raise BadInput("print.unknown_printer", printer, **values)


def with_correction(kept: str, printer: str, correction: Correction) -> str:
    """The JSON text with one printer's correction set; none takes it out."""
    return _with_row(kept, printer, None if correction.is_none else correction)


def _with_row(kept: str, printer: str, correction: Correction | None) -> str:
    """The JSON text with one printer's row; a printer that prints true has one too."""
    rows = _rows(kept)
    rows.pop(check_letters(printer, "text.name"), None)
    if correction is not None:
        rows[printer] = {"across": correction.across, "along": correction.along}
    return json.dumps(rows, ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def put_right(
    kept: str,
    printer: str,
    read_across_mm: float | None,
    read_along_mm: float | None,
) -> tuple[Correction, str]:
    """The correction to print by, and the text to keep.

    Args:
        kept: the JSON text of the file, or an empty text.
        read_across_mm: what she read on the square across; None where she did not.
        read_along_mm: what she read along.

    Raises:
        BadInput: see `correction_from` and `correction_for`.
    """
    before = correction_for(kept, printer)
    if read_across_mm is None and read_along_mm is None:
        return before, kept
    read = [SQUARE if r is None else r for r in (read_across_mm, read_along_mm)]
    now = correction_from(read[0], read[1], before)
    return now, _with_row(kept, printer, now)


def _rows(kept: str) -> dict[str, dict[str, float]]:
    if not kept.strip():
        return {}
    try:
        rows = read_strict(kept, "printers")
        return {
            str(name): {way: _factor(row[way]) for way in ("across", "along")}
            for name, row in rows.items()
        }
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise BadInput("print.corrections_unread", "printers") from error


def _factor(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(value)
    if not abs(value - 1) <= MOST + 1e-9:
        raise ValueError(value)
    return float(value)

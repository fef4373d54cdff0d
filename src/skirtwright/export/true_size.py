"""Files of the pieces at true size: each kind of file by its ending."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from skirtwright.report import Report
from skirtwright.words import Manner


@dataclass(frozen=True)
class Pieces:
    """The pieces of an order, to be written as a file.

    Attributes:
        size: what a file for others calls them; empty where it is not told.
        made: the day, YYYY-MM-DD.
        on_fold: pieces cut on a fold stay half, where the kind of file has a choice.
    """

    report: Report
    client: str
    size: str
    made: str
    manner: Manner
    on_fold: bool = False


def _svg(pieces: Pieces) -> bytes:
    from skirtwright.export.pattern import svg_of

    return svg_of(pieces.report, pieces.client, pieces.manner).encode()


def _dxf(pieces: Pieces) -> bytes:
    from skirtwright.export.cutting_file import cutting_file

    size, made, manner = pieces.size, pieces.made, pieces.manner
    return cutting_file(pieces.report, size, made, manner, on_fold=pieces.on_fold)


WRITERS: dict[str, Callable[[Pieces], bytes]] = {".svg": _svg, ".dxf": _dxf}
"""The file of the pieces, by its ending; the first is offered first."""

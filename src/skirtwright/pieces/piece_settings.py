"""What she set for the pieces, as it is asked for while they are cut.

An allowance is set for an edge, or for one run of an edge that has several: `centre`
is the whole edge, `centre[1]` its first run from the start, such as a zip's. A run
set by itself comes before what is set for the whole edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from skirtwright.draft.draft import MOST_ALLOWANCE, PieceOf
from skirtwright.draft.runs import Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.spec import AllowanceRun, NotchSpec
from skirtwright.pieces.walked_seams import Seam, along, matched, share_of
from skirtwright.problems import BadInput, Problem, SkirtwrightError, told_of
from skirtwright.telling.names_in_words import plain


@dataclass(frozen=True)
class HandNotch:
    """A balance mark she placed on an edge.

    Attributes:
        at: walked distance from the edge's start, as typed.
    """

    edge: str
    at: str
    count: int = 1


@dataclass(frozen=True)
class PieceSettings:
    """What she set for one piece; kept even for edges that are not there just now.

    Attributes:
        title: her name for it; empty for the style's.
        hidden: left off the table and the paper.
        allowances: as typed, by edge or by run of an edge.
        notches: placed by hand, besides the style's.
        joins: where it is cut apart and joined again, as typed; at 0 on its fold.
        across: cut with the grain across it.
    """

    title: str = ""
    hidden: bool = False
    allowances: Mapping[str, str] = field(default_factory=dict)
    notches: tuple[HandNotch, ...] = ()
    joins: tuple[str, ...] = ()
    across: bool = False


AS_THE_STYLE: Final = PieceSettings()
Settings = Mapping[str, PieceSettings]
"""By the name of the piece."""


def allowance_keys(data: PieceOf, edge: str) -> tuple[str, ...]:
    """What the allowances of an edge are kept under: the edge, or each of its runs."""
    widths = data.allowances.get(edge, "")
    if isinstance(widths, str):
        return (edge,)
    return tuple(run_key(edge, str(n)) for n in range(1, len(widths) + 1))


def run_key(edge: str, number: str) -> str:
    """What the allowance of a run of an edge is kept under; of all without a number."""
    return f"{edge}[{number}]" if number else edge


def edge_and_run(key: str) -> tuple[str, str]:
    """The edge, and the number of its run or nothing, that `run_key` was made from."""
    edge, _, number = key.partition("[")
    return edge, number.removesuffix("]")


def live_runs(
    worked: Worked, data: PieceOf, edge: str, own: Mapping[str, str]
) -> tuple[tuple[str, AllowanceRun], ...]:
    """The runs of an edge with what each is kept under; those of no length left out.

    Raises:
        SkirtwrightError: a width cannot be read or worked.
    """
    whole = own.get(edge)
    widths = data.allowances.get(edge)
    if widths is None or isinstance(widths, str):
        if whole is None and widths is None:
            return ()
        return (
            (edge, AllowanceRun(None, _width(worked, data, edge, whole, widths or ""))),
        )
    runs: list[tuple[str, AllowanceRun]] = []
    walked = 0.0
    for key, run in zip(allowance_keys(data, edge), widths, strict=True):
        until = None if run.to is None else worked.read(run.to, Reads.LENGTH)
        if until is not None and until < walked - SAME:
            values = {"edge": edge, "until": until, "walked": walked}
            raise BadInput("pieces.runs_out_of_order", **values)
        walked = walked if until is None else until
        if until is None or until > 0:
            width = _width(worked, data, edge, own.get(key, whole), run.width)
            runs.append((key, AllowanceRun(until, width)))
    return tuple(runs)


def allowance_runs(
    worked: Worked, data: PieceOf, edge: str, own: Mapping[str, str]
) -> tuple[tuple[str, AllowanceRun], ...]:
    """The same, as she sets them: runs of one width are one, kept under the edge.

    Unless she set one of them by itself: then each stands for itself.

    Raises:
        SkirtwrightError: a width cannot be read or worked.
    """
    runs = live_runs(worked, data, edge, own)
    alike = len({run.width for _, run in runs}) == 1
    if any(key in own for key, _ in runs) or not alike:
        return runs
    return ((edge, runs[-1][1]),)


def _width(
    worked: Worked, data: PieceOf, edge: str, own: str | None, of_style: str
) -> float:
    if own is not None:
        try:
            width = worked.read_typed(own)
        except SkirtwrightError as error:
            # It is about the piece she set it for, not about a name of the draft.
            of = f"{data.title}, {plain(edge)}"
            problem = replace(told_of(error, of).problem, where="")
            raise SkirtwrightError.of(problem) from error
        if not 0 <= width <= MOST_ALLOWANCE:
            raise BadInput("pieces.allowance_beyond", width=width, most=MOST_ALLOWANCE)
        return width
    return float(worked.read(of_style, Reads.LENGTH))


def hand_notches(
    worked: Worked,
    settings: Settings,
    seams: Sequence[Seam],
    panels: Mapping[str, Panel],
    problems: list[Problem],
) -> Iterator[tuple[str, NotchSpec]]:
    """Every notch she placed, and what matches it across the seams of its edge."""
    for piece, setting in settings.items():
        panel = panels.get(piece)
        there = {edge.name for edge in panel.edges} if panel else set()
        for mark in setting.notches:
            if mark.edge not in there:
                continue
            try:
                distance = worked.read_typed(mark.at)
            except SkirtwrightError as error:
                of = f"{piece}, {mark.edge}"
                problems.append(replace(told_of(error, plain(of)).problem, where=piece))
                continue
            spec = NotchSpec(mark.edge, distance, mark.count)
            yield piece, spec
            yield from _across(piece, spec, seams, panels)


def _across(
    piece: str, spec: NotchSpec, seams: Sequence[Seam], panels: Mapping[str, Panel]
) -> Iterator[tuple[str, NotchSpec]]:
    """The same mark on whatever is sewn to its edge, at the same walked distance."""
    if not -SAME <= spec.distance <= panels[piece].edge(spec.edge).chain.length + SAME:
        return
    for seam in seams:
        for side in seam.sides:
            for walked in _walked(side, piece, spec, panels):
                share = share_of(seam, panels) if side is seam.sides[1] else 1.0
                yield from matched(seam, panels, walked * share, spec.count)


def _walked(
    side: Side, piece: str, spec: NotchSpec, panels: Mapping[str, Panel]
) -> Iterator[float]:
    """Walked distances at which a side comes by the mark."""
    for run, begins, length in along(side, panels):
        if run.key == (piece, spec.edge):
            yield begins + run.own_distance(spec.distance, length)

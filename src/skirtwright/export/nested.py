"""One skirt in several sizes, each piece's sizes drawn over one another.

Every size has a line pattern and a layer of its own, and is named on its line. The
sizes of a piece meet in one point: an end of an edge, or a mark.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from skirtwright.draft.shapes.panel import Panel
from skirtwright.export.facts import CoverFacts
from skirtwright.export.sheet import (
    MOST_SIZES,
    Fill,
    Group,
    Label,
    Layer,
    Mark,
    Sheet,
    Stroke,
    size_layer,
)
from skirtwright.geometry import Point, shift
from skirtwright.measures.sizes import nearest_size
from skirtwright.pieces.arrange import side_by_side
from skirtwright.pieces.drawn_things import DrawnLine, Kind
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.pieces.wording.labels import cut_line, material_words
from skirtwright.problems import BadInput, NotFound, nearest
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

_GAP = 20.0
_LABEL, _WORDS = 5.0, 3.0
"""Height of capitals of a label and of a size's name, mm."""

_NAMED_AT = (0.15, 0.4, 0.65, 0.9)
"""Where along its outline a size is named."""

_OF_EACH: tuple[Kind, ...] = ("notch", "drill", "dart", "inside", "pleat")
_THIN = 0.25


@dataclass(frozen=True)
class Nest:
    """Sizes to be drawn over one another.

    Attributes:
        sizes: each with its name and its report, the smallest first.
        on: the point all sizes of a piece meet in: `EDGE start`, `EDGE end`, or a
            mark; empty for the beginning of the waist.
    """

    sizes: tuple[tuple[str, Report], ...]
    on: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """What the sizes are called."""
        return tuple(name for name, _ in self.sizes)

    def checked(self) -> Nest:
        """The same, where it can be drawn.

        Raises:
            BadInput: more sizes than there are line patterns, or two of one name.
            NotFound: no piece has the point.
        """
        if len(self.sizes) > MOST_SIZES:
            raise BadInput("nest.too_many", count=len(self.sizes), most=MOST_SIZES)
        for name in self.names:
            if self.names.count(name) > 1:
                raise BadInput("nest.twice", name, name=name)
        panels = [piece.panel for piece in self.sizes[0][1].to_cut.pieces]
        if self.on and not any(_point(panel, self.on) for panel in panels):
            known = dict.fromkeys(e.name for panel in panels for e in panel.edges)
            name = self.on.partition(" ")[0]
            values = {"name": self.on, "nearest": nearest(name, known, 0.0)}
            raise NotFound("nest.no_point", self.on, **values, known=", ".join(known))
        return self


def nested_sheet(
    nest: Nest, manner: Manner, only: Collection[str], stitching: bool
) -> Sheet:
    """The pieces side by side, all sizes of each in its place.

    Args:
        only: names of the pieces wanted; none means all shown.
        stitching: stitching lines in place of cutting lines.

    Raises:
        NotFound: there is no such piece.
    """
    wanted = dict.fromkeys(
        piece.name for _, report in nest.sizes for piece in report.to_cut.shown
    )
    for name in only:
        if name not in wanted:
            known = ", ".join(wanted)
            raise NotFound("print.unknown_piece", name, name=name, known=known)
    outline: Kind = "stitching" if stitching else "cutting"
    groups = [
        _group(nest, name, outline, manner)
        for name in wanted
        if not only or name in only
    ]
    moves = side_by_side([group.outline_box.corners for group in groups], _GAP)
    placed = [g.moved(shift(move)) for g, move in zip(groups, moves, strict=True)]
    values = {"style": _style(nest, manner), "names": ", ".join(nest.names)}
    title = say("nest.title", values, manner)
    return Sheet(title, tuple(placed), sizes=nest.names)


def _style(nest: Nest, manner: Manner) -> str:
    return translate(nest.sizes[0][1].worked.draft.title, manner)


def _group(nest: Nest, name: str, outline: Kind, manner: Manner) -> Group:
    sizes = [
        (number, size, piece)
        for number, (size, report) in enumerate(nest.sizes, 1)
        for piece in report.to_cut.shown
        if piece.name == name
    ]
    marks: list[Mark] = []
    labels: list[Label] = []
    meet = _meeting(sizes[0][2], nest.on)
    for number, size, piece in sizes:
        home = shift(meet - _meeting(piece, nest.on))
        layer = size_layer(number)
        lines = list(_lines(piece, outline, layer))
        marks += [line.moved(home) for line in lines]
        around = next(line for line in lines if line.closed or line.weight is None)
        shares = [(at + number * 0.03) % 1.0 for at in _NAMED_AT]
        labels += [
            Label(((size,),), _WORDS, around.moved(home).path, share, layer)
            for share in shares
        ]
    largest = sizes[-1][2]
    home = shift(meet - _meeting(largest, nest.on))
    marks += [line.moved(home) for line in _common(largest)]
    title = translate(largest.spec.title, manner)
    names = [size for _, size, _ in sizes]
    said = (
        title,
        _style(nest, manner),
        cut_line(largest, manner),
        say("nest.sizes", {"names": ", ".join(names)}, manner),
    )
    labels.insert(0, Label((said, (title, said[2]), (title,)), _LABEL))
    cloth = material_words(largest.spec.material, manner)
    return Group.of(title, marks, name, labels, cloth)


def _lines(piece: Piece, outline: Kind, layer: Layer) -> Iterator[Stroke]:
    """The outline of a size, and what is its own within it."""
    for item in drawn(piece):
        if not isinstance(item, DrawnLine) or item.filled:
            continue
        path = item.chain.segments
        if item.kind == outline:
            yield Stroke(path, layer, closed=item.closed)
        elif item.kind in _OF_EACH:
            dash = () if item.kind in ("notch", "drill") else None
            yield Stroke(path, layer, _THIN, dash)


def _common(piece: Piece) -> Iterator[Stroke | Fill]:
    """Grain and fold, drawn once."""
    for item in drawn(piece):
        if isinstance(item, DrawnLine) and item.kind in ("grain", "fold"):
            layer: Layer = "grain" if item.kind == "grain" else "fold"
            if item.filled:
                yield Fill(item.chain.segments, layer)
            else:
                yield Stroke(item.chain.segments, layer, closed=item.closed)


def _meeting(piece: Piece, on: str) -> Point:
    """The point of a piece in which its sizes meet."""
    place = _point(piece.panel, on) if on else None
    if place:
        return place
    waists = [e for e in piece.edges if e.role in ("waist", "waist_join")]
    return (waists or piece.edges)[0].start


def _point(panel: Panel, on: str) -> Point | None:
    edge, _, end = on.strip().partition(" ")
    for known in panel.edges:
        if known.name == edge and end.strip() in ("start", "end"):
            chain = known.chain
            return chain.start if end.strip() == "start" else chain.end
    mark = panel.mark(on.strip())
    return mark.shape if mark and isinstance(mark.shape, Point) else None


def nested_facts(
    nest: Nest, facts: Callable[[Report], CoverFacts], manner: Manner
) -> CoverFacts:
    """What the first page says: finished measures of every size, in their order.

    What is alike in all is told once.
    """
    told = [facts(report) for _, report in nest.sizes]
    finished: dict[str, list[str]] = {}
    for one in told:
        for name, value in one.finished:
            finished.setdefault(name, []).append(value)
    values = {"names": ", ".join(nest.names)}
    alike = {n: held[:1] if len({*held}) == 1 else held for n, held in finished.items()}
    rows = tuple((name, ", ".join(held)) for name, held in alike.items())
    note = say("nest.note", values, manner)
    return replace(told[-1], client="", finished=rows, notes=(note, *told[-1].notes))


def sized(names: Sequence[str], text: str) -> tuple[str, ...]:
    """The sizes from one to another, written `A-B`.

    Raises:
        NotFound: one is none of the chart's; the nearest is named.
        BadInput: they stand the other way round.
    """
    first, _, last = (part.strip() for part in text.partition("-"))
    for name in (first, last):
        if name not in names:
            values = {"name": name, "nearest": nearest_size(name, names)}
            raise NotFound("nest.no_size", name, **values, known=", ".join(names))
    low, high = names.index(first), names.index(last)
    if high <= low:
        raise BadInput("nest.backwards", text, first=last, last=first)
    return tuple(names[low : high + 1])

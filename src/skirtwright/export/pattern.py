"""The cut pieces of an order as a sheet, beside one another at true scale."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from skirtwright.budget import bounded
from skirtwright.export.facts import CoverFacts
from skirtwright.export.figure_marks import figure_marks
from skirtwright.export.given_as_sizes import rectangle_of, sentences_of
from skirtwright.export.lay_words import material_name
from skirtwright.export.opened import opened, turned_over
from skirtwright.export.sheet import (
    PLEAT_FOLD,
    Fill,
    Group,
    Label,
    Layer,
    Mark,
    Sheet,
    Stroke,
)
from skirtwright.export.svg import write_svg
from skirtwright.export.traced_twice import lines_of, names_of, traced_twice, words_of
from skirtwright.geometry import shift
from skirtwright.pieces.arrange import side_by_side
from skirtwright.pieces.drawn_things import Drawn, DrawnLine, DrawnWords, Kind
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun
from skirtwright.pieces.wording.edge_names import edge_title
from skirtwright.pieces.wording.labels import (
    cut_line,
    cut_single,
    label_lines,
    material_words,
)
from skirtwright.pieces.wording.notch_words import notch_legend
from skirtwright.problems import NotFound
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

GAP = 20.0
"""Between pieces, mm."""

FIGURE_HIGH = 30.0
"""Of the skirt on her on the first page, mm."""

TOILE = 40.0
"""Seam allowance of a toile, mm: room to let out (common practice, no source)."""

_LABEL = 5.0
"""Height of capitals of a label, mm."""

_WORDS = 3.0
"""Height of capitals of words on a line, mm."""

MAIN_CLOTH = "shell"

_ON_THE_LINE = frozenset({"waist", "hem"})

_LAYER: dict[Kind, Layer] = {
    "stitching": "stitching",
    "cutting": "cutting",
    "fold": "fold",
    "grain": "grain",
    "notch": "notch",
    "drill": "drill",
    "dart": "stitching",
    "inside": "inside",
    "lengthen": "lengthen",
    "pleat": "inside",
    "label": "label",
}


@dataclass(frozen=True)
class Drawing:
    """Which pieces are drawn, and what of them.

    Attributes:
        only: names of the pieces wanted, hidden ones too; none means all shown.
        toile: with wide allowances at the seams and none at waist and hem; of the
            main cloth alone where no pieces are named.
        short_labels: only what each piece is and how it is cut.
        open_out: as they are cut of single cloth: those on the fold whole, and both
            of a pair.
        lining_on_shell: linings that lie on a piece of the main cloth as lines on it.
        as_sizes: without the rectangles that a few sizes tell.
    """

    only: Collection[str] = ()
    toile: bool = False
    short_labels: bool = False
    open_out: bool = False
    lining_on_shell: bool = False
    as_sizes: bool = False


ALL = Drawing()


def pattern_of(
    report: Report,
    client: str,
    manner: Manner,
    how: Drawing = ALL,
    date: str = "",
) -> Sheet:
    """The pieces of an order as a sheet.

    Raises:
        NotFound: there is no such piece.
        Refused: there is no piece at all.
    """
    chosen = _wanted(report, how)
    if how.as_sizes:
        chosen = [piece for piece in chosen if not rectangle_of(piece)]
    twice = traced_twice(chosen) if how.lining_on_shell else {}
    traced = {lining.name for linings in twice.values() for lining in linings}
    chosen = [piece for piece in chosen if piece.name not in traced]
    if how.toile:
        chosen = [toile_piece(piece) for piece in chosen]
    pieces = report.cut.pieces
    titles = {seam.name: seam.title for seam in report.cut.written}
    materials = {piece.name: piece.spec.material for piece in pieces}
    seams = [walked.seam for walked in report.cut.seams]

    def label(piece: Piece) -> Sequence[str]:
        if how.short_labels:
            return translate(piece.spec.title, manner), cut_line(piece, manner)
        title = report.worked.draft.title
        legend = notch_legend(piece, seams, titles, materials, manner)
        lines = label_lines(piece, title, client, date, manner, legend)
        others = (words_of(one, manner) for one in twice.get(piece.name, ()))
        return (*lines, *(line for lines in others for line in lines))

    return pattern(
        report.title, chosen, label, manner, open_out=how.open_out, twice=twice
    )


def _wanted(report: Report, how: Drawing) -> Sequence[Piece]:
    """The pieces named, or all that are shown; of a toile those of main cloth.

    Raises:
        NotFound: there is no such piece.
    """
    # A toile is of another cloth, which is washed for nobody.
    cut = report.cut if how.toile else report.to_cut
    pieces = cut.pieces
    known = [piece.name for piece in pieces]
    for name in how.only:
        if name not in known:
            raise NotFound(
                "print.unknown_piece", name, name=name, known=", ".join(known)
            )
    if how.only:
        return [piece for piece in pieces if piece.name in how.only]
    return [p for p in cut.shown if not how.toile or p.spec.material == MAIN_CLOTH]


def toile_piece(piece: Piece) -> Piece:
    """A piece for a toile: wide seams to pin, waist and hem on the line."""
    edges = {
        edge.name: (AllowanceRun(None, 0.0 if edge.role in _ON_THE_LINE else TOILE),)
        for edge in piece.edges
        if edge.name not in piece.spec.folds
    }
    spec = replace(piece.spec, allowances=edges, corners={})
    return make_piece(piece.panel, spec)


_ALL_ROUND = 3
"""From so many edges on a piece is told as alike all round."""


@bounded()
def svg_of(report: Report, client: str, manner: Manner) -> str:
    """All the pieces of an order as SVG at true scale, with its test squares.

    Raises:
        Refused: there is no piece.
    """
    facts = cover_facts(report, client, "", manner)
    return write_svg(pattern_of(report, client, manner), facts, manner)


def pattern(
    title: str,
    pieces: Sequence[Piece],
    label: Callable[[Piece], Sequence[str]],
    manner: Manner,
    *,
    open_out: bool = False,
    twice: Mapping[str, Sequence[Piece]] | None = None,
) -> Sheet:
    """The pieces as a sheet, side by side, each a group named as it is read.

    Args:
        label: the lines of a piece's label.
        open_out: see `Drawing`.
        twice: the pieces drawn on another, by that one's name.
    """
    groups: list[Group] = []
    for piece in pieces:
        name = translate(piece.spec.title, manner)
        lines, items = label(piece), drawn(piece, manner)
        if not open_out:
            how = cut_line(piece, manner)
            group = _group(piece, name, lines, how, items, manner)
            others = (twice or {}).get(piece.name, ())
            groups.append(_with_others(group, piece, others, manner))
            continue
        single = cut_single(piece, manner)
        lines = [single if said == cut_line(piece, manner) else said for said in lines]
        items = tuple(opened(piece, items))
        groups.append(_group(piece, name, lines, single, items, manner))
        if piece.spec.mirrored:
            other = say("print.turned_over", {"piece": name}, manner)
            lines = [other, *lines[1:]]
            groups.append(
                _group(piece, other, lines, single, turned_over(items), manner)
            )
    rings = [group.outline_box.corners for group in groups]
    moves = side_by_side(rings, GAP)
    placed = (
        group.moved(shift(move)) for group, move in zip(groups, moves, strict=True)
    )
    return Sheet(title, tuple(placed))


def _group(
    piece: Piece,
    name: str,
    label: Sequence[str],
    how: str,
    items: Sequence[Drawn],
    manner: Manner,
) -> Group:
    """A piece's marks, with its label, fullest first, and the words of its lines."""
    versions = dict.fromkeys((tuple(label), (label[0], how), (label[0],)))
    labels = [Label(tuple(versions), _LABEL)]
    for item in items:
        if isinstance(item, DrawnWords):
            of = item.of.segments
            labels.append(Label(((item.words,),), _WORDS, of, item.share))
    marks = [_mark(item) for item in items if isinstance(item, DrawnLine)]
    cloth = material_words(piece.spec.material, manner)
    return Group.of(name, marks, piece.spec.name, labels, cloth)


def _with_others(
    group: Group, piece: Piece, others: Sequence[Piece], manner: Manner
) -> Group:
    """A piece with what is traced off it besides."""
    for other in others:
        lines = list(lines_of(other, piece))
        names = tuple(names_of(other, lines, manner))
        group = replace(
            group.holding((*group.marks, *lines)), labels=(*group.labels, *names)
        )
    return group


def _mark(item: DrawnLine) -> Mark:
    layer = _LAYER[item.kind]
    if item.filled:
        return Fill(item.chain.segments, layer)
    weight, dash = PLEAT_FOLD if item.kind == "pleat" else (None, None)
    return Stroke(item.chain.segments, layer, weight, dash, item.closed)


def cover_facts(
    report: Report,
    client: str,
    date: str,
    manner: Manner,
    how: Drawing = ALL,
) -> CoverFacts:
    """What the first page says of an order, or of some of its pieces."""
    finished = tuple(
        (say(f"finished.{name}", manner=manner), _length(value, manner))
        for name, value in report.finished.items()
        if value is not None
    )
    pieces = _wanted(report, how)
    told = dict(_drawn_on(pieces, manner)) if how.lining_on_shell else {}
    numbers = report.cut.numbers
    cut_list = tuple(
        (
            numbers[piece.name],
            translate(piece.spec.title, manner),
            told.get(piece.name, cut_line(piece, manner)),
        )
        for piece in sorted(pieces, key=lambda piece: numbers[piece.name])
    )
    included = say("print.allowances_included", manner=manner)
    return CoverFacts(
        client,
        translate(report.worked.draft.title, manner),
        date,
        finished,
        cut_list,
        "" if how.toile else included,
        () if how.toile else tuple(_widths(pieces, manner)),
        say("print.toile_includes", {"wide": TOILE}, manner) if how.toile else "",
        notes=tuple(sentences_of(pieces, manner)) if how.as_sizes else (),
        figure=figure_marks(report, FIGURE_HIGH),
    )


def _drawn_on(pieces: Sequence[Piece], manner: Manner) -> Iterator[tuple[str, str]]:
    """Of what is traced off another piece: how it is cut, and which piece that is."""
    titles = {piece.name: translate(piece.spec.title, manner) for piece in pieces}
    for name, linings in traced_twice(pieces).items():
        for lining in linings:
            values = {"how": cut_line(lining, manner), "piece": titles[name]}
            yield lining.name, say("print.drawn_on", values, manner)


def _widths(pieces: Sequence[Piece], manner: Manner) -> Iterator[tuple[str, str]]:
    """The allowances of each edge, such as side seam 2 cm.

    Of other cloths those are told, by name, that are not as the main cloth's.
    """
    main: set[tuple[str, str]] = set()
    for material in dict.fromkeys(piece.spec.material for piece in pieces):
        of = [piece for piece in pieces if piece.spec.material == material]
        told = tuple(_widths_of(of, manner))
        if material == MAIN_CLOTH:
            main = {*told}
            yield from told
            continue
        cloth = material_name(material, manner)
        for name, words in told:
            if (name, words) not in main:
                yield f"{cloth}, {name[:1].lower()}{name[1:]}", words


def _widths_of(pieces: Sequence[Piece], manner: Manner) -> Iterator[tuple[str, str]]:
    """Those of one cloth; what is alike all round, such as a band, is told as one."""
    found: dict[str, dict[str, list[str]]] = {}
    body = {translate(p.spec.title, manner) for p in pieces if p.spec.body}
    for piece in pieces:
        every = [run.width for runs in piece.spec.allowances.values() for run in runs]
        if len(every) >= _ALL_ROUND and len({*every}) == 1 and every[0]:
            alike = {"width": _length(every[0], manner)}
            name = translate(piece.spec.title, manner)
            yield name, say("making.allowance_all_round", alike, manner)
            continue
        for edge, runs in piece.spec.allowances.items():
            name = edge_title(edge, manner)
            widths = dict.fromkeys(_length(r.width, manner) for r in runs if r.width)
            words = say("making.then", {}, manner).join(widths)
            if words:
                titles = found.setdefault(name, {}).setdefault(words, [])
                titles.append(translate(piece.spec.title, manner))
    for name, known in found.items():
        for words, titles in known.items():
            # An edge that is not alike on all pieces, or on none that hangs round the
            # body, is told of each.
            of = say(
                "print.edge_of", {"edge": name, "pieces": "; ".join(titles)}, manner
            )
            told = name if len(known) == 1 and body & {*titles} else of
            yield told[:1].upper() + told[1:], words


def _length(value: float, manner: Manner) -> str:
    return say("finished.length_shown", {"value": value}, manner)

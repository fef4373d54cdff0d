"""The making-up sheet as plain contents: everything on it, apart from any drawing.

Every figure is the report's; here it is only put in order and into words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from skirtwright.draft.halves.halving import both_sides
from skirtwright.export.figure_marks import figure_marks
from skirtwright.export.lay_words import lay_values, material_name
from skirtwright.export.sewing.drafting_text import (
    FINEST,
    DraftPart,
    drafting_text,
    is_halved,
)
from skirtwright.export.sewing.sewing_facts import Facts, facts_of, table
from skirtwright.export.sewing.sewing_order import (
    SewingRow,
    cautions,
    notions,
    sewing_rows,
)
from skirtwright.export.sewing.sewing_pieces import reach
from skirtwright.export.sewing.sewing_words import phrase
from skirtwright.export.sheet import Mark
from skirtwright.lay.all_cloths import materials
from skirtwright.lay.lay import Lay
from skirtwright.measures.measurements import SIDES, known_measurement
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.piece import Piece, PieceEdge
from skirtwright.pieces.wording.labels import how_cut, larger_line
from skirtwright.problems import Refused
from skirtwright.report import Report
from skirtwright.telling.names_in_words import edge_words
from skirtwright.words import Manner, has_message, in_two_sentences, say, translate

_ON_THE_BODY = ("waist", "hip")
"""Finished measures that lie round the body, with the body's own beside them."""

_EASED_ON_BAND = (
    "waist_finish is band and ease_in > 0.2 mm"
    " and waist_stretch <= 0.2 mm and waist_gathers <= 1.05"
)
"""When the skirt's waist is a little longer than the band that she wears it with."""

FIGURE_HIGH = 34.0
"""mm."""

CUT_NOTES = ("making.allowances_included", "making.cut_size", "making.cloth_by_lay")
"""Message ids of what there is to say under a cut list."""


@dataclass(frozen=True)
class CutRow:
    """One piece: its number and name, how it is cut, its cut size, its allowances."""

    number: int
    piece: str
    cut: str
    size: str
    allowances: str


@dataclass(frozen=True)
class CutList:
    """The pieces of one cloth, how much of it they need, and how they lie on it."""

    cloth: str
    needs: str
    rows: tuple[CutRow, ...]
    lay: Lay | None = None


@dataclass(frozen=True)
class MeasureRow:
    """A measure of the body, the ease on it, and the finished one; "" for none."""

    name: str
    body: str
    ease: str
    finished: str


@dataclass(frozen=True)
class SewingStep:
    """One step of the sewing.

    Attributes:
        step: what it is, by its name in the rules.
        row: the pieces and seams, for its drawing.
    """

    step: str
    title: str
    words: str
    row: SewingRow


@dataclass(frozen=True)
class Making:
    """Everything on a making-up sheet, in her language and unit.

    Attributes:
        lengths: which unit the lengths are in.
        figure: the skirt on her, from front, side and back, mm.
        look: what is wrong or to be looked at before cutting.
        cut: the cut list, cloth by cloth.
        numbers: of the pieces in the cut list, by name.
        pieces: those of the cut list, in its order, for their pictures.
        sewn: all there are, for the drawings of the steps.
        measures: finished against body.
        cautions: those that apply.
        taken: measurements the draft is worked from, name and length.
        set: ease and style measures and choices, name and value.
        noted: what the style decided for her, and why.
        halved: whether left and right are drafted apart.
    """

    title: str
    style: str
    client: str
    date: str
    lengths: str
    figure: tuple[Mark, ...]
    altered: tuple[str, ...]
    look: tuple[str, ...]
    cut: tuple[CutList, ...]
    numbers: Mapping[str, int]
    pieces: tuple[Piece, ...]
    sewn: tuple[Piece, ...]
    notions: tuple[str, ...]
    measures: tuple[MeasureRow, ...]
    order: tuple[SewingStep, ...]
    cautions: tuple[str, ...]
    taken: tuple[tuple[str, str], ...]
    set: tuple[tuple[str, str], ...]
    noted: tuple[str, ...]
    drafting: tuple[DraftPart, ...]
    halved: bool


def making_of(report: Report, client: str, date: str, manner: Manner) -> Making:
    """The making-up sheet of a report.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    if not report.cut.shown:
        raise Refused("print.nothing")
    facts = facts_of(report)
    if manner.unit == "in":
        # One figure for one length: by the finest that the draft is told in.
        manner = replace(manner, fraction=max(manner.fraction, FINEST))
    by_cloth = [
        (material, [p for p in report.to_cut.shown if p.spec.material == material])
        for material in materials(report.cut)
    ]
    lays = {laid.cloth.material: laid for laid in report.lays}
    return Making(
        report.title,
        translate(report.worked.draft.title, manner),
        client,
        date,
        say(f"print.lengths_in.{manner.unit}", manner=manner),
        figure_marks(report, FIGURE_HIGH),
        tuple(line.said(manner) for line in report.altered),
        tuple(findings_told(report, manner)),
        tuple(
            _cut_list(name, pieces, report.cut.numbers, lays.get(name), manner)
            for name, pieces in by_cloth
        ),
        report.cut.numbers,
        tuple(piece for _, pieces in by_cloth for piece in pieces),
        _to_show(report.cut),
        tuple(phrase(saying, manner) for saying in notions(facts)),
        tuple(_measures(report, facts, manner)),
        tuple(
            SewingStep(
                row.step,
                say(row.title, manner=manner),
                " ".join(phrase(s, manner) for s in row.says),
                row,
            )
            for row in sewing_rows(facts)
        ),
        tuple(cautions_of(report, facts, manner)),
        tuple(_taken(report, manner)),
        tuple(_set(report, manner)),
        tuple(_noted(report, manner)),
        drafting_text(report.worked, manner),
        is_halved(report.worked),
    )


def _to_show(cut: Cut) -> tuple[Piece, ...]:
    """Every piece a step may be of: parts, and what is whole once they are joined."""
    whole = {piece.name: piece for piece in cut.whole.pieces}
    return tuple({**{piece.name: piece for piece in cut.pieces}, **whole}.values())


def _noted(report: Report, manner: Manner) -> Iterator[str]:
    """What the style itself says, where nothing needs to be done."""
    for problem in report.problems:
        if problem.severity == "note" and problem.code.startswith("style."):
            yield in_two_sentences(problem, manner)


def findings_told(report: Report, manner: Manner) -> Iterator[str]:
    """What the checks say, notes left out."""
    for problem in report.problems:
        if problem.severity != "note":
            head = say(f"severity.{problem.severity}", manner=manner)
            yield f"{head}: {in_two_sentences(problem, manner)}"


def cautions_of(report: Report, facts: Facts, manner: Manner) -> Iterator[str]:
    """What to warn of: as the checks say it, and what they leave unsaid."""
    warned = table()["findings"]["cautions"]
    found = [problem for problem in report.problems if problem.code in warned]
    for problem in found:
        if problem.severity == "note":
            yield in_two_sentences(problem, manner)
    codes = [problem.code for problem in found]
    yield from (phrase(saying, manner) for saying in cautions(facts, codes))


# Cutting


def _cut_list(
    material: str,
    pieces: list[Piece],
    numbers: Mapping[str, int],
    laid: Lay | None,
    manner: Manner,
) -> CutList:
    name = material_name(material, manner)
    needs = ""
    if laid:
        values = lay_values(laid, manner) | {"cloth": name}
        values["length"] = values["bought"]
        told = "cloth_enough" if values["left"] else "cloth_laid"
        needs = say(f"making.{told}", values, manner)
    grown = {larger_line(piece.larger, manner): None for piece in pieces}
    needs = " ".join(filter(None, (needs or name, *grown)))
    return CutList(
        name,
        needs,
        tuple(
            CutRow(
                numbers[piece.name],
                translate(piece.spec.title, manner),
                how_cut(piece, manner),
                _size(piece, manner),
                _allowances(piece, manner),
            )
            for piece in pieces
        ),
        laid,
    )


def _size(piece: Piece, manner: Manner) -> str:
    """Along the grain by across it, as the piece is drawn."""
    values = {"long": reach(piece, along=True), "wide": reach(piece, along=False)}
    return say("making.size", values, manner)


def _allowances(piece: Piece, manner: Manner) -> str:
    """What the cutting line includes, edge by edge; alike edges together."""
    edges: dict[str, dict[str, None]] = {}
    for edge in piece.edges:
        if edge.name in piece.spec.folds:
            continue
        widths = dict.fromkeys(_length(width, manner) for width, _ in edge.allowances)
        said = say("making.then", {}, manner).join(widths) or _length(0.0, manner)
        edges.setdefault(said, {})[_edge(edge, manner)] = None
    if len(edges) == 1:
        only = next(iter(edges))
        bare = only == _length(0.0, manner)
        how = "making.no_allowance" if bare else "making.allowance_all_round"
        return say(how, {"width": only}, manner)
    parts = [f"{', '.join(names)} {said}" for said, names in edges.items()]
    return "; ".join(parts)


def _edge(edge: PieceEdge, manner: Manner) -> str:
    """What an edge is called, by what it is before its name in the draft."""
    by_role = f"edge.role.{edge.role}"
    if has_message(by_role):
        return say(by_role, manner=manner)
    return edge_words(edge.name).said(manner)


# Measures


def _measures(report: Report, facts: Facts, manner: Manner) -> Iterator[MeasureRow]:
    body = report.worked.stated.measurements
    for name, value in report.finished.items():
        if value is None:
            continue
        own = body.get(name) if name in _ON_THE_BODY else None
        yield MeasureRow(
            say(f"finished.{name}", manner=manner),
            "" if own is None else _length(own, manner),
            "" if own is None else _length(value - own, manner),
            _length(value, manner, about=report.is_about(name)),
        )
        if name == "waist" and own is not None and facts.holds(_EASED_ON_BAND):
            on_band = value - facts.worked("ease_in")
            said = say("making.waist_on_band", manner=manner)
            figures = (own, on_band - own, on_band)
            yield MeasureRow(said, *(_length(figure, manner) for figure in figures))
    if facts.holds("floor_known > 0 and over_floor > 0 and length > 0"):
        clear = _length(facts.worked("over_floor"), manner)
        yield MeasureRow(say("making.over_floor", manner=manner), "", "", clear)


def _taken(report: Report, manner: Manner) -> Iterator[tuple[str, str]]:
    """The measurements there are, each side as it was taken; what was not says so."""
    stated = report.worked.stated
    sides = both_sides(report.taken)
    for name, value in stated.measurements.items():
        if not any(f"{name}_{side}" in report.taken for side in SIDES):
            guessed = name in stated.estimated
            yield _measured(name, value, guessed=guessed, manner=manner)
            continue
        share = 2 if known_measurement(name).sides == "half" else 1
        for side, whole in zip(SIDES, sides[name], strict=True):
            of_side = f"{name}_{side}"
            guessed = of_side not in report.taken
            yield _measured(of_side, whole / share, guessed=guessed, manner=manner)


def _measured(
    name: str, value: float, *, guessed: bool, manner: Manner
) -> tuple[str, str]:
    label = translate(known_measurement(name).label, manner)
    if guessed:
        label = say("making.estimated", {"name": label}, manner)
    return label, _length(value, manner)


def _set(report: Report, manner: Manner) -> Iterator[tuple[str, str]]:
    """Style details and measures that apply."""
    stated, draft = report.worked.stated, report.worked.draft
    for choice in draft.choices:
        option = stated.choices.get(choice.name)
        if option in choice.options and report.worked.applies(choice):
            words = translate(choice.options[option], manner)
            yield translate(choice.label, manner), words
    for state in stated.amounts.values():
        if state.applies:
            label, (value,) = state.amount.told(state.value)
            kind = state.amount.kind
            suffix = kind if kind in ("length", "angle") else "number"
            shown = say(f"making.amount_{suffix}", {"value": value}, manner)
            yield translate(label, manner), shown


def _length(value: float, manner: Manner, *, about: bool = False) -> str:
    message = "finished.length_about" if about else "finished.length_shown"
    return say(message, {"value": value}, manner)

"""From a worked draft to its cut pieces and walked seams: the style's data applied."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from skirtwright.budget import MOST_TURNS
from skirtwright.draft.counting import whole_number
from skirtwright.draft.draft import CLOTHS, PieceOf
from skirtwright.draft.draft import Seam as SeamOf
from skirtwright.draft.runs import Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.draft.working.turns import turns_not_cut, without_turns
from skirtwright.pieces.marks.balance_marks import add_mark, asked_marks, balance_marks
from skirtwright.pieces.marks.long_seams import Edges, marks_of_long_seams
from skirtwright.pieces.outline.turning import SewingOrder, corners_of, sewing_order
from skirtwright.pieces.parts import (
    Uncut,
    grain_of,
    joined_on_folds,
    joins_of,
    piece_of_part,
    taken_apart,
)
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.piece_settings import (
    AS_THE_STYLE,
    PieceSettings,
    Settings,
    edge_and_run,
    hand_notches,
    live_runs,
)
from skirtwright.pieces.spec import AllowanceRun, Grain, NotchSpec
from skirtwright.pieces.spec import PieceSpec as Spec
from skirtwright.pieces.unused_settings import (
    allowances_on_folds,
    settings_without_edge,
)
from skirtwright.pieces.walked_seams import Seam, WalkedSeam, walk
from skirtwright.pieces.wording.notch_words import with_words
from skirtwright.problems import BadInput, Problem, SkirtwrightError, told_of
from skirtwright.remembered import Remembered
from skirtwright.words import Phrase


@dataclass(frozen=True)
class Cut:
    """Everything cut from a draft.

    Attributes:
        told: what could not be made as asked, but what the pieces themselves tell.
        hidden: names of the pieces she left off the table and the paper.
        asked: what the style asks of each piece that is cut, by its name.
        written: the seams as the style writes them, and its joins.
        before_joins: the same skirt with no piece cut apart; None where none is.
        apart: of that the names of pieces that are to be cut apart.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[WalkedSeam, ...]
    told: tuple[Problem, ...]
    hidden: frozenset[str] = frozenset()
    asked: Mapping[str, PieceOf] = field(default_factory=dict)
    written: tuple[SeamOf, ...] = ()
    before_joins: Cut | None = None
    apart: frozenset[str] = frozenset()

    @property
    def whole(self) -> Cut:
        """The skirt as it is worn: what is cut apart is one piece."""
        return self.before_joins or self

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What could not be made as asked; it finishes all pieces for cutting."""
        return (*self.told, *(said for one in self.pieces for said in one.problems))

    @property
    def shown(self) -> tuple[Piece, ...]:
        """The pieces to be drawn and put on paper."""
        return tuple(piece for piece in self.pieces if piece.name not in self.hidden)

    def without(self, names: Collection[str]) -> Cut:
        """The same with some pieces not shown."""
        return replace(self, hidden=self.hidden | set(names))

    @property
    def listed(self) -> tuple[Piece, ...]:
        """All pieces as a cut list has them: cloth by cloth."""
        of_cloth: dict[str, list[Piece]] = {cloth: [] for cloth in CLOTHS}
        for piece in self.pieces:
            of_cloth.setdefault(piece.spec.material, []).append(piece)
        return tuple(piece for alike in of_cloth.values() for piece in alike)

    @property
    def numbers(self) -> Mapping[str, int]:
        """What each piece is numbered, by its name: its place in the list, from 1."""
        return {piece.name: number for number, piece in enumerate(self.listed, 1)}


class Cutting:
    """Cuts drafts one after another; a piece that stays the same is kept."""

    def __init__(self) -> None:
        self._pieces = Remembered(make_piece)
        self._marks = Remembered(balance_marks)

    def cut(self, worked: Worked, settings: Settings) -> Cut:
        """The pieces and seams of a worked draft, with what she set for the pieces."""
        self._pieces.next_round()
        self._marks.next_round()
        problems: list[Problem] = []
        uncut = self._uncut(worked, settings, problems)
        joins = joins_of(uncut, _joins(worked, settings, uncut, problems), worked)
        uncut = joined_on_folds(uncut, joins, worked)
        before = list(problems)
        parts = taken_apart(uncut, joins, worked, problems.append)
        if parts is uncut:
            return self._finished(worked, settings, uncut, problems)
        whole = self._finished(worked, settings, uncut, before, ", whole")
        whole = replace(whole, apart=frozenset(uncut.panels) - frozenset(parts.panels))
        own = {**settings, **dict(_of_parts(parts, settings))}
        of_parts = {name: one for name, one in own.items() if piece_of_part(name)}
        more = hand_notches(worked, of_parts, parts.seams, parts.panels, problems)
        for name, mark in more:
            add_mark(parts.marks, name, mark)
        return replace(self._finished(worked, own, parts, problems), before_joins=whole)

    def _uncut(
        self, worked: Worked, settings: Settings, problems: list[Problem]
    ) -> Uncut:
        """What is to be cut and sewn, with the balance marks that are asked for."""
        chosen = [
            _turned(worked, data, settings.get(data.name, AS_THE_STYLE))
            for data in _chosen(worked, problems)
        ]
        panels: dict[str, Panel] = {d.name: worked.values[d.panel] for d in chosen}
        piece_of = {data.panel: data.name for data in reversed(chosen)}
        seams: list[Seam] = []
        notches: dict[str, list[NotchSpec]] = {}
        for seam_data in worked.seams:
            try:
                self._seam(worked, seam_data, panels, piece_of, seams, notches)
            except SkirtwrightError as error:
                problems.append(_told(error, seam_data.name))
        for name, mark in hand_notches(worked, settings, seams, panels, problems):
            add_mark(notches, name, mark)
        return Uncut(tuple(chosen), panels, tuple(seams), worked.seams, notches)

    def _finished(
        self,
        worked: Worked,
        settings: Settings,
        uncut: Uncut,
        problems: list[Problem],
        of: str = "",
    ) -> Cut:
        """Pieces with all their marks and allowances, and their seams walked.

        Args:
            problems: takes what cannot be made as asked.
            of: under which pieces of the same names are kept apart from others.
        """
        chosen, panels, seams, notches = (
            uncut.pieces,
            uncut.panels,
            uncut.seams,
            uncut.marks,
        )
        edges = Edges(
            panels,
            {data.name: data.material for data in chosen},
            {data.name: data.folds for data in chosen},
            {data.name: data.whole or data.name for data in chosen},
            notches,
        )
        marks_of_long_seams(seams, edges, partial(add_mark, notches))
        order = sewing_order(seams, uncut.written, panels, _waists(chosen))
        named = with_words(
            notches,
            seams,
            panels,
            {seam.name: seam.title for seam in uncut.written},
            {data.name: data.title for data in chosen},
            edges.materials,
        )
        pieces = []
        for data in chosen:
            try:
                panel, marks = panels[data.name], named.get(data.name, [])
                own = settings.get(data.name, AS_THE_STYLE)
                spec = _spec(worked, data, panel, own, marks, order)
                worn_as = worked.values[data.worn] if data.worn else None
                pieces.append(self._pieces.of(data.name + of, panel, spec, worn_as))
            except SkirtwrightError as error:
                problems.append(_told(error, data.name))
        problems.extend(_turns_not_cut(worked))
        known = {data.name: data for data in (*worked.pieces, *chosen)}
        problems.extend(settings_without_edge(known, pieces, settings))
        problems.extend(allowances_on_folds(worked, chosen, settings))
        walked = tuple(walk(seam, panels) for seam in seams)
        hidden = frozenset(name for name, own in settings.items() if own.hidden)
        asked = {data.name: data for data in chosen}
        return Cut(tuple(pieces), walked, tuple(problems), hidden, asked, uncut.written)

    def _seam(
        self,
        worked: Worked,
        data: SeamOf,
        panels: Mapping[str, Panel],
        piece_of: Mapping[str, str],
        seams: list[Seam],
        notches: dict[str, list[NotchSpec]],
    ) -> None:
        """One seam, and the balance marks it puts on its pieces."""
        if data.when is not None and not _holds(worked, data.when):
            return
        first, second = (_of_pieces(side, piece_of) for side in data.sides)
        if not all(run.piece in panels for run in (*first, *second)):
            return
        if any(seam.name == data.name for seam in seams):
            raise BadInput("pieces.seam_twice", data.name, seam=data.title or data.name)
        seam = Seam(
            data.name,
            (first, second),
            worked.read(data.ease, Reads.LENGTH),
            data.half or "",
        )
        seams.append(seam)
        asked = tuple(asked_marks(worked, data))
        sewn = tuple(panels[run.piece] for side in seam.sides for run in side)
        for piece, spec in self._marks.of(data.name, seam, asked, *sewn):
            add_mark(notches, piece, spec)


def _joins(
    worked: Worked, settings: Settings, uncut: Uncut, problems: list[Problem]
) -> dict[str, tuple[float, ...]]:
    """Where pieces that are cut are joined, mm; what cannot be read is told."""
    found: dict[str, tuple[float, ...]] = {}
    for data in uncut.pieces:
        try:
            joins = settings.get(data.name, AS_THE_STYLE).joins
            if joins:
                found[data.name] = tuple(map(worked.read_typed, joins))
        except SkirtwrightError as error:
            told = told_of(error, Phrase("join.of", {"piece": data.title}))
            problems.append(replace(told.problem, where=data.name, stops=False))
    return found


def _of_parts(parts: Uncut, settings: Settings) -> Iterator[tuple[str, PieceSettings]]:
    """What she set for parts of pieces: for one by itself, else for its piece."""
    for data in parts.pieces:
        whole = settings.get(piece_of_part(data.name))
        if whole and data.name not in settings:
            yield data.name, replace(whole, title="", notches=(), joins=())


def _waists(chosen: Sequence[PieceOf]) -> frozenset[tuple[str, str]]:
    return frozenset(
        (data.name, edge)
        for data in chosen
        for edge, role in data.roles.items()
        if role == "waist"
    )


def _chosen(worked: Worked, problems: list[Problem]) -> Iterator[PieceOf]:
    """The pieces to be cut; of two of one name the second is said, and is not."""
    met: set[str] = set()
    for data in worked.pieces:
        if not _is_cut(worked, data, problems):
            continue
        if data.name in met:
            code = "pieces.piece_twice"
            problems.append(Problem(code, "wrong", data.name, stops=True))
            continue
        met.add(data.name)
        yield data


def _turned(worked: Worked, data: PieceOf, own: PieceSettings) -> PieceOf:
    """A piece as it is asked for, its grain across it where she has it cut so."""
    if not own.across:
        return data
    try:
        grain = grain_of(worked, data, worked.values[data.panel])
    except SkirtwrightError:
        return data  # Said where the piece is made.
    return data.replace(grain=f"{(grain + 90.0) % 180.0:.9f}")


def _is_cut(worked: Worked, data: PieceOf, problems: list[Problem]) -> bool:
    """Whether a piece is to be cut; a condition that cannot be worked is said."""
    if not isinstance(worked.values.get(data.panel), Panel):
        return False
    try:
        return data.when is None or _holds(worked, data.when)
    except SkirtwrightError as error:
        problems.append(_told(error, data.name))
        return False


def _told(error: SkirtwrightError, where: str) -> Problem:
    return replace(error.problem, where=error.problem.where or where)


def _holds(worked: Worked, condition: str) -> bool:
    return bool(worked.read(condition, Reads.WHETHER))


def _of_pieces(side: Side, piece_of: Mapping[str, str]) -> Side:
    """One side of a seam, on the pieces cut from its panels."""
    # Of a panel that is not cut there is no piece, whatever another is called.
    return tuple(run.on(piece_of.get(run.piece, "")) for run in side)


def _spec(
    worked: Worked,
    data: PieceOf,
    panel: Panel,
    own: PieceSettings,
    notches: list[NotchSpec],
    order: SewingOrder,
) -> Spec:
    edges = dict.fromkeys([*data.allowances, *_edges(own.allowances, panel)])
    allowances = {
        edge: _plain(live_runs(worked, data, edge, own.allowances)) for edge in edges
    }
    asked = worked.read(data.count, Reads.RATIO)
    count = whole_number(asked, 1)
    if count is None:
        raise BadInput("pieces.count", count=asked, most=MOST_TURNS)
    return Spec(
        data.name,
        own.title or data.title,
        data.panel,
        data.material,
        count,
        mirrored=not data.folds and count > 1,
        folds=data.folds,
        allowances=allowances,
        corners=corners_of(data, panel, order),
        turned_up=data.turned_up,
        notches=tuple(sorted(notches, key=lambda n: (n.edge, n.distance))),
        grain=_grain(worked, data),
        inside=tuple(_lines(panel, data.lines)),
        roles=data.roles,
        body=data.body or "",
        half=data.half or "",
        whole=data.whole or "",
    )


def _lines(panel: Panel, names: tuple[str, ...]) -> Iterator[str]:
    """The marks to be drawn inside; `tuck[]` is every tuck's, however many."""
    for name in names:
        if name.endswith("[]"):
            begins = name.removesuffix("]")
            yield from (m.name for m in panel.marks if m.name.startswith(begins))
        else:
            yield name


def _grain(worked: Worked, data: PieceOf) -> Grain:
    if data.grain is None:
        return Grain()
    if data.grain_edge:
        return Grain(along=data.grain_edge)
    return Grain(angle_deg=worked.read(data.grain, Reads.DEGREES))


def _plain(runs: Sequence[tuple[str, AllowanceRun]]) -> tuple[AllowanceRun, ...]:
    """Runs of an edge; one where they differ from no other."""
    kept = [run for _, run in runs]
    return tuple(kept[-1:] if len({run.width for run in kept}) == 1 else kept)


def _edges(own: Mapping[str, str], panel: Panel) -> Iterator[str]:
    """The edges of a panel that she gave an allowance, where the style gives none."""
    known = {edge.name for edge in panel.edges}
    yield from (name for key in own if (name := edge_and_run(key)[0]) in known)


def _turns_not_cut(worked: Worked) -> Iterator[Problem]:
    """Turns that are none, and groups that run more often than pieces are cut."""
    yield from without_turns((*worked.draft.pieces, *worked.draft.seams), worked)
    for group, panel, count in turns_not_cut(worked.pieces, worked.values):
        values = {"group": group, "panel": panel, "count": count}
        yield Problem("draft.turn_not_cut", "wrong", panel, values)

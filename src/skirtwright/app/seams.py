"""How seams stand: what their edges are called, their allowances and their notches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from skirtwright.draft.draft import PieceOf
from skirtwright.geometry.tolerance import SAME
from skirtwright.job.worktable import Look
from skirtwright.measures.measurements import SIDES
from skirtwright.pieces.joined_edges import JoinedEdges, Key, joined_edges
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_settings import allowance_runs
from skirtwright.pieces.spec import AllowanceRun
from skirtwright.pieces.wording.edge_names import edge_title
from skirtwright.pieces.wording.labels import material_words
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, has_message, say, translate

_CLOTHS = ("shell", "lining", "other", "interfacing")
_ROLES = ("side", "centre", "seam", "waist", "hem")
"""In which order they are listed; what is not among them comes last."""

_NAMED_BY_ROLE = frozenset(("side", "waist", "hem"))
_MOST_NAMED = 3


@dataclass(frozen=True)
class EdgeAllowance:
    """One allowance of one edge as it stands.

    Attributes:
        key: what it is kept under: the edge, or a run of it.
        title: what the edge is called beside the others of its seam.
        width: mm.
        default: of the style, mm.
        typed: as she typed it; empty where she did not.
    """

    piece: str
    key: str
    title: str
    width: float
    default: float
    typed: str


@dataclass(frozen=True)
class SeamAllowance:
    """One allowance of all edges of a seam.

    Attributes:
        label: which run of the edges it is; empty for whole edges.
    """

    label: str
    parts: tuple[EdgeAllowance, ...]

    @property
    def unlike(self) -> bool:
        """Whether the edges have different widths."""
        return any(abs(p.width - self.parts[0].width) > SAME for p in self.parts)


@dataclass(frozen=True)
class SeamNotch:
    """A notch of a seam.

    Attributes:
        distance: walked from `begins`, mm; None where it cannot be read.
        begins: what lies at the end it counts from, in words.
        count: of snips.
        piece: the piece she placed it on; empty for one of the style's.
        number: which of that piece's it is.
        typed: as she typed it.
        side: of her body, where left and right have their own; else empty.
    """

    distance: float | None
    begins: str
    count: int
    piece: str = ""
    number: int = 0
    typed: str = ""
    side: str = ""


@dataclass(frozen=True)
class SeamState:
    """A seam, a hem or the like as it stands.

    Attributes:
        name: stable, of its first edge.
        sewn: whether it is a seam.
        allowances: whole, or run by run.
        notches: along its first edge, or that of each side where they differ; hers
            with them.
    """

    name: Key
    title: str
    pieces: str
    edges: tuple[Key, ...]
    sewn: bool
    allowances: tuple[SeamAllowance, ...]
    notches: tuple[SeamNotch, ...]


def seams_of(look: Look, manner: Manner) -> tuple[SeamState, ...]:
    """All seams, hems and other edges of an order, with what is set on them."""
    pieces = {piece.name: piece for piece in look.pieces}
    titles = {seam.name: seam.title for seam in look.report.cut.written}
    found = []
    for joined in sorted(joined_edges(look.report.cut), key=_rank):
        named = _piece_names(joined, pieces, look, manner)
        found.append(
            SeamState(
                joined.edges[0],
                _title(joined, titles, manner),
                named,
                joined.edges,
                bool(joined.seams),
                tuple(_allowances(joined, pieces, look, manner)),
                tuple(_notches(joined, pieces, look, manner)),
            )
        )
    return tuple(found)


def _rank(joined: JoinedEdges) -> tuple[int, int]:
    """The main cloth first, and in it the seams before what is not sewn."""
    cloth, role = joined.material, joined.role
    known = cloth if cloth in _CLOTHS else "other"
    place = _ROLES.index(role) if role in _ROLES else len(_ROLES)
    return _CLOTHS.index(known), place


def begins_at(piece: Piece, edge: str, manner: Manner) -> str:
    """What an edge's notches count from: the edge that meets its start."""
    start = piece.panel.edge(edge).chain.start
    for other in piece.panel.edges:
        ends = (other.chain.start, other.chain.end)
        if other.name != edge and any(end.to(start) <= _MEETS for end in ends):
            return edge_title(other.name, manner)
    return say("cut.start_of_edge", manner=manner)


_MEETS = 0.1
"""mm between edges that meet."""

_READ_ALIKE = 0.5
"""mm between notches that are told by one figure."""


def _title(joined: JoinedEdges, titles: Mapping[str, str], manner: Manner) -> str:
    """A seam's own title; what all round her has in common is called so."""
    role, cloth = joined.role, joined.material
    if cloth == "interfacing" and not joined.seams:
        words = say("cut.of.interfacing", manner=manner)
    elif (role in _NAMED_BY_ROLE or not joined.seams) and has_message(f"cut.of.{role}"):
        words = say(f"cut.of.{role}", manner=manner)
        if cloth != "shell":
            named = {"cloth": material_words(cloth, manner), "what": words}
            words = say("cut.in_cloth", named, manner)
    else:
        own = (titles.get(name, "") for name in joined.seams)
        words = next((translate(t, manner) for t in own if t), "")
        words = words or edge_title(joined.edges[0][1], manner)
    return words[:1].upper() + words[1:]


def _piece_names(
    joined: JoinedEdges,
    pieces: Mapping[str, Piece],
    look: Look,
    manner: Manner,
) -> str:
    """The pieces of a seam; left and right of one under the name of both."""
    names = dict.fromkeys(piece for piece, _ in joined.edges)
    asked, drafted = look.report.cut.asked, look.job.draft.pieces
    wholes = {data.name: data.title for data in drafted}
    known = (wholes.get(asked[n].whole or n) or pieces[n].spec.title for n in names)
    titles = [translate(title, manner) for title in dict.fromkeys(known)]
    listed = ", ".join(titles[:_MOST_NAMED])
    more = len(titles) - _MOST_NAMED
    if more <= 0:
        return listed
    return say("cut.and_more", {"pieces": listed, "count": more}, manner)


def _edge_words(joined: JoinedEdges, key: Key, piece: Piece, manner: Manner) -> str:
    """What one edge is called beside the others of its seam."""
    title = translate(piece.spec.title, manner)
    if sum(name == key[0] for name, _ in joined.edges) == 1:
        return title
    return f"{title}, {edge_title(key[1], manner)}"


def _allowances(
    joined: JoinedEdges, pieces: Mapping[str, Piece], look: Look, manner: Manner
) -> Iterator[SeamAllowance]:
    """Run by run from the last: an edge in one run goes with the last of the others."""
    rows = []
    for key in joined.edges:
        title = _edge_words(joined, key, pieces[key[0]], manner)
        data = look.report.cut.asked[key[0]]
        rows.append(list(_edge_allowances(data, key, title, look)))
    most = max(map(len, rows), default=0)
    longest = next((row for row in rows if len(row) == most), [])
    for number in range(most):
        parts = [
            row[number - most + len(row)][1]
            for row in rows
            if number - most + len(row) >= 0
        ]
        run = longest[number][0]
        label = _run_label(run, number, manner) if most > 1 else ""
        yield SeamAllowance(label, tuple(parts))


def _edge_allowances(
    data: PieceOf, key: Key, title: str, look: Look
) -> Iterator[tuple[AllowanceRun, EdgeAllowance]]:
    edge = key[1]
    own = look.job.piece(data.name).allowances
    try:
        now = allowance_runs(look.worked, data, edge, own)
        style = dict(allowance_runs(look.worked, data, edge, {}))
    except SkirtwrightError:
        # Said among the checks; the edge is listed again once it can be worked.
        return
    for number, (name, run) in enumerate(now or ((edge, AllowanceRun(None, 0.0)),)):
        ordinary = style.get(name) or style.get(edge)
        if ordinary is None and style:
            ordinary = list(style.values())[min(number, len(style) - 1)]
        default = ordinary.width if ordinary else 0.0
        typed = own.get(name, "")
        yield run, EdgeAllowance(data.name, name, title, run.width, default, typed)


def _run_label(run: AllowanceRun, number: int, manner: Manner) -> str:
    if run.until is None:
        return say("pieces.run_rest", manner=manner)
    message = "pieces.run_to" if number else "pieces.run_first"
    return say(message, {"length": run.until}, manner)


def _notches(
    joined: JoinedEdges, pieces: Mapping[str, Piece], look: Look, manner: Manner
) -> Iterator[SeamNotch]:
    """Those of the style on the first edge, then hers on any."""
    edges = joined.edges if joined.seams else ()
    by_hand: list[SeamNotch] = []
    for name, edge in edges:
        begins = begins_at(pieces[name], edge, manner)
        for number, own in enumerate(look.job.piece(name).notches):
            if own.edge == edge:
                at = _read(look, own.at)
                by_hand.append(SeamNotch(at, begins, own.count, name, number, own.at))
    of_side: dict[str, Key] = {}
    for key in edges:
        of_side.setdefault(look.report.cut.asked[key[0]].half or "", key)
    firsts = {side: of_side[side] for side in SIDES if side in of_side}
    found = [_own_notches(pieces, key, by_hand) for key in firsts.values()]
    if len(found) < len(SIDES) or _same_notches(*found):
        firsts = {"": edges[0]} if edges else {}
    for side, (name, edge) in firsts.items():
        begins = begins_at(pieces[name], edge, manner)
        for notch in _own_notches(pieces, (name, edge), by_hand):
            yield SeamNotch(notch.distance, begins, notch.count, side=side)
    yield from by_hand


def _own_notches(
    pieces: Mapping[str, Piece], key: Key, by_hand: list[SeamNotch]
) -> list[Notch]:
    """The style's along an edge, from its start."""
    name, edge = key
    known = sorted(pieces[name].notches, key=lambda notch: notch.distance)
    return [
        notch
        for notch in known
        if notch.edge == edge and not notch.dart and not _is_one_of(notch, by_hand)
    ]


def _same_notches(one: list[Notch], other: list[Notch]) -> bool:
    return len(one) == len(other) and all(
        a.count == b.count and abs(a.distance - b.distance) < _READ_ALIKE
        for a, b in zip(one, other, strict=True)
    )


def _is_one_of(notch: Notch, by_hand: list[SeamNotch]) -> bool:
    return any(
        own.distance is not None and abs(own.distance - notch.distance) <= _MEETS
        for own in by_hand
    )


def _read(look: Look, typed: str) -> float | None:
    try:
        return look.worked.read_typed(typed)
    except SkirtwrightError:
        return None

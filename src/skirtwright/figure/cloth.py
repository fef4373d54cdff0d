"""The skirt's cloth by quarters: how wide it is so far down, and where seams lie.

A quarter is the front or the back of one side of her, from the centre to the side seam.
It holds tiers, one below another (a yoke and what hangs from it), and a tier holds
strips beside one another.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from skirtwright.budget import spend
from skirtwright.figure.smooth import value_at
from skirtwright.figure.strips import CUT_ALONG, Fold, Place, Strip, strip_of
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.piece import Piece
from skirtwright.remembered import Remembered

_NO_BODY = frozenset({"waist_join", "facing_edge", "facing_end", "channel", "pocket"})
"""Edges of pieces that do not hang round her: bands, facings, pockets."""

_A_COPY = 20
"""Points that one piece more round her costs at the least."""

_ACROSS = frozenset({"side", "centre", "opening", "waist", "hem", "godet", "caught"})


@dataclass(frozen=True)
class Tier:
    """Strips beside one another, from the centre to the side."""

    strips: tuple[Strip, ...]

    @property
    def ends(self) -> list[float]:
        """Length of each column, mm, those of two strips that meet once."""
        found = [column.length for column in self.strips[0].columns]
        for strip in self.strips[1:]:
            found += [column.length for column in strip.columns[1:]]
        return found

    @property
    def seams(self) -> tuple[int, ...]:
        """Numbers of the columns at which two strips meet."""
        counts = accumulate(len(strip.columns) - 1 for strip in self.strips)
        return tuple(counts)[:-1]

    def walked_at(self, down: float) -> list[float]:
        """From the centre to each column, so far down the tier, mm."""
        widths = [w for strip in self.strips for w in strip.widths_at(down)]
        return list(accumulate(widths, initial=0.0))

    def folds(self) -> Iterator[tuple[float, Fold]]:
        """What is folded, with the number of the column it lies at, and parts of it."""
        before = 0
        for strip in self.strips:
            cells = len(strip.columns) - 1
            for fold in strip.folds:
                yield before + min(max(fold.share, 0.0), 1.0) * cells, fold
            before += cells

    def lines_on_it(self) -> Iterator[list[Place]]:
        """Lines that lie upon it: the share of the columns, and how far down."""
        cells = sum(len(strip.columns) - 1 for strip in self.strips)
        before = 0
        for strip in self.strips:
            own = len(strip.columns) - 1
            for line in strip.lines_on_it:
                yield [((before + u * own) / cells, down) for u, down in line]
            before += own


@dataclass(frozen=True)
class Quarter:
    """The front or the back of one side of her.

    Attributes:
        tiers: from the waist down.
        starts: for each tier, how far down each of its columns begins, mm.
    """

    tiers: tuple[Tier, ...]
    starts: tuple[tuple[float, ...], ...]

    @property
    def lengths(self) -> list[float]:
        """From the waist to the hem along each column of the last tier, mm."""
        ends = zip(self.starts[-1], self.tiers[-1].ends, strict=True)
        return [start + end for start, end in ends]

    def tier_at(self, down: float) -> int:
        """The number of the tier that hangs so far down, as most of it does."""
        for number, start in enumerate(self.starts[1:]):
            if down < sum(start) / len(start):
                return number
        return len(self.tiers) - 1

    def walked_at(self, down: float) -> list[float]:
        """From the centre to each column of the tier so far down, mm."""
        number = self.tier_at(down)
        start = self.starts[number]
        return self.tiers[number].walked_at(down - sum(start) / len(start))

    def free(self) -> bool:
        """True when nothing is sewn to its edge at the centre."""
        return self.tiers[-1].strips[0].free


@dataclass(frozen=True)
class Godet:
    """Cloth let into a seam, from a point down to the hem.

    Attributes:
        length: from the point down, mm.
        foot: how wide all that are cut alike are at the hem, mm.
    """

    length: float
    foot: float


@dataclass(frozen=True)
class Cloth:
    """The whole skirt.

    Attributes:
        left, right: front and back quarter of each side of her.
        begins: how far under her waist it hangs from, mm.
        godets: what is let into its seams.
        left_on_top: where fronts lap, her left one lies over the right one.
    """

    left: tuple[Quarter, Quarter]
    right: tuple[Quarter, Quarter]
    begins: float
    godets: tuple[Godet, ...] = ()
    left_on_top: bool = False

    def let_in(self, down: float) -> float:
        """How wide the godets are so far down, all together, mm.

        They are as long as the seam below their points, and widen evenly. What they
        are wide falls in waves all round, wherever they are let in.
        """
        long = self.left[0].lengths[-1]
        return sum(
            godet.foot * min(max(1 - (long - down) / godet.length, 0.0), 1.0)
            for godet in self.godets
        )

    @property
    def quarters(self) -> tuple[Quarter, Quarter, Quarter, Quarter]:
        """Round her from the middle of the front by her left."""
        return *self.left, self.right[1], self.right[0]


class ClothOnHer:
    """Makes the cloth of one skirt after another; a strip that is the same is kept."""

    def __init__(self) -> None:
        self._strips = Remembered(strip_of)

    def of(
        self, cut: Cut, waist_to_hip: float, material: str = "shell"
    ) -> Cloth | None:
        """The cloth of a cut skirt; None where nothing of it hangs from her waist.

        Args:
            waist_to_hip: hers, mm.
            material: what its pieces are cut from: the shell, or the overlay upon it.
        """
        self._strips.next_round()
        tiers = list(_tiers(cut, material))
        if not tiers:
            return None
        halves = []
        for side in ("left", "right"):
            quarters = [self._quarter(tiers, side, body) for body in ("front", "back")]
            if None in quarters:
                return None
            halves.append((quarters[0], quarters[1]))
        begins = _begins([piece for piece, _, _ in tiers[0]], waist_to_hip)
        left, right = halves
        godets = tuple(_godets(cut, material))
        return Cloth(left, right, begins, godets)  # type: ignore[arg-type]

    def _quarter(
        self, tiers: Sequence[Sequence[Hung]], side: str, body: str
    ) -> Quarter | None:
        made, starts = [], []
        before: list[float] = [0.0, 0.0]
        for tier in tiers:
            strips = [
                strip
                for piece, top, foot in sorted(tier, key=_from_centre)
                for strip in self._copies(piece, top, foot, side, body)
            ]
            if not strips:
                continue
            hung = Tier(tuple(strips))
            ends = hung.ends
            start = [value_at(before, i / (len(ends) - 1)) for i in range(len(ends))]
            made.append(hung)
            starts.append(tuple(start))
            before = [a + b for a, b in zip(start, ends, strict=True)]
        return Quarter(tuple(made), tuple(starts)) if made else None

    def _copies(
        self,
        piece: Piece,
        top: frozenset[str],
        foot: frozenset[str],
        side: str,
        body: str,
    ) -> list[Strip]:
        spec = piece.spec
        if (spec.body and spec.body != body) or spec.half not in ("", side):
            return []
        times = spec.count * (2 if spec.folds else 1)
        here = times / (1 if spec.half else 2) / (1 if spec.body else 2)
        spend("points", round(here) * _A_COPY)
        strip = self._strips.of(piece.name, piece, top, foot, here < 1)
        return [strip] * max(round(here), 1) if strip else []


Hung = tuple[Piece, frozenset[str], frozenset[str]]
"""A piece, the edges it hangs from, and its lower edges."""


def _from_centre(hung: Hung) -> int:
    roles = set(hung[0].spec.roles.values())
    return ("side" in roles) - ("centre" in roles or "opening" in roles)


def _tiers(cut: Cut, material: str) -> Iterator[list[Hung]]:
    """The pieces that hang round her, tier by tier from the waist."""
    known = {p.name: _as_worn(p) for p in cut.pieces if _hangs(p, material)}
    sewn = _sewn(cut, known)
    tops: dict[str, set[str]] = {}
    for piece in known.values():
        waists = {e.name for e in piece.edges if e.role == "waist"}
        if waists:
            tops[piece.name] = waists
    seen: set[str] = set()
    while tops:
        seen |= set(tops)
        below: dict[str, set[str]] = {}
        tier = []
        for name, top in tops.items():
            piece = known[name]
            feet = {e.name for e in piece.edges if e.role == "hem"}
            for edge in piece.edges:
                for other, its in sewn.get((name, edge.name), ()):
                    if other not in seen and edge.name not in top:
                        feet.add(edge.name)
                        below.setdefault(other, set()).add(its)
            tier.append((piece, frozenset(top), frozenset(feet)))
        yield tier
        tops = below


def _godets(cut: Cut, material: str) -> Iterator[Godet]:
    """The pieces that are sewn in between others at both edges, and end in the hem."""
    for piece in cut.pieces:
        roles = {edge.role for edge in piece.edges}
        if roles == {"godet", "hem"} and piece.spec.material == material:
            walked = [(e.role, piece.panel.edge(e.name).chain) for e in piece.edges]
            sides = [chain.length for role, chain in walked if role == "godet"]
            foot = sum(chain.length for role, chain in walked if role == "hem")
            times = piece.spec.count * (2 if piece.spec.folds else 1)
            yield Godet(sum(sides) / len(sides), foot * times)


def _as_worn(piece: Piece) -> Piece:
    """The piece with what is cut out of it and lies behind, as a pocket's corner.

    The edge it is cut along lies open upon it. What a piece laps over another, as the
    fronts of a skirt that is buttoned do, is a part of it on her too.
    """
    if piece.worn is None or piece.worn.area < piece.panel.area:
        return piece
    known = {edge.name for edge in piece.worn.edges}
    cut_along = [edge for edge in piece.panel.edges if edge.name not in known]
    lines = [(f"{CUT_ALONG}{edge.name}]", edge.chain) for edge in cut_along]
    return replace(piece, panel=piece.worn, inside=(*piece.inside, *lines))


def _hangs(piece: Piece, material: str) -> bool:
    roles = {edge.role for edge in piece.edges}
    return piece.spec.material == material and not roles & _NO_BODY


Sewn = Mapping[tuple[str, str], Collection[tuple[str, str]]]


def _sewn(cut: Cut, known: Mapping[str, Piece]) -> Sewn:
    """For each plain edge the plain edges of other pieces that are sewn to it."""
    found: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for walked in cut.seams:
        for side, other in (walked.seam.sides, walked.seam.sides[::-1]):
            for run in side:
                if run.piece in known and _is_plain(known[run.piece], run.edge):
                    found.setdefault(run.key, []).extend(
                        to.key
                        for to in other
                        if to.piece in known
                        and to.piece != run.piece
                        and _is_plain(known[to.piece], to.edge)
                    )
    return found


def _is_plain(piece: Piece, edge: str) -> bool:
    return piece.spec.role(edge) not in _ACROSS


def _begins(pieces: Sequence[Piece], waist_to_hip: float) -> float:
    """How far under her waist pieces hang from: their hip line lies on her hip.

    Where her sides are unlike, their mean; `waist_to_hip` is hers.
    """
    found = []
    for piece in pieces:
        hip = piece.panel.level("hip")
        for edge in piece.panel.edges:
            if hip is not None and piece.spec.role(edge.name) == "side":
                ends = [edge.chain.nearest(end) for end in (hip.start, hip.end)]
                down = min(ends, key=lambda place: place[1])[0]
                found.append(min(max(waist_to_hip - down, -100.0), 300.0))
    return sum(found) / len(found) if found else 0.0

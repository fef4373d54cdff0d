"""What lies where on the table: the skirt itself, and a stack of cards with the rest.

Front and back of the main cloth lie side by side at one scale, as they are seen from
before her: the front opened on its fold, the back turned so that side seam faces side
seam, a hollow between. All else that is cut or was drafted on the way stands in the
stack; one card at a time changes places with the skirt. Nothing is drawn twice.

A thing keeps its place while it grows; only what it would cover is pushed along. Pure:
no Qt.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Final, Literal

from skirtwright.app.canvas.view import box_round
from skirtwright.draft.draft import CLOTHS
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.point import Motion, Point, reflect
from skirtwright.pieces.piece import Piece

Kind = Literal["draft", "piece"]
"""A piece, or a panel that no piece is made from: a stage of the draft."""

SKIRT, STAGES, ALL = "skirt", "stages", "all"
"""What can be on the table beside a card of pieces; `ALL`: all side by side."""

SHELL: Final = "shell"
_ONE_CARD: Final = "interfacing"
"""The cloth whose pieces share a card."""

_HOLLOW_SHARE: Final = 0.16
_LEAST_HOLLOW: Final = 120.0
"""Clear table between front and back: a share of the skirt's height, at least so many
mm."""

ROW_GAP: Final = 44.0
"""Clear table between a yoke and the skirt below it, mm."""

LEAST_GAP: Final = 60.0
"""Clear table below which a neighbour is pushed along, mm: allowances lie in it."""

_CENTRE: Final = 12.0
"""Clear table between the allowances of two halves at the centre, mm, once shown."""

GAP: Final = 60.0
"""Clear table between pieces of a card, mm."""

_TABLE: Final = 1.4
"""So many times as wide as high is what is left of a table beside a slip."""

_FLAT: Final = 1.8
"""Many pieces are laid in rows so that they are so many times as wide as high."""

_NOT_SKIRT: Final = frozenset({"facing_edge", "facing_end"})


@dataclass(frozen=True)
class Laid:
    """A thing on the table.

    Attributes:
        panel: it is made from.
        offset: how far it is moved from where it was drafted, after turning, mm.
        turned: it lies left for right of how it was drafted.
        box: round its cutting line, on the table, mm.
        seen: round its stitching line and the faint other half, on the table, mm.
        fold: the ends of the fold it is opened on, as drafted; None for no fold.
        body: the side of the body it lies on, `front` or `back`, or nothing.
        joined: the name of the half it is sewn to at the centre; it touches that.
    """

    kind: Kind
    name: str
    panel: str
    offset: Point
    turned: bool
    box: Box
    seen: Box
    fold: tuple[Point, Point] | None = None
    material: str = SHELL
    body: str = ""
    joined: str = ""

    @property
    def key(self) -> tuple[Kind, str]:
        """By which it is told from all else on the table."""
        return self.kind, self.name

    @property
    def covered(self) -> Box:
        """Round its cutting line and the faint other half of that, on the table, mm."""
        other = self.other_half or self.box
        return box_round((self.box, self.seen, other)) or self.box

    @property
    def other_half(self) -> Box | None:
        """Round the faint other half of its cutting line, on the table, mm."""
        if self.fold is None:
            return None
        over = reflect(*(self.at(end) for end in self.fold))
        return box_of(over(corner) for corner in self.box.corners)

    def at(self, place: Point) -> Point:
        """Where on the table a place of the draft lies."""
        return self.way(place) + self.offset

    def drafted(self, place: Point) -> Point:
        """The place of the draft that lies there on the table."""
        return self.way(place - self.offset)

    def way(self, step: Point) -> Point:
        """A step of the draft as a step on the table; and the other way round."""
        return Point(-step.x, step.y) if self.turned else step

    @property
    def motion(self) -> Motion:
        """From the draft to the table."""
        return Motion(a=-1.0 if self.turned else 1.0, e=self.offset.x, f=self.offset.y)

    def moved(self, step: Point) -> Laid:
        """The same thing elsewhere on the table."""
        return replace(
            self,
            offset=self.offset + step,
            box=self.box.moved(step),
            seen=self.seen.moved(step),
        )


@dataclass(frozen=True)
class Card:
    """Things that lie on the table together, or wait together in the stack.

    Attributes:
        titles: of its pieces, each once; none where the key says it.
        material: the cloth of its pieces.
        things: kind and name of each.
    """

    key: str
    titles: tuple[str, ...]
    material: str
    things: tuple[tuple[Kind, str], ...]


@dataclass(frozen=True)
class Layout:
    """Everything on the table, and what waits in the stack.

    Attributes:
        laid: from left to right.
        cards: all there are, the skirt's first, the last on top of the stack.
        brought: the key of what is on the table.
    """

    laid: tuple[Laid, ...] = ()
    cards: tuple[Card, ...] = ()
    brought: str = SKIRT

    @property
    def stack(self) -> tuple[Card, ...]:
        """The cards that wait, the last on top."""
        if self.brought == ALL:
            return tuple(c for c in self.cards if c.key in (SKIRT, STAGES))
        return tuple(c for c in self.cards if c.key != self.brought)

    def find(self, kind: Kind, name: str) -> Laid | None:
        """The thing of that kind and name on the table."""
        return next((laid for laid in self.laid if laid.key == (kind, name)), None)

    def of_panel(self, panel: str) -> Laid | None:
        """What is made from a panel and lies on the table."""
        return next((laid for laid in self.laid if laid.panel == panel), None)

    def without(self, pieces: Collection[str]) -> Layout:
        """The same table with some pieces left off; their places stay empty."""
        gone = {("piece", name) for name in pieces}
        laid = tuple(p for p in self.laid if (p.kind, p.name) not in gone)
        cards = [
            replace(c, things=tuple(t for t in c.things if t not in gone))
            for c in self.cards
        ]
        return replace(self, laid=laid, cards=tuple(c for c in cards if c.things))

    @property
    def apart(self) -> bool:
        """Left and right half lie on the table, each drafted by itself."""
        return any(laid.joined for laid in self.laid)

    def parted(self) -> Layout:
        """The same table, halves apart at the centre: allowances lie there."""
        steps: dict[tuple[Kind, str], Point] = {}
        for one in self.laid:
            other = self.find(one.kind, one.joined)
            if other:
                lacking = other.box.right + _CENTRE - one.box.left
                steps[one.key] = Point(lacking / 2, 0.0)
                steps[other.key] = -steps[one.key]
        still = Point(0.0, 0.0)
        laid = tuple(one.moved(steps.get(one.key, still)) for one in self.laid)
        return replace(self, laid=laid) if steps else self

    def box(self) -> Box | None:
        """Round everything on the table."""
        return box_round(laid.seen for laid in self.laid)


@dataclass(frozen=True)
class _Thing:
    """What is to be laid: a piece, or a panel of the draft."""

    kind: Kind
    name: str
    of: Panel | Piece

    @property
    def panel(self) -> Panel:
        return self.of if isinstance(self.of, Panel) else self.of.panel

    @property
    def material(self) -> str:
        return SHELL if isinstance(self.of, Panel) else self.of.spec.material

    @property
    def body(self) -> str:
        return "" if isinstance(self.of, Panel) else self.of.spec.body

    def edges(self, role: str) -> list[str]:
        """The names of its edges with a role."""
        if isinstance(self.of, Panel):
            return []
        return [edge.name for edge in self.of.edges if edge.role == role]

    @property
    def is_skirt(self) -> bool:
        """Front or back of the main cloth, and no facing."""
        if isinstance(self.of, Panel) or self.material != SHELL or not self.body:
            return False
        return not any(edge.role in _NOT_SKIRT for edge in self.of.edges)

    @property
    def fold(self) -> tuple[Point, Point] | None:
        """The ends of its fold."""
        if isinstance(self.of, Panel) or not self.of.spec.folds:
            return None
        chain = self.panel.edge(self.of.spec.folds[0]).chain
        return chain.start, chain.end

    def laid(self, *, turned: bool = False, opened: bool = False) -> Laid:
        """It, where it was drafted."""
        panel = self.name if isinstance(self.of, Panel) else self.of.spec.panel
        fold = self.fold if opened else None
        seen = self.panel.box
        if fold:
            over = reflect(*fold)
            other = box_of(over(corner) for corner in seen.corners)
            seen = box_round((seen, other)) or seen
        boxes = [_turned(box) if turned else box for box in (self.of.box, seen)]
        return Laid(
            self.kind,
            self.name,
            panel,
            Point(0.0, 0.0),
            turned,
            boxes[0],
            boxes[1],
            fold,
            self.material,
            self.body,
        )


def _turned(box: Box) -> Box:
    return Box(-box.right, box.bottom, -box.left, box.top)


def lay_out(
    panels: Mapping[str, Panel],
    pieces: Sequence[Piece],
    brought: str = SKIRT,
    before: Layout = Layout(),
    held: str | None = None,
) -> Layout:
    """Lay the skirt, or the card that was brought, on the table; stack the rest.

    Args:
        brought: the key of what is to lie on the table; the skirt when it is gone, or
            when there is nothing to lay, as of a draft that is refused before its first
            panel.
        before: how the table lay; what is still there keeps its place.
        held: the panel that is being pulled; it stays where it is.
    """
    used = {piece.spec.panel for piece in pieces}
    things = [_Thing("piece", piece.name, piece) for piece in pieces]
    things += [
        _Thing("draft", name, panel)
        for name, panel in panels.items()
        if name not in used
    ]
    if not things:
        return Layout(brought=SKIRT)
    cards = _cards(things)
    known = {card.key for card in cards}
    brought = brought if brought == ALL or brought in known else cards[0].key
    named = {(thing.kind, thing.name): thing for thing in things}
    chosen = [
        named[each]
        for card in cards
        for each in card.things
        if card.key == brought or (brought == ALL and card.key != STAGES)
    ]
    fresh = _skirt(chosen) if brought == SKIRT else _side_by_side(chosen)
    laid = _kept(fresh, before, held) if before.brought == brought else fresh
    return Layout(laid, tuple(cards), brought)


# The stack


def _cards(things: Sequence[_Thing]) -> list[Card]:
    """The skirt, then all else: stages at the back, the linings on top."""
    own = [thing for thing in things if thing.is_skirt]
    if not own:
        own = [t for t in things if t.kind == "piece" and t.material == SHELL]
        own = own or [t for t in things if t.kind == "piece"] or list(things)
    groups: dict[str, list[_Thing]] = {SKIRT: own}
    for thing in things:
        if thing not in own:
            groups.setdefault(_card_of(thing), []).append(thing)
    made = [_card(key, group) for key, group in groups.items()]
    return sorted(made, key=_depth)


def _card_of(thing: _Thing) -> str:
    if thing.kind == "draft":
        return STAGES
    if thing.material == _ONE_CARD:
        return _ONE_CARD
    return _undivided_name(thing.name)


def _undivided_name(name: str) -> str:
    """What a piece is called whether or not left and right are drafted apart."""
    return name.removesuffix("_left").removesuffix("_right")


def _card(key: str, things: Sequence[_Thing]) -> Card:
    first = things[0]
    pieces = [thing.of for thing in things if not isinstance(thing.of, Panel)]
    titles = tuple(dict.fromkeys(piece.spec.title for piece in pieces))
    named = tuple((thing.kind, thing.name) for thing in things)
    shared = key in (SKIRT, STAGES, _ONE_CARD)
    return Card(key, () if shared else titles, first.material, named)


def _depth(card: Card) -> int:
    """How near the top of the stack a card is."""
    kinds = [SKIRT, STAGES, _ONE_CARD]
    if card.key in kinds:
        return kinds.index(card.key)
    return 3 if card.material == SHELL else 4


# The skirt


def _skirt(things: Sequence[_Thing]) -> tuple[Laid, ...]:
    """Front left, back right, yokes above what hangs from them."""
    sides = [[t for t in things if t.body == body] for body in ("front", "back")]
    rest = [t for t in things if t.body not in ("front", "back")]
    ranks = [list(_ranks(side)) for side in sides if side]
    laid: list[Laid] = []
    floor: float | None = None
    for number in range(max((len(each) for each in ranks), default=0)):
        row = [each[number] if number < len(each) else [] for each in ranks]
        flat = [one for side in row for one in side]
        top = max(one.seen.top for one in flat)
        lift = Point(0.0, 0.0 if floor is None else floor - top)
        laid += [one.moved(lift) for one in flat]
        floor = min(one.seen.bottom for one in laid) - ROW_GAP
    front = [one for one in laid if one.body == "front"]
    back = [one for one in laid if one.body == "back"]
    placed = list(_beside_each_other(front, back))
    if any(len(row) > 1 for side in ranks for row in side):
        placed = min(placed, list(_below_each_other(front, back)), key=_wanted)
    done = box_round(one.seen for one in placed)
    start = Point(done.right + GAP, done.top) if done else Point(0.0, 0.0)
    return (*placed, *(one.moved(start) for one in _side_by_side(rest)))


def _beside_each_other(front: Sequence[Laid], back: Sequence[Laid]) -> Iterator[Laid]:
    """Front and back with the hollow between them."""
    left, right = box_round(o.seen for o in front), box_round(o.seen for o in back)
    yield from front
    if left is None or right is None:
        yield from back
        return
    step = Point(left.right + _hollow(left, right) - right.left, 0.0)
    yield from (one.moved(step) for one in back)


def _below_each_other(front: Sequence[Laid], back: Sequence[Laid]) -> Iterator[Laid]:
    """The halves of the back under those of the front, and the hollow between them."""
    upper, lower = box_round(o.seen for o in front), box_round(o.seen for o in back)
    yield from front
    if upper and lower:
        down = upper.bottom - _hollow(upper, lower) - lower.top
        step = Point(upper.middle.x - lower.middle.x, down)
        yield from (one.moved(step) for one in back)


def _hollow(one: Box, other: Box) -> float:
    tall = max(one.top, other.top) - min(one.bottom, other.bottom)
    return max(_LEAST_HOLLOW, _HOLLOW_SHARE * tall)


def _wanted(laid: Sequence[Laid]) -> float:
    """How high a table is in which these have room, mm."""
    box = box_round(one.seen for one in laid)
    return max(box.height, box.width / _TABLE) if box else 0.0


def _ranks(things: Sequence[_Thing]) -> Iterator[list[Laid]]:
    """The rows of one side of the body, from the waist down.

    What has the waist is the first; what hangs below it follows in the style's order,
    wherever on the draft it was drawn.
    """
    turned, opened = _is_turned(things), things[0].body == "front"
    rows: dict[str, list[_Thing]] = {}
    for thing in things:
        rows.setdefault(
            "" if thing.edges("waist") else _undivided_name(thing.name), []
        ).append(thing)
    for name in sorted(rows, key=bool):
        row = rows[name]
        yield _in_a_row([t.laid(turned=turned, opened=opened) for t in row], row)


def _is_turned(things: Sequence[_Thing]) -> bool:
    """The side seam of a front goes to the right, of a back to the left."""
    ways = set()
    for thing in things:
        box = thing.panel.box
        for name in thing.edges("side"):
            chain = thing.panel.edge(name).chain
            ways.add(chain.start.between(chain.end, 0.5).x > box.middle.x)
    if len(ways) != 1:
        return False
    to_the_right = ways.pop()
    return to_the_right == (things[0].body == "back")


def _in_a_row(laid: list[Laid], things: Sequence[_Thing]) -> list[Laid]:
    """Halves that were drafted apart lie level, joined at the centre of a front."""
    if len(laid) < 2:
        return laid
    order = _mirrored(list(zip(laid, things, strict=True)))
    first, under = order[0]
    placed = [first]
    datum = beside = _centre_top(first, under)
    for one, thing in order[1:]:
        before = placed[-1]
        top = _centre_top(one, thing)
        lift = datum.y - top.y if datum and top else 0.0
        # Halves of a front are sewn there; those of a back are closed with a zip.
        at_centre = beside is not None and top is not None and one.body == "front"
        joined = before.name if at_centre else ""
        step = before.seen.right + (0.0 if joined else GAP) - one.seen.left
        placed.append(replace(one.moved(Point(step, lift)), joined=joined))
        beside = top
    return placed


def _mirrored(row: list[tuple[Laid, _Thing]]) -> list[tuple[Laid, _Thing]]:
    """From left to right as drafted; of two halves one lies as the other's mirror."""
    row = sorted(row, key=lambda pair: pair[0].seen.left)
    first = "_right" if row[0][0].body == "front" else "_left"
    one = [pair for pair in row if pair[0].name.endswith(first)]
    names = [_undivided_name(laid.name) for laid, _ in one]
    other = [pair for pair in row if pair not in one]
    if sorted(names) != sorted(_undivided_name(laid.name) for laid, _ in other):
        return row
    return one + sorted(
        other, key=lambda pair: -names.index(_undivided_name(pair[0].name))
    )


def _centre_top(laid: Laid, thing: _Thing) -> Point | None:
    """Where the centre of a half meets the waist, on the table."""
    names = thing.edges("centre")
    if not names or laid.fold:
        return None
    chain = thing.panel.edge(names[0]).chain
    return laid.at(max((chain.start, chain.end), key=lambda end: end.y))


# A card, or everything


def _side_by_side(things: Sequence[_Thing]) -> tuple[Laid, ...]:
    """Side by side, in rows where there are many; main cloth first."""
    order = sorted(things, key=lambda t: (t.kind, _cloth(t.material)))
    laid = [thing.laid() for thing in order]
    area = sum((o.box.width + GAP) * (o.box.height + GAP) for o in laid)
    widest = max((o.box.width for o in laid), default=0.0)
    wide = max(widest, math.sqrt(_FLAT * area))
    found: list[Laid] = []
    x = y = low = 0.0
    for one in laid:
        if x > 0 and x + one.box.width > wide:
            x, y = 0.0, low - GAP
        found.append(one.moved(Point(x - one.box.left, y - one.box.top)))
        x += one.box.width + GAP
        low = min(low, found[-1].box.bottom)
    return tuple(found)


def _cloth(material: str) -> int:
    return CLOTHS.index(material) if material in CLOTHS else len(CLOTHS)


# Nothing jumps


def _kept(fresh: Sequence[Laid], before: Layout, held: str | None) -> tuple[Laid, ...]:
    """The same things in the places they have, pushed along where they would meet."""
    old = {one.key: one for one in before.laid}
    same = set(old) == {one.key for one in fresh} and all(
        old[one.kind, one.name].turned == one.turned for one in fresh
    )
    if not same:
        return tuple(fresh)
    laid = [
        one.moved(step)
        for one, step in zip(fresh, _steps(fresh, old, held), strict=True)
    ]
    placed: dict[tuple[Kind, str], Laid] = {}
    for one in _from_hand_outward(laid, old, held):
        if one.key not in placed:
            sewn = [o for o in laid if one.name == o.joined or o.name == one.joined]
            pushed = [_push(each, placed.values(), old) for each in (one, *sewn)]
            step = max(pushed, key=Point.size)
            placed |= {each.key: each.moved(step) for each in (one, *sewn)}
    kept = tuple(placed[one.key] for one in fresh)
    return tuple(fresh) if held is None and _one_on_another(kept) else kept


def _steps(
    fresh: Sequence[Laid], old: Mapping[tuple[Kind, str], Laid], held: str | None
) -> Iterator[Point]:
    """How far each is to go to lie where it lay; halves joined go together."""
    known = {(o.kind, o.name): old[o.kind, o.name].offset - o.offset for o in fresh}
    for one in fresh:
        if one.joined:
            both = [(one.kind, one.joined), one.key]
            kept = known[both[1] if one.panel == held else both[0]]
            known.update(dict.fromkeys(both, kept))
    for one in fresh:
        yield known[one.kind, one.name]


def _from_hand_outward(
    laid: Sequence[Laid], old: Mapping[tuple[Kind, str], Laid], held: str | None
) -> list[Laid]:
    """What is in hand first, then its side of the body, then the rest.

    The nearer ones come sooner, so that each gives way to all that lay between.
    """
    first = next((one for one in laid if one.panel == held), None)
    datum = old[first.key].seen.middle if first else None

    def turn(one: Laid) -> tuple[bool, float]:
        was = old[one.key].seen
        if first is None or datum is None:
            return False, was.left
        return one.body != first.body, was.middle.to(datum)

    return sorted(laid, key=turn)


def _one_on_another(laid: Sequence[Laid]) -> bool:
    pairs = combinations(laid, 2)
    return any(one.seen.grown(-1.0).meets(other.seen) for one, other in pairs)


def _push(
    one: Laid, others: Iterable[Laid], old: Mapping[tuple[Kind, str], Laid]
) -> Point:
    """How far a thing must go to be clear of those before it, the way it lies."""
    was, began = old[one.kind, one.name].seen, one.offset
    for other in others:
        then = old[other.kind, other.name].seen
        right, left = was.left - then.right, then.left - was.right
        below, above = then.bottom - was.top, was.bottom - then.top
        gap = min(LEAST_GAP, max(right, left, below, above, 0.0))
        beside, at = other.seen, one.seen
        if right >= -1.0:
            lacking = beside.right + gap - at.left
            one = one.moved(Point(max(lacking, 0.0), 0.0))
        elif left >= -1.0:
            lacking = at.right + gap - beside.left
            one = one.moved(Point(-max(lacking, 0.0), 0.0))
        elif below >= 0:
            lacking = at.top + gap - beside.bottom
            one = one.moved(Point(0.0, -max(lacking, 0.0)))
        elif above >= 0:
            lacking = beside.top + gap - at.bottom
            one = one.moved(Point(0.0, max(lacking, 0.0)))
    return one.offset - began

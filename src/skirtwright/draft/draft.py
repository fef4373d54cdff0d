"""A draft as it is written and kept: its amounts, choices, steps and what comes of it.

A style on the shelf and the draft inside a saved order are the same record. Nothing
here is worked out; `skirtwright.draft.working.recompute` does that.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from typing import Annotated, Any, Final, Literal

from skirtwright.budget import LONGEST_NAME, MOST_LISTED
from skirtwright.draft.kinds import ALL
from skirtwright.draft.runs import Run
from skirtwright.draft.step import Step
from skirtwright.measures.records import ReadBy, Record, ruled, take
from skirtwright.measures.units import Unit
from skirtwright.measures.working_intermediates import written_in
from skirtwright.measures.working_kinds import ANGLE, LENGTH, NUMBER, Kind
from skirtwright.problems import BadInput, nearest

FORMAT = 3
"""The newest format of a draft this program writes and reads."""

AmountKind = Literal["length", "ratio", "count", "angle"]

STEPS: dict[str, float] = {"ratio": 0.05, "count": 1.0, "angle": 0.5}
"""One step of an amount that is no length: degrees, or plain."""

Role = Literal[
    "seam",
    "waist",
    "waist_join",
    "side",
    "centre",
    "hem",
    "opening",
    "facing_edge",
    "facing_end",
    "turned_in",
    "channel",
    "pocket",
    "godet",
    "caught",
]
"""What an edge of a piece is: a plain seam unless the style says otherwise."""

CLOTHS: Final = ("shell", "lining", "interfacing")
"""The cloths every draft knows, in the order of a cut list; a style may name others."""

FINISHED = ("waist", "hip", "knee", "sweep", "length", "step_allowed")
"""The finished measures a draft may state."""

Half = Literal["left", "right"]
"""A half of the skirt, as she wears it."""

KINDS: Final[dict[str, Kind]] = {
    "length": LENGTH,
    "ratio": NUMBER,
    "count": NUMBER,
    "angle": ANGLE,
}


WorkingOf = Literal["default", "least", "most"]
WORKINGS: Final[tuple[WorkingOf, ...]] = ("default", "least", "most")
"""The workings of an amount."""


class Amount(Record):
    """A number the dressmaker may set: its default and range are workings.

    They see measurements, choices and the amounts above, never the drawing. What they
    have in common may be named in `where`, each name seeing those before it. A label
    that says which way ("Lower the waist") has in `below_zero` the other one.
    """

    name: str
    kind: AmountKind = "length"
    label: str
    group: Literal["ease", "length", "flare", "waist", "finishing"] = "flare"
    where: dict[str, str] = {}
    default: str
    least: str
    most: str
    when: str | None = None
    help: str = ""
    below_zero: str = ""

    def told(self, *values: float) -> tuple[str, tuple[float, ...]]:
        """Its label and values of it as a sentence says them.

        What lowers by less than nothing raises: where none of the values is above zero
        they are told without a sign, under the other label.
        """
        if self.below_zero and max(values) <= 0 and min(values) < 0:
            return self.below_zero, tuple(abs(value) for value in values)
        return self.label, values

    def working(self, which: WorkingOf) -> str:
        """One of its workings, with what it names in `where` written in.

        Raises:
            BadInput: it cannot be read, or would be too long.
        """
        text: str = getattr(self, which)
        return written_in(text, tuple(self.where.items())) if self.where else text


class Choice(Record):
    """A detail with named options; the values of `options` are their labels.

    Those `refused` are known, as a draft taken in has them, but never offered: the
    style says in a check why it is not drawn with them.
    """

    name: str
    label: str
    options: dict[str, str]
    refused: tuple[str, ...] = ()
    default: str
    when: str | None = None
    help: str = ""

    @property
    def offered(self) -> tuple[str, ...]:
        """The options that may be chosen."""
        return tuple(name for name in self.options if name not in self.refused)

    def refuse(self) -> None:
        """Refuse a default that is not offered, and to refuse what is no option."""
        unknown = [name for name in self.refused if name not in self.options]
        if self.default not in self.offered:
            unknown.append(self.default)
        for option in unknown:
            raise BadInput(
                "draft.no_option",
                self.name,
                choice=self.label,
                option=option,
                known=", ".join(self.options),
            )


class Find(Record):
    """A number to be found: between two limits, so that two workings agree.

    Where `wanted` does not hold the number is not looked for; it is `otherwise`.
    """

    unknown: str
    kind: AmountKind = "length"
    least: str
    most: str
    match: str
    to: str
    wanted: str | None = None
    otherwise: str | None = None


def _read_item(raw: Any, _: object) -> Step | Group:
    if isinstance(raw, Step | Group):
        return raw
    if not isinstance(raw, dict):
        raise BadInput("draft.not_a_step")
    if "group" in raw:
        return Group.model_validate(raw)
    word = raw.get("kind", "")
    if not isinstance(word, str):
        word = json.dumps(word)  # As it stands in the file.
    kind = ALL.get(word)
    if kind is None:
        name = str(raw.get("step", ""))
        raise BadInput(
            "draft.no_kind", name, step=name, kind=word, nearest=nearest(word, ALL, 0.0)
        )
    return kind.model_validate(raw)


def _take_item(raw: dict[str, Any]) -> Step | Group:
    if "group" in raw:
        return take(Group, raw)
    return take(ALL[raw["kind"]], raw)


def _write_item(item: Step | Group) -> dict[str, Any]:
    return item.model_dump(by_alias=True, exclude_unset=True)


Item = Annotated[Any, ReadBy(Any, _read_item, _take_item, _write_item)]
"""A step or a group."""


class Group(Record):
    """A named run of steps, with at most one of when, repeat, find and from.

    A `from` names another draft on the shelf: a style, or `finishing/` or `addition/`
    and the name of one. With `pieces` its pieces, seams and pulls are taken in too;
    `panels` says which panels are meant by those that it names.
    """

    group: str
    when: str | None = None
    repeat: str | None = None
    find: Find | None = None
    from_: str | None = ruled(default=None, alias="from")
    pieces: bool = False
    panels: dict[str, str] = {}
    start: dict[str, str] = {}
    steps: tuple[Item, ...] = ()

    def refuse(self) -> None:
        """Refuse two rules in one group."""
        rules = [self.when, self.repeat, self.find, self.from_]
        if sum(rule is not None for rule in rules) > 1:
            raise BadInput("draft.group_has_two_rules", self.group, group=self.group)
        if self.panels and self.from_ is None:
            raise BadInput("draft.panels_of_nothing", self.group, group=self.group)


def all_steps(items: Iterable[Any]) -> Iterator[Any]:
    """Every step, those within groups too."""
    for item in items:
        if isinstance(item, Group):
            yield from all_steps(item.steps)
        else:
            yield item


def all_groups(items: Iterable[Any], above: str = "") -> Iterator[tuple[str, Group]]:
    """Every group by its path, each before those within it."""
    for item in items:
        if isinstance(item, Group):
            path = f"{above}{item.group}/"
            yield path, item
            yield from all_groups(item.steps, path)


def _read_run(raw: Any, read: Callable[[Any], str]) -> Run:
    return raw if isinstance(raw, Run) else Run.of(read(raw))


SeamRun = Annotated[Run, ReadBy(str, _read_run, Run.of, str)]
"""A run of a seam, in a file `panel.edge` or `-panel.edge`."""


class SeamNotch(Record):
    """A balance mark of a seam: found on its first side, put on both alike.

    `beyond` moves it further from the seam's start than the place itself.
    """

    at: str
    count: int = ruled(default=1, ge=1, le=3)
    beyond: str = "0"
    when: str | None = None


class Seam(Record):
    """Two runs of edges sewn together; "-panel.edge" is walked backwards.

    A seam whose two sides are the same edge joins a mirrored pair. `pressed` says onto
    which side's pieces both allowances are pressed, where they are not pressed open.
    One of a `half` is sewn on the left or the right alone, such as a facing's side seam
    where the other side opens.
    With `repeat` it is sewn so many times, its names with their turn `i` in brackets.
    """

    name: str
    title: str = ""
    sides: tuple[tuple[SeamRun, ...], tuple[SeamRun, ...]]
    ease: str = "0"
    pressed: Literal["open", "first", "second"] = "open"
    half: Half | None = None
    notches: tuple[SeamNotch, ...] = ()
    repeat: str | None = None
    when: str | None = None

    def refuse(self) -> None:
        """Refuse a side that has no edge."""
        if not all(self.sides):
            raise BadInput("draft.side_without_edge", self.name, name=self.name)


MOST_ALLOWANCE: Final = 300.0
"""mm; the deepest hem and cut-on facing are half of it (common practice, no source)."""


class AllowanceRun(Record):
    """An allowance up to a walked distance from the edge's start."""

    to: str | None = None
    width: str


class PieceOf(Record):
    """A piece to cut: which panel, of what, how often, and its allowances.

    `allowances` holds, for each edge, one width or several from the edge's start on.
    `turned_up` names hems and facings whose allowance is the mirror of the piece beside
    it; where two of them meet they are mitred. `corners` says for an edge's `start` or
    `end` how its allowance ends where the order of sewing does not say so rightly.
    `roles` says what an edge is where it is no plain seam, `body` on which side of the
    body the piece lies, `half` of which half of the skirt it is where the other half's
    is unlike, and `whole` what the two are called together: names mean nothing. `worn`
    is the panel that it is a part of as the skirt is worn, whole. With `repeat` it is
    cut so many times, from `group[i].panel` for each turn `i`; `{i}` in the title is
    the turn.
    """

    name: str
    title: str = ruled(max_length=LONGEST_NAME)
    panel: str
    material: str = "shell"
    count: str = "1"
    folds: tuple[str, ...] = ()
    allowances: dict[str, str | tuple[AllowanceRun, ...]] = {}
    turned_up: tuple[str, ...] = ()
    corners: dict[str, Literal["mirror", "mitre", "square", "bevel"]] = {}
    grain: str | None = None
    lines: tuple[str, ...] = ()
    roles: dict[str, Role] = {}
    body: Literal["front", "back"] | None = None
    half: Half | None = None
    whole: str | None = None
    worn: str | None = None
    repeat: str | None = None
    when: str | None = None

    @property
    def grain_edge(self) -> str:
        """The edge the straight grain runs along; empty where it is an angle."""
        text = self.grain or ""
        is_edge = text.rpartition(".")[2][:1].isalpha()
        return text.partition(".")[2] if is_edge else ""

    def role(self, edge: str) -> Role:
        """What an edge of the piece is."""
        return self.roles.get(edge, "seam")


class Level(Record):
    """A level at which room to walk is checked: its girth and depth below the waist."""

    girth: str
    below_waist: str


class PullOf(Record):
    """A place on the table that pulls an amount."""

    place: str
    amount: str
    second: str | None = None
    when: str | None = None


class Told(Record):
    """Something a draft says of itself, told only where a condition holds."""

    value: str
    when: str | None = None

    @classmethod
    def of(cls, said: str | Told) -> Told:
        """The same, where it may be only a working."""
        return said if isinstance(said, Told) else take(cls, {"value": said})


class MadeOf(Record):
    """What edges of panels that are not cut are made of, where a condition holds.

    `edges` has, for each such edge (`front.waist`), those of cut pieces in the order
    in which it runs; none, where all of them are another's that it goes on from. Where
    these pieces lie `in_place`, as parts of the panel, a mark stays where it was.
    """

    when: str
    edges: dict[str, tuple[SeamRun, ...]]
    in_place: bool = False


class EdgeChange(Record):
    """What becomes of an edge of a style's pieces: a plain seam unless said.

    Of a hem `turned_up` says whether it still is; it is not where it is faced.
    """

    role: Role = "seam"
    allowance: str
    turned_up: bool = True


class Addition(Record):
    """What an addition makes of the style that takes it in, where a condition holds.

    Attributes:
        edges: of the style's panels (`front.hem`), each with what it becomes.
        goes_on: edges of the style at the end of a side of a seam, each with the edge
            of the addition that goes on from it, so that both are sewn in one.
        lines: drawn on the style's panels, each with the names of the marks, whose
            turns may be many (`patch[]`) and are on a piece only where they are drawn.
        cut_from: panels of the style, each with the one that its piece is cut from
            instead.
        pairs: of those others, the ones cut as a mirrored pair, not on a fold.
        made_of: edges of such panels that several pieces make up, as in a style; the
            others keep their names.
        finished, checks: new workings of what the style tells there; `before` in one
            is what it told.
        stride: the level that the style's own cloth reaches down to now; levels below
            it are brought up to it.
        levels: further levels to stride at.
    """

    when: str
    edges: dict[str, EdgeChange] = {}
    goes_on: dict[str, SeamRun] = {}
    lines: dict[str, tuple[str, ...]] = {}
    cut_from: dict[str, str] = {}
    pairs: tuple[str, ...] = ()
    made_of: dict[str, tuple[SeamRun, ...]] = {}
    finished: dict[str, str] = {}
    checks: dict[str, str] = {}
    stride: Level | None = None
    levels: tuple[Level, ...] = ()


class Draft(Record):
    """A style, or the draft of one order.

    `checks` tells the checks what they cannot see on the pieces: the name of a known
    measure (resources/checks.json), if need be with ` at ` and an edge, and a working.
    `sewing` tells the making-up sheet the same way: the name of a known fact
    (resources/sewing.json) and a working. `made_of` stands in a style's file alone,
    `adds` in that of an addition: what they say is written out when a style is read.
    """

    format: int = ruled(default=FORMAT, ge=1)
    id: str = ruled(max_length=LONGEST_NAME)
    title: str = ruled(max_length=LONGEST_NAME)
    help: str = ""
    unit: Unit = "cm"
    sample: str = "sample"
    measurements: tuple[str, ...]
    choices: tuple[Choice, ...] = ruled(default=(), max_length=MOST_LISTED)
    amounts: tuple[Amount, ...] = ruled(default=(), max_length=MOST_LISTED)
    first: tuple[str, ...] = ()
    steps: tuple[Item, ...]
    made_of: tuple[MadeOf, ...] = ruled(default=(), max_length=MOST_LISTED)
    adds: tuple[Addition, ...] = ruled(default=(), max_length=MOST_LISTED)
    seams: tuple[Seam, ...] = ruled(default=(), max_length=MOST_LISTED)
    pieces: tuple[PieceOf, ...] = ruled(default=(), max_length=MOST_LISTED)
    finished: dict[str, str] = {}
    stride: tuple[Level, ...] = ruled(default=(), max_length=MOST_LISTED)
    checks: dict[str, str | Told] = {}
    sewing: dict[str, str | Told] = {}
    pulls: tuple[PullOf, ...] = ruled(default=(), max_length=MOST_LISTED)

    def amount(self, name: str) -> Amount | None:
        """The amount of that name, or None."""
        return next((a for a in self.amounts if a.name == name), None)

    def choice(self, name: str) -> Choice | None:
        """The choice of that name, or None."""
        return next((c for c in self.choices if c.name == name), None)

"""What pins say at a fitting, by name: what can be altered, and what was.

`resources/alterations.json` lists what can be: a seam let out or taken in, a hem
levelled, an amount of the style or a measurement of hers changed. The last two are
changed where they stand; the others are written into the draft (`altering.py`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any, Literal

from skirtwright import shelf
from skirtwright.draft.draft import Role
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.records import Record, ruled, take
from skirtwright.measures.strict_json import read_as
from skirtwright.measures.units import Unit, read_length
from skirtwright.problems import BadInput, NotFound, nearest, told_of
from skirtwright.words import Phrase

PLACES = ("waist", "hip", "hem")
"""Where a stretch of a seam may begin or end, beside a length from the waist down."""

AROUND = (
    "front",
    "front_left",
    "side_left",
    "back_left",
    "back",
    "back_right",
    "side_right",
    "front_right",
)
"""Where the hem is read off the floor, on round her from the centre front."""

MIDDLE = 5
"""So many of them lead round to the centre back."""

_OF_A_HALF = ("front", "front_middle", "side", "back_middle", "back")
"""Where it is read when both sides are alike."""

MOST_ALTERATIONS = 40
"""More is another skirt."""

_LETTERS = 60
"""Of what is typed for one figure."""

_LEAST = 0.05
"""Less of an alteration is none, mm."""

_HIGHEST = 1500.0
"""No hem hangs further from the floor, mm."""


class SeamOf(Record):
    """Which seams are altered: of edges with a role, on one side of the body or all."""

    role: Role
    body: Literal["front", "back"] | None = None


class Alterable(Record):
    """One thing that can be altered.

    Attributes:
        seam: the seams let out or taken in.
        amounts: amounts of a style, by how much of the alteration each is changed.
        measurement: of hers, changed on one side.
        reads: whether it is a row of readings off the floor.
        by_side: whether it may be of one side alone; `one_side`: it must be.
        ways: what more of it, and what less, is called.
        first, last: the stretch of a seam that it begins with.
        least, most: of what is asked.
    """

    id: str
    label: str
    help: str
    seam: SeamOf | None = None
    amounts: dict[str, float] = {}
    measurement: str | None = None
    reads: bool = False
    by_side: bool = False
    one_side: bool = False
    ways: tuple[str, str] = ("more", "less")
    first: str = ""
    last: str = ""
    least: str = ""
    most: str = ""

    @property
    def has_sides(self) -> bool:
        """Whether it may be of one side."""
        return self.by_side or self.one_side

    @property
    def unread(self) -> tuple[str, ...]:
        """The fields of an alteration that it has no use for."""
        if self.reads:
            return "by", "first", "last", "side"
        ends = () if self.seam else ("first", "last")
        return ("readings", *ends, *(() if self.has_sides else ("side",)))


class Alteration(Record):
    """One alteration of an order, as typed.

    Attributes:
        what: the id of what is altered.
        side: of which side; empty for both.
        first, last: between which places of a seam, each `waist`, `hip`, `hem` or a
            length from the waist down.
        readings: off the floor, at `AROUND`; or at its first five, both sides alike.
        on: the day of the fitting, as 2026-05-31; may be empty.
    """

    what: str = ruled(max_length=_LETTERS)
    by: str = ruled(default="", max_length=_LETTERS)
    side: Literal["", "left", "right"] = ""
    first: str = ruled(default="", max_length=_LETTERS)
    last: str = ruled(default="", max_length=_LETTERS)
    readings: tuple[str, ...] = ruled(default=(), max_length=len(AROUND))
    on: str = ruled(default="", max_length=_LETTERS)

    def refuse(self) -> None:
        """Refuse a day that is none, and what is not read of such an alteration."""
        if self.on and not _is_day(self.on):
            raise BadInput("fitting.not_a_day", "on", text=self.on)
        known = next((one for one in alterables() if one.id == self.what), None)
        if known is None:
            return  # Nothing of that name can be altered, which is told.
        for field in known.unread:
            if getattr(self, field):
                values = {"alteration": known.label, "field": field}
                raise BadInput("fitting.not_of_it", field, **values)

    @property
    def is_drawn(self) -> bool:
        """Whether it is written into the draft; else it stands in amounts or card."""
        known = alterable(self.what)
        return known.seam is not None or known.reads

    def with_units(self, marked: Callable[[str], str]) -> Alteration:
        """The same, each length without a unit given one."""
        texts = {
            name: marked(text)
            for name in ("by", "first", "last")
            if (text := getattr(self, name)) and text not in PLACES
        }
        readings = tuple(map(marked, self.readings))
        return self.replace(**texts, readings=readings)

    def length(self, unit: Unit) -> float:
        """By how much, mm.

        Raises:
            BadInput: it is no length, or outside what is asked for.
            NotFound: nothing of that name can be altered.
        """
        known = alterable(self.what)
        with _named_in_refusal("fitting.what", "by", what=known.label):
            found = read_length(self.by, unit)
            least, most = (read_length(t, unit) for t in (known.least, known.most))
            return _within(found, least, most)

    def alters(self, unit: Unit) -> bool:
        """Whether anything comes of it that can be cut.

        Raises:
            BadInput, NotFound: as of `length` or `cut_off`.
        """
        if alterable(self.what).reads:
            cuts = (cut for both in self.cut_off(unit).values() for cut in both)
            return max(cuts) >= _LEAST
        return abs(self.length(unit)) >= _LEAST

    def sides(self, unit: Unit) -> tuple[float, float]:
        """By how much on the left and on the right, mm.

        Raises:
            BadInput, NotFound: as of `length`.
        """
        by = self.length(unit)
        left, right = (0.0 if self.side not in ("", side) else by for side in SIDES)
        return left, right

    def check_places(self, unit: Unit) -> None:
        """Both places of a seam can be read, and the first lies above the last.

        Raises:
            BadInput: they do not.
        """
        ends = self.first, self.last
        depths = [depth_of(text, unit) for text in ends]
        ranks = [PLACES.index(text) if text in PLACES else None for text in ends]
        for first, last in (depths, ranks):
            if first is not None and last is not None and first >= last:
                label = alterable(self.what).label
                raise BadInput("fitting.upside_down", self.what, alteration=label)

    def cut_off(self, unit: Unit) -> dict[str, tuple[float, float]]:
        """How much comes off the hem at front, its middle, side and so on, mm.

        Returns:
            Left and right at each of the five places of a half.

        Raises:
            BadInput: not five or eight readings, or one of them is no such length.
        """
        if len(self.readings) not in (MIDDLE, len(AROUND)):
            values = {"count": len(self.readings)}
            raise BadInput("fitting.readings", self.what, **values)
        places = read_at(len(self.readings))
        read = zip(self.readings, places, strict=True)
        heights = [_height(text, unit, place) for text, place in read]
        most = max(heights)
        cut = [most - height for height in heights]
        left, right = cut[:MIDDLE], cut[:MIDDLE]
        if len(cut) > MIDDLE:
            right = [cut[0], *reversed(cut[MIDDLE:]), left[-1]]
        return dict(zip(_OF_A_HALF, zip(left, right, strict=True), strict=True))


def depth_of(text: str, unit: Unit) -> float | None:
    """How far below the waist a place of a seam lies, mm; None at hip and hem.

    Raises:
        BadInput: it is none of `PLACES` and no length from the waist down.
    """
    if text in PLACES:
        return 0.0 if text == "waist" else None
    with _named_in_refusal("fitting.place", "place"):
        return _within(read_length(text, unit), 0.0, _HIGHEST)


def read_at(count: int) -> tuple[str, ...]:
    """Where so many readings off the floor were taken, in their order."""
    return AROUND if count > MIDDLE else _OF_A_HALF


def typed_alteration(**said: Any) -> Alteration:
    """An alteration as she typed it.

    Raises:
        BadInput: a text is longer than any figure, or there are more readings than
            places.
        NotFound: nothing of that name can be altered.
    """
    known, count = alterable(said["what"]), len(said.get("readings", ()))
    if count > len(AROUND):
        raise BadInput("fitting.readings", known.id, count=count)
    return read_as(Alteration, said, known.id)


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _height(text: str, unit: Unit, place: str) -> float:
    at = Phrase(f"fitting.read_{place}")
    if not text.strip():
        raise BadInput("fitting.not_read", place, at=at)
    with _named_in_refusal("fitting.reading", place, at=at):
        return _within(read_length(text, unit), 0.0, _HIGHEST)


def _within(found: float, least: float, most: float) -> float:
    if not least <= found <= most:
        values = {"least": least, "most": most, "value": found}
        raise BadInput("fitting.out_of_range", "", **values)
    return found


@contextmanager
def _named_in_refusal(message: str, where: str, **values: Any) -> Iterator[None]:
    """What is refused within says first of what it is, and where that was typed."""
    try:
        yield
    except BadInput as error:
        told = told_of(error, Phrase(message, values)).problem
        raise BadInput.of(replace(told, where=where)) from error


@cache
def alterables() -> tuple[Alterable, ...]:
    """All that can be altered, in the order it is offered."""
    listed = shelf.read_json("alterations.json")["alterations"]
    return tuple(take(Alterable, raw) for raw in listed)


def alterable(name: str) -> Alterable:
    """What can be altered under a name.

    Raises:
        NotFound: nothing; the nearest is named.
    """
    known = {one.id: one for one in alterables()}
    if name not in known:
        near = nearest(name, known) or next(iter(known))
        raise NotFound("fitting.unknown", name, name=name, nearest=near)
    return known[name]

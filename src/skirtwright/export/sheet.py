"""The sheet: strokes, fills and text in mm, all a writer ever sees.

x runs right, y up. Every mark lies on a layer that says what kind of line it is;
how a kind of line is drawn (weight, dashes, ink) is data in
`resources/papers/lines.toml`, so a mark seldom needs a weight or dash of its own.

A sheet is made of groups, one for each cut piece. A group keeps together; packing
may move and turn it as a whole. Everything here is a frozen value, and every change
is a new value.

A toile needs nothing here: it is the sheet of pieces made with wide allowances at side
and centre back and none at waist and hem.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from typing import Literal, Self, get_args

from skirtwright.export.printed_letters import DESCENT, width_of
from skirtwright.geometry import Line, Motion, Point, Segment, turn
from skirtwright.geometry.box import Box
from skirtwright.geometry.box import box_of as box_round
from skirtwright.geometry.tolerance import FLAT
from skirtwright.problems import BadInput

Layer = Literal[
    "frame",
    "stitching",
    "cutting",
    "fold",
    "grain",
    "notch",
    "drill",
    "inside",
    "lengthen",
    "label",
    "test",
    "size-1",
    "size-2",
    "size-3",
    "size-4",
    "size-5",
    "size-6",
    "size-7",
    "size-8",
    "size-9",
    "size-10",
    "size-11",
    "size-12",
]
"""Kinds of line. `inside` is the hip and knee lines and whatever else is drawn but
neither sewn nor cut; `lengthen` is where a piece is made longer or shorter; `test` is
the squares; `frame` is the page's own furniture. In the order they are drawn: what
matters most lies on top."""

LAYERS: tuple[Layer, ...] = get_args(Layer)

SIZE_LAYERS = tuple(layer for layer in LAYERS if layer.startswith("size-"))
"""All that is of one size, where several are drawn over one another."""

MOST_SIZES = len(SIZE_LAYERS)


def size_layer(number: int) -> Layer:
    """The layer of a size, counted from 1."""
    return SIZE_LAYERS[number - 1]


Anchor = Literal["start", "middle", "end"]

Path = tuple[Segment, ...]
"""Lines and cubics, each beginning where the last one ended."""

Pen = tuple[float | None, tuple[float, ...]]
"""Weight, and dash and gap lengths, mm; no weight takes the layer's."""

PLEAT_FOLD: Pen = (None, ())
"""Of the line along which a pleat is folded before it is laid."""

LEADING = 1.9
"""Distance between lines of text, as a multiple of the height of its capitals."""


@dataclass(frozen=True)
class _Drawn:
    """What is drawn along a path of lines and cubics, mm, on the layer of its kind."""

    path: Path
    layer: Layer

    def moved(self, motion: Motion) -> Self:
        """The same after a motion."""
        return replace(self, path=tuple(s.moved(motion) for s in self.path))

    def points(self, flat: float = FLAT) -> list[Point]:
        """The path flattened, nowhere further than `flat` mm away."""
        return flattened(self.path, flat)


@dataclass(frozen=True)
class Stroke(_Drawn):
    """A drawn line.

    Attributes:
        weight: pen width in mm; None takes the layer's.
        dash: dash and gap lengths in mm, () for an unbroken line; None takes the
            layer's.
        closed: True for an outline, whose path ends where it began.
    """

    weight: float | None = None
    dash: tuple[float, ...] | None = None
    closed: bool = False


@dataclass(frozen=True)
class Fill(_Drawn):
    """A filled shape, such as the head of an arrow or a drill mark.

    Attributes:
        grey: 0 is black, 1 white; only small drawings among words are not black.
    """

    grey: float = 0.0


@dataclass(frozen=True)
class Text:
    r"""Words; a newline (`\n`) begins a line below.

    Attributes:
        at: start, middle or end (see `anchor`) of the first line's foot.
        height_mm: height of a capital letter, as lettering is measured in ISO 3098.
        angle_deg: direction of reading, anticlockwise from the x axis.
        anchor: which part of each line stands at `at`.
        bold: the heavier of the two weights.
    """

    text: str
    at: Point
    height_mm: float
    angle_deg: float = 0.0
    layer: Layer = "label"
    anchor: Anchor = "start"
    bold: bool = False

    def moved(self, motion: Motion) -> Text:
        """The same words after a motion.

        A motion that turns the paper over leaves them readable: they are moved and
        turned but never mirrored.
        """
        along = Point(motion.a, motion.b)
        turned = 0.0 if motion.turns_over() else along.heading_deg()
        angle = (self.angle_deg + turned) % 360.0
        return replace(self, at=motion(self.at), angle_deg=angle)

    def lines(self) -> list[tuple[str, Motion, float]]:
        """Each line with the motion that puts it on the sheet, and its width, mm.

        A line is thought of as written from the origin along x; the motion includes
        where the anchor puts it.
        """
        placed = []
        for number, words in enumerate(self.text.split("\n")):
            width = width_of(words, self.height_mm, bold=self.bold)
            back = {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
            down = number * LEADING * self.height_mm
            motion = (
                Motion(e=-back, f=-down)
                .then(turn(Point(0, 0), self.angle_deg))
                .then(Motion(e=self.at.x, f=self.at.y))
            )
            placed.append((words, motion, width))
        return placed

    def points(self, flat: float = FLAT) -> list[Point]:
        """The corners of the room each line takes; `at` alone when there are no words.

        Words are straight: `flat` changes nothing.
        """
        del flat
        corners = []
        low, high = -DESCENT * self.height_mm, self.height_mm
        for words, motion, width in self.lines():
            if words:
                for x, y in ((0.0, low), (width, low), (width, high), (0.0, high)):
                    corners.append(motion(Point(x, y)))
        return corners or [self.at]


Mark = Stroke | Fill | Text


@dataclass(frozen=True)
class Label:
    """Words that still want a place: it is found once it is known where pieces lie.

    Attributes:
        versions: the lines to be read, fullest first; the next where there is no room.
        height_mm: of capitals, where there is room for them.
        of: the line they are about; () for the piece itself, whose first line is its
            name and the last version the shortest that will do.
        share: how far along the line they stand best.
        stays: the words where they stood on a print before; there they stay while no
            line comes in their way.
    """

    versions: tuple[tuple[str, ...], ...]
    height_mm: float
    of: Path = ()
    share: float = 0.5
    layer: Layer = "label"
    stays: tuple[Mark, ...] = ()

    def moved(self, motion: Motion) -> Label:
        """The same words about the line after a motion."""
        of = tuple(s.moved(motion) for s in self.of)
        return replace(self, of=of, stays=tuple(m.moved(motion) for m in self.stays))


@dataclass(frozen=True)
class Group:
    """The marks of one cut piece, which keep together.

    Attributes:
        name: the piece's name as a person reads it.
        marks: in the order they are drawn.
        outline_box: the room they take, mm.
        piece: the piece's name as a script has it; empty for what is none.
        motion: how far it has been moved from where the piece was drafted.
        cloth: what the piece is cut of, as read.
    """

    name: str
    marks: tuple[Mark, ...]
    outline_box: Box
    piece: str = ""
    motion: Motion = Motion()  # noqa: RUF009 - frozen
    labels: tuple[Label, ...] = ()
    cloth: str = ""

    @classmethod
    def of(
        cls,
        name: str,
        marks: Iterable[Mark],
        piece: str = "",
        labels: Iterable[Label] = (),
        cloth: str = "",
    ) -> Group:
        """A group with its room measured.

        Raises:
            ValueError: there are no marks.
        """
        kept = tuple(marks)
        known = tuple(labels)
        return cls(name, kept, box_of(kept), piece, labels=known, cloth=cloth)

    @property
    def outlines(self) -> tuple[Stroke, ...]:
        """The cutting lines of a piece, or its other outlines where it has none."""
        closed = [m for m in self.marks if isinstance(m, Stroke) and m.closed]
        return tuple([m for m in closed if m.layer == "cutting"] or closed)

    def holding(self, marks: Iterable[Mark]) -> Group:
        """The same group with other marks.

        Raises:
            ValueError: there are no marks.
        """
        kept = tuple(marks)
        return replace(self, marks=kept, outline_box=box_of(kept))

    def moved(self, motion: Motion) -> Group:
        """The same group after a motion."""
        moved = self.holding(mark.moved(motion) for mark in self.marks)
        labels = tuple(label.moved(motion) for label in self.labels)
        return replace(moved, motion=self.motion.then(motion), labels=labels)


@dataclass(frozen=True)
class Sheet:
    """Everything to be put on paper.

    Attributes:
        title: what it is, for the head of a page.
        groups: one for each piece.
        scale: how large it is drawn: 1 is full size, 0.5 half. The marks' own
            coordinates are at this scale already.
        sizes: what the sizes are called that are drawn over one another.
    """

    title: str
    groups: tuple[Group, ...]
    scale: float = 1.0
    sizes: tuple[str, ...] = ()

    @property
    def box(self) -> Box:
        """The room of all groups together, mm.

        Raises:
            ValueError: there are no groups.
        """
        return box_round(p for group in self.groups for p in group.outline_box.corners)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks of all groups in order."""
        return tuple(mark for group in self.groups for mark in group.marks)

    def moved(self, motion: Motion) -> Sheet:
        """The same sheet after a motion."""
        return replace(self, groups=tuple(g.moved(motion) for g in self.groups))


def with_layers(sheet: Sheet, layers: Collection[Layer]) -> Sheet:
    """Only the named kinds of line; a group left without marks is left out."""
    groups = [
        group.holding(marks)
        for group in sheet.groups
        if (marks := [mark for mark in group.marks if mark.layer in layers])
    ]
    return replace(sheet, groups=tuple(groups))


SCALES = (1.0, 0.5, 0.25, 0.2)

SMALLEST_LETTERS = 2.02
"""Capitals lower than this are hard to read: letters of 8 points, mm."""


def drawn_at(sheet: Sheet, scale: float) -> Sheet:
    """The sheet at half, quarter or fifth scale, for teaching.

    Pen weights and dashes stay as they are; words shrink, but not below what can
    be read.

    Raises:
        BadInput: `print.scale_size`, for any other scale.
    """
    if scale not in SCALES:
        raise BadInput("print.scale_size", "scale", scale=scale)
    shrink = Motion(a=scale, d=scale)

    def mark_at(mark: Mark) -> Mark:
        moved = mark.moved(shrink)
        if isinstance(moved, Text):
            height = max(
                moved.height_mm * scale, min(moved.height_mm, SMALLEST_LETTERS)
            )
            return replace(moved, height_mm=height)
        return moved

    groups = tuple(
        replace(
            group.holding(map(mark_at, group.marks)),
            labels=tuple(label.moved(shrink) for label in group.labels),
        )
        for group in sheet.groups
    )
    return replace(sheet, groups=groups, scale=sheet.scale * scale)


def flattened(path: Path, flat: float = FLAT) -> list[Point]:
    """Points along a path, start included, nowhere further than `flat` mm away."""
    points = [path[0].start]
    for segment in path:
        points.extend(segment.flattened(flat))
    return points


def box_of(marks: Iterable[Mark]) -> Box:
    """The room some marks take, mm.

    Raises:
        ValueError: there are no marks.
    """
    return box_round(point for mark in marks for point in mark.points())


def number_text(value: float) -> str:
    """A number in a file: a tenth of a thousandth of a millimetre is enough."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def line(start: Point, end: Point) -> Path:
    """A path of one straight line."""
    return (Line(start, end),)


def outline(*corners: Point) -> Path:
    """A closed path of straight lines through the corners."""
    return tuple(
        Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    )

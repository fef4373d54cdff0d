"""The lays on paper: a page for each cloth, its picture and where each piece lies.

The cloth stands upright, its cut end below, the fold or the left selvedge at the
left. Pieces have their numbers of the cut list.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from skirtwright.export.labelling import Field, Room
from skirtwright.export.lay_words import (
    lay_sentences,
    material_name,
    placement_sentences,
)
from skirtwright.export.pages import Document, Page
from skirtwright.export.print_media import Paper, paper_named
from skirtwright.export.printed_letters import width_of
from skirtwright.export.setting import Line, broken, flowed, heading
from skirtwright.export.sheet import (
    SMALLEST_LETTERS,
    Group,
    Label,
    Mark,
    Path,
    Sheet,
    Stroke,
    Text,
    box_of,
    line,
    outline,
)
from skirtwright.geometry import Motion, Point, straight
from skirtwright.geometry.box import Box
from skirtwright.lay.lay import Lay, Placed
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

_TITLES = (5.0, 4.5, 4.0, 3.5)
"""Heights of a title's capitals: the largest in which it is one line, mm."""

_NUMBER = 3.0
_SMALL = SMALLEST_LETTERS
_ARROW = 2.0
_CLOSE = 0.4
"""How close words may stand to lines, in parts of what they may on a pattern."""

_PICTURE = 0.56
"""Share of the page's width that the picture takes with its words beside it."""

_OVER = (0.85, 0.75, 0.65, 0.55, 0.45)
"""Shares of its height that it may take with its words below it."""

_BESIDE = 6.0
"""Between picture and words, and round the picture for its measures, mm."""


def lays_pdf(report: Report, client: str, date: str, manner: Manner) -> bytes:
    """All lays of a report as a PDF, a page each, more where the words are long."""
    from skirtwright.export.pdf import write

    kind = paper_named("a4")
    pages = [
        page
        for laid in report.lays
        for page in lay_pages(laid, report, kind, (client, date), manner)
    ]
    return write(
        Document(
            of=report.title,
            subject=say("lay.title", {}, manner),
            client=client,
            date=date,
            manner=manner,
            pages=tuple(pages),
        )
    )


def lay_pages(
    laid: Lay, report: Report, paper: Paper, whose: tuple[str, str], manner: Manner
) -> Iterator[Page]:
    """The page of a lay, and more where its words do not go on one."""
    edge = paper.margin
    window = Box(edge, edge, paper.width - edge, paper.height - edge)
    name = material_name(laid.cloth.material, manner)
    title = say("lay.heading", {"cloth": name, "title": report.title}, manner)
    high = next(
        (h for h in _TITLES if width_of(title, h, bold=True) <= window.width),
        _TITLES[-1],
    )
    top = window.top - high
    marks: list[Mark] = []
    for part in broken(title, window.width, high, bold=True):
        marks.append(Text(part, Point(window.left, top), high, bold=True))
        top -= high * 1.7
    client = "" if whose[0] in title else whose[0]
    said = (client, whose[1], say("lay.not_to_scale", {}, manner))
    told = " · ".join(filter(None, said))
    marks.append(Text(told, Point(window.left, top), _SMALL))
    top -= _BESIDE
    lines = list(_lines(laid, report, manner))
    room, columns = _largest(laid, replace(window, top=top), lines)
    marks += picture(laid, report.cut.numbers, room, manner)
    set_marks, lines = flowed(lines, columns)
    yield Page(name, paper.width, paper.height, (*marks, *set_marks))
    while lines:
        set_marks, lines = flowed(lines, [window])
        if not set_marks:
            break
        yield Page(name, paper.width, paper.height, tuple(set_marks))


def _largest(
    laid: Lay, window: Box, lines: Sequence[Line]
) -> tuple[Box, Sequence[Box]]:
    """Room for the picture, and for its words where it is largest on one page.

    With the words beside it where they go on no page with it.
    """
    wide = window.width * _PICTURE
    beside = (
        Box(window.left, window.bottom, window.left + wide, window.top),
        [Box(window.left + wide + _BESIDE, window.bottom, window.right, window.top)],
    )
    ways = [beside, *(_picture_over_columns(laid, window, share) for share in _OVER)]
    fitting = [way for way in ways if not flowed(list(lines), way[1])[1]]
    return max(fitting, key=lambda way: _scale(laid, way[0]), default=beside)


def _picture_over_columns(
    laid: Lay, window: Box, share: float
) -> tuple[Box, list[Box]]:
    """Room for the picture over a share of the page, and two columns below it."""
    most = replace(window, bottom=window.top - share * window.height)
    low = window.top - laid.reach * _scale(laid, most) - _BESIDE
    middle = (window.left + window.right) / 2
    words = replace(window, top=low - _BESIDE / 2)
    columns = [
        replace(words, right=middle - _BESIDE / 2),
        replace(words, left=middle + _BESIDE / 2),
    ]
    return replace(window, bottom=low), columns


def _across(laid: Lay) -> float:
    """The width of the cloth as it lies, mm."""
    return laid.cloth.shrunk_width / (2 if laid.cloth.fold == "lengthwise" else 1)


def _scale(laid: Lay, room: Box) -> float:
    """How large a lay is drawn in a room, its cut end below."""
    wide, tall = room.width - _BESIDE, room.height - _BESIDE
    return min(wide / _across(laid), tall / laid.reach)


def _lines(laid: Lay, report: Report, manner: Manner) -> Iterator[Line]:
    for sentence in lay_sentences(laid, report.to_cut, manner):
        yield Line(sentence)
    yield from heading(say("lay.order", {}, manner))
    numbers = report.cut.numbers
    for placed in laid.placed:
        number = numbers[placed.copy.piece.name]
        title = translate(placed.copy.piece.spec.title, manner)
        yield Line(f"{number}. {title}", heading=True)
        yield Line(placement_sentences(placed, laid, manner))
    yield from heading(say("lay.how_to_read", {}, manner))
    yield Line(say(f"lay.measured.{laid.cloth.fold}", {}, manner))


def picture(
    laid: Lay,
    numbers: Mapping[str, int],
    room: Box,
    manner: Manner,
    *,
    lying: bool = False,
) -> list[Mark]:
    """The lay drawn as large as a room holds, with its measures.

    Args:
        numbers: of its pieces, by name.
        room: mm.
        lying: True to have its length across the page, the fold or left edge on top.
    """
    wide = _across(laid)
    above = _BESIDE if lying else 0.0
    inner = Box(
        room.left + _BESIDE, room.bottom + _BESIDE - above, room.right, room.top - above
    )
    across, along = (laid.reach, wide) if lying else (wide, laid.reach)
    scale = min(inner.width / across, inner.height / along)
    if lying:
        home = Motion(a=0, b=-scale, c=scale, d=0, e=inner.left, f=inner.top)
    else:
        home = Motion(a=scale, d=scale, e=inner.left, f=inner.top - along * scale)
    around = [
        *_cloth(laid, wide, home),
        *_measures(laid, wide, home, manner, lying=lying),
    ]
    pieces = tuple(
        _piece(placed, numbers[placed.copy.piece.name], home, manner)
        for placed in laid.placed
    )
    whole = box_of(around)
    words = Room(Sheet("", pieces), [Field(whole, whole)], around, close=_CLOSE)
    return [*around, *words.sheet.marks]


def _cloth(laid: Lay, wide: float, home: Motion) -> Iterator[Mark]:
    """The edges of the cloth: fold, selvedges and both ends."""
    cloth, top = laid.cloth, laid.reach
    corners = Point(0, 0), Point(wide, 0), Point(wide, top), Point(0, top)
    sides = {
        "left": line(home(corners[0]), home(corners[3])),
        "right": line(home(corners[1]), home(corners[2])),
        "foot": line(home(corners[0]), home(corners[1])),
        "top": line(home(corners[3]), home(corners[2])),
    }
    folded = {"lengthwise": "left", "crosswise": "foot"}.get(cloth.fold)
    for name, path in sides.items():
        if name == folded:
            yield Stroke(path, "fold", weight=0.7)
        else:
            yield Stroke(path, "label", weight=0.35)
    free = [wide - cloth.selvedge]
    if cloth.fold != "lengthwise":
        free.append(cloth.selvedge)
    for x in free:
        yield Stroke(line(home(Point(x, 0)), home(Point(x, top))), "frame")


def _piece(placed: Placed, number: int, home: Motion, manner: Manner) -> Group:
    """A piece where it lies, with its grain, its number and its name."""
    ring = [home(p) for p in placed.outline]
    motion = placed.motion.then(home)
    grain = placed.copy.piece.grain
    marks = (
        Stroke(outline(*ring), "cutting", weight=0.35, closed=True),
        Stroke(_arrow(motion(grain.start), motion(grain.end)), "grain"),
    )
    name = translate(placed.copy.piece.spec.title, manner)
    label = Label(((f"{number}", name), (f"{number}",)), _NUMBER)
    return Group.of(name, marks, labels=(label,))


def _arrow(start: Point, end: Point) -> Path:
    """A line with a head at its end, drawn in one go."""
    way = (start - end).unit()
    left = end + (way + way.left() * 0.5) * _ARROW
    right = end + (way - way.left() * 0.5) * _ARROW
    return straight(start, end, left, end, right).segments


def _measures(
    laid: Lay, wide: float, home: Motion, manner: Manner, *, lying: bool
) -> Iterator[Mark]:
    """How wide the cloth lies, and how long the lay is."""
    across = say("lay.across", {"width": wide}, manner)
    along = say("lay.along", {"length": laid.reach}, manner)
    foot, side = home(Point(wide / 2, 0)), home(Point(0, laid.reach / 2))
    if lying:
        told = f"{along} · {across}"
        yield Text(told, Point(side.x, side.y + 2), _SMALL, anchor="middle")
        return
    yield Text(across, Point(foot.x, foot.y - 4), _SMALL, anchor="middle")
    yield Text(along, Point(side.x - 2, side.y), _SMALL, 90.0, anchor="middle")

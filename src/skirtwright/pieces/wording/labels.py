"""The words on a piece."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from skirtwright.geometry import Point
from skirtwright.geometry.ring import lies_on
from skirtwright.pieces.piece import Piece
from skirtwright.words import Composed, Manner, has_message, say, translate

_BRITISH = Manner()

_LONGEST_LINE = 34
"""Letters in a line of the legend."""

_ALIKE = 2.0
"""Places nearer than this are mirror images, mm."""


def label_lines(
    piece: Piece,
    style: str = "",
    client: str = "",
    date: str = "",
    manner: Manner = _BRITISH,
    notches: Sequence[str] = (),
) -> tuple[str, ...]:
    """Lines of a piece's label: name, style, for whom and when, how it is cut.

    What is not given is left out. A piece that is cut once and is not its own mirror
    image is to lie right side up. `notches` is the legend of its balance marks.
    """
    client_and_date = ", ".join(part for part in (client, date) if part)
    lines = (
        translate(piece.spec.title, manner),
        translate(style, manner) if style else "",
        client_and_date,
        cut_line(piece, manner),
        say("label.right_side_up", {}, manner) if one_way_up(piece) else "",
        larger_line(piece.larger, manner),
        *_in_lines(notches),
    )
    return tuple(line for line in lines if line)


def whole_title(title: str) -> str:
    """The title of a piece without the half it is of."""
    if isinstance(title, Composed) and title.is_of("half.left", "half.right"):
        return str(title.phrase.values["title"])
    return title


def larger_line(shrinks: tuple[float, float], manner: Manner = _BRITISH) -> str:
    """What a piece is cut larger for, where it is: along and across."""
    along, across = shrinks
    if not along and not across:
        return ""
    return say("label.larger", {"along": along, "across": across}, manner)


def cut_line(piece: Piece, manner: Manner = _BRITISH) -> str:
    """How many of a piece are cut, and of what, such as `Cut 1 pair, main cloth`."""
    cloth = material_words(piece.spec.material, manner)
    return say(
        f"label.{_cut_message(piece)}", {**_counts(piece), "cloth": cloth}, manner
    )


def cut_single(piece: Piece, manner: Manner = _BRITISH) -> str:
    """How many of what is drawn are cut of single cloth: half of those of pairs."""
    count = piece.spec.count // 2 if piece.spec.mirrored else piece.spec.count
    cloth = material_words(piece.spec.material, manner)
    return say("label.cut", {"count": count, "cloth": cloth}, manner)


def _in_lines(words: Sequence[str]) -> Iterator[str]:
    """A heading and a list in lines about as long as the rest of a label."""
    line = words[0] if words else ""
    for number, word in enumerate(words[1:], 1):
        part = word + ";" * (number < len(words) - 1)
        if number > 1 and len(line) + len(part) > _LONGEST_LINE:
            yield line
            line = part
        else:
            line = f"{line} {part}"
    yield line


def one_way_up(piece: Piece) -> bool:
    """Whether a piece may not be turned over: left and right of it are unlike."""
    spec = piece.spec
    if spec.folds or spec.mirrored:
        return False
    marks = [snip.start for notch in piece.notches for snip in notch.snips]
    across = _middle([p.x for p in piece.cut])
    along = _middle([p.y for p in piece.cut])
    ways = (
        lambda p: Point(2 * across - p.x, p.y),
        lambda p: Point(p.x, 2 * along - p.y),
    )
    return not any(_is_its_mirror(piece.cut, marks, way) for way in ways)


def _middle(numbers: Sequence[float]) -> float:
    return (min(numbers) + max(numbers)) / 2


def _is_its_mirror(
    ring: Sequence[Point], marks: Sequence[Point], way: Callable[[Point], Point]
) -> bool:
    # The first that lies elsewhere decides: asked of every label at every painting.
    if not all(lies_on(ring, way(p), _ALIKE) for p in ring):
        return False
    turned = map(way, marks)
    return all(min(p.to(other) for other in marks) <= _ALIKE for p in turned)


def how_cut(piece: Piece, manner: Manner = _BRITISH) -> str:
    """The same where its cloth is said already, such as `1 pair`."""
    return say(f"making.{_cut_message(piece)}", _counts(piece), manner)


def _cut_message(piece: Piece) -> str:
    spec = piece.spec
    if spec.folds:
        return "cut_on_fold"
    if spec.mirrored:
        return "cut_pair" if spec.count == 2 else "cut_pairs"
    return "cut"


def _counts(piece: Piece) -> dict[str, int]:
    return {"count": piece.spec.count, "pairs": piece.spec.count // 2}


def material_words(material: str, manner: Manner = _BRITISH) -> str:
    """A cloth's name as it is read."""
    known = f"label.material.{material}"
    return say(known, {}, manner) if has_message(known) else translate(material, manner)

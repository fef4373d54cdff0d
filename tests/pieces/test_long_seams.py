"""Balance marks that are put in by themselves (common practice, no source)."""

from __future__ import annotations

from itertools import pairwise

import pytest
from outlines import polygon

from skirtwright.draft.runs import Run
from skirtwright.pieces.marks.likeness import greatest_difference
from skirtwright.pieces.marks.long_seams import Edges, _clear, marks_of_long_seams
from skirtwright.pieces.spec import NotchSpec
from skirtwright.pieces.walked_seams import Seam


def panels_of(**heights):
    """Rectangles 200 wide: edges foot, right (upwards), top and left (downwards)."""
    names = ("foot", "right", "top", "left")
    return {
        name: polygon((0, 0), (200, 0), (200, high), (0, high), names=names)
        for name, high in heights.items()
    }


def seam(name, first, second, ease=0.0):
    return Seam(name, ((Run.of(first),), (Run.of(second),)), ease)


def marked(panels, seams, marks=None, folds=None):
    there = {piece: list(found) for piece, found in (marks or {}).items()}
    edges = Edges(panels, dict.fromkeys(panels, "shell"), folds or {}, {}, there)

    def add(piece, spec):
        there.setdefault(piece, []).append(spec)

    marks_of_long_seams(seams, edges, add)
    return there


def on(there, piece, edge):
    marks = [m for m in there.get(piece, ()) if m.edge == edge]
    return sorted((round(m.distance, 6), m.count) for m in marks)


SIDE = seam("side", "front.right", "-back.left")


@pytest.mark.parametrize(("length", "parts"), [(350, 1), (351, 2), (700, 2), (960, 3)])
def test_no_stretch_is_longer_than_35_cm(length, parts):
    there = marked(panels_of(front=length, back=length), [SIDE])
    found = on(there, "front", "right")
    assert len(found) == parts - 1
    stops = [0, *(distance for distance, _ in found), length]
    assert max(b - a for a, b in pairwise(stops)) <= 350 + 1e-6
    # Both sides at the same walked distance from the seam's beginning.
    assert on(there, "back", "left") == sorted((length - d, c) for d, c in found)


def test_marks_that_are_there_count_when_the_other_side_has_them():
    panels = panels_of(front=600, back=600)
    both = {"front": [NotchSpec("right", 300)], "back": [NotchSpec("left", 300)]}
    assert marked(panels, [SIDE], both) == both
    one = {"front": [NotchSpec("right", 300)]}
    assert len(marked(panels, [SIDE], one)["back"]) == 1


def test_gathered_seams_are_marked_at_their_quarters():
    """300 gathered to 200: at 75, 150, 225 and 50, 100, 150."""
    panels = panels_of(front=300, back=200)
    gathered = seam("tier", "front.right", "back.right", ease=100)
    there = marked(panels, [gathered])
    assert on(there, "front", "right") == [(75, 1), (150, 1), (225, 1)]
    assert on(there, "back", "right") == [(50, 1), (100, 1), (150, 1)]
    eased = seam("side", "front.right", "back.right", ease=10)
    assert marked(panels_of(front=300, back=290), [eased]) == {}


def test_two_seams_of_one_length_are_told_apart():
    """Four long edges alike: each seam's marks match only its own partner's."""
    panels = panels_of(a=500, b=500, c=500, d=500)
    seams = [
        seam("one", "a.right", "b.right"),
        seam("two", "c.right", "d.right"),
    ]
    there = marked(panels, seams)
    one, two = on(there, "a", "right"), on(there, "c", "right")
    assert one == on(there, "b", "right")
    assert two == on(there, "d", "right")
    turned = sorted((500 - distance, count) for distance, count in two)
    for other in (two, turned):
        counts = [c for _, c in one] != [c for _, c in other]
        far = max(abs(a - b) for (a, _), (b, _) in zip(one, other, strict=True))
        assert counts or far >= 15


def test_edges_differ_by_their_lengths_too():
    """Bare ones of 500 and 490: 10 mm of length, and nothing else."""
    panels = panels_of(a=500, b=500, c=490, d=490)
    folds = dict.fromkeys(panels, ("left",))
    edges = Edges(panels, dict.fromkeys(panels, "shell"), folds, {}, {})
    seams = [seam("one", "a.right", "b.right"), seam("two", "c.right", "d.right")]
    assert set(_clear(seams[0], (), seams, edges)) == {10}


def test_folds_and_other_cloths_are_no_danger():
    panels = panels_of(a=500, b=500, c=500)
    seams = [seam("one", "a.right", "b.right")]
    alone = marked(panels, seams, folds={"c": ("left", "right")})
    assert on(alone, "a", "right") == [(250, 1)]


def test_what_no_mark_tells_apart_does_not_hide_what_one_can():
    """A quarter of a, 63.75, is nearly c's, 62.5; b stays like h whatever is done."""
    panels = panels_of(a=255, b=210, g=465, k=255, m=255, c=250, d=250, h=210, i=210)
    one = NotchSpec("right", 130, 2)
    two = [NotchSpec("right", 62.5), NotchSpec("right", 125, 2)]
    there = {"a": [one], "g": [one], "k": [one], "m": [one], "c": two, "d": two}
    joined = Seam(
        "long", ((Run.of("a.right"), Run.of("b.right")), (Run.of("g.right"),))
    )
    seams = [
        seam("one", "k.right", "m.right"),
        seam("two", "c.right", "d.right"),
        joined,
        seam("four", "h.right", "i.right"),
    ]
    made = marked(panels, seams, there)
    own, theirs = on(made, "a", "right"), on(made, "c", "right")
    assert len(own) == 2
    assert greatest_difference(own, 255, theirs, 250) >= 15

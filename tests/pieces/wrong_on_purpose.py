"""A small skirt that is right in every way, and ways to make one thing wrong.

Four quarters, 80 cm at the waist, 92 at the hip, 60 long; mm.
"""

from __future__ import annotations

from dataclasses import replace

from drafting import point, small
from skirtwright.checks.all_checks import Checking
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.runs import Run
from skirtwright.draft.shapes.panel import Dart, panel_of
from skirtwright.draft.working.recompute import Reworking, Worked
from skirtwright.geometry import Chain, Line, Point, curve, straight
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun, NotchSpec, PieceSpec
from skirtwright.pieces.walked_seams import Seam, walk
from skirtwright.problems import Problem

BODY = {"waist": 785.0, "hip": 880.0, "waist_to_hip": 200.0, "thigh": 480.0}
CENTRE, HIP, WAIST = Point(0, 200), Point(230, 0), Point(200, 200)
HEM = Point(230, -400)


def side(
    waist: Point = WAIST, hem: Point = HEM, lean: float = 0.0, *, below=()
) -> Chain:
    """From waist to hem by the hip; `lean` is how far the first handle goes out."""
    above = curve([waist, waist + Point(lean, -70), Point(230, 80), HIP])
    return above.and_then(straight(HIP, *below, hem))


def quarter(name="front", *, darts=(), marks=True, notches=None, **edges):
    """A quarter of the skirt, cut out; `edges` are chains or pieces' settings.

    A dart is (left leg, right leg, tip).
    """
    lower = edges.pop("side", None) or side()
    start = lower.start
    waist = edges.pop("waist", None) or straight(CENTRE, start)
    hem = edges.pop("hem", None) or straight(Point(0, -400), lower.end)
    for number, (left, right, _) in enumerate(darts, 1):
        waist = _with_dart(waist, left, right, f"dart[{number}]")
    outline = [
        ("waist", waist),
        ("side", lower),
        ("hem", hem),
        ("centre", straight(waist.start, hem.start)),
    ]
    panel = panel_of(outline)
    if marks:
        panel = panel.with_mark("hip", straight(Point(0, 0), HIP), "hip")
    found = tuple(
        Dart(f"dart[{n}]", "waist", tip) for n, (_, _, tip) in enumerate(darts, 1)
    )
    panel = replace(panel, darts=found)
    is_front = name.startswith("front")
    if notches is None:
        notches = [NotchSpec("side", 200)]
        if not is_front:
            notches.append(NotchSpec("centre", 180, 2))
    spec = PieceSpec(
        name,
        name.title(),
        name,
        folds=("centre",) if is_front else (),
        count=1 if is_front else 2,
        mirrored=not is_front,
        allowances={e: _even(15) for e in ("waist", "side", "hem")}
        | ({} if is_front else {"centre": _even(20)}),
        corners={("hem", "start"): "mirror", ("hem", "end"): "mirror"},
        turned_up=("hem",),
        notches=tuple(notches),
        roles={edge: edge for edge, _ in outline},
        body="front" if is_front else "back" if name.startswith("back") else "",
    )
    return make_piece(panel, replace(spec, **edges))


def _even(width):
    return (AllowanceRun(None, width),)


def _with_dart(waist: Chain, left: Point, right: Point, name: str) -> Chain:
    """A straight waist with a gap in its last line taken up by a dart."""
    last = waist.segments[-1]
    return Chain(
        (
            *waist.segments[:-1],
            Line(last.start, left),
            Line(left, right, name),
            Line(right, last.end),
        )
    )


SIDE = Seam("side", ((Run.of("front.side"),), (Run.of("back.side"),)))
CENTRE_BACK = Seam("centre_back", ((Run.of("back.centre"),), (Run.of("back.centre"),)))


class Found(tuple[Problem, ...]):  # noqa: SLOT001 - a tuple with its draft
    """What the checks say, with the worked and cut draft they say it of."""

    worked: Worked
    cut: Cut

    @classmethod
    def of(cls, worked: Worked, cut: Cut, finished) -> Found:
        """The findings of a worked and cut draft."""
        found = cls(Checking().of(worked, cut, finished).problems)
        found.worked, found.cut = worked, cut
        return found


def checked(
    *pieces,
    seams=(SIDE, CENTRE_BACK),
    finished=None,
    body=None,
    says=None,
    stride=(),
) -> Found:
    """What the checks say of pieces; the right front and back stand in."""
    given = {piece.name: piece for piece in pieces}
    for name in ("front", "back"):
        given.setdefault(name, quarter(name))
    measured = BODY | (body or {})
    draft = small(
        point("zero", 0, 0),
        measurements=tuple(measured),
        checks=says or {},
        stride=list(stride),
    )
    worked = Reworking().work(draft, Inputs(measured))
    panels = {piece.name: piece.panel for piece in given.values()}
    walked = tuple(walk(seam, panels) for seam in seams)
    cut = Cut(tuple(given.values()), walked, ())
    return Found.of(worked, cut, finished or {})


def grades(problems, code: str) -> list[str]:
    """How grave the findings of a code are."""
    return [p.severity for p in problems if p.code == f"check.{code}"]

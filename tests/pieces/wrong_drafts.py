"""For every code of the checks a draft made wrong on purpose that trips it.

All are the small skirt of `wrong_on_purpose` (80 cm at the waist, 92 at the hip) with
one thing wrong; mm.
"""

from __future__ import annotations

import math
from dataclasses import replace

from outlines import polygon
from wrong_on_purpose import HIP, SIDE, WAIST, Found, checked, quarter, side

from bodies import SAMPLE
from drafting import look_of
from skirtwright.draft import styles
from skirtwright.geometry import Line, Point, curve, straight
from skirtwright.geometry.arc import arc
from skirtwright.job import edits
from skirtwright.job.job import new_job
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.spec import AllowanceRun, NotchSpec


def dart(width=20.0, at=100.0, up=95.0, longer=0.0):
    """Legs and tip of an upright dart."""
    left, right = Point(at - width / 2, 200), Point(at + width / 2, 200)
    tip = Point(at, up)
    return left, tip + (right - tip).unit() * ((right - tip).size() + longer), tip


def darted(name="front", **how):
    """A quarter with one dart."""
    return quarter(name, darts=[dart(**how)])


def sloping(rise):
    """Front and back whose hems rise to the side seam."""
    lower = side(hem=Point(230, -400 + rise))
    return quarter(side=lower), quarter("back", side=lower)


def flared(degrees, name="front"):
    """A side that leans out below the hip line."""
    out = 230 + 400 * math.tan(math.radians(degrees))
    return quarter(name, side=side(hem=Point(out, -400)))


def longer_back(by):
    """A back whose side seam is longer, below the hip."""
    return quarter("back", side=side(hem=Point(230, -400 - by)))


def eased(share):
    """The side seam with ease that is stated."""
    length = quarter().panel.edge("side").chain.length
    seam = replace(SIDE, ease=-share * length)
    return checked(longer_back(share * length), seams=[seam])


def hem_of(radius, depth):
    """A hem on a circle, turned up by `depth`."""
    hem = arc(Point(0, radius - 400), Point(0, -400), 20.0)
    widths = {"hem": (AllowanceRun(None, depth),)}
    return quarter(side=side(hem=hem.end), hem=hem, allowances=widths)


def look_alike(mark):
    """A back whose centre is as long as its side, with a mark as given."""
    lower = side()
    top = Point(0, lower.length - 400)
    marks = [NotchSpec("side", 200), NotchSpec("centre", mark)]
    return quarter("back", waist=straight(top, Point(200, 200)), notches=marks)


def ring_moved(moved):
    """A front whose cutting line is not where its allowances say."""
    piece = quarter()
    return replace(piece, cut=tuple(moved(point) for point in piece.cut))


def shaped(*corners):
    """A front with straight sides and nothing else, alone."""
    piece = quarter()
    bare = replace(piece.spec, folds=(), allowances={}, corners={}, notches=())
    found = replace(
        piece, panel=polygon(*corners), spec=bare, edges=(), notches=(), darts=()
    )
    return checked(found, seams=())


def snip(clear):
    """A balance mark that leaves so much to the stitching line."""
    walked = quarter().panel.edge("side").chain.length - 300
    cut = Line(Point(245, -100), Point(230 + clear, -100))
    return replace(quarter(), notches=(Notch("side", walked, 1, (cut,), clear),))


def drilled(share):
    """A dart's dot at a share of the way from its tip to its mouth."""
    piece = darted()
    mark = piece.darts[0].tip.between(Point(100, 200), share)
    return replace(piece, darts=(replace(piece.darts[0], drill=mark),))


def pleated(**more):
    """The whole waist in 20 pleats that show 40 and have 20 under them, or else."""
    says = {"pleats": "20", "pleat_shows": "4", "pleat_under": "0", **more}
    return checked(says=says)


def measured(body=None, says=None, **finished):
    """The small skirt with finished measures told, on a body."""
    return checked(finished=finished, body=body, says=says)


def walking(step, **body):
    """A step allowed."""
    return measured(body, step_allowed=float(step))


def striding(girth, **more):
    """A long skirt, wide at the hem, with its girth at 8 above the knee."""
    wide = side(hem=Point(400, -400))
    pieces = [quarter(name, side=wide, notches=[]) for name in ("front", "back")]
    stride = [{"girth": girth, "below_waist": "50"}]
    finished = {"step_allowed": 640.0, "length": 900.0}
    more = {"body": SAMPLE, **more}
    return checked(*pieces, finished=finished, stride=stride, **more)


def lined(hem):
    """A lining as wide as its hem, in each quarter."""
    lower = side(hem=Point(hem, -400))
    pieces = []
    for name in ("front", "back"):
        piece = quarter(name, side=lower, notches=[])
        spec = replace(piece.spec, name=f"{name}_lining", material="lining")
        pieces.append(replace(piece, spec=spec))
    return checked(*pieces, body=SAMPLE, finished={"step_allowed": 1000.0})


def floor(clear, **says):
    """A hem so far over the floor."""
    body = {"waist_to_floor_side": 1000.0, "waist_to_floor_front": 1100.0}
    return measured(body, says, length=1000.0 - clear)


def hung(clear, measure):
    """A point or a back so far over the floor."""
    body = {"waist_to_floor_side": 1000.0, "waist_to_floor_back": 1000.0}
    return measured(body, {measure: f"{(1000 - clear) / 10}"})


def wrapped(overlap, sweep=1000.0):
    """A wrap with so much overlap at the hem."""
    body = {**SAMPLE, "waist_to_floor_side": 1040.0}
    return measured(body, {"overlap_hem": overlap}, sweep=sweep, length=900.0)


def _wide():
    """A front of a metre to its fold."""
    return quarter(side=straight(Point(1000, 200), Point(1000, -400)), notches=[])


def _odd():
    piece = quarter("back")
    return replace(piece, spec=replace(piece.spec, count=3))


def _squeezed(point):
    return Point(point.x - 1 if point.x > 231 else point.x, point.y)


def _curled():
    curled = curve([WAIST, Point(240, 150), Point(250, 60), HIP])
    return quarter(side=curled.and_then(straight(HIP, Point(230, -400))))


def _wavy():
    return quarter(waist=curve([Point(0, 200), Point(70, 220), Point(130, 180), WAIST]))


def _darts_cross():
    first, second = dart(), dart(at=140)
    leaning = (*first[:2], Point(150, 95)), (*second[:2], Point(90, 95))
    return quarter(darts=leaning)


def _a_high_hip():
    """The right side is longer from the waist down, and was not taken so to the floor.

    The hem is level over a floor that is 15 mm further from it on the left.
    """
    return _two_sided({"length_left": "60 cm", "length_right": "61.5 cm"})


def _two_sided(finished):
    """A draft that states lengths of both sides, 104 cm to the floor on either."""
    from drafting import point, small
    from skirtwright.draft.inputs import Inputs
    from skirtwright.draft.working.recompute import Reworking
    from skirtwright.pieces.cutting import Cut
    from skirtwright.report import finished_measures

    steps = [
        {"step": f"waist_to_floor_side_{half}", "kind": "number", "value": "104 cm"}
        for half in ("left", "right")
    ]
    draft = small(*steps, point("zero", 0, 0), finished=finished)
    worked = Reworking().work(draft, Inputs({}))
    return Found.of(worked, Cut((quarter("front"),), (), ()), finished_measures(worked))


def _unlike_halves(name):
    """Left and right of her differ, and a piece is drawn for both alike."""
    from drafting import point, small
    from skirtwright.draft.inputs import Inputs
    from skirtwright.draft.working.recompute import Reworking
    from skirtwright.pieces.cutting import Cut

    steps = [
        {"step": f"hip_{half}", "kind": "number", "value": width}
        for half, width in (("left", "43 cm"), ("right", "45 cm"))
    ]
    draft = small(*steps, point("zero", 0, 0), measurements=("hip",))
    worked = Reworking().work(draft, Inputs({"hip": 880.0}))
    return Found.of(worked, Cut((quarter(name),), (), ()), {})


TWO_DEEP = {
    edge: (AllowanceRun(None, width),)
    for edge, width in (("waist", 15), ("side", 25), ("hem", 15), ("centre", 20))
}
"""The back's side seam 10 mm deeper than the front's."""


def aged(years=10):
    """What is told of an order in ties for one of an age."""
    job = edits.set_choice(new_job(styles.style("wrap")), "wrap_closing", "ties").job
    look = look_of(edits.set_age(job, str(years)).job)
    found = Found(look.problems)
    found.worked, found.cut = look.worked, look.report.cut
    return found


WRONG = {
    # Pattern
    "seam_uneven": lambda: checked(longer_back(5)),
    "seam_ease": lambda: eased(0.04),
    "seam_angle": lambda: checked(*sloping(12)),
    "hem_corner": lambda: checked(*sloping(28)),
    "fold_angle": lambda: checked(quarter(side=side(hem=Point(230, -370)))),
    "waist_length": lambda: checked(says={"waist_asked": "78.5"}),
    "hip_length": lambda: measured(says={"hip_asked": "91"}, hip=920.0),
    "band": lambda: checked(says={"band_length": "77"}),
    "band_longer": lambda: checked(says={"band_length": "80.5"}),
    "dart_legs": lambda: checked(darted(longer=4)),
    "dart_wide": lambda: checked(darted(width=37)),
    "dart_narrow": lambda: checked(darted(width=5)),
    "dart_negative": lambda: checked(darted(width=-4)),
    "dart_tip": lambda: checked(darted(up=130)),
    "dart_below_hip": lambda: checked(darted("back", up=-10)),
    "dart_near": lambda: checked(quarter(darts=[dart(10), dart(10, at=125)])),
    "dart_near_side": lambda: checked(quarter(darts=[dart(10, at=178)])),
    "darts_cross": lambda: checked(_darts_cross()),
    "intake_at_side": lambda: checked(quarter(side=side(Point(166, 200)))),
    "side_lean": lambda: checked(
        quarter(side=side(lean=70 * math.tan(math.radians(40))))
    ),
    "waist_turns": lambda: checked(_wavy()),
    "side_outside": lambda: checked(_curled()),
    "hip_level": lambda: checked(body={"waist_to_hip": 180.0}),
    "seam_lean": lambda: checked(flared(6)),
    "off_grain": lambda: checked(flared(50), flared(50, "back")),
    "swing": lambda: checked(says={"swing at front.side": "46"}),
    "seam_corner": lambda: checked(
        quarter(side=side(hem=Point(300, -400), below=(Point(300, -100),)))
    ),
    "bend": lambda: checked(hem_of(45, 5)),
    "hem_spread": lambda: checked(*sloping(45)),
    "hem_depth": lambda: checked(hem_of(600, 18)),
    "hem_too_deep": lambda: checked(hem_of(600, 30)),
    "hem_will_not_turn": lambda: checked(hem_of(600, 42)),
    "allowance_off": lambda: checked(ring_moved(_squeezed)),
    "allowance_crosses": lambda: checked(
        ring_moved(lambda p: Point(-p.x if p.y > 100 else p.x, p.y))
    ),
    "outline_crosses": lambda: shaped(
        (0, 0), (200, 0), (200, 200), (90, -20), (0, 200)
    ),
    "needle": lambda: shaped((0, 0), (400, 0), (394, 70)),
    "neck": lambda: shaped((0, 0), (300, 0), (300, 200), (150, 3), (0, 200)),
    "notches_alike": lambda: checked(look_alike(200)),
    "notches_near": lambda: checked(look_alike(212)),
    "notches_unlike": lambda: checked(quarter(notches=[])),
    "notch_pair": lambda: checked(quarter(notches=[NotchSpec("side", 202)])),
    "notch_clear": lambda: checked(snip(1.5)),
    "pleat_count": lambda: pleated(pleats="20.5"),
    "pleat_negative": lambda: pleated(pleat_under="0 - 1"),
    "pleat_sum": lambda: pleated(pleat_shows="4.1"),
    "pleat_layers": lambda: pleated(pleat_depth="5"),
    "gathers": lambda: checked(says={"gathers at side": "3.2"}),
    "gathers_heavy": lambda: checked(says={"gathers at side": "2.2", "heavy": "1"}),
    "cloth_width": lambda: checked(_wide()),
    "unlike_allowances": lambda: checked(quarter("back", allowances=TWO_DEEP)),
    "same_title": lambda: checked(quarter("back", title="Front ")),
    "edge_unsewn": lambda: checked(seams=(SIDE,)),
    "pair_odd": lambda: checked(_odd()),
    "fold_differs": lambda: _unlike_halves("front"),
    "sides_alike": lambda: _unlike_halves("back"),
    "drill_mark": lambda: checked(drilled(8 / 105)),
    "drill_outside": lambda: checked(drilled(-0.1)),
    # Body and wear
    "hip_close": lambda: measured(hip=905.0),
    "hip_tight": lambda: measured(hip=895.0),
    "hip_under_body": lambda: measured(hip=875.0),
    "hip_stretch": lambda: measured(says={"stretch": "0.1"}, hip=815.0),
    "hip_past_stretch": lambda: measured(says={"stretch": "0.1"}, hip=790.0),
    "waist_close": lambda: measured(waist=790.0),
    "waist_roomy": lambda: measured(waist=820.0),
    "waist_under_body": lambda: measured(waist=780.0),
    "waist_far_under_body": lambda: measured(waist=755.0),
    "top_hip": lambda: measured({"top_hip": 850.0}),
    "top_hip_under_body": lambda: measured({"top_hip": 870.0}),
    "thigh": lambda: measured({"thigh": 570.0}),
    "thigh_under_body": lambda: measured({"thigh": 600.0}),
    "opening": lambda: measured({"hip": 912.0}, {"opening_depth at back.centre": "20"}),
    "opening_short": lambda: checked(says={"opening_depth at back.centre": "14"}),
    "no_opening": lambda: checked(says={"opening_depth": "0"}),
    "elastic_stretch": lambda: checked(says={"elastic_length": "44"}),
    "circle_share": lambda: checked(says={"circle_share": "0.110"}),
    "circle_tight": lambda: checked(says={"circle_share": "0.103"}),
    "circle_under_hip": lambda: checked(says={"circle_share": "0.08"}),
    "step_less_than_free": lambda: walking(550),
    "step_short": lambda: walking(450),
    "step_very_short": lambda: walking(350),
    "lining_step": lambda: lined(240),
    "lining_step_short": lambda: lined(200),
    "stairs": lambda: striding("90"),
    "stairs_tight": lambda: striding("84"),
    "vent_top": lambda: striding("90", says={"vent_top at back.centre": "60"}),
    "sitting": lambda: measured({"waist_to_knee": 580.0}, length=560.0),
    "hem_low": lambda: floor(15),
    "hem_near_floor": lambda: floor(5),
    "hem_on_floor": lambda: floor(-5),
    "floor_length": lambda: floor(40),
    "point_clearance": lambda: hung(30, "point_length"),
    "point_near_floor": lambda: hung(5, "back_length"),
    "point_on_floor": lambda: hung(-5, "point_length"),
    "overlap": lambda: checked(says={"overlap_waist": "9"}),
    "overlap_none": lambda: checked(says={"overlap_hip": "0"}),
    "overlap_step": lambda: wrapped("12", sweep=2000.0),
    "overlap_opens": lambda: wrapped("5", sweep=600.0),
    "floor_lengths": lambda: measured(
        {
            "waist_to_floor_front": 960.0,
            "waist_to_floor_side": 1000.0,
            "waist_to_floor_back": 1000.0,
        },
        length=950.0,
    ),
    "sides_uneven": _a_high_hip,
    "floor_of_sides": _a_high_hip,
    "hip_less_waist": lambda: checked(body={"waist": 785.0, "hip": 830.0}),
    "depth_share": lambda: checked(body={"height": 2100.0}),
    "train": lambda: checked(says={"train": "40"}),
    "child": lambda: checked(body={"height": 1400.0}, says={"cords": "1"}),
    "child_age": aged,
    "nightwear": lambda: checked(says={"nightwear": "1"}),
    "flame": lambda: measured(sweep=4500.0),
    "shoes": lambda: measured({"height": 1650.0}, length=1000.0),
    "seated": lambda: checked(says={"seated": "1"}),
    "seated_hip": lambda: measured({"seated_hip": 1080.0}, hip=1020.0),
    "child_sleeps": lambda: checked(body={"height": 1400.0}),
}

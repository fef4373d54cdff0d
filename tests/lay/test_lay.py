"""Lays: what a cutter asks of them, found from the pieces by another way."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from drafting import worktable_of
from lay_referee import faults
from sampling import some_of
from skirtwright.export.lay_page import placement_sentences
from skirtwright.job.piece_edits import set_joins
from skirtwright.lay.all_cloths import lay_all, materials, saved_by_opening
from skirtwright.lay.cloth_to_cut import Cloth, checked, sold, usual, widths_sold
from skirtwright.lay.copies import Way, copies_of
from skirtwright.lay.lay import lay
from skirtwright.lay.placing import Floor, Laid
from skirtwright.problems import BadInput, Refused
from skirtwright.words import Manner, says

FEW = 15
KINDS = {
    "plain": {},
    "open": {"fold": "single"},
    "nap": {"one_way": True, "gap": 6.0},
    "end_to_end": {"fold": "crosswise"},
    "checks": {"repeat_along": 120.0, "repeat_across": 50.0},
    "open_checks": {"fold": "single", "repeat_along": 77.3, "repeat_across": 33.0},
    "shrinks": {"width": 1600.0, "shrinks_along": 0.05, "shrinks_across": 0.05},
}


CUT = ("mermaid", "circle", "bias-slip", "yoke", "wrap", "gored")


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("name", "kind"),
    some_of([(name, kind) for name in CUT for kind in KINDS], each=2),
)
def test_lays_can_be_cut(look_of, name, kind):
    """Apart, on the cloth, with the grain, on the fold, in phase, all there."""
    cut = look_of(name).report.cut
    laid = lay(cut, replace(usual("shell", "cm"), **KINDS[kind]), FEW)
    assert faults(laid, cut) == []
    assert laid.length >= max(placed.copy.along for placed in laid.placed)


def test_the_referee_sees_what_is_wrong(look_of):
    """Pieces moved, turned and turned over on purpose."""
    from skirtwright.geometry import Motion, Point, turn

    cut = look_of("straight").report.cut
    laid = lay(cut, usual("shell", "cm"), FEW)
    front = next(p for p in laid.placed if p.copy.on_fold)
    others = tuple(p for p in laid.placed if p is not front)

    def found(motion):
        moved = replace(front, motion=front.motion.then(motion))
        return " ".join(faults(replace(laid, placed=(moved, *others)), cut))

    assert found(Motion()) == ""
    assert "on the fold" in found(Motion(e=20.0))
    assert " over " in found(Motion(e=200.0))
    assert "off the cloth" in found(Motion(e=-50.0))
    assert "grain" in found(turn(Point(0, 0), 3.0))
    assert "turned over" in found(Motion(a=-1.0))
    assert "not 1 cut" in " ".join(faults(replace(laid, placed=others), cut))


def test_the_same_tries_give_the_same_lay(look_of):
    cut = look_of("trumpet").report.cut
    first, second = (lay(cut, usual("shell", "cm"), FEW) for _ in range(2))
    assert first == second


def test_more_tries_are_never_longer(look_of):
    cut = look_of("mermaid").report.cut
    cloth = replace(usual("shell", "cm"), fold="single")
    lengths = [lay(cut, cloth, tries).reach for tries in (1, 30, 300)]
    # Sliding may give a little back to a lay that had more cells left over.
    assert all(b < a + 6 for a, b in pairwise(lengths))
    assert lengths[2] < lengths[0]


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("fold", "more"), some_of([("single", 1.02), ("lengthwise", 1.17)])
)
def test_gores_lie_head_to_tail(look_of, fold, more):
    """About as short as the packing library spyrrow lays them open in a minute."""
    cut = look_of("gored").report.cut
    laid = lay(cut, replace(usual("shell", "cm"), fold=fold))
    assert laid.length < more * 852
    assert {p.way.rotation_deg for p in laid.placed} == {0.0, 180.0}


def test_two_pieces_that_may_only_just_go_abreast_do(look_of):
    """The proved best is 609.4 mm; in cells of 2 mm they come to 729 and more."""
    cloth = replace(usual("lining", "cm"), width=1150.0)
    assert lay(look_of("straight").report.cut, cloth, 20).length < 1.02 * 609.4


def test_what_a_plan_lays_as_before_is_not_looked_for_anew(look_of, monkeypatch):
    """The same lay, with fewer places looked for."""
    cut = look_of("gored").report.cut
    looked, lowest = [], Floor._lowest

    def counted(*args):
        looked.append(args)
        return lowest(*args)

    monkeypatch.setattr(Floor, "_lowest", counted)
    laid = lay(cut, usual("shell", "cm"), 3 * FEW)
    few = len(looked)
    monkeypatch.setattr(Laid, "kept", lambda *_: iter(()))
    assert lay(cut, usual("shell", "cm"), 3 * FEW) == laid
    assert len(looked) - few > 1.2 * few


def test_folded_cloth_holds_a_pair_and_the_half_on_the_fold(look_of):
    pieces = [p for p in look_of("straight").pieces if p.spec.material == "shell"]
    copies = {c.piece.name: c for c in copies_of(pieces, usual("shell", "cm"))}
    assert copies["front"].on_fold
    assert copies["front"].gives == 1
    assert not copies["back"].on_fold
    assert copies["back"].gives == 2
    single = copies_of(pieces, replace(usual("shell", "cm"), fold="single"))
    assert [c.piece.name for c in single] == ["front", "back", "back", "band"]
    assert [c.ways[0].mirrored for c in single if c.piece.name == "back"] == [
        False,
        True,
    ]


def test_which_layer_a_single_piece_is_cut_from(look_of):
    """Right sides together, the lower layer's right side is up, as the print is."""
    laid = lay(look_of("straight").report.cut, usual("shell", "cm"), FEW)
    band = next(p for p in laid.placed if p.copy.piece.name == "band")
    assert band.copy.gives == 1
    said = {
        over: placement_sentences(replace(band, way=Way(over, 0.0)), laid, Manner())
        for over in (False, True)
    }
    assert "lower layer only, printed side up" in said[False]
    assert "upper layer only, printed side down" in said[True]
    back = next(p for p in laid.placed if p.copy.piece.name == "back")
    assert "both layers" in placement_sentences(back, laid, Manner())


def test_nap_keeps_all_heads_up(look_of):
    cut = look_of("mermaid").report.cut
    laid = lay(cut, replace(usual("shell", "cm"), one_way=True), FEW)
    assert {p.way.rotation_deg for p in laid.placed} == {0.0}


def test_a_piece_too_wide_for_folded_cloth_is_laid_open(look_of):
    cut = look_of("bias-slip").report.cut
    laid = lay(cut, usual("shell", "cm"), FEW)
    assert (laid.asked.fold, laid.cloth.fold) == ("lengthwise", "single")


def test_a_piece_wider_than_the_cloth_says_what_would_do(look_of):
    cut = look_of("circle").report.cut
    with pytest.raises(Refused) as caught:
        lay(cut, replace(usual("shell", "cm"), width=900.0), FEW)
    values = caught.value.problem.values
    assert caught.value.problem.code == "lay.too_wide"
    would = replace(usual("shell", "cm"), width=values["least"] + 1, fold="single")
    assert lay(cut, would, FEW) is not None


def test_shrinkage_is_bought(look_of):
    """3 yards at 5 per cent are 3.158 (Fabric needed over 1 less what shrinks)."""
    cloth = replace(usual("shell", "in"), shrinks_along=0.05)
    assert cloth.bought(3 * 914.4) / 914.4 == pytest.approx(3.158, abs=5e-4)
    cut = look_of("straight").report.cut
    laid = lay(cut, cloth, FEW)
    assert laid.bought == pytest.approx(laid.length / 0.95)


def test_what_shops_cut():
    assert sold(1285.8, "cm") == 1300.0
    assert sold(1300.0, "cm") == 1300.0
    assert sold(1000.0, "in") == pytest.approx(9 * 114.3)
    assert [round(w) for w in widths_sold("cm")] == [900, 1150, 1400, 1500]
    assert [w / 25.4 for w in widths_sold("in")] == pytest.approx([36, 45, 54, 60])


def test_all_cloths_of_a_skirt(look_of):
    look = look_of("mermaid")
    names = materials(look.report.cut)
    assert names == ("shell", "lining", "interfacing")
    cloths = [usual(name, "cm") for name in names]
    told = []
    lays = lay_all(look.report.cut, cloths, FEW, told.append)
    assert [laid.cloth.material for laid in lays.lays] == list(names)
    assert told == sorted(told)
    short = [replace(cloths[0], on_hand=500.0)]
    problems = lay_all(look.report.cut, short, FEW).problems
    assert [p.code for p in problems] == ["lay.too_little"]
    said = f"{round(lays.lays[0].length) / 10 - 50:g} cm too little."
    assert says(problems[0]).endswith(said)


@pytest.mark.parametrize("style", ["circle", "straight"])
def test_a_pattern_goes_on_over_a_join(look_of, style):
    """Both parts lie as one piece would: the same place of it at the same of a repeat.

    Of a pair either part may lie turned over: then it is mirrored about the centre.
    """
    job = set_joins(look_of(style).job, {"front": ("20",)}).job
    cut = worktable_of(style).look(job).report.cut
    checks = {"fold": "single", "repeat_along": 77.0, "repeat_across": 50.0}
    cloth = replace(usual("shell", "cm"), **checks)
    laid = lay(cut, cloth, 4)
    for name in ("front_part_1", "front_part_2"):
        assert any(one.copy.piece.name == name for one in laid.placed)
    fold = next(
        p.copy.piece.panel.edge(p.copy.piece.spec.folds[0]).chain.end
        for p in laid.placed
        if p.copy.piece.name == "front_part_1"
    )
    begins = cloth.pattern_begins
    levels = set()
    for one in laid.placed:
        if one.copy.piece.name.startswith("front_part"):
            at = one.motion(fold)
            across = (at.x - begins) % 50.0
            assert min(across, 50.0 - across) < 0.05
            levels.add(round(at.y % 77.0, 1) % 77.0)
    assert len(levels) == 1


def test_what_opening_the_cloth_saves(look_of):
    cut = look_of("inverted-pleat").report.cut
    laid = lay(cut, usual("shell", "cm"), FEW)
    single = saved_by_opening(cut, laid, "cm", FEW)
    assert single.cloth.fold == "single"
    assert single.length < laid.length
    # Nothing is saved where as much has to be bought.
    as_long = replace(laid, placed=single.placed)
    assert saved_by_opening(cut, as_long, "cm", FEW) is None


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"width": 0.0}, "cloth.width"),
        ({"width": float("nan")}, "cloth.width"),
        ({"on_hand": 0.0}, "cloth.on_hand"),
        ({"shrinks_along": 1.0}, "cloth.shrinks"),
        ({"shrinks_across": -0.1}, "cloth.shrinks"),
        ({"repeat_along": 2000.0}, "cloth.repeat"),
        ({"repeat_across": 0.05}, "cloth.fine_repeat"),
        ({"gap": -1.0}, "cloth.out_of_range"),
        ({"selvedge": 800.0}, "cloth.all_selvedge"),
        ({"price": -1.0}, "cloth.price"),
        ({"fold": "crosswise", "one_way": True}, "cloth.nap_crosswise"),
    ],
)
def test_no_cloth_is_refused(changes, code):
    with pytest.raises(BadInput) as caught:
        checked(replace(Cloth("shell", 1500.0), **changes))
    assert caught.value.problem.code == code

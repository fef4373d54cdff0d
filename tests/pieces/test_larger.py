"""Pieces cut larger shrink to what they are sewn from, and nothing else changes."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin

import pytest

from drafting import look_of
from lay_referee import faults
from skirtwright.draft import styles
from skirtwright.export.cutting_file import cutting_file
from skirtwright.export.pattern import Drawing, pattern_of
from skirtwright.export.report_json import as_json
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.job.changed import changed_since
from skirtwright.job.cloths import ChosenCloth
from skirtwright.job.job import new_job
from skirtwright.job.worktable import laid
from skirtwright.pieces.larger import larger
from skirtwright.problems import BadInput
from skirtwright.words import Manner

ALONG, ACROSS = 0.05, 0.02
LINEN = {"shrinks_along": "5", "shrinks_across": "2"}


def order(style="mermaid", **cloth):
    own = ChosenCloth(material="shell", **{**LINEN, "cut_larger": True, **cloth})
    return new_job(styles.style(style)).replace(cloths=(own,))


def shrunk(points, grain_deg):
    """What points come to when the cloth has shrunk, along the grain and across."""
    gx, gy = cos(radians(grain_deg)), sin(radians(grain_deg))
    for p in points:
        along, across = p.x * gx + p.y * gy, p.x * gy - p.y * gx
        along, across = along * (1 - ALONG), across * (1 - ACROSS)
        yield along * gx + across * gy, along * gy - across * gx


def near(found, wanted):
    flat = [number for place in found for number in place]
    assert flat == pytest.approx([n for p in wanted for n in (p.x, p.y)], abs=1e-6)


@pytest.mark.parametrize("style", ["mermaid", "bias-slip", "knife-pleat"])
def test_a_piece_shrinks_to_what_was_drafted(style):
    for piece in look_of(new_job(styles.style(style))).pieces:
        grown, grain = larger(piece, ALONG, ACROSS), piece.grain_deg
        assert grown.grain_deg == pytest.approx(grain, abs=1e-6)
        near(shrunk(grown.cut, grain), piece.cut)
        ring, was = (p.panel.ring(2.0) for p in (grown, piece))
        assert len(ring) >= len(was)
        area = piece.cut_area / ((1 - ALONG) * (1 - ACROSS))
        assert grown.cut_area == pytest.approx(area)
        snips = [[s.start for n in p.notches for s in n.snips] for p in (grown, piece)]
        near(shrunk(snips[0], grain), snips[1])
        tips = [[dart.tip for dart in p.darts] for p in (grown, piece)]
        near(shrunk(tips[0], grain), tips[1])


def test_only_paper_and_cloth_are_larger():
    plain, look = look_of(order(cut_larger=False)), look_of(order())
    assert look.report.finished == plain.report.finished
    assert look.pieces == plain.pieces
    more = set(map(str, look.problems)) - set(map(str, plain.problems))
    assert [p.code for p in look.problems if str(p) in more] == ["cloth.cut_larger"]
    by_cloth = {p.name: p.spec.material for p in look.pieces}
    drawn, was = (
        {g.piece: g.outline_box for g in pattern_of(each.report, "", Manner()).groups}
        for each in (look, plain)
    )
    for name, box in was.items():
        grown = 1 / (1 - ALONG) if by_cloth[name] == "shell" else 1.0
        if look.report.cut.asked[name].grain is None:
            assert drawn[name].height == pytest.approx(box.height * grown, rel=2e-3)
    toile, before = (
        pattern_of(each.report, "", Manner(), Drawing(toile=True)).box
        for each in (look, plain)
    )
    assert toile == before
    told = {p["name"]: p["cut_larger"] for p in as_json(look.report)["pieces"]}
    assert told["front"] == pytest.approx({"along": 1 / 0.95, "across": 1 / 0.98})
    assert told["front_lining"] == {"along": 1.0, "across": 1.0}


def test_it_is_said_on_the_piece_in_the_sheet_and_in_the_file():
    said = "Larger by what the cloth shrinks: 5 % along, 2 % across"
    look = look_of(order())
    front = pattern_of(look.report, "", Manner()).groups[0]
    assert said in front.labels[0].versions[0]
    sheet = making_of(look.report, "", "", Manner())
    told = [(cut.cloth, said in cut.needs) for cut in sheet.cut]
    assert [is_told for _, is_told in told] == [True, False, False]
    assert said in cutting_file(look.report, "", "", Manner()).decode()


def test_the_cloth_is_laid_as_it_is_bought():
    before = look_of(order())
    look = laid(before, 40)
    shell = next(one for one in look.report.lays if one.cloth.material == "shell")
    assert shell.bought == shell.length
    assert shell.cloth.shrunk_width == shell.cloth.width
    assert faults(shell, before.report.to_cut) == []
    assert faults(shell, before.report.cut) != []


def test_a_print_from_before_is_out_of_date():
    was = order(cut_larger=False)
    before = look_of(was)
    job = was.printed("2026-11-29", "sheets", before.report.to_cut.shown)
    now = look_of(job.replace(cloths=order().cloths))
    then = look_of(now.job.as_printed(job.prints[-1]))
    shells = [
        p.spec.material for p in changed_since(job.prints[-1], then, now).differing
    ]
    assert shells.count("shell") == len(
        [p for p in now.pieces if p.spec.material == "shell"]
    )


def test_a_share_that_cannot_be_read_is_told_as_wrong():
    look = look_of(order(shrinks_along="much"))
    assert [p.where for p in look.problems if p.severity == "wrong"] == ["shell"]
    assert look_of(order(shrinks_across="90")).report.has_wrong
    assert look.report.to_cut is look.report.cut
    with pytest.raises(BadInput):
        laid(look)
    assert replace(look.report, shrinks={}).to_cut is look.report.cut

"""Every edge with an allowance is sewn, once; every seam is in the order, once.

Over a sample of the options of every style, alike and with left and right apart; the
bench of the same name tries every option and every pair of options.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from bodies import FIVE
from sampling import some_of
from sewn import ALIKE, APART, Sewn, faults, mark_faults, options, order_faults
from skirtwright.checks.unsewn import times_sewn, unsewn
from skirtwright.draft import styles
from skirtwright.export.sewing.sewing_facts import facts_of
from skirtwright.export.sewing.sewing_order import sewing_rows
from skirtwright.words import say

PAIRS = 1
"""Tried of each style and body beside its defaults: 3 s of the processor in all."""


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("style", "body"),
    [
        pytest.param(style, body, id=f"{style}-{told}")
        for told, body, first in (("alike", ALIKE, 0), ("apart", APART, 1))
        for style in some_of(styles.names(), first)
    ],
)
def test_every_edge_is_sewn_once_and_every_seam_is_in_the_order_once(style, body):
    pairs = [chosen for chosen in options(styles.style(style)) if len(chosen) == 2]
    drawn = random.Random(f"{style} {sorted(body)}").sample(
        pairs, min(PAIRS, len(pairs))
    )
    sewn = Sewn(style, body)
    assert sewn.report({}) is not None
    for chosen in ({}, *drawn):
        report = sewn.report(chosen)
        if report is not None:
            assert not [*faults(report), *mark_faults(report), *order_faults(report)], (
                chosen
            )


HIGH_HIP = {**FIVE["83/88.1"], "waist_to_knee": 560.0}
"""What one skirt's overlay leans so far on that it must hang before it is levelled."""


@pytest.mark.parametrize(
    ("style", "chosen", "body"),
    [
        ("a-line", {"overlay": "over_skirt"}, HIGH_HIP),
        ("a-line", {"pocket": "slanted", "overlay": "over_skirt"}, APART),
        ("straight", {"pocket": "slanted", "at_hem": "flounce"}, APART),
        ("mermaid", {"pocket": "slanted", "at_hem": "godets"}, ALIKE),
    ],
)
def test_what_is_added_is_sewn_and_its_findings_are_answered(style, chosen, body):
    report = Sewn(style, body).report(chosen)
    assert report.cut.shown
    assert not [*faults(report), *mark_faults(report), *order_faults(report)]


def test_the_mouth_of_a_slanted_pocket_without_its_bag_is_told():
    report = Sewn("straight", ALIKE).report({"pocket": "slanted"})
    rest = tuple(s for s in report.cut.seams if s.seam.name != "slant_mouth")
    told = faults(replace(report, cut=replace(report.cut, seams=rest)))
    assert any(one.startswith("front.slant ") for one in told)


LEFT_SIDE = {"closing": "zip_left_side"}


@pytest.mark.parametrize(
    ("style", "chosen", "body"),
    [
        ("half-circle-yoke", LEFT_SIDE, APART),
        ("trumpet", {**LEFT_SIDE, "waist_truing": "laid_off"}, APART),
        ("gored", {**LEFT_SIDE, "waist_truing": "laid_off"}, APART),
        ("half-circle-yoke", {**LEFT_SIDE, "depth_taken": "centre"}, APART),
        ("yoke", {"pocket": "in_side_seams", "pocket_cloth": "shell"}, ALIKE),
        ("yoke", {"pocket": "in_side_seams", "pocket_cloth": "shell"}, APART),
        ("train", {}, APART),
        ("straight", {**LEFT_SIDE, "back_cut": "fold"}, APART),
        ("inverted-pleat", {**LEFT_SIDE, "place": "centre_back"}, APART),
        ("pegged", {**LEFT_SIDE, "finish": "facing"}, APART),
    ],
)
def test_balance_marks_are_one_or_apart_and_tell_edges_apart(style, chosen, body):
    assert not list(mark_faults(Sewn(style, body).report(chosen)))


ELASTIC = {"waist_shape": "side_elastic", "closing": "none"}


@pytest.mark.parametrize("body", [ALIKE, APART], ids=["alike", "apart"])
@pytest.mark.parametrize(
    ("style", "chosen", "band"),
    [
        ("mermaid", ELASTIC, "elastic_band"),
        ("straight", {"closing": "none", "finish": "straight_band"}, "band"),
        ("straight", {"closing": "none", "finish": "petersham"}, ""),
        ("dirndl", ELASTIC, "casing"),
        ("knife-pleat", ELASTIC, "casing"),
    ],
)
def test_a_waist_that_opens_nowhere_is_a_ring(style, chosen, band, body):
    """Its band has four sides, of which two ends meet; nothing laps or closes."""
    report = Sewn(style, body).report(chosen)
    assert not [*faults(report), *mark_faults(report), *order_faults(report)]
    if band:
        piece = next(piece for piece in report.cut.pieces if piece.name == band)
        assert len(piece.edges) == 4
        ends = [
            {run.piece for side in s.seam.sides for run in side} == {band}
            for s in report.cut.seams
        ]
        assert sum(ends) == 1
    facts = facts_of(report)
    told = " ".join(
        say(one.message, one.values) for row in sewing_rows(facts) for one in row.says
    )
    for word in ("underlap", "opening", "opens", "Close its ends", "zip"):
        assert word not in told
    offered = {
        state.amount.name
        for state in report.worked.stated.amounts.values()
        if state.applies
    }
    assert not offered & {"elastic_underlap", "underlap", "zip_clear"}


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), 1, each=2))
def test_a_seam_left_out_of_a_style_is_told_at_its_edges(style):
    body = (ALIKE, APART)[styles.names().index(style) % 2]
    report = Sewn(style, body).report({})
    assert not list(unsewn(report.skirt))
    for walked in report.cut.seams:
        rest = tuple(other for other in report.cut.seams if other is not walked)
        told = unsewn(replace(report.skirt, cut=replace(report.cut, seams=rest)))
        edges = {run.named for side in walked.seam.sides for run in side}
        assert edges & {problem.where for problem in told}, walked.seam.name


@pytest.mark.parametrize("body", [ALIKE, APART], ids=["alike", "apart"])
@pytest.mark.parametrize(
    ("style", "chosen"),
    [
        ("straight", {"finish": "facing"}),
        ("mermaid", {"finish": "facing"}),
        ("yoke", {}),
        ("half-circle-yoke", {}),
    ],
)
def test_a_facing_stays_open_where_the_left_side_opens(style, chosen, body):
    report = Sewn(style, body).report({**chosen, **LEFT_SIDE})
    papers = report.skirt.papers
    facings = {name for name, paper in papers.items() if paper.of_role("waist_join")}
    joins = [
        walked.seam
        for walked in report.cut.seams
        if {run.piece for side in walked.seam.sides for run in side} <= facings
        and walked.seam.name.startswith(("facing_side", "yoke_facing_side"))
    ]
    assert [(seam.half, times_sewn(seam, papers)) for seam in joins] == [("right", 1)]
    said = [
        saying.message for row in sewing_rows(facts_of(report)) for saying in row.says
    ]
    assert "sew.facing_open" in said

"""Cloth on hand: as much as it gives, proved by a lay; and what would do where none."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting import look_of
from skirtwright.draft import styles
from skirtwright.export.lay_words import lay_title, needs, short_needs
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.job import on_hand
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job
from skirtwright.job.on_hand import Given, NothingFits, given_sentences, largest
from skirtwright.lay.all_cloths import Lays
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.lay.lay import lay
from skirtwright.problems import BadInput, NotFound
from skirtwright.words import Manner


@pytest.fixture(autouse=True)
def _quick(monkeypatch):
    """The same code with fewer tries, to a sixty-fourth of the range."""
    monkeypatch.setattr(on_hand, "_HALVED", 6)
    monkeypatch.setattr(on_hand, "TRIES", 60)
    monkeypatch.setattr(on_hand, "QUICK", 15)


@pytest.fixture
def mermaid():
    return new_job(styles.style("mermaid"))


def cloth(length, **changes):
    return replace(usual("shell", "cm"), on_hand=length, **changes)


def test_two_spreads_together_as_far_as_the_cloth_gives(mermaid):
    told = []
    found = largest(
        mermaid, ["front_spread", "back_spread"], cloth(1200.0), "cm", told.append
    )
    assert isinstance(found, Given)
    assert found.lay.bought <= 1200.0
    assert found.values["front_spread"] == found.values["back_spread"]
    assert not found.most
    assert told == sorted(told)
    # By hand: the order says the same, goes on the cloth, and a fiftieth more does not.
    look = look_of(found.edited.job)
    amounts = look.worked.stated.amounts
    assert amounts["front_spread"].value == pytest.approx(found.values["front_spread"])
    job = found.edited.job
    for name, value in found.values.items():
        job = set_amount(job, name, f"{value + 0.02 * 60} mm").job
    more = lay(look_of(job).report.cut, cloth(1200.0), on_hand.TRIES)
    assert more.bought > 1200.0


@pytest.mark.parametrize(
    ("length", "told"),
    [(5000.0, "nough: 380.6 cm left over"), (700.0, "uy ")],
)
def test_what_cloth_on_hand_leaves_is_told_and_nothing_to_buy(mermaid, length, told):
    report = look_of(mermaid).report
    laid = lay(report.cut, cloth(length), 10)
    short = short_needs(laid, Manner(), sure=True)[0]
    title = lay_title(laid, Manner(), sure=True)[1]
    sheet = making_of(report.with_lays(Lays((laid,), ())), "", "2026-01-01", Manner())
    enough = laid.bought <= length
    assert told in short
    assert told in title
    assert ("left over" in sheet.cut[0].needs) == enough
    assert ("buy" in needs(laid, Manner())) != enough


def test_a_quick_lay_shorter_than_the_one_she_gets_is_no_proof(monkeypatch):
    """Of gores, a search of few tries may settle a fraction of a millimetre shorter."""

    def flattering(cut, goods, tries):
        found = lay(cut, goods, 3)
        shrinks = -0.1 * (tries == on_hand.QUICK)
        return replace(found, cloth=replace(found.cloth, shrinks_along=shrinks))

    monkeypatch.setattr(on_hand, "lay", flattering)
    monkeypatch.setattr(on_hand, "_HALVED", 3)
    job, goods = new_job(styles.style("a-line")), cloth(1200.0, width=1500.0)
    found = largest(job, ["length"], goods, "cm")
    assert isinstance(found, Given)
    assert lay(found.look.report.to_cut, goods, 3).bought <= 1200.0
    assert not found.most


def test_where_there_is_plenty_the_style_has_no_more(mermaid):
    found = largest(mermaid, ["front_spread"], cloth(5000.0), "cm")
    assert isinstance(found, Given)
    assert (found.most, found.values) == (True, {"front_spread": 60.0})


def test_nothing_goes_and_what_would_do():
    job = new_job(styles.style("straight"))
    found = largest(job, ["hem_taper"], cloth(1000.0, width=900.0), "cm")
    assert isinstance(found, NothingFits)
    assert found.needed > 1000.0
    would = {phrase.message: phrase.values for phrase in found.would}
    assert set(would) == {"lay.would_width", "lay.would_shorter"}
    assert would["lay.would_width"]["length"] <= 1000.0
    most = would["lay.would_shorter"]["value"]
    length = look_of(job).worked.stated.amounts["length"]
    beyond = most + (length.value - length.least) / 64 + 1.0
    for value, goes in ((most, True), (beyond, False)):
        changed = set_amount(job, "length", f"{value} mm").job
        changed = set_amount(changed, "hem_taper", "0").job
        cut = look_of(changed).report.cut
        laid = lay(cut, cloth(1000.0, width=900.0), on_hand.QUICK)
        assert (laid.bought <= 1000.0) == goes


def test_what_is_asked_has_to_be_there(mermaid):
    with pytest.raises(NotFound):
        largest(mermaid, ["front_spreda"], cloth(1200.0), "cm")
    with pytest.raises(BadInput):
        largest(mermaid, ["front_spread"], cloth(None), "cm")
    with pytest.raises(BadInput):
        largest(mermaid, [], cloth(1200.0), "cm")


def test_where_the_width_allows_no_more_it_is_told_with_what_would_do(monkeypatch):
    """The length in eighths of an inch; the front opens to more than 57.9 inches."""
    monkeypatch.setattr(on_hand, "_HALVED", 4)
    job = new_job(styles.style("half-circle-yoke"))
    asked = job, ["length"], cloth(2400.0, width=1500.0), "in"
    found = largest(*asked)
    assert isinstance(found, Given)
    assert found.lay.bought < 2400.0 - 500.0
    eighths = found.values["length"] / 25.4 * 8
    assert eighths == pytest.approx(round(eighths))
    assert found.too_wide.values["needed"] > found.too_wide.values["room"] == 1470.0
    would = {phrase.message: phrase.values for phrase in found.would}
    assert would["lay.would_width"]["width"] == pytest.approx(60 * 25.4)
    assert "lay.would_joined" in would
    said = " ".join(given_sentences(found, job, *asked[1:3], Manner(unit="in")))
    assert "the cloth gives 57 7/8 in" in said
    assert "lay." not in said


def test_what_is_too_wide_would_go_with_a_join():
    job = new_job(styles.style("circle"))
    found = largest(job, ["length"], cloth(4000.0, width=600.0), "cm")
    assert isinstance(found, NothingFits)
    assert found.too_wide.values["room"] == 570.0
    # The front takes more than 57 cm across, opened out, however short.
    joined = [p for p in found.would if p.message == "lay.would_joined"]
    assert joined
    assert all(phrase.values["length"] <= 4000.0 for phrase in joined)

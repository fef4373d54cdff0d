"""The record of prints: kept with the order, and what changed since told from it."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from drafting import OneWorktable, look_of
from skirtwright.draft import styles
from skirtwright.draft.alterations import typed_alteration
from skirtwright.job import edits, file, fitting_edits, piece_edits
from skirtwright.job.changed import changed_since
from skirtwright.job.job import new_job
from skirtwright.job.prints import MOST_PRINTS, last_on_sheets, printed_whole
from skirtwright.pieces.sheets_laid import PieceLaid, SheetsLaid
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner

LAID = SheetsLaid(
    paper="a4",
    overlap=10,
    right=0,
    up=-3.5,
    sheets=("x.", "xx"),
    pieces=(PieceLaid(piece="front", turned=90, right=300, up=2),),
)


@pytest.fixture(scope="module")
def table():
    return OneWorktable()


@pytest.fixture(scope="module")
def printed(table):
    job = edits.set_measurement(new_job(styles.style("straight")), "waist", "78.5").job
    return job.printed("2026-11-02", "sheets", table.look(job).shown, LAID)


def since(table, job):
    """What is told of an order with a print in its record."""
    one = job.prints[-1]
    before = look_of(job.as_printed(one))
    found = changed_since(one, before, table.look(job))
    return found, [phrase.said(Manner()) for phrase in found.phrases()]


def test_a_print_is_kept_and_read_back(printed):
    text = file.written(printed)
    assert file.read(text, "o.skirt") == printed
    # The draft stands once in the file: that of the print is the order's own.
    assert len(text) < len(file.written(printed.replace(prints=()))) + 2e3


def test_another_style_leaves_the_print_its_own(printed):
    other = edits.set_style(printed, styles.style("a-line")).job
    again = file.read(file.written(other), "o.skirt")
    assert again == other
    one = again.prints[-1]
    assert again.draft.id == "a-line"
    assert again.as_printed(one).draft == printed.draft


def test_a_print_of_what_changed_is_told_from_a_whole_one(table, printed):
    """It has pieces where they lay before; laid anew they lie elsewhere."""
    assert printed_whole(printed.prints[-1], printed.prints)
    pieces = table.look(printed).shown
    again = printed.printed("2026-11-03", "sheets", pieces, LAID)
    assert not printed_whole(again.prints[-1], again.prints)
    spot = LAID.pieces[0].replace(right=20.0)
    anew = LAID.replace(pieces=(spot,))
    other = printed.printed("2026-11-03", "sheets", pieces, anew)
    assert printed_whole(other.prints[-1], other.prints)
    roll = printed.printed("2026-11-03", "roll", pieces)
    assert not printed_whole(roll.prints[-1], roll.prints)


def test_of_earlier_prints_only_the_figures_are_kept(table, printed):
    pieces = table.look(printed).shown
    job = printed
    for day in range(1, MOST_PRINTS + 9):
        job = job.printed(f"2026-12-{day % 28 + 1:02}", "roll", pieces)
        job = edits.set_measurement(job, "waist", f"{70 + day / 10}").job
    assert len(job.prints) == MOST_PRINTS
    assert job.prints[-1].draft == job.draft
    assert {one.draft for one in job.prints[:-1]} == {None}
    assert job.prints[-2].card.measurements["waist"] != job.prints[-1].card
    # The one on sheets went with the earliest.
    assert last_on_sheets(job.prints) is None
    few = printed.printed("2026-12-01", "roll", pieces)
    assert last_on_sheets(few.prints) == printed.prints[0]
    assert [few.as_printed(one) is None for one in few.prints] == [False, False]


def test_what_she_changed_is_told_and_what_follows_is_not(table, printed):
    job = edits.set_measurement(printed, "waist", "80 cm").job
    found, told = since(table, job)
    assert told[0] == "Waist: 78.5 cm is now 80 cm."
    assert len(found.figures) == 1
    names = {piece.name for piece in found.differing}
    # The strip behind the zip is as long as the zip, whatever the waist.
    assert names == {p.name for p in table.look(job).shown} - {"zip_strip"}
    assert told[-1].startswith(f"{len(names)} of {len(names) + 1} pieces differ: ")


def test_a_fitting_is_told_and_halves_are_named_once(table, printed):
    stated = table.look(printed).worked.stated
    made = typed_alteration(
        what="side_seams", by="-0.5 cm", side="left", first="waist", last="hip"
    )
    found, told = since(table, fitting_edits.alter(printed, made, stated).job)
    assert told[0] == (
        "At a fitting: Side seams, left: taken in by 0.5 cm, from the waist to the hip,"
        " most at the waist."
    )
    # Why the other half is cut anew as well.
    assert told[1] == "Left and right are each cut by themselves now."
    assert told[-1] == f"All {found.of} pieces differ."
    some = replace(found, differing=found.differing[:4]).phrases()[-1].said(Manner())
    assert some.startswith(f"4 of {found.of} pieces differ: Front, left and right; ")
    assert not any(line.startswith("No longer cut") for line in told)
    # Taken back after it was printed.
    altered = fitting_edits.alter(printed, made, stated).job
    pieces = table.look(altered).shown
    again = altered.printed("2026-11-03", "sheets", pieces, LAID)
    stated = table.look(again).worked.stated
    _, told = since(table, fitting_edits.without(again, 0, stated).job)
    assert told[0].startswith("Taken back from a fitting: Side seams, left: taken in")
    assert told[1] == "Left and right are cut alike again."


def test_nothing_changed_is_said_so(table, printed):
    typed_otherwise = edits.set_measurement(printed, "waist", "785 mm").job
    for job in (printed, typed_otherwise):
        found, told = since(table, job)
        assert told == ["No piece differs."]
        assert not found.differing


def test_amounts_choices_pieces_and_measurements_are_told(table, printed):
    job = edits.set_amount(printed, "length", "62 cm").job
    job = edits.set_choice(job, "waist_shape", "side_elastic").job
    job = edits.set_measurement(job, "calf", None).job
    job = piece_edits.set_allowance(job, "front", "side", "3 cm").job
    found, told = since(table, job)
    assert "Calf was 35.5 cm, is no longer measured." in told
    assert "Waist: fitted with darts is now drawn in by elastic." in told
    assert any(line.startswith("Length: 60 cm is now 62 cm") for line in told)
    assert "Allowances, notches or names were set for Front." in told
    assert any(line.startswith("No longer cut: ") for line in told)
    assert found.of == len(table.look(job).shown)


def test_a_piece_drawn_otherwise_by_another_version_differs(table, printed):
    one = printed.prints[-1]
    drawn = {**one.drawn, "front": one.drawn["front"] + 1}
    other = one.replace(drawn=drawn)
    job = printed.replace(prints=(other,))
    found, _ = since(table, job)
    assert [piece.name for piece in found.differing] == ["front"]


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("on", "yesterday"),
        ("on", "2026-02-30"),
        ("on", "20261128"),
        ("how", "fax"),
        ("drawn", {"front": -1}),
        ("drawn", {"front": "33"}),
        ("laid.paper", "a44"),
        ("draft", "another"),
        ("draft", {"id": "x"}),
        ("laid", {"paper": "a4"}),
        ("laid.right", 1e9),
        ("laid.across", 2),
        ("laid.sheets", []),
        ("laid.sheets", ["xo"]),
        ("laid.sheets", ["x" * 1001]),
        ("laid.lines", "none"),
        ("laid.pieces", []),
        ("laid.pieces", [{"piece": "a", "right": 0, "up": 0}] * 2),
        ("other", 1),
    ],
)
def test_a_record_that_cannot_be_is_refused(printed, place, value):
    raw = json.loads(file.written(printed))
    *way, last = place.split(".")
    holder = raw["prints"][0]
    for key in way:
        holder = holder[key]
    holder[last] = value
    with pytest.raises(SkirtwrightError):
        file.read(json.dumps(raw), "o.skirt")

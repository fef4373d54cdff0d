"""Every change to an order is a function from one order to the next."""

from __future__ import annotations

import pytest

from drafting import look_of
from skirtwright.draft import styles
from skirtwright.job import edits, piece_edits
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.card import Card
from skirtwright.problems import SkirtwrightError
from skirtwright.words import has_message, say


@pytest.fixture
def job():
    return new_job(styles.style("mermaid"))


EDITS = [
    ("measurement", lambda job: edits.set_measurement(job, "waist", "29 1/8 in")),
    ("no measurement", lambda job: edits.set_measurement(job, "thigh", None)),
    ("amount", lambda job: edits.set_amount(job, "hip_ease", "5 cm")),
    ("choice", lambda job: edits.set_choice(job, "hem_shape", "even_from_knee")),
    ("client", lambda job: edits.set_client(job, "Ilse Farrow")),
    ("title", lambda job: edits.set_title(job, "Blue crêpe")),
    ("unit", lambda job: edits.set_unit(job, "in")),
    ("style", lambda job: edits.set_style(job, styles.style("straight-block"))),
    ("allowance", lambda job: piece_edits.set_allowance(job, "front", "side", "2.2")),
    (
        "card",
        lambda job: edits.set_card(job, Card(name="Ada", measurements={"waist": "70"})),
    ),
]


@pytest.mark.parametrize(("name", "edit"), EDITS)
def test_an_edit_makes_a_new_order_and_has_a_name(job, name, edit):
    before = job.model_dump_json()
    done = edit(job)
    assert job.model_dump_json() == before, "the order before it is untouched"
    assert done.job is not job
    assert done.job != job
    assert has_message(done.name)
    text = say(done.name, done.values)
    assert "?" not in text
    assert "{" not in text


def test_what_she_typed_is_kept_as_typed(job):
    done = edits.set_measurement(job, "waist", "29 1/8 in").job
    assert done.card.measurements["waist"] == "29 1/8 in"
    assert not done.sample
    done = edits.set_amount(job, "hip_ease", "waist / 20").job
    assert done.amounts["hip_ease"] == "waist / 20"
    look = look_of(done)
    assert look.worked.stated.amounts["hip_ease"].value == pytest.approx(36)


def test_an_amount_goes_back_to_its_default(job):
    done = edits.set_amount(job, "hip_ease", "5").job
    back = edits.set_amount(done, "hip_ease", None).job
    assert back == job


def test_a_choice_back_at_its_default_is_not_kept(job):
    done = edits.set_choice(job, "hem_shape", "even_from_knee").job
    assert done.choices == {"hem_shape": "even_from_knee"}
    assert edits.set_choice(done, "hem_shape", "one_curve").job.choices == {}


def test_the_unit_changes_what_is_typed_next_not_what_was(job):
    typed = edits.set_amount(job, "hip_ease", "5").job
    typed = piece_edits.set_allowance(typed, "front", "side", "2").job
    inches = edits.set_unit(typed, "in").job
    assert inches.unit == "in"
    first, second = (look_of(each) for each in (typed, inches))
    assert (
        first.worked.stated.amounts["hip_ease"].value
        == second.worked.stated.amounts["hip_ease"].value
        == 50
    )
    assert [p.cut_area for p in first.pieces] == [p.cut_area for p in second.pieces]


def test_another_style_keeps_what_both_know(job):
    done = edits.set_amount(job, "hip_ease", "5").job
    done = edits.set_amount(done, "front_spread", "4").job
    done = edits.set_style(done, styles.style("straight-block")).job
    assert done.amounts == {"hip_ease": "5"}
    assert done.card == job.card


def test_allowances_of_her_own(job):
    done = piece_edits.set_allowance(job, "front", "side", "3 cm").job
    look = look_of(done)
    front = next(p for p in look.pieces if p.name == "front")
    side = next(e for e in front.edges if e.name == "side")
    assert side.allowance == pytest.approx(30)
    back = piece_edits.set_allowance(done, "front", "side", None).job
    assert back == job


def test_a_setting_whose_edge_is_gone_is_kept_and_said(job):
    done = piece_edits.set_allowance(job, "front", "pocket", "3 cm").job
    look = look_of(done)
    assert "pieces.setting_unused" in {p.code for p in look.problems}
    assert done.pieces


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (lambda job: edits.set_measurement(job, "wiast", "70"), None),
        (lambda job: edits.set_measurement(job, "waist", "wide"), None),
        (lambda job: edits.set_amount(job, "hip_eas", "5"), "draft.no_amount"),
        (lambda job: edits.set_choice(job, "hem", "x"), "draft.no_choice"),
        (lambda job: edits.set_choice(job, "hem_shape", "x"), "draft.no_option"),
    ],
)
def test_edits_that_cannot_be(job, edit, code):
    with pytest.raises(SkirtwrightError) as refused:
        edit(job)
    assert code in (None, refused.value.problem.code)


def test_the_sample_card_says_so(job):
    assert "sample" in look_of(job).report.title
    named = edits.set_client(job, "Ilse Farrow").job
    assert "sample" not in look_of(named).report.title


def test_provisional_amounts_leave_the_order_alone(job):
    table = Worktable()
    before = job.model_dump_json()
    look = table.look(job, {"hip_ease": 60.0})
    assert look.worked.stated.amounts["hip_ease"].value == 60
    assert job.model_dump_json() == before
    # What nothing in sight shows, room to walk and findings, waits to be asked for.
    assert not {"skirt", "problems"} & vars(look.report.checked).keys()
    assert table.look(job).worked.stated.amounts["hip_ease"].value == 40


def test_a_cloth_keeps_its_lengths_in_another_unit():
    job = new_job(styles.style("straight"))
    typed = {"width": "150", "on_hand": "2 m", "gap": "1/2", "shrinks_along": "5"}
    job = set_cloth(job, "shell", **typed, price="12").job
    inches = edits.set_unit(job, "in").job
    was, now = job.cloth("shell"), inches.cloth("shell")
    assert (now.width, now.on_hand, now.gap) == (was.width, was.on_hand, was.gap)
    kept = inches.chosen_cloth("shell")
    assert (kept.shrinks_along, kept.price, kept.selvedge) == ("5", "12/m", "")
    assert now.price == was.price == 12.0
    # Of a yard, typed in inches, it is 0.9144 of what a metre costs.
    of_yard = set_cloth(inches, "shell", price="12").job
    assert of_yard.cloth("shell").price == pytest.approx(12 / 0.9144)
    back = edits.set_unit(of_yard, "cm").job
    assert back.cloth("shell").price == of_yard.cloth("shell").price

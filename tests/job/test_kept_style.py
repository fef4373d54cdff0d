"""A style of her own, kept from an order and made orders of."""

from __future__ import annotations

import pytest

from drafting import look_of
from skirtwright.draft import styles
from skirtwright.draft.styles import read_draft
from skirtwright.job.file import save_style
from skirtwright.job.job import new_job
from skirtwright.job.kept_style import style_of
from skirtwright.job.worktable import Worktable
from skirtwright.problems import BadInput

CHOSEN = {"finish": "facing", "lining": "unlined"}
SET = {"gores": "8", "gore_flare": "4 in", "length": "waist_to_floor_side - 28 cm"}


def order():
    job = new_job(styles.style("mermaid-gored"))
    return job.replace(choices=CHOSEN, amounts=SET)


def test_an_order_of_a_kept_style_begins_as_the_order_it_was_kept_from(tmp_path):
    table, place = Worktable(), tmp_path / "mine.json"
    look = table.look(order())
    save_style(style_of(look.job, look.worked.stated, " Mine, at 8! "), place)
    kept = read_draft(place.read_bytes(), place.name)
    assert (kept.id, kept.title) == ("mine-at-8", "Mine, at 8!")
    again = table.look(new_job(kept))
    assert again.job.amounts == {}
    assert again.job.choices == {}
    assert again.report.finished == look.report.finished
    assert [p.name for p in again.pieces] == [p.name for p in look.pieces]
    # Mid-calf is hers wherever that is on her.
    assert kept.amount("length").default == SET["length"]
    # Any other figure is written as it came to; an inch is 25.4 mm.
    assert kept.amount("gore_flare").default == "101.6 mm"
    # What she did not set follows the next client still.
    rise = styles.style("mermaid-gored").amount("side_rise")
    assert kept.amount("side_rise") == rise


@pytest.mark.parametrize("title", ["", "  ", "!?"])
def test_a_style_is_kept_under_a_title(title):
    look = look_of(order())
    with pytest.raises(BadInput) as caught:
        style_of(look.job, look.worked.stated, title)
    assert caught.value.problem.code == "draft.style_untitled"


def test_a_title_that_could_not_be_read_again_is_refused(tmp_path):
    look, place = look_of(order()), tmp_path / "mine.json"
    save_style(style_of(look.job, look.worked.stated, "a" * 200), place)
    assert read_draft(place.read_bytes(), place.name).title == "a" * 200
    with pytest.raises(BadInput) as caught:
        style_of(look.job, look.worked.stated, "a" * 201)
    assert caught.value.problem.code == "draft.style_title_long"

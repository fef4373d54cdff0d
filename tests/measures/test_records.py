"""Records: taken as they are, checked only where a stranger wrote them."""

from __future__ import annotations

import subprocess
import sys
from typing import Annotated

import pytest
from pydantic import ValidationError

from skirtwright.measures.records import ReadBy, Record, fields_of, ruled, take
from skirtwright.problems import BadInput


class Inner(Record):
    """Within another."""

    name: str
    count: int = ruled(default=1, ge=1, le=3)


class Outer(Record):
    """Of several kinds of field."""

    title: str = ruled(default="", max_length=5)
    from_: str | None = ruled(default=None, alias="from")
    inner: tuple[Inner, ...] = ()
    shouted: Annotated[str, ReadBy(str, lambda raw, read: read(raw).upper())] = ""

    def refuse(self) -> None:
        """Two fields that do not go together."""
        if self.title == self.from_:
            raise BadInput("draft.not_a_step")


STATED = {"from": "above", "inner": [{"name": "a"}, {"name": "b", "count": 2}]}


def test_what_is_taken_is_what_is_checked():
    taken, checked = take(Outer, STATED), Outer.model_validate(STATED)
    assert taken == checked
    assert hash(taken) == hash(checked)
    assert taken.inner == (Inner(name="a"), Inner(name="b", count=2))
    assert taken.model_fields_set == {"from_", "inner"}


def test_a_default_that_is_stated_equals_one_that_is_not():
    assert take(Inner, {"name": "a", "count": 1}) == take(Inner, {"name": "a"})
    assert take(Inner, {"name": "a", "count": 2}) != take(Inner, {"name": "a"})


def test_it_is_written_as_it_was_read():
    dumped = take(Outer, STATED).model_dump(by_alias=True, exclude_unset=True)
    assert dumped == {**STATED, "inner": tuple(STATED["inner"])}
    whole = take(Outer, STATED).model_dump()
    assert (whole["from_"], whole["title"]) == ("above", "")
    assert whole["inner"][0] == {"name": "a", "count": 1}
    assert take(Outer, {"title": ""}).model_dump(exclude_defaults=True) == {}


def test_another_value_leaves_the_record_as_it_was():
    before = take(Inner, {"name": "a"})
    assert before.replace(count=3).count == 3
    assert before.count == 1
    with pytest.raises(AttributeError, match=r"Inner\.count is frozen"):
        before.count = 2


@pytest.mark.parametrize(
    ("wrong", "place"),
    [
        ({"inner": [{"name": "a", "count": 4}]}, ("inner", 0, "count")),
        ({"inner": [{"count": 1}]}, ("inner", 0, "name")),
        ({"title": "too long"}, ("title",)),
        ({"tilte": "x"}, ("tilte",)),
        ({"shouted": 3}, ("shouted",)),
        ({"title": "same", "from": "same"}, ()),
    ],
)
def test_a_stranger_is_told_what_is_wrong_where(wrong, place):
    with pytest.raises(ValidationError) as told:
        Outer.model_validate(wrong)
    assert told.value.errors()[0]["loc"] == place


def test_a_stranger_may_write_by_name_or_by_key():
    assert Outer(from_="a", shouted="b") == take(Outer, {"from": "a", "shouted": "B"})


def test_fields_are_told_in_order():
    assert list(fields_of(Outer)) == ["title", "from_", "inner", "shouted"]
    assert [f.is_required() for f in fields_of(Inner).values()] == [True, False]


def test_no_checking_is_loaded_for_what_is_ours():
    """The first order is drafted, cut and checked without pydantic."""
    done = subprocess.run(
        [sys.executable, "-c", _FIRST_LOOK], capture_output=True, text=True, check=False
    )
    assert (done.stdout, done.stderr) == ("True False\n", "")


_FIRST_LOOK = """
import sys
from skirtwright.draft import styles
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
look = Worktable().look(new_job(styles.style(styles.first())))
print(look.drawn, "pydantic" in sys.modules)
"""

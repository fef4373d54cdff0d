"""What is remembered is kept while all it leans on is the same, and no longer."""

from __future__ import annotations

import pytest

from skirtwright.remembered import Remembered


class Counted:
    """A sum that counts how often it is worked."""

    def __init__(self):
        self.times = 0

    def __call__(self, *numbers):
        self.times += 1
        return [sum(numbers)]


@pytest.fixture
def work():
    return Counted()


@pytest.fixture
def kept(work):
    return Remembered(work)


def test_nothing_is_worked_again_while_all_is_the_same(kept, work):
    first = kept.of("a", 1.5, 2.0)
    assert kept.of("a", 1.5, 2.0) is first
    assert work.times == 1


@pytest.mark.parametrize(
    "leans",
    [(1.0, 3.0), (2.0, 2.0), (2.0, 1.0), (1.0,), (1.0, 2.0, 0.0), (1.0, 2.0001)],
)
def test_each_lean_tells(kept, work, leans):
    kept.of("a", 1.0, 2.0)
    assert kept.of("a", *leans) == [sum(leans)]
    assert work.times == 2


def test_what_is_equal_is_the_same(kept, work):
    kept.of("a", *map(float, ("1", "2")))
    kept.of("a", *map(float, ("1", "2")))
    assert work.times == 1


def test_an_answer_that_comes_out_equal_stays_the_same_object(kept, work):
    first = kept.of("a", 1.0, 3.0)
    assert kept.of("a", 2.0, 2.0) is first
    assert work.times == 2


def test_an_equal_answer_of_another_kind_is_another():
    kept = Remembered(lambda value: value)
    kept.of("a", 1)
    assert kept.of("a", True) is not True  # one lean is equal to the other
    kept = Remembered(lambda value, _: value)
    kept.of("a", 1, "x")
    assert kept.of("a", True, "y") is True


def test_each_key_has_an_answer_of_its_own(kept, work):
    assert kept.of("a", 1.0) == [1.0]
    assert kept.of("b", 2.0) == [2.0]
    assert kept.of("a", 1.0) == [1.0]
    assert work.times == 2


def test_nothing_is_kept_of_work_that_failed():
    def work(value):
        if value < 0:
            raise ValueError
        return [value]

    kept = Remembered(work)
    first = kept.of("a", 1)
    with pytest.raises(ValueError):
        kept.of("a", -1)
    assert kept.of("a", 1) is first


def test_what_is_not_asked_for_in_two_rounds_is_forgotten(kept, work):
    first = kept.of("a", 1.0)
    kept.of("b", 1.0)
    for _ in range(3):
        kept.next_round()
        assert kept.of("a", 1.0) is first
    assert kept.last("b") is None
    assert work.times == 2

"""Darts, tucks and pleats by their names."""

import pytest

from skirtwright.draft.shapes.folds import Fold


@pytest.mark.parametrize(
    ("name", "fold", "part"),
    [
        ("dart[1]", Fold("dart", 1), ""),
        ("pleat[12].meets", Fold("pleat", 12), "meets"),
        ("tuck[2].left", Fold("tuck", 2), "left"),
    ],
)
def test_what_is_read_is_written_again(name, fold, part):
    assert Fold.part_of(name) == (fold, part)
    assert (fold.part(part) if part else str(fold)) == name


@pytest.mark.parametrize("name", ["", "hip", "dart", "dart[]", "dart[1]x", "box[1]"])
def test_another_name_is_of_no_fold(name):
    assert Fold.part_of(name) == (None, "")


def test_a_line_of_a_fold_is_not_the_fold():
    assert Fold.of("pleat[1]") == Fold("pleat", 1)
    assert Fold.of("pleat[1].fold") is None

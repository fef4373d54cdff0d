"""The one door to resources."""

from __future__ import annotations

import pytest

from skirtwright import shelf
from skirtwright.problems import NotFound


@pytest.mark.parametrize(
    "name",
    ["/etc/passwd", "../pyproject.toml", "words/../../x", "", "a\\b", "C:/x", "//x/y"],
)
def test_nothing_off_the_shelf_is_reached(name: str) -> None:
    with pytest.raises(NotFound) as caught:
        shelf.path(name)
    assert caught.value.problem.code == "shelf.off_the_shelf"


def test_what_is_there_is_read() -> None:
    assert shelf.read_json("measurements.json")[0]["name"] == "waist"
    with shelf.open_text("words/en_GB.po") as text:
        assert "msgid" in text.read()
    assert {"en_GB", "en_US"} <= set(shelf.names("words", ".po"))
    assert shelf.names("nowhere", ".json") == ()


def test_what_is_not_there_is_said() -> None:
    with pytest.raises(NotFound) as caught:
        shelf.open_text("styles/nowhere.json")
    assert caught.value.problem.values["name"] == "styles/nowhere.json"

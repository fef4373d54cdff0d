"""SVG read back by svgpathtools."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
import svgpathtools
from skirt_sheet import P

from skirtwright.export.sheet import Group, Sheet, Stroke, Text, line
from skirtwright.export.svg import write_svg
from skirtwright.problems import SkirtwrightError

SVG = "{http://www.w3.org/2000/svg}"


def _paths(text, layer=None):
    root = ET.fromstring(text)
    return [
        svgpathtools.parse_path(path.get("d"))
        for group in root.findall(f"{SVG}g")
        if layer in (None, group.get("id"))
        for path in group.iter(f"{SVG}path")
    ]


def test_every_length_is_the_sheets(skirt):
    text = write_svg(skirt)
    for layer in ("stitching", "cutting", "inside", "grain"):
        ours = sorted(
            sum(s.length for s in m.path)
            for m in skirt.marks
            if isinstance(m, Stroke) and m.layer == layer
        )
        theirs = sorted(
            path.length()
            for path in _paths(text, layer)
            if len(path) != 3  # heads of arrows
        )
        assert theirs == pytest.approx(ours, abs=0.001)


def test_a_line_of_100_mm_is_100_mm():
    mark = Stroke(line(P(3, 4), P(83, 64)), "cutting")
    text = write_svg(Sheet("Line", (Group.of("Line", [mark]),)))
    (path,) = _paths(text)
    assert path.length() == pytest.approx(100, abs=1e-3)


def test_size_is_in_mm_and_one_unit_is_one(skirt):
    root = ET.fromstring(write_svg(skirt))
    _, _, wide, high = map(float, root.get("viewBox").split())
    assert root.get("width") == f"{root.get('viewBox').split()[2]}mm"
    box = skirt.box
    assert (wide, high) == pytest.approx((box.width + 10, box.height + 10))
    assert root.get("version") == "1.1"


def test_groups_by_line_and_by_piece(skirt, facts):
    root = ET.fromstring(write_svg(skirt, facts))
    layers = {group.get("id"): group for group in root.findall(f"{SVG}g")}
    assert {"stitching", "cutting", "fold", "label", "test"} <= set(layers)
    pieces = [group.get("id") for group in layers["cutting"].findall(f"{SVG}g")]
    assert pieces == ["cutting-front", "cutting-back", "cutting-waistband"]
    titles = [g.find(f"{SVG}title").text for g in layers["cutting"].findall(f"{SVG}g")]
    assert titles == ["Front", "Back", "Waistband"]
    every = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(every) == len(set(every))


def test_nothing_but_plain_svg(skirt, facts):
    text = write_svg(skirt, facts)
    for element in ET.fromstring(text).iter():
        assert element.tag.startswith(SVG)
        if element.tag != f"{SVG}text":
            assert element.get("transform") is None
        path = element.get("d") or ""
        assert not re.search(r"[a-yA-Y]", re.sub(r"[MLCZ]", "", path))
        for number in re.findall(r"\.(\d+)", path):
            assert len(number) <= 4


def test_squares_client_scale_and_unit(skirt, facts):
    text = write_svg(skirt, facts)
    sides = [path.length() for path in _paths(text, "test")]
    for side in (100.0, 101.6):
        assert any(abs(x - 4 * side) < 0.01 for x in sides)
    words = "".join(ET.fromstring(text).itertext())
    for told in (facts.client, "full size", "lengths in cm"):
        assert told in words


def test_words_are_escaped():
    name = 'A & B <"C">'
    group = Group.of(name, [Text(name, P(0, 0), 5), Text("up", P(0, 9), 5, 90)])
    text = write_svg(Sheet(name, (group,)))
    root = ET.fromstring(text)
    assert [t.text for t in root.iter(f"{SVG}text")] == [name, "up"]
    assert root.find(f"{SVG}title").text == name


def test_what_is_no_letter_is_left_out():
    name = "A\x00\x07\ufffeB"
    text = write_svg(Sheet(name, (Group.of(name, [Text(name, P(0, 0), 5)]),)))
    assert [t.text for t in ET.fromstring(text).iter(f"{SVG}text")] == ["AB"]


def test_nothing_is_refused():
    with pytest.raises(SkirtwrightError) as caught:
        write_svg(Sheet("None", ()))
    assert caught.value.problem.code == "print.nothing"

"""Tables, corrections, letters: the small parts of paper."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from skirt_sheet import P, rectangle

from skirtwright import shelf
from skirtwright.export.correction import (
    Correction,
    correction_for,
    correction_from,
    with_correction,
)
from skirtwright.export.full_size import full_size
from skirtwright.export.penwork import strokes_of
from skirtwright.export.plotter import plot
from skirtwright.export.print_media import (
    looks,
    own_roll,
    paper_named,
    plotter_named,
    plotters,
    roll_named,
)
from skirtwright.export.printed_letters import width_of
from skirtwright.export.projector import write_projector
from skirtwright.export.sheet import (
    LAYERS,
    Group,
    Sheet,
    Stroke,
    Text,
    drawn_at,
    line,
)
from skirtwright.export.tiles import TileOptions, tile
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, has_message, in_one_sentence

NAMES = "Ọlá Ńkẹ́ Nguyễn Thị Hằng Łódź Şule Çiğdem Ξένη Юлія ⅜½¼ ″×·"


@pytest.mark.parametrize(
    ("look_up", "name", "code"),
    [
        (paper_named, "quarto", "print.unknown_paper"),
        (roll_named, "wallpaper", "print.unknown_roll"),
        (plotter_named, "robot", "print.unknown_plotter"),
    ],
)
def test_unknown_names_say_what_there_is(look_up, name, code):
    with pytest.raises(SkirtwrightError) as caught:
        look_up(name)
    problem = caught.value.problem
    assert problem.code == code
    sentence = in_one_sentence(problem)
    assert name in sentence
    for known in problem.values["known"].split(", "):
        assert known in sentence
        assert look_up(known.upper()).key == known


def test_every_refusal_of_paper_has_its_sentence_and_remedy():
    folder = Path(shelf.__file__).parent / "export"
    codes = set()
    for path in folder.glob("*.py"):
        codes |= set(
            re.findall(r'"((?:print|plot)\.[a-z_]+)"', path.read_text("utf-8"))
        )
    said = {code for code in codes if has_message(f"problem.{code}")}
    assert len(said) >= 14
    for code in said:
        assert has_message(f"remedy.{code}")
    for code in codes - said:
        assert has_message(code), code


def test_each_look_has_every_kind_of_line():
    for name, look in looks().items():
        assert set(look.styles) == set(LAYERS)
        for layer, style in look.styles.items():
            assert 0 < style.weight <= 2, (name, layer)
            assert all(part > 0 for part in style.dash)
            assert len(style.dash) % 2 == 0
            assert style.ink != look.paper
    # Projected lines are 1.0 to 1.5 mm (common practice, no source), the grid 0.3.
    for name in ("projector-light", "projector-dark"):
        for layer, style in looks()[name].styles.items():
            assert style.weight == 0.3 if layer == "frame" else 1 <= style.weight <= 1.5


def test_plotters_can_cut_and_reach():
    for machine in plotters().values():
        assert machine.pens["cutting"] == max(machine.pens.values())
        assert set(machine.pens) <= set(LAYERS)
        assert machine.origin in ("corner", "centre")
    # 40 steps to the mm, and 2560 to the inch.
    assert plotter_named("pen").step * 40 == pytest.approx(1)
    assert plotter_named("cutter-2560").step * 2560 == pytest.approx(25.4)


reading = st.floats(92, 108)


@given(across=reading, along=reading)
def test_a_corrected_print_reads_100(across, along):
    right = correction_from(across, along)
    assert right.across * across == pytest.approx(100)
    assert right.along * along == pytest.approx(100)
    # A second reading is of a page that was already corrected.
    again = correction_from(100.2, 99.9, right)
    assert again.across == pytest.approx(right.across / 1.002)
    assert again.along == pytest.approx(right.along / 0.999)


@pytest.mark.parametrize(
    "read",
    [
        (89.0, 100.0),
        (100.0, 111.0),
        (0.0, 100.0),
        (-5.0, 100.0),
        (math.nan, 100.0),
        (math.inf, 100.0),
        (10.0, 10.0),
        (90.0, 100.0),
    ],
)
def test_beyond_ten_per_cent_is_refused(read):
    # 90 read asks for 11 % more, which is beyond too.
    with pytest.raises(SkirtwrightError) as caught:
        correction_from(*read)
    problem = caught.value.problem
    assert problem.code == "print.correction_beyond"
    assert "fitted to the page" in in_one_sentence(problem)


def test_corrections_are_kept_by_printer():
    kept = with_correction("", "upstairs", Correction(1.01, 0.99))
    kept = with_correction(kept, "atelier", Correction(1.02, 1.0))
    assert correction_for(kept, "upstairs") == Correction(1.01, 0.99)
    assert correction_for(kept, "atelier") == Correction(1.02, 1.0)
    assert correction_for(kept, "new") == Correction()
    kept = with_correction(kept, "upstairs", Correction())
    assert "upstairs" not in json.loads(kept)
    assert correction_for("", "any") == Correction()


@pytest.mark.parametrize(
    "kept",
    [
        "{",
        "[]",
        '{"a": 1}',
        '{"a": {"across": 2, "along": 1}}',
        '{"a": {"across": "1", "along": 1}}',
        '{"a": {"across": NaN, "along": 1}}',
        '{"a": {"across": true, "along": 1}}',
        "[" * 100_000,
    ],
)
def test_a_spoilt_file_of_corrections_is_bad_input(kept):
    with pytest.raises(SkirtwrightError) as caught:
        correction_for(kept, "a")
    assert caught.value.problem.code == "print.corrections_unread"


def test_scales_and_pieces_that_are_not_there():
    sheet = Sheet("A", (Group.of("Front", [Stroke(line(P(0, 0), P(9, 0)), "grain")]),))
    for call, code in ((lambda: drawn_at(sheet, 0.3), "print.scale_size"),):
        with pytest.raises(SkirtwrightError) as caught:
            call()
        assert caught.value.problem.code == code
        assert "?" not in in_one_sentence(caught.value.problem)


def _refusals(skirt, facts):
    """Something that brings about each refusal that names lengths or pieces."""
    a4, pen = paper_named("a4"), plotter_named("pen")
    wide = rectangle(1000, 1000)
    long = rectangle(5100, 300)
    return [
        lambda: tile(skirt, a4, TileOptions(margin=95)),
        lambda: tile(skirt, a4, TileOptions(margin=-1)),
        lambda: tile(skirt, a4, TileOptions(overlap=99)),
        lambda: tile(rectangle(20_000, 20_000), a4),
        lambda: tile(Sheet("None", ()), a4),
        lambda: correction_from(80, 100),
        lambda: correction_for("{", "a"),
        lambda: own_roll(10),
        lambda: full_size(wide, roll_named("914mm"), facts),
        lambda: plot(wide, pen, facts),
        lambda: plot(skirt, replace(pen, most=32767), facts),
        lambda: write_projector(long, facts),
        lambda: drawn_at(skirt, 0.3),
        lambda: paper_named("quarto"),
        lambda: roll_named("quarto"),
        lambda: plotter_named("quarto"),
    ]


@pytest.mark.parametrize("manner", [Manner(), Manner("in"), Manner("mm")])
def test_each_refusal_is_one_whole_sentence(skirt, facts, manner):
    codes = set()
    for call in _refusals(skirt, facts):
        with pytest.raises(SkirtwrightError) as caught:
            call()
        problem = caught.value.problem
        sentence = in_one_sentence(problem, manner)
        codes.add(problem.code)
        assert sentence.endswith(".")
        assert "; " in sentence
        for trace in ("?", "{", "}", "print.", "plot.", "\n"):
            assert trace not in sentence, sentence
    assert len(codes) == 15


def _fonts():
    return [
        TTFont(shelf.path(f"fonts/NotoSans-{style}.ttf"))
        for style in ("Regular", "Bold")
    ]


def test_fonts_are_ours_to_embed_and_not_taken_for_each_other():
    fonts = _fonts()
    names = {font["name"].getDebugName(6) for font in fonts}
    assert names == {"NotoSans-Regular", "NotoSans-Bold"}
    for font in fonts:
        assert font["OS/2"].fsType == 0
        assert font["OS/2"].sCapHeight == 714
        assert set(map(ord, NAMES)) <= set(font.getBestCmap())
    assert "SIL Open Font License" in shelf.path("fonts/OFL.txt").read_text("utf-8")


@pytest.mark.parametrize("bold", [False, True])
def test_widths_agree_with_reportlab(bold):
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont as ReportlabFont

    style = "Bold" if bold else "Regular"
    name = f"widths-{style}"
    path = str(shelf.path(f"fonts/NotoSans-{style}.ttf"))
    pdfmetrics.registerFont(ReportlabFont(name, path))
    for words in ("place on fold", "Front 12 1/2", "Łódź Ξένη Юлія ⅜"):
        size = 4.0 / 0.714
        theirs = pdfmetrics.stringWidth(words, name, size)
        assert width_of(words, 4.0, bold=bold) == pytest.approx(theirs, rel=1e-3)


def test_no_letter_vanishes_from_the_strokes():
    for letter in map(chr, range(33, 127)):
        assert strokes_of(Text(letter, P(0, 0), 5)), letter
    for letter in NAMES:
        if letter.isspace() or letter == "\u0301":
            continue
        strokes = strokes_of(Text(f"{letter}Ł", P(0, 0), 5))
        alone = strokes_of(Text("Ł", P(0, 0), 5))
        assert len(strokes) > len(alone), letter


def test_strokes_stand_where_the_words_do():
    for words in ("HIPE", "HÍPE"):
        for anchor in ("start", "middle", "end"):
            for angle in (0.0, 90.0, 30.0):
                text = Text(words, P(10, 20), 5, angle, anchor=anchor)
                room = text.points()
                points = [p for stroke in strokes_of(text) for p in stroke]
                middle = [
                    sum(p.x for p in room) / len(room),
                    sum(p.y for p in room) / len(room),
                ]
                spot = [
                    (min(v) + max(v)) / 2
                    for v in ([p.x for p in points], [p.y for p in points])
                ]
                assert math.dist(middle, spot) < 3
    flat = [p for s in strokes_of(Text("HE", P(0, 0), 5)) for p in s]
    assert min(p.y for p in flat) == pytest.approx(0, abs=1e-9)
    assert max(p.y for p in flat) == pytest.approx(5, abs=1e-9)
    drawn = [
        p for s in strokes_of(Text("HÉŁ".replace("É", "E"), P(0, 0), 5)) for p in s
    ]
    assert max(p.y for p in drawn) == pytest.approx(5, abs=0.1)

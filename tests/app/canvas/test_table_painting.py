"""What is painted: kinds of line, colours, states told by shape, and no waste."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter

from drafting import look_of
from skirtwright.app.canvas import lettering
from skirtwright.app.canvas.drawing import (
    STROKES,
    Brushes,
    mirror_line,
    pen,
    tint_of,
)
from skirtwright.app.canvas.handles import Shown, paint_point
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.look import DARK, LIGHT
from skirtwright.draft.styles import style
from skirtwright.job.edits import set_choice
from skirtwright.job.job import new_job
from skirtwright.problems import BadInput
from skirtwright.words import Manner

THEMES = pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])


def test_kinds_of_line_differ_without_their_colour():
    """By weight or pattern; a dart is stitched, and drawn as thin stitching."""
    looks = {}
    for kind, stroke in STROKES.items():
        looks.setdefault((stroke.width, stroke.dashes), []).append(kind)
    told_apart = {"cutting", "stitching", "grain", "working", "dart"}
    for kinds in looks.values():
        assert len(told_apart & set(kinds)) <= 1, kinds


def test_stitching_and_cutting_are_never_dashed_and_nothing_is_while_moving():
    assert STROKES["stitching"].dashes == STROKES["cutting"].dashes == ()
    for stroke in STROKES.values():
        made = pen(stroke, LIGHT, moving=True)
        assert made.style() == Qt.PenStyle.SolidLine
        assert made.isCosmetic()
    for kind in ("inside", "grain", "working"):
        assert pen(STROKES[kind], LIGHT, moving=False).dashPattern()


def test_tints_are_opaque_and_tell_the_cloths():
    for colours in (LIGHT, DARK):
        cloths = ("shell", "lining", "interfacing")
        tints = [tint_of(material, colours) for material in cloths]
        assert len(set(tints)) == 3
        for one in tints:
            assert QColor(one).alpha() == 255
        assert mirror_line(colours).alpha() == 255


def test_states_of_a_pull_point_differ_in_shape():
    """Compared as black on white, so that colour tells nothing."""
    states = {
        "rest": Shown("p", 60, 60),
        "ways": Shown("p", 60, 60, way=(0.0, 1.0)),
        "hovered": Shown("p", 60, 60, hovered=True),
        "focused": Shown("p", 60, 60, focused=True),
        "chosen": Shown("p", 60, 60, chosen=True),
        "held": Shown("p", 60, 60, chosen=True, held=True),
        "dim": Shown("p", 60, 60, dim=True),
    }
    # Black on white: only the shape is left.
    grey = replace(
        LIGHT,
        pull="#000000",
        pull_held="#000000",
        accent="#000000",
        pencil="#000000",
        accent_tint="#ffffff",
    )
    pictures = {}
    for name, state in states.items():
        image = QImage(120, 120, QImage.Format.Format_Grayscale8)
        image.fill(QColor("white"))
        with QPainter(image) as painter:
            paint_point(
                painter, state, Brushes(replace(grey, paper="#ffffff"), Manner())
            )
        pictures[name] = bytes(image.constBits())
    names = list(pictures)
    for i, first in enumerate(names):
        for second in names[i + 1 :]:
            pairs = zip(pictures[first], pictures[second], strict=True)
            differ = sum(abs(a - b) > 64 for a, b in pairs)
            assert differ >= 8, (first, second, differ)


def colours_in(image: QImage) -> set[str]:
    whole = image.convertToFormat(QImage.Format.Format_RGB32)
    return {
        QColor(each).name() for each in set(memoryview(whole.constBits()).cast("I"))
    }


@THEMES
@pytest.mark.parametrize("unit", ["cm", "in"])
@pytest.mark.parametrize("size", [(1440, 900), (560, 420)])
def test_a_picture_shows_paper_panels_pieces_and_points(bench, colours, unit, size):
    bench.table.set_colours(colours)
    bench.table.set_manner(Manner(unit))
    bench.table.resize(*size)
    bench.settle()
    image = bench.table.grab().toImage()
    seen = colours_in(image)
    for name in ("ground", "grid", "paper", "mirror", "stitching", "pull"):
        assert getattr(colours, name).lower() in seen, name


def test_a_pulled_piece_is_painted_where_it_then_is(bench):
    """The hem's new end is painted at the pointer, in the stitching line's colour."""
    at = bench.at("front.hem middle")
    bench.press(at)
    bench.move(at + QPointF(0, -60))
    place = bench.at("front.hem middle")
    image = bench.table.grab().toImage()
    bench.release(at + QPointF(0, -60))
    assert place.y() < at.y() - 50
    below = image.pixelColor(int(place.x()), int(at.y()) + 3).name()
    assert below in (LIGHT.ground.lower(), LIGHT.grid.lower())


def test_the_last_good_drawing_stays_when_something_cannot_be_worked(bench):
    good = bench.table.scene.good
    while bench.table.scene.learn_one():
        bench.table.refresh()
    bench.settle()
    picture = bench.table.grab().toImage()
    bench.job = bench.job.replace(amounts={"knee_lift": "38 cm"})
    bad = bench.look()
    assert not bad.drawn
    bench.table.show_look(bad)
    bench.settle()
    assert bench.table.scene.good is good
    assert bench.table.scene.look is bad
    bench.table.signs.places.clear()
    bench.table.refresh()
    assert bench.table.grab().toImage() == picture


def test_every_style_on_the_shelf_can_be_shown(bench):
    from skirtwright.draft.styles import names

    for name in names():
        bench.job = new_job(style(name))
        try:
            look = bench.look()
        except BadInput:
            pytest.fail(name)
        bench.table.show_look(look)
        bench.settle()
        bench.table.grab()
        for laid in bench.table.scene.layout.laid:
            for other in bench.table.scene.layout.laid:
                if laid is not other:
                    assert not overlap(laid.box, other.box), (name, laid, other)


def overlap(first, second) -> bool:
    return (
        first.left < second.right
        and second.left < first.right
        and first.bottom < second.top
        and second.bottom < first.top
    )


def test_at_twice_the_text_size_nothing_falls_over(bench):
    bench.table.set_text_size(200)
    bench.table.resize(560, 420)
    bench.settle()
    bench.table.grab()
    x, y = bench.table.view.screen(bench.table.scene.layout.box().middle)
    assert 48 < x < 560
    assert 48 < y < 420


@pytest.mark.parametrize(
    ("room", "said"),
    [
        ((140, 140), ("Front", "left")),
        # A front beside an open slip in a window of 1024 by 700.
        ((68.2, 67.2), ("Front", "left")),
        ((50, 58), ("Front", "left")),
        ((30, 60), ("Front", "")),
        ((20, 20), ("7", "")),
    ],
)
def test_which_half_a_piece_is_of_is_written_as_long_as_there_is_room(
    qtbot, monkeypatch, room, said
):
    written = []
    monkeypatch.setattr(lettering, "_write", lambda *given: written.append(given[2]))
    picture = QImage(200, 200, QImage.Format.Format_ARGB32)
    with QPainter(picture) as painter:
        words, brushes = ("Front", "left"), Brushes(LIGHT, Manner())
        lettering.paint_words(painter, (100, 100), words, "7", room, brushes)
    assert written == [said]


def test_patch_pockets_are_seen_on_the_front_at_rest():
    job = new_job(style("mermaid"))
    lines = []
    for option in ("none", "front"):
        look = look_of(set_choice(job, "patch_pocket", option).job)
        front = next(piece for piece in look.pieces if piece.name == "front")
        lines.append(Prepared(front).lines["dart"].elementCount())
    assert lines[1] == lines[0] + 5, "four corners, and back to the first"

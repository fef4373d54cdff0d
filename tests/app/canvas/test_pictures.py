"""Pictures of things are kept; the table looks as if all of it were painted anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage

from skirtwright.app.canvas import painting
from skirtwright.app.canvas.painting import frame_of
from skirtwright.app.canvas.pictures import Pictures
from skirtwright.app.look import DARK
from skirtwright.geometry.point import Point
from skirtwright.job.piece_edits import rename_piece

SIDE = "front.side end"


def picture(table) -> QImage:
    return table.grab().toImage()


def fresh(table) -> QImage:
    """The same table with no picture kept."""
    kept, frame = table.pictures, table.frame
    table.pictures, table.frame = Pictures(), frame_of(table)
    found = picture(table)
    table.pictures, table.frame = kept, frame
    return found


@pytest.mark.parametrize("place", [SIDE, "front.hem middle", "back.side end"])
def test_the_picture_is_the_one_painted_anew(bench, place):
    table, at = bench.table, bench.at(place)
    bench.press(at)
    for step in range(1, 5):
        bench.move(at + QPointF(3 * step, 2 * step))
        assert picture(table) == fresh(table)
    bench.release(at + QPointF(12, 8))
    assert picture(table) == fresh(table)


def test_pushed_and_nearer_it_is_the_one_painted_anew(bench):
    table = bench.table
    picture(table)
    for x, y in ((7, 3), (-250, 40), (0.5, 0.25)):
        table.pan_by(x, y)
        assert picture(table) == fresh(table)
    for factor in (1.3, 4.0, 8.0):
        table.zoom_by(factor)
        bench.settle()
        assert picture(table) == fresh(table)


def test_only_what_changed_is_painted_again(bench, monkeypatch):
    table, at = bench.table, bench.at(SIDE)
    painted: set[object] = set()
    paint = painting.paint_thing

    def noted(painter, laid, *given):
        painted.add(laid)
        paint(painter, laid, *given)

    bench.press(at)
    bench.move(at + QPointF(5, 0))
    picture(table)
    monkeypatch.setattr(painting, "paint_thing", noted)
    before = {id(of) for _, of in table.scene.things()}
    bench.move(at + QPointF(9, 0))
    picture(table)
    changed = [laid for laid, of in table.scene.things() if id(of) not in before]
    assert painted == set(changed) != set()
    bench.release(at + QPointF(9, 0))
    picture(table)
    painted.clear()
    table.pan_by(3, 2)
    picture(table)
    # One whose rim lies on the rim of a pixel may come to lie on another.
    assert len(painted) <= 2


def test_a_move_has_only_what_it_moves_painted(bench):
    table, at = bench.table, bench.at(SIDE)
    bench.press(at)
    levels = set()
    for step in range(1, 5):
        before = table.frame
        bench.move(at + QPointF(9 * step, 0))
        differs = table.frame.differs_from(before)
        painted = sum(part.width() * part.height() for part in differs)
        assert painted < 0.9 * table.width() * table.height()
        levels |= {i.leans[0] for i in table.frame.items if i.key[0] == "level"}
    assert len(levels) > 3
    assert is_whole(bench)


def test_no_picture_is_larger_than_the_table(bench):
    bench.table.zoom_by(40.0)
    bench.settle()
    picture(bench.table)
    most = bench.table.size()
    for item in bench.table.frame.items:
        if item.kept:
            assert item.area.size().boundedTo(most) == item.area.size()


def seen(bench) -> QImage:
    """What stands on the screen, with only the changed places painted."""
    table = bench.table
    bench.settle()
    while table.view != table.camera.goal():
        bench.settle()
    while table.scene.learn_one():
        table.refresh()
    bench.settle()
    return table.screen().grabWindow(table.winId()).toImage()


def is_whole(bench):
    """Whether it is what all of it painted anew would be.

    Where a smoothed line is cut by the edge of what is painted Qt may round it another
    way: by up to 4 of 255 (seen), which no eye sees. A place left out differs by far
    more.
    """
    here, whole = (
        np.frombuffer(image.constBits(), np.uint8).astype(int)
        for image in (seen(bench), picture(bench.table))
    )
    return here.shape == whole.shape and np.abs(here - whole).max() <= 4


def test_what_stands_on_the_screen_is_what_all_of_it_would_be(bench):
    """Only the places that changed are painted: none may be left out."""
    table, at = bench.table, bench.at(SIDE)
    assert is_whole(bench)
    bench.move(at + QPointF(-70, 0), held=False)
    assert is_whole(bench)
    for place in (SIDE, "front.hip end", "front.hem start", "back.dart[1].tip"):
        at = bench.at(place)
        bench.press(at)
        for step in range(1, 4):
            bench.move(at + QPointF(9 * step, 4 * step))
            assert is_whole(bench)
        bench.release(at + QPointF(27, 12))
        assert is_whole(bench)
    bench.click(bench.at("front.hem middle"))
    assert is_whole(bench)
    table.choose_piece("front", "side")
    assert is_whole(bench)
    table.choose_piece("")
    assert is_whole(bench)
    table.walk_seam("side")
    table.walk_player.to(300.0)
    assert is_whole(bench)
    table.stop_walking()
    assert is_whole(bench)


@pytest.mark.parametrize("part", ["laid", "of", "brushes"])
def test_a_part_of_what_a_picture_hangs_on_left_out_is_found_out(
    bench, monkeypatch, part
):
    """Each is needed: without it a picture would be laid down that is out of date."""
    table = bench.table
    number = {"laid": 0, "of": 1, "brushes": 4}[part]

    class Unsaid:
        """The part, drawn but alike whatever it is."""

        def __init__(self, is_: object) -> None:
            self.is_ = is_

        def __eq__(self, other: object) -> bool:
            return True

        __hash__ = None

    def drawn(painter, view, *leans):
        draw(painter, view, *(getattr(lean, "is_", lean) for lean in leans))

    def forgetful(seen):
        for item in things(seen):
            leans = list(item.leans)
            leans[number] = Unsaid(leans[number])
            yield replace(item, draw=drawn, leans=tuple(leans), apart=None)

    draw, things = painting._draw_thing, painting._things
    picture(table)
    # Darts move within their panel: the box round it stays.
    at = bench.at("back.dart[1].tip")
    monkeypatch.setattr(painting, "_things", forgetful)
    differs = []
    for step in (
        lambda: bench.press(at),
        lambda: bench.move(at + QPointF(0, -5)),
        lambda: bench.move(at + QPointF(0, -9)),
        lambda: bench.release(at + QPointF(0, -9)),
        lambda: table.set_colours(DARK),
        lambda: _rename(bench),
        lambda: _push(table, "back", Point(0.4 / table.view.scale, 0.0)),
    ):
        step()
        bench.settle()
        differs.append(picture(table) != fresh(table))
    assert any(differs)
    monkeypatch.undo()
    table.pictures, table.frame = Pictures(), frame_of(table)
    assert picture(table) == fresh(table)


def _rename(bench) -> None:
    for piece in bench.job.draft.pieces:
        bench.job = rename_piece(bench.job, piece.name, "Other").job
    bench.table.show_look(bench.look())


def _push(table, name: str, step: Point) -> None:
    """A panel laid less than a pixel further on."""
    layout = table.scene.layout
    table.scene.layout = replace(
        layout,
        laid=tuple(
            replace(one, offset=one.offset + step) if one.name == name else one
            for one in layout.laid
        ),
    )
    table.refresh()


def test_how_the_points_answer_is_shown_once_all_of_it_is_learnt(
    learns, bench, monkeypatch
):
    """The table is not written and painted anew for each point by itself."""
    table, scene = bench.table, bench.table.scene
    scene._responses.clear()
    known: list[bool] = []
    answers = [(p.place, amount) for p in scene.points for amount in p.amounts]
    monkeypatch.setattr(
        table,
        "refresh",
        lambda: known.append(set(answers) <= set(scene._responses)),
    )
    for _ in range(len(answers) + 3):
        table._on_idle()
    assert len(answers) > 1
    assert known == [True]

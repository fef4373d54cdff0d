"""Pictures of things are kept; the table looks as if all of it were painted anew."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage

from skirtwright.app.canvas import pictures
from skirtwright.app.canvas.frame import Item
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
    pictures, frame = table.pictures, table.frame
    table.pictures, table.frame = Pictures(), frame_of(table)
    found = picture(table)
    table.pictures, table.frame = pictures, frame
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
    painted: list[object] = []
    paint = pictures._painted

    def counted(item, *given):
        painted.append(item.key)
        return paint(item, *given)

    bench.press(at)
    bench.move(at + QPointF(5, 0))
    picture(table)
    monkeypatch.setattr(pictures, "_painted", counted)
    before = {id(of) for _, of in table.scene.things()}
    bench.move(at + QPointF(9, 0))
    picture(table)
    changed = [laid for laid, of in table.scene.things() if id(of) not in before]
    assert set(painted) == {(laid.kind, laid.name) for laid in changed}
    assert 0 < len(changed) < len(before)
    bench.release(at + QPointF(9, 0))
    picture(table)
    painted.clear()
    table.pan_by(3, 2)
    picture(table)
    assert painted == ["ground", ("scale", True), ("scale", False)]


def test_no_picture_is_larger_than_the_table(bench):
    bench.table.zoom_by(40.0)
    bench.settle()
    picture(bench.table)
    for _, _, kept in bench.table.pictures._kept.values():
        assert kept.width() <= bench.table.width()
        assert kept.height() <= bench.table.height()


def seen(bench) -> QImage:
    """What stands on the screen, with only the changed places painted."""
    table = bench.table
    bench.settle()
    while table.view != table.eyes.goal():
        bench.settle()
    while table.scene.learn_one():
        table.refresh()
    bench.settle()
    return table.screen().grabWindow(table.winId()).toImage()


def test_what_stands_on_the_screen_is_what_all_of_it_would_be(bench):
    """Only the places that changed are painted: none may be left out."""
    table, at = bench.table, bench.at(SIDE)
    assert seen(bench) == picture(table)
    bench.move(at + QPointF(-70, 0), held=False)
    assert seen(bench) == picture(table)
    bench.press(at)
    for step in range(1, 4):
        bench.move(at + QPointF(9 * step, 4 * step))
        assert seen(bench) == picture(table)
    bench.release(at + QPointF(27, 12))
    assert seen(bench) == picture(table)
    bench.click(bench.at("front.hem middle"))
    assert seen(bench) == picture(table)
    table.choose_piece("front", "side")
    assert seen(bench) == picture(table)
    table.choose_piece("")
    assert seen(bench) == picture(table)
    table.walk_seam("side")
    table.stroll.to(300.0)
    assert seen(bench) == picture(table)
    table.stop_walking()
    assert seen(bench) == picture(table)


@pytest.mark.parametrize("part", ["of", "offset", "title", "brushes"])
def test_a_part_of_what_a_picture_hangs_on_left_out_is_found_out(
    bench, monkeypatch, part
):
    """Each is needed: without it a picture would be laid down that is out of date."""
    table, honest = bench.table, Item.hangs_on_the_same
    fields = {"of": 0, "offset": 1, "title": 2, "brushes": 3}
    number = fields[part]

    def without(values: tuple[object, ...]) -> tuple[object, ...]:
        return values[:number] + values[number + 1 :]

    def forgetful(item: Item, other: Item) -> bool:
        if item.key[0] not in ("draft", "piece"):
            return honest(item, other)
        if part == "of":
            one, two = (replace(i, things=without(i.things)) for i in (item, other))
        else:
            one, two = (replace(i, values=without(i.values)) for i in (item, other))
        return honest(one, two)

    picture(table)
    # It shapes the side between hip and hem: the box round the front stays.
    at = bench.at("front.knee end")
    monkeypatch.setattr(Item, "hangs_on_the_same", forgetful)
    differs = []
    for step in (
        lambda: bench.press(at),
        lambda: bench.move(at + QPointF(-4, 0)),
        lambda: bench.move(at + QPointF(-9, 0)),
        lambda: bench.release(at + QPointF(-9, 0)),
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

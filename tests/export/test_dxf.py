"""DXF read back by ezdxf, another reader, and held against the report.

Boundaries and sewing lines of release 12, layers of ASTM D6673: what is whole is twice
the half that the report has, less the fold. Plain geometry.
"""

from __future__ import annotations

import io
from functools import cache
from itertools import pairwise
from math import cos, dist, radians, sin

import ezdxf
import pytest

from drafting import as_read, reported
from skirtwright.export.cutting_file import cutting_file
from skirtwright.export.dxf import Block, Polyline, Words, block_name, write_dxf
from skirtwright.geometry import Point
from skirtwright.words import Manner

STYLES = ("mermaid", "box-pleat", "half-circle-yoke")


def read(data: bytes):
    """The file as ezdxf has it, with nothing to put right in it."""
    drawing = ezdxf.read(io.StringIO(data.decode("ascii"), newline=None))
    audited = drawing.audit()
    assert not audited.errors
    assert not audited.fixes
    assert drawing.dxfversion == "AC1009"
    return drawing


@cache
def file_of(style, **how):
    return read(cutting_file(reported(style), "12", "2026-11-29", Manner(), **how))


def points(polyline):
    if polyline.dxftype() == "LINE":
        ends = (polyline.dxf.start, polyline.dxf.end)
        return [(place.x, place.y) for place in ends]
    found = [(v.dxf.location.x, v.dxf.location.y) for v in polyline.vertices]
    return [*found, found[0]] if polyline.is_closed else found


def length(polyline) -> float:
    return sum(dist(a, b) for a, b in pairwise(points(polyline)))


def area(polyline) -> float:
    turns = (a[0] * b[1] - b[0] * a[1] for a, b in pairwise(points(polyline)))
    return abs(sum(turns)) / 2


def on_layer(block, layer, kind="*"):
    return block.query(f'{kind}[layer=="{layer}"]')


def outline_of(block):
    (outline,) = on_layer(block, 1, "POLYLINE")
    assert outline.is_closed
    return outline


def texts(block):
    pairs = (t.dxf.text.partition(": ") for t in block.query("TEXT"))
    return {key: value for key, _, value in pairs}


def round_of(ring):
    return sum(dist(a, b) for a, b in pairwise([*ring, ring[0]]))


def fold_of(piece):
    """Length of the cutting line's side on the fold, mm: the longest straight there."""
    (fold,) = piece["cut"]["folds"]
    edge = next(e for e in piece["edges"] if e["name"] == fold)
    (ax, ay), (bx, by) = edge["start"], edge["end"]
    long = dist((ax, ay), (bx, by))
    along = [
        ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long
        for x, y in piece["cut_outline"]
        if abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / long < 0.05
    ]
    return max(along) - min(along), edge["length"]


def blocks_of(drawing):
    return [b for b in drawing.blocks if not b.name.startswith(("*", "_", "$"))]


@pytest.mark.parametrize("style", STYLES)
def test_whole_pieces_are_as_large_as_the_reports(style):
    drawing, pieces = file_of(style), as_read(style)["pieces"]
    by_title = {}
    for block in blocks_of(drawing):
        by_title.setdefault(texts(block)["PIECE NAME"], []).append(block)
    for piece in pieces:
        cut, seams = round_of(piece["cut_outline"]), round_of(piece["stitch_outline"])
        found = by_title.pop(piece["title"])
        if piece["cut"]["mirrored"]:
            found += by_title.pop(f"{piece['title']}, turned over")
        sizes = (cut, piece["cut_area"], seams)
        if piece["cut"]["folds"]:
            side, edge = fold_of(piece)
            sizes = 2 * (cut - side), 2 * piece["cut_area"], 2 * (seams - edge)
        assert len(found) == 1 + piece["cut"]["mirrored"]
        for block in found:
            sewn = sum(map(length, on_layer(block, 14, "POLYLINE LINE")))
            drawn = outline_of(block)
            assert length(drawn) == pytest.approx(sizes[0], abs=0.01)
            assert area(drawn) == pytest.approx(sizes[1], abs=0.5)
            darts = sum(
                dist(d["tip"], leg) for d in piece["darts"] for leg in d["legs"]
            )
            darts *= 2 if piece["cut"]["folds"] else 1
            assert sewn == pytest.approx(sizes[2] + darts, abs=0.01)
            count = piece["cut"]["count"] // len(found)
            assert texts(block)["QUANTITY"] == str(count)
    assert not by_title


def test_halves_lie_on_the_mirror_line():
    drawing, pieces = file_of("mermaid", on_fold=True), as_read("mermaid")["pieces"]
    blocks = {texts(block)["PIECE NAME"]: block for block in blocks_of(drawing)}
    assert set(blocks) == {piece["title"] for piece in pieces}
    for piece in pieces:
        block = blocks[piece["title"]]
        drawn = outline_of(block)
        assert length(drawn) == pytest.approx(round_of(piece["cut_outline"]), abs=0.01)
        assert area(drawn) == pytest.approx(piece["cut_area"], abs=0.5)
        assert texts(block)["QUANTITY"] == str(piece["cut"]["count"])
        mirrors = on_layer(block, 6, "LINE")
        assert len(mirrors) == len(piece["cut"]["folds"])
        for mirror in mirrors:
            ends = points(mirror)
            sides = {frozenset(side) for side in pairwise(points(drawn))}
            assert length(mirror) == pytest.approx(fold_of(piece)[0], abs=0.01)
            assert frozenset(ends) in sides


@pytest.mark.parametrize("on_fold", [False, True])
def test_marks_of_a_piece_lie_on_their_layers(on_fold):
    drawing, pieces = file_of("mermaid", on_fold=on_fold), as_read("mermaid")["pieces"]
    front, block = pieces[0], drawing.blocks.get("FRONT")
    twice = 1 if on_fold else 2
    outline = outline_of(block)
    corners = [(p.dxf.location.x, p.dxf.location.y) for p in on_layer(block, "2")]
    corners += [(p.dxf.location.x, p.dxf.location.y) for p in on_layer(block, "3")]
    assert set(points(outline)) <= set(corners)
    snips = sum(notch["count"] for notch in front["notches"])
    notches = on_layer(block, 4, "POINT")
    assert len(notches) >= snips * twice - 1, "one on the fold is its own mirror image"
    for notch in notches:
        at = (notch.dxf.location.x, notch.dxf.location.y)
        assert min(_off(at, side) for side in pairwise(points(outline))) < 0.01
    assert len(on_layer(block, 13, "POINT")) == len(front["darts"]) * twice
    (grain,) = on_layer(block, 7)
    (ax, ay), (bx, by) = points(grain)
    along = cos(radians(front["grain_deg"])), sin(radians(front["grain_deg"]))
    assert along[0] * (by - ay) - along[1] * (bx - ax) == pytest.approx(0, abs=1e-4)


def _off(place, side):
    """How far a place lies from a side, mm."""
    (ax, ay), (bx, by) = side
    step, go = (bx - ax, by - ay), (place[0] - ax, place[1] - ay)
    share = (step[0] * go[0] + step[1] * go[1]) / (dist(*side) ** 2 or 1)
    share = min(max(share, 0), 1)
    return dist(place, (ax + share * step[0], ay + share * step[1]))


def test_both_of_a_pair_are_mirror_images():
    drawing = file_of("mermaid")
    own, other = (
        points(outline_of(drawing.blocks.get(name)))
        for name in ("BACK", "BACK_TURNED_OVER")
    )
    assert [(-x, y) for x, y in own] == other


def test_words_of_a_piece_stand_on_it():
    for block in blocks_of(file_of("mermaid")):
        across = [x for x, _ in points(outline_of(block))]
        for words in block.query("TEXT"):
            assert min(across) < words.dxf.insert.x < max(across)


def test_pieces_lie_apart_in_the_drawing():
    drawing = file_of("mermaid")
    inserts = list(drawing.modelspace().query("INSERT"))
    assert sorted(i.dxf.name for i in inserts) == sorted(
        b.name for b in blocks_of(drawing)
    )
    spans = []
    for insert in inserts:
        ring = points(outline_of(drawing.blocks.get(insert.dxf.name)))
        spans.append([x + insert.dxf.insert.x for x, _ in ring])
    spans.sort(key=min)
    assert all(max(a) < min(b) for a, b in pairwise(spans))


def test_the_style_is_told_in_ascii():
    report = reported("mermaid")
    data = cutting_file(report, "Ọlá Łącka ½", "2026-11-29", Manner())
    drawing = read(data)
    said = texts(drawing.modelspace())
    assert said["STYLE NAME"] == "Mermaid skirt"
    assert said["SAMPLE SIZE"] == "Ola Lacka 1/2"
    assert said["UNITS"] == "METRIC"
    untold = read(cutting_file(report, "", "2026-11-29", Manner()))
    assert texts(untold.modelspace())["SAMPLE SIZE"] == "made to measure"


def test_names_of_blocks_are_short_plain_and_each_its_own():
    taken = []
    for _ in range(12):
        taken.append(block_name("Vorderes Rockteil, untere Lage, links", taken))
    taken.append(block_name("é/ß", taken))
    taken.append(block_name("", taken))
    assert len(set(taken)) == len(taken)
    assert all(len(name) <= 31 for name in taken)
    assert taken[-2:] == ["E_SS", "PIECE"]


def test_numbers_and_words_come_back():
    line = Polyline(8, (Point(1.25, -2.5), Point(101.25, -2.5)))
    block = Block("LINE", (line, Words(15, "as read", Point(3, 4), 5)), Point(10, 20))
    drawing = read(write_dxf([block], []))
    (found,) = drawing.blocks.get("LINE").query("LINE")
    assert length(found) == 100
    (insert,) = drawing.modelspace().query("INSERT")
    assert (insert.dxf.insert.x, insert.dxf.insert.y) == (10, 20)
    (words,) = drawing.blocks.get("LINE").query("TEXT")
    assert (words.dxf.text, words.dxf.height) == ("as read", 5)

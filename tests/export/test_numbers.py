"""A piece has one number: on the table, on the map, in its lists and on its lay.

The order is the cut list's, cloth by cloth (common practice, no source).
"""

from __future__ import annotations

import re

from drafting import look_of
from skirtwright.app.canvas.scene import Scene
from skirtwright.draft import styles
from skirtwright.export.lay_page import picture
from skirtwright.export.pattern import cover_facts
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.export.sheet import Text
from skirtwright.geometry.box import Box
from skirtwright.job import edits, opening
from skirtwright.lay.all_cloths import lay_all
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.words import Manner, translate

MANNER = Manner()


def test_a_piece_has_one_number_wherever_it_is_told_by_one():
    job = opening.new_job(styles.style("mermaid"))
    job = edits.set_measurement(job, "waist_to_hip_left", "20 cm").job
    look = look_of(edits.set_measurement(job, "waist_to_hip_right", "21.5 cm").job)
    cut = look.report.cut
    asked = cut.numbers
    title_of = {p.name: translate(p.spec.title, MANNER) for p in cut.pieces}
    titles = {title_of[name]: number for name, number in asked.items()}
    cloths = [piece.spec.material for piece in cut.listed]
    assert cloths == sorted(cloths, key=["shell", "lining", "interfacing"].index)
    # The style has interfacing before the lining, so it is not the order by chance.
    assert [p.name for p in cut.pieces] != list(asked)
    assert list(asked.values()) == list(range(1, len(cut.pieces) + 1))

    cover = cover_facts(look.report, "", "", MANNER).cut_list
    assert [(name, number) for number, name, _ in cover] == list(titles.items())

    making = making_of(look.report, "", "", MANNER)
    rows = [row for of_cloth in making.cut for row in of_cloth.rows]
    assert [(row.piece, row.number) for row in rows] == list(titles.items())

    scene = Scene()
    scene.show(look)
    scene.bring("all")
    on_table = {
        laid.name: scene.number_of(laid)
        for laid, _ in scene.things()
        if laid.kind != "draft"
    }
    assert set(on_table) == set(asked)
    assert on_table == asked

    (laid, *_) = lay_all(cut, [usual("interfacing", "cm")], 20).lays
    marks = picture(laid, asked, Box(0, 0, 180, 180), MANNER)
    drawn = [m.text for m in marks if isinstance(m, Text)]
    drawn = sorted(int(text) for text in drawn if re.fullmatch(r"\d+", text))
    assert drawn == sorted(asked[placed.copy.piece.name] for placed in laid.placed)

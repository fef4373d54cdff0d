"""Sizes over one another: each as it is by itself, on a layer of its own."""

from __future__ import annotations

import io

import pikepdf
import pypdfium2
import pytest

from drafting import look_of
from skirtwright.draft import styles
from skirtwright.export.nested import Nest, nested_sheet, sized
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import looks, plotters
from skirtwright.export.printing import Printing
from skirtwright.export.sheet import MOST_SIZES, SIZE_LAYERS, Stroke, size_layer
from skirtwright.job.job import new_job
from skirtwright.measures.sizes import read_size
from skirtwright.problems import BadInput, NotFound
from skirtwright.words import Manner

SIZES = ("10", "12", "14")


def nest(on="", sizes=SIZES):
    job = new_job(styles.style("straight-block"))
    looks = (
        look_of(job.replace(card=read_size(f"uk-women:{size}"), sample=False))
        for size in sizes
    )
    return Nest(tuple(zip(sizes, (look.report for look in looks), strict=True)), on)


def outlines(sheet, piece):
    """The cutting line of each size of a piece, as it lies on the sheet."""
    group = next(group for group in sheet.groups if group.piece == piece)
    found = {}
    for mark in group.marks:
        outline = isinstance(mark, Stroke) and mark.closed and mark.weight is None
        if outline and mark.layer in SIZE_LAYERS:
            assert mark.layer not in found
            found[mark.layer] = mark.points(0.01)
    return found


@pytest.mark.parametrize("on", ["", "hem start", "waist end"])
def test_each_size_is_as_it_is_by_itself_and_all_meet_in_the_point(on):
    all_sizes = nest(on)
    sheet = nested_sheet(all_sizes, Manner(), (), stitching=False)
    assert sheet.sizes == SIZES
    for piece in ("front", "back"):
        drawn = outlines(sheet, piece)
        assert list(drawn) == [size_layer(n) for n in (1, 2, 3)]
        met = []
        for (_, report), points in zip(all_sizes.sizes, drawn.values(), strict=True):
            own = next(p for p in report.cut.shown if p.name == piece)
            step = points[0] - own.cut[0]
            assert points[-1].to(points[0]) < 1e-9
            for there, here in zip(points, own.cut, strict=False):
                assert there.to(here + step) < 1e-6
            edge, _, end = (on or "waist start").partition(" ")
            chain = own.panel.edge(edge).chain
            met.append((chain.start if end == "start" else chain.end) + step)
        assert max(p.to(met[0]) for p in met) < 1e-6


def test_patterns_are_unlike_one_another_and_every_machine_draws_them():
    for look in looks().values():
        known = [(s.weight, s.dash) for s in look.styles.values()]
        sizes = [(look.styles[n].weight, look.styles[n].dash) for n in SIZE_LAYERS]
        assert len(set(sizes)) == MOST_SIZES
    paper = looks()["paper"].styles
    known = [(s.weight, s.dash) for n, s in paper.items() if n not in SIZE_LAYERS]
    for name in SIZE_LAYERS:
        assert (paper[name].weight, paper[name].dash) not in known
    for machine in plotters().values():
        pens = machine.pens_for(solid=True)
        assert set(SIZE_LAYERS) <= set(pens)
        if "stitching" in machine.pens:
            assert pens["size-1"] != pens["cutting"]


def dark(data, off=()):
    """How many dark places the second page shows, with some layers turned off."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        groups = {str(group.Name): group for group in pdf.Root.OCProperties.OCGs}
        pdf.Root.OCProperties.D.OFF = pikepdf.Array([groups[name] for name in off])
        kept = [group for name, group in groups.items() if name not in off]
        pdf.Root.OCProperties.D.ON = pikepdf.Array(kept)
        again = io.BytesIO()
        pdf.save(again)
    pages = pypdfium2.PdfDocument(again.getvalue())
    seen = 0
    for number in range(1, len(pages)):
        picture = pages[number].render(scale=0.5, grayscale=True).to_numpy()
        seen += int((picture < 160).sum())
    return seen, set(groups)


def test_a_reader_turns_sizes_off_one_by_one():
    data = PrintJob(nest().sizes[0][1], "", "", Printing(nest=nest()), Manner()).pdf()
    every, names = dark(data)
    assert set(SIZES) <= names
    one, _ = dark(data, SIZES[1:])
    none, _ = dark(data, SIZES)
    assert none < one < every
    text = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
    # In the title, and in no line below it; what is alike in all sizes is told once.
    assert " ".join(text.split()).count("sizes 10, 12, 14") == 1
    assert "Sizes 10" not in text
    assert "60 cm, 60 cm" not in text


def test_a_plotter_draws_every_size():
    found = []
    for sizes in (SIZES[:2], SIZES):
        how = Printing(nest=nest(sizes=sizes), only=("front",))
        job = PrintJob(nest().sizes[0][1], "", "", how, Manner())
        found.append(job.plotter_file(job.plot("pen", None)))
    one, more = found
    assert len(more) > len(one) * 1.1


def test_stitching_lines_alone_and_pieces_alone():
    how = Printing(nest=nest(), lines="stitching", only=("front",))
    (group,) = PrintJob(nest().sizes[0][1], "", "", how, Manner()).sheet().groups
    assert group.piece == "front"
    assert not any(m.layer == "cutting" for m in group.marks)
    with pytest.raises(NotFound):
        nested_sheet(nest(), Manner(), ["frnt"], stitching=False)


def test_sizes_that_cannot_be_drawn_so_are_told():
    with pytest.raises(NotFound):
        nest("hemm start").checked()
    with pytest.raises(BadInput):
        Nest(nest().sizes * 2).checked()
    with pytest.raises(BadInput):
        Nest(nest().sizes[:1] * (MOST_SIZES + 1)).checked()
    assert sized(("8", "10", "12", "14"), "10-14") == ("10", "12", "14")
    with pytest.raises(BadInput):
        sized(("8", "10", "12"), "12-8")
    with pytest.raises(NotFound):
        sized(("8", "10", "12"), "8-13")

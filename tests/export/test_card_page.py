"""The measurement card on paper, read back by another reader of PDF."""

from __future__ import annotations

import pymupdf
import pypdfium2
import pytest
from overlaps import overlaps

from skirtwright.cli import main
from skirtwright.export.card_page import card_pdf
from skirtwright.measures.card import Card
from skirtwright.measures.measurements import measurements
from skirtwright.words import Manner


def words(data: bytes) -> str:
    pages = pypdfium2.PdfDocument(data)
    text = "\n".join(page.get_textpage().get_text_range() for page in pages)
    return " ".join(text.split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_blank_card_asks_for_everything_that_can_be_measured(paper: str):
    told = words(card_pdf(None, "2026-05-31", Manner(), paper))
    for known in measurements().values():
        assert known.label in told
        assert known.taken.split(",")[0].split(";")[0] in told
    assert "2026" not in told


def test_a_filled_card_has_her_figures_each_side_in_its_place():
    both = {"waist": "74 cm", "waist_to_hip_left": "20", "waist_to_hip_right": "21.5"}
    card = Card(name="Clara Venn", measurements=both)
    told = words(card_pdf(card, "2026-05-31", Manner()))
    for figure in ("Clara Venn", "2026-05-31", "74 cm", "20 cm", "21.5 cm"):
        assert figure in told


def test_the_verb_saves_a_blank_card_and_refuses_one_that_cannot_be_read(
    tmp_path, capsys
):
    saved, other = tmp_path / "card.pdf", tmp_path / "other.pdf"
    assert main(["card", "-o", str(saved)]) == 0
    assert saved.read_bytes().startswith(b"%PDF")
    lost = ["card", "--card", str(tmp_path / "none.json"), "-o", str(other)]
    assert main(lost) == 2
    assert not other.exists()


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_it_is_one_page_of_letters_of_8_points_none_over_another(paper):
    data = card_pdf(None, "3 May", Manner(), paper)
    assert overlaps(data) == []
    with pymupdf.open(stream=data) as document:
        (page,) = document
        blocks = page.get_text("dict")["blocks"]
    sizes = [s["size"] for b in blocks for line in b["lines"] for s in line["spans"]]
    assert min(sizes) >= 8

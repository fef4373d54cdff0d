"""What the tests of paper share: a made-up skirt, the words for it, and readers."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

# Test folders are not packages; the helpers beside and above are found by this.
sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent))

import skirt_sheet

from skirtwright.export.facts import CoverFacts
from skirtwright.export.sewing import making_up_sheet


@pytest.fixture
def no_figure(monkeypatch):
    """The skirt on her is not drawn on sheets of which the words alone are read."""
    monkeypatch.setattr(making_up_sheet, "figure_marks", lambda *_: ())


@pytest.fixture(scope="session")
def skirt():
    return skirt_sheet.skirt()


@pytest.fixture(scope="session")
def facts():
    return CoverFacts(
        client="Adaeze Nguyễn-Łącka",
        style="Straight skirt",
        date="25 November 2026",
        finished=(("Waist", "74 cm"), ("Hip", "98 cm"), ("Length", "62 cm")),
        cut_list=(
            (1, "Front", "main cloth: cut 1 on the fold"),
            (2, "Back", "main cloth: cut 1 pair"),
            (3, "Waistband", "main cloth: cut 1; interfacing: cut 1"),
        ),
        allowances="Cutting lines include 1.5 cm at seams and 4 cm at the hem.",
        notes=("Wash and press the cloth before cutting.",),
    )

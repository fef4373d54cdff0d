"""The table of measured women is read as it was published."""

from __future__ import annotations

from statistics import mean

import pytest


def test_the_260_women_of_bdims_are_read(real_women):
    # Source of the means, in cm: the data set's own paper (Heinz and others, 2003),
    # from memory; the height is 164.9.
    assert len(real_women) == 260
    assert mean(w.height for w in real_women) == pytest.approx(1648.7, abs=0.1)
    assert mean(w.waist for w in real_women) == pytest.approx(698.0, abs=0.1)
    assert mean(w.hip for w in real_women) == pytest.approx(956.5, abs=0.1)
    assert mean(w.knee_girth for w in real_women) == pytest.approx(352.6, abs=0.1)


def test_hip_less_waist_runs_as_the_trade_sheet_says(real_women):
    # Source: the data set bdims, 260 women: 5.1 to 36.7 cm,
    # mean 25.9.
    differences = [w.hip - w.waist for w in real_women]
    assert min(differences) == pytest.approx(51, abs=0.5)
    assert max(differences) == pytest.approx(367, abs=0.5)
    assert mean(differences) == pytest.approx(259, abs=1)

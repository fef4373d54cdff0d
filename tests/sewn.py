"""Which edges of a cut skirt are sewn, counted as the cloth has them.

Shared by the suite, which draws a sample, and by `tests/bench`, which tries them all.
"""

from __future__ import annotations

from collections import Counter
from itertools import combinations

from bodies import HOUSE
from skirtwright.draft import styles
from skirtwright.draft.halves.repeating import Halving
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.measures.measurements import without_half
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import report

ALIKE = HOUSE
APART = {**HOUSE, "waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0}
"""The house client, and one whose right hip lies 1.5 cm lower than her left."""


def options(draft):
    """The defaults, every option of a draft, and every pair of options."""
    single = [
        (choice.name, option)
        for choice in draft.choices
        for option in choice.options
        if option != choice.default
    ]
    yield {}
    for one in single:
        yield dict([one])
    for first, second in combinations(single, 2):
        if first[0] != second[0]:
            yield dict([first, second])


class Sewn:
    """A style cut with one set of options after another, for one body."""

    def __init__(self, style, body):
        self._draft, inputs = Halving().of(styles.style(style), Inputs(body))
        self._body = inputs.measurements
        self._reworking, self._cutting = Reworking(), Cutting()

    def report(self, chosen):
        """The report; None where the style refuses the options."""
        inputs = Inputs(self._body, {}, chosen, self._draft.unit)
        worked = self._reworking.work(self._draft, inputs)
        made = report(worked, self._cutting.cut(worked, {}), "")
        return None if made.refusals or worked.stopped else made


def lies(piece):
    """How often each edge of a piece is there: a fold's other half counts too."""
    return piece.spec.count * (2 if piece.spec.folds else 1)


def sewn_times(cut):
    """How often a seam sews each edge of the cloth, by piece and edge.

    A seam that names an edge of a pair once is sewn on both sides, unless what it joins
    to is there only once, as a lining that is unlike left and right.
    """
    there = {piece.name: lies(piece) for piece in cut.pieces}
    for walked in cut.seams:
        named = Counter(
            (piece, edge.removeprefix("-"))
            for side in walked.seam.sides
            for piece, edge in side
        )
        times = min(there[piece] / often for (piece, _), often in named.items())
        yield walked.seam, {key: often * times for key, often in named.items()}

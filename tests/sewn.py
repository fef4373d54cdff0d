"""Which edges of a cut skirt are sewn, counted as the cloth has them.

Shared by the suite, which draws a sample, and by `tests/bench`, which tries them all.
"""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise

from bodies import HOUSE
from skirtwright.draft import styles
from skirtwright.draft.halves.repeating import Halving
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.sewing.sewing_facts import facts_of
from skirtwright.export.sewing.sewing_order import sewing_rows
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
        named = Counter(run.key for side in walked.seam.sides for run in side)
        times = min(there[piece] / often for (piece, _), often in named.items())
        # One that is said to be of one half is sewn there and nowhere else.
        times = min(times, 1) if walked.seam.half else times
        yield walked.seam, {key: often * times for key, often in named.items()}


FINISHED_ALONE = {
    "hem": "turned up, or faced",
    "opening": "turned in, or under a zip or placket that lies along it",
    "facing_edge": "the free edge of a facing",
    "turned_in": "a band's or tie's inside and ends, turned in by themselves",
    "caught": "caught in a seam along part of it, or stitched down flat",
}
"""Roles of edges that need lie in no seam, and what becomes of them."""

AT_AN_OPENING = {"facing_end", "channel"}
"""Roles of edges that are turned in where the skirt opens, and else joined."""


def layer(piece):
    """Which layer of the skirt a piece is of."""
    roles = set(piece.spec.roles.values())
    for role, found in (("pocket", "pocket"), ("waist_join", "finish")):
        if role in roles:
            return found
    return "lining" if piece.spec.material == "lining" else "skirt"


def faults(report):
    """What is wrong with the seams of a skirt, edge by edge."""
    pieces = {piece.name: piece for piece in report.cut.pieces}
    sewn = {}
    for seam, times in sewn_times(report.cut):
        layers = [{layer(pieces[run.piece]) for run in side} for side in seam.sides]
        for (name, edge), often in times.items():
            own = layer(pieces[name])
            # What a lining or a facing is laid on is sewn to the skirt all the same.
            onto = next((other for one in layers for other in one - {own}), own)
            found = sewn.setdefault((name, edge), Counter())
            found[onto if own == "skirt" else "any"] += often
    finished = any(layer(piece) == "finish" for piece in pieces.values())
    opens = facts_of(report).worked("opens") > 0
    for piece in pieces.values():
        for edge in piece.edges:
            if edge.name in piece.spec.folds:
                continue
            found = sewn.get((piece.name, edge.name), Counter())
            there = lies(piece)
            what = f"{piece.name}.{edge.name} ({edge.role})"
            yield from (
                f"{what} is sewn {often / there:g} times to {layer_}"
                for layer_, often in found.items()
                if often > there
            )
            if edge.allowance <= 0 or _needs_no_seam(edge, opens=opens):
                continue
            wanted = "finish" if edge.role == "waist" else "skirt"
            if layer(piece) != "skirt":
                wanted = "any"
            elif edge.role == "waist" and not finished:
                continue
            if found[wanted] != there:
                yield f"{what} is sewn {found[wanted] / there:g} times to {wanted}"


def _needs_no_seam(edge, *, opens):
    return edge.role in FINISHED_ALONE or (opens and edge.role in AT_AN_OPENING)


SNIPS_APART = 5.0
"""Between the snips of one notch, mm: nearer than that two notches read as one."""


def mark_faults(report):
    """Balance marks that run into one another, and edges they do not tell apart."""
    for piece in report.cut.pieces:
        marks = sorted(piece.spec.notches, key=lambda mark: (mark.edge, mark.distance))
        for mark, after in pairwise(marks):
            apart = after.distance - mark.distance
            if mark.edge == after.edge and apart < SNIPS_APART:
                yield f"{piece.name}.{mark.edge} has two marks {apart:g} mm apart"
    for problem in report.problems:
        if problem.code == "check.notches_alike":
            yield f"{problem.where} is marked as {problem.values}"


def order_faults(report):
    """Every seam that the order of sewing leaves out, or sews twice."""
    sewn = {walked.seam.name: [] for walked in report.cut.seams}
    for row in sewing_rows(facts_of(report)):
        for seam in row.seams:
            sewn[seam.walked.seam.name].append(seam.half)
    for name, halves in sewn.items():
        if sorted(halves) not in ([""], ["left", "right"]):
            yield f"seam {name} is in the order as {halves}"

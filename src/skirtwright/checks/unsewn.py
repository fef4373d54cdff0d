"""Checks that every edge with an allowance is sewn, or finished by itself."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping

from skirtwright.checks.checked_skirt import Skirt, edge_words
from skirtwright.checks.limits import severity_of
from skirtwright.checks.measured_outline import WAIST, WAIST_JOIN, Paper
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.walked_seams import Seam
from skirtwright.problems import Problem

_ALONE = frozenset(("hem", "opening", "facing_edge", "turned_in", "caught"))
"""Roles of edges that lie in no seam."""

_ENDS = frozenset(("facing_end", "channel"))
"""Roles of edges of which two are turned in where the skirt opens."""

_PLAIN = "seam"

_STUCK_ON = "interfacing"
"""A cloth that is laid on another piece and sewn with it."""


def times_sewn(seam: Seam, papers: Mapping[str, Paper]) -> float:
    """How often a seam is sewn: on both sides, or once.

    One that names an edge of a pair once is sewn on both sides, unless it is said to be
    of one half, or what it joins to is there only once.
    """
    named = Counter(run.key for side in seam.sides for run in side)
    times = min(papers[key[0]].times / often for key, often in named.items())
    return min(times, 1.0) if seam.half else times


def unsewn(skirt: Skirt) -> Iterator[Problem]:
    """Edges with an allowance that no seam sews and that are not said to need none."""
    papers = skirt.papers
    left = _left_open(skirt)
    opens = any(depth > 0 for _, depth in skirt.stated_at("opening_depth"))
    ends = {key: often for key, often in left.items() if _is_end(papers, key)}
    if opens and abs(sum(ends.values()) - 2) < SAME:
        left = {key: often for key, often in left.items() if key not in ends}
    for name, edge in left:
        values = {"piece": papers[name].title, "edge": edge_words(edge)}
        # Of an edge of which nothing is said nobody knows: it may be a hem.
        grade = "caution" if papers[name].role(edge) == _PLAIN else "wrong"
        yield Problem("check.edge_unsewn", severity_of(grade), f"{name}.{edge}", values)


def _is_end(papers: Mapping[str, Paper], key: tuple[str, str]) -> bool:
    """Whether an edge is an end of what goes round the waist."""
    paper = papers[key[0]]
    return paper.role(key[1]) in _ENDS and bool(paper.of_role(WAIST_JOIN))


def _left_open(skirt: Skirt) -> dict[tuple[str, str], float]:
    """On how many of the pieces an edge that must be sewn is not."""
    sewn: defaultdict[tuple[str, str], float] = defaultdict(float)
    for walked in skirt.cut.seams:
        runs = [run for side in walked.seam.sides for run in side]
        if all(run.piece in skirt.papers for run in runs):
            often = times_sewn(walked.seam, skirt.papers)
            for run in runs:
                sewn[run.key] += often
    finished = any(paper.of_role(WAIST_JOIN) for paper in skirt.papers.values())
    left: dict[tuple[str, str], float] = {}
    for name, paper in skirt.papers.items():
        # Without a band or facing the skirt's own waist is turned in.
        alone = _ALONE if finished or not paper.is_shell else _ALONE | {WAIST}
        for edge in paper.piece.edges:
            key = (name, edge.name)
            if sewn[key] < paper.times - SAME and not _is_alone(paper, key[1], alone):
                left[key] = paper.times - sewn[key]
    return left


def _is_alone(paper: Paper, edge: str, alone: frozenset[str]) -> bool:
    spec = paper.piece.spec
    if spec.material == _STUCK_ON or edge in spec.folds or paper.role(edge) in alone:
        return True
    return all(run.width <= SAME for run in spec.allowances.get(edge, ()))

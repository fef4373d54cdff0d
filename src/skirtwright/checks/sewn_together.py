"""Checks of what is sewn together: lengths, angles, lean, balance marks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from skirtwright.checks.checked_skirt import Skirt, edge_words, of_edge
from skirtwright.checks.limits import finding, graded, limits, severity_of
from skirtwright.checks.measured_outline import HEM, WAIST, Paper
from skirtwright.draft.runs import Side
from skirtwright.geometry import bend_deg, heading
from skirtwright.geometry.tolerance import FLAT
from skirtwright.pieces.marks.likeness import Mark, from_other_end, greatest_difference
from skirtwright.pieces.spec import ONE_MARK
from skirtwright.pieces.walked_seams import Seam, alike, joints
from skirtwright.problems import Problem

Papers = Mapping[str, Paper]


def seam_checks(skirt: Skirt) -> Iterator[Problem]:
    """What there is to say of every seam."""
    gathers = dict(skirt.stated_at("gathers"))
    leans = dict(skirt.stated_at("seam_lean_meant"))
    sloping = bool(skirt.stated("hem_spread_meant"))
    sewn = Counter(_edges_of(skirt))
    for walked in skirt.cut.seams:
        seam = walked.seam
        names = {run.piece for side in seam.sides for run in side}
        if not names <= skirt.papers.keys():
            continue
        found = skirt.remembered(
            seam.name,
            _seam,
            seam,
            tuple(skirt.papers[name] for name in sorted(names)),
            seam.name in gathers,
            leans.get(seam.name, 0.0),
            tuple(any(sewn[run.key] > 1 for run in side) for side in seam.sides),
        )
        # A hem that is meant to run off meets its seams as it must.
        yield from (p for p in found if not sloping or p.code != "check.hem_corner")


def _edges_of(skirt: Skirt) -> Iterator[tuple[str, str]]:
    """The edges of every seam, each once for each seam."""
    for walked in skirt.cut.seams:
        yield from {run.key for side in walked.seam.sides for run in side}


def _seam(
    seam: Seam,
    sewn: tuple[Paper, ...],
    gathered: bool,
    lean: float,
    twice: tuple[bool, ...],
) -> Iterator[Problem]:
    papers = {paper.name: paper for paper in sewn}
    yield from _ends(seam, papers)
    if seam.sides[0] != seam.sides[1]:
        # A mirrored pair's own seam cannot but agree with itself.
        yield from _lengths(seam, papers, gathered=gathered)
        yield from _marks_meet(seam, papers, twice)
        if all(paper.is_shell for paper in papers.values()):
            yield from _lean(seam, papers, lean)


def _said(seam: Seam) -> dict[str, object]:
    return {"seam": edge_words(seam.name)}


# Lengths, walked along the outline as it is exported


def _lengths(seam: Seam, papers: Papers, *, gathered: bool) -> Iterator[Problem]:
    first, second = (_length(side, papers) for side in seam.sides)
    values = _said(seam) | {"ease": abs(seam.ease)}
    off = abs(first - second - seam.ease)
    yield from finding("seam_uneven", off, seam.name, values | {"difference": off})
    if not gathered and min(first, second) > 0:
        share = abs(seam.ease) / min(first, second)
        longer = seam.sides[0] if first > second else seam.sides[1]
        check = "seam_ease_bias" if _on_the_bias(longer, papers) else "seam_ease"
        said = values | {"share": share}
        yield from finding(check, share, seam.name, said, _EASED)


_EASED: Final = dict.fromkeys(("note", "caution", "wrong"), "seam_ease")


def _on_the_bias(side: Side, papers: Papers) -> bool:
    """True when every piece of a side runs, from end to end, across its grain."""
    across = limits()["seam_ease_bias"]["off_grain"]
    found = []
    for run in side:
        paper = papers[run.piece]
        chain = paper.panel.edge(run.edge).chain
        way = heading(paper.piece.grain_deg)
        turned = abs(bend_deg(way, chain.end - chain.start))
        found.append(min(turned, 180 - turned))
    return all(across["least"] <= angle <= across["most"] for angle in found)


def _length(side: Side, papers: Papers) -> float:
    walked = 0.0
    for run in side:
        walked += papers[run.piece].edges[run.edge].length
    return walked


# Angles where a seam runs into waist or hem


def _ends(seam: Seam, papers: Papers) -> Iterator[Problem]:
    for at_start in (True, False):
        ends = [_end(side, papers, at_start=at_start) for side in seam.sides]
        (first, edge, line), (second, _, other) = (e[:3] for e in ends)
        if line != other or line not in (WAIST, HEM):
            continue
        whole = ends[0][3] + ends[1][3]
        values = _said(seam) | {"line": line, "angle": whole}
        run = seam.sides[0][0 if at_start else -1]
        end = "start" if at_start == run.forward else "end"
        where = f"{first.name}.{edge} {end}"
        off = abs(whole - 180)
        yield from finding("seam_angle", off, where, values | {"off": off})
        if line == HEM:
            yield from _square_at_hem(seam, ends, second is first)


End = tuple[Paper, str, str, float]
"""A piece, its edge, the role of the edge met at its end, and the angle there."""


def _end(side: Side, papers: Papers, *, at_start: bool) -> End:
    run = side[0] if at_start else side[-1]
    paper, end = papers[run.piece], (run.edge, at_start == run.forward)
    return paper, run.edge, paper.role(paper.neighbours[end]), paper.corners[end]


def _square_at_hem(seam: Seam, ends: Sequence[End], same: bool) -> Iterator[Problem]:
    for paper, edge, _, angle in ends[: 1 if same else 2]:
        yield from finding(
            "hem_corner",
            abs(angle - 90),
            f"{paper.name}.{edge} end",
            _said(seam) | {"piece": paper.title, "angle": angle},
        )


# Flare


def _lean(seam: Seam, papers: Papers, meant: float) -> Iterator[Problem]:
    """The two edges of a seam lean out alike where they reach the hem."""
    ends = [_end(side, papers, at_start=False) for side in seam.sides]
    if any(met != HEM for _, _, met, _ in ends):
        return
    leans = [off_grain(paper, edge) for paper, edge, _, _ in ends]
    off = max(abs(leans[0] - leans[1]) - meant, 0.0)
    yield from finding(
        "seam_lean",
        off,
        seam.name,
        _said(seam)
        | {"off": off, "first": ends[0][0].title, "second": ends[1][0].title},
    )


def off_grain(paper: Paper, edge: str) -> float:
    """How far an edge runs off the straight grain at its lower end, degrees."""
    way = paper.panel.edge(edge).chain.end_direction
    turned = abs(bend_deg(heading(paper.piece.grain_deg), way))
    return min(turned, 180 - turned)


def off_grain_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """The seam edge that runs furthest off the grain, said once for the skirt."""
    worst: tuple[float, Paper, str] | None = None
    for paper, edge in _sewn(skirt):
        met = paper.role(paper.neighbours[edge, False])
        if met == HEM and edge not in paper.piece.spec.folds:
            found = off_grain(paper, edge)
            if worst is None or found > worst[0]:
                worst = (found, paper, edge)
    if worst is None:
        return
    angle, paper, edge = worst
    if angle <= (skirt.stated("off_grain_meant") or 0.0):
        return
    grade = graded("off_grain", angle)
    chain = paper.panel.edge(edge).chain
    bent = abs(bend_deg(chain.start_direction, chain.end_direction))
    if grade == "wrong" and bent <= limits()["off_grain"]["shaped"]:
        grade = "caution"
    if grade:
        values = {"piece": paper.title, "edge": edge_words(edge), "angle": angle}
        where = f"{paper.name}.{edge}"
        yield Problem("check.off_grain", severity_of(grade), where, values)


def _sewn(skirt: Skirt) -> Iterator[tuple[Paper, str]]:
    seen: set[tuple[str, str]] = set()
    for walked in skirt.cut.seams:
        for side in walked.seam.sides:
            for run in side:
                if run.piece in skirt.papers and run.key not in seen:
                    seen.add(run.key)
                    yield skirt.papers[run.piece], run.edge


def swing_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """How far each spread corner turns, as the style says."""
    for place, angle in skirt.stated_at("swing"):
        yield from finding("swing", angle, place, {"angle": angle})


# Balance marks


def _marks_meet(
    seam: Seam, papers: Papers, twice: tuple[bool, ...]
) -> Iterator[Problem]:
    """Both sides carry the same marks at the same walked distance.

    Where one side is eased to the other, at the same share of it; a mark may face a
    place where two pieces of the other side meet. A side that is sewn twice (a waist
    to its band and its lining) may carry marks of its other seam.
    """
    sides = [list(_marks_along(side, papers)) for side in seam.sides]
    lengths = [_length(side, papers) for side in seam.sides]
    share = lengths[0] / lengths[1] if seam.ease and lengths[1] else 1.0
    sides[1] = [(distance * share, count) for distance, count in sides[1]]
    panels = {name: paper.panel for name, paper in papers.items()}
    meetings = [joints(side, panels) for side in seam.sides]
    meetings[1] = tuple(place * share for place in meetings[1])
    # Where pieces meet on one side or the other the seam itself is the mark.
    everywhere = (*meetings[0], *meetings[1])
    first = _unmatched_marks(sides[0], everywhere)
    second = _unmatched_marks(sides[1], everywhere)
    if twice[0]:
        first = [mark for mark in first if _has_partner(mark, second)]
    if twice[1]:
        second = [mark for mark in second if _has_partner(mark, first)]
    if [count for _, count in first] != [count for _, count in second]:
        yield Problem("check.notches_unlike", "wrong", seam.name, _said(seam))
        return
    off = max(
        (abs(a - b) for (a, _), (b, _) in zip(first, second, strict=True)), default=0.0
    )
    yield from finding("notch_pair", off, seam.name, _said(seam) | {"off": off})


def _unmatched_marks(marks: Sequence[Mark], places: Sequence[float]) -> list[Mark]:
    near = limits()["notch_pair"]["over"]["wrong"]
    return [m for m in marks if all(abs(m[0] - place) > near for place in places)]


def _has_partner(mark: Mark, others: Sequence[Mark]) -> bool:
    near = limits()["notch_proof"]["under"]["wrong"]
    return any(abs(mark[0] - d) <= near and mark[1] == count for d, count in others)


def _marks_along(side: Side, papers: Papers) -> Iterator[Mark]:
    begun, last = 0.0, None
    for run in side:
        paper = papers[run.piece]
        length, marks = paper.edges[run.edge].length, paper.marks(run.edge)
        if not run.forward:
            marks = from_other_end(marks, length)
        for distance, count in marks:
            # A mark on a fold belongs to both halves and is one.
            here = (begun + distance, count)
            if last is None or here[1] != last[1] or here[0] - last[0] > ONE_MARK:
                yield here
            last = here
        begun += length


@dataclass(frozen=True)
class _MarkedEdge:
    """An edge with its walked length and its balance marks."""

    paper: Paper
    name: str
    length: float
    marks: tuple[Mark, ...]

    @property
    def key(self) -> tuple[str, str]:
        return self.paper.stem, self.name

    @property
    def role(self) -> str:
        return self.paper.role(self.name)


def notch_proof(skirt: Skirt) -> Iterator[Problem]:
    """Edges that do not belong together cannot be joined with their marks matching."""
    belong = [
        frozenset(
            (skirt.papers[run.piece].stem, run.edge)
            for side in walked.seam.sides
            for run in side
            if run.piece in skirt.papers
        )
        for walked in skirt.cut.seams
    ]
    panels = {name: paper.panel for name, paper in skirt.papers.items()}
    belong += [
        frozenset((skirt.papers[piece].stem, edge) for piece, edge in group)
        for group in alike([walked.seam for walked in skirt.cut.seams], panels)
    ]
    sewn = frozenset().union(*belong)
    joined = {stem for stem, _ in sewn}
    said: set[frozenset[tuple[str, str]]] = set()
    for one, other in _of_one_length(skirt):
        keys = {one.key, other.key}
        # An edge of no seam is sewn to nothing that could be mistaken. Left and right
        # are each other's mirror image, told apart by "right side up".
        if len(keys) == 1 or not keys & sewn or any(keys <= pair for pair in belong):
            continue
        # What no seam joins, such as a placket, is put on by steps of its own.
        if not {one.paper.stem, other.paper.stem} <= joined:
            continue
        # The waist of a piece lies over its hip: no end or hem is taken for it.
        if not keys <= sewn and WAIST in (one.role, other.role):
            continue
        margin = greatest_difference(one.marks, one.length, other.marks, other.length)
        found = list(_matchable(margin, one, other, both=keys <= sewn))
        if found and frozenset(keys) not in said:
            said.add(frozenset(keys))
            yield from found


def _of_one_length(skirt: Skirt) -> Iterator[tuple[_MarkedEdge, _MarkedEdge]]:
    """Pairs of edges of one cloth that their lengths alone do not tell apart.

    Folds are left out; edges of another cloth are not mistaken.
    """
    edges = [
        (paper.edges[edge.name].length, paper, edge.name)
        for paper in skirt.papers.values()
        for edge in paper.panel.edges
        if edge.name not in paper.piece.spec.folds
    ]
    edges.sort(key=lambda item: item[0])
    far = limits()["notch_proof"]["under"]["note"]
    for i, (length, paper, name) in enumerate(edges):
        for longer, second, other in edges[i + 1 :]:
            if longer - length >= far:
                break
            if paper.piece.spec.material == second.piece.spec.material:
                yield (
                    _MarkedEdge(paper, name, length, paper.marks(name)),
                    _MarkedEdge(second, other, longer, second.marks(other)),
                )


def _matchable(
    margin: float, one: _MarkedEdge, other: _MarkedEdge, *, both: bool
) -> Iterator[Problem]:
    # Drawn a whole centimetre apart is that, whatever flattening leaves of it.
    grade = graded("notch_proof", margin + FLAT)
    if not grade:
        return
    its = {"second": other.paper.title, "other": edge_words(other.name)}
    values = of_edge(one.paper, one.name, **its, margin=margin)
    where = f"{one.paper.name}.{one.name}"
    severity = severity_of(grade) if both else "note"
    code = "notches_alike" if grade == "wrong" else "notches_near"
    yield Problem(f"check.{code}", severity, where, values)

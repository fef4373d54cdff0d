"""What is to be seen on a cut skirt, whatever its style, as facts for the sewing.

Lengths are the report's own; angles are read off the pieces as they are drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, pairwise

from skirtwright.checks.checked_skirt import edge_words
from skirtwright.checks.edge_walk import Place
from skirtwright.checks.hem_line import tightest
from skirtwright.checks.limits import limits
from skirtwright.checks.measured_outline import HEM, WAIST, Paper, turned
from skirtwright.draft.draft import FINISHED
from skirtwright.draft.shapes.folds import Fold
from skirtwright.export.sewing.sewing_pieces import PieceGroups
from skirtwright.export.sewing.sewing_seams import Grouping, Groups, Sewn
from skirtwright.export.sewing.sewing_words import (
    LengthOfHalves,
    Listed,
    Saying,
    cloth,
    is_other_half,
    named,
    without_repeats,
)
from skirtwright.geometry import heading
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.piece import CutDart, Piece
from skirtwright.pieces.walked_seams import WalkedSeam
from skirtwright.pieces.wording.labels import whole_title
from skirtwright.report import Report
from skirtwright.telling.names_in_words import edge_words as told_edge

_LEAST_DART = 1.0
"""What is left of a dart that is all but shut, mm, is no dart to be sewn."""

_CHALKED = 0.5
"""Lengths that are alike to so much are chalked as one, mm."""

_ON_BIAS = 30.0
"""Degrees off the grain from which cloth counts as cut on the bias."""

_INWARD = 12.0
"""Degrees a seam turns inwards from which it is a corner (common practice)."""

_INWARD_WITHIN, _CORNER_WITHIN = 120.0, 10.0
"""Along so much of a seam that hangs, mm (a knee corner eased over 5 cm each way is
one), and of any other edge, where a gentle curve is no corner."""

_GODET, _ENDS = "godet", (True, False)

SeenFacts = dict[str, float | str | Listed]


ToldFacts = Mapping[str, Sequence[tuple[str, float | str]]]
"""Each told fact that applies, with the places it is told of and its values there."""


def seam_groups(report: Report, told: ToldFacts) -> Groups:
    """The seams of a skirt by what is sewn with them."""
    first = {name: found[0] for name, found in told.items()}
    opening, at = first.get("opening_at", ("", ""))
    vent, kind = first.get("vent_kind", ("", "none"))
    papers = list(report.skirt.papers.values())
    grouping = Grouping(papers, opening, "" if kind == "none" else vent)
    cut, whole = report.cut, report.cut.whole
    joins = tuple(Sewn(walked) for walked in _joins(cut, whole))
    return {**grouping.groups(whole.seams, at_left=at == "left_side"), "joined": joins}


def _joins(cut: Cut, whole: Cut) -> Iterator[WalkedSeam]:
    """The seams between the parts of pieces that are cut apart."""
    known = {walked.seam.name for walked in whole.seams}
    yield from (walked for walked in cut.seams if walked.seam.name not in known)


def seen_facts(
    report: Report, told: ToldFacts, groups: Groups, pieces: PieceGroups
) -> SeenFacts:
    """What is seen on the pieces of a skirt.

    Args:
        told: what it tells of itself; some of it says what a piece or an edge is.
    """
    papers = list(report.skirt.papers.values())
    shell = [paper for paper in papers if paper.is_shell]
    opens = report.skirt.stated_at("opening_depth")
    return {
        **_counted(papers, pieces, report.cut.pieces),
        **_joined(report.cut),
        **_darts(papers),
        **_grain(papers, shell),
        **_inward(shell),
        **_hem(papers),
        **_down_the_back(papers),
        **_seams(report, groups),
        **_measured(report),
        "opening_depth": max((d for _, d in opens), default=0.0),
        "tie_lengths": without_repeats(
            Saying("finished.length_shown", {"value": length})
            for _, length in told.get("tie_length", ())
        ),
    }


def _joined(cut: Cut) -> SeenFacts:
    """The pieces that are put together of parts."""
    parts = {piece.name for piece in cut.pieces}
    apart = [piece for piece in cut.whole.pieces if piece.name not in parts]
    said = without_repeats(named(whole_title(piece.spec.title)) for piece in apart)
    return {"joined": float(len(apart)), "joined_said": said}


def _counted(
    papers: list[Paper], pieces: PieceGroups, cut_pieces: Sequence[Piece]
) -> SeenFacts:
    counts = Counter[str]()
    for piece in cut_pieces:
        counts[piece.spec.material] += piece.spec.count
    cut = [
        Saying("sew.pieces_of", {"count": number, "cloth": cloth(material)})
        for material, number in counts.items()
    ]
    stiff = [named(piece.spec.title) for piece in pieces.get("interfacing", ())]
    bags = [p for p in papers if p.piece in pieces.get("pocket_bag", ())]
    handed = [p for p in papers if p.piece.spec.count == 1 and _unlike_sides(p)]
    return {
        "cut_counts": tuple(cut),
        "interfaced": without_repeats(stiff),
        "interfaced_pieces": float(len(stiff)),
        "handed_pieces": float(len(handed)),
        "lining": float(counts["lining"] > 0),
        "hip_marked": float(any(p.is_shell and p.hip is not None for p in papers)),
        "pockets_caught": float(any(bag.of_role("caught") for bag in bags)),
    }


def _unlike_sides(paper: Paper) -> bool:
    """True where what comes down to the hem is longer on one side than on the other."""
    down = [paper.edges[edge].length for edge in _hanging(paper)]
    return len(down) > 1 and max(down) - min(down) > _CHALKED


# Darts and tucks


def _darts(papers: list[Paper]) -> SeenFacts:
    darts = [
        (paper, dart)
        for paper in papers
        for dart in paper.piece.darts
        if paper.is_shell and dart.intake >= _LEAST_DART
    ]
    widths = [dart.intake for _, dart in darts]
    tucks = [p.times * len(_tucks(p)) for p in papers if not p.is_shell]
    return {
        "darts": float(sum(paper.times for paper, _ in darts)),
        "darts_said": _darts_said(darts),
        "dart_widest": max(widths, default=0.0),
        "dart_narrowest": min(widths, default=0.0),
        "tucks": float(sum(tucks)),
    }


def _darts_said(darts: list[tuple[Paper, CutDart]]) -> Listed:
    """Each dart of each piece, those that are alike together, left and right in one."""
    found: dict[tuple[str, int, int], tuple[Paper, CutDart, int]] = {}
    for paper, dart in darts:
        alike = (round(dart.intake / _CHALKED), round(_long(dart) / _CHALKED))
        key = (paper.name, *alike)
        first, like, count = found.get(key, (paper, dart, 0))
        found[key] = (first, like, count + paper.times)
    waiting = list(found.values())
    told: list[Saying] = []
    while waiting:
        paper, dart, count = waiting.pop(0)
        others = [each for each in waiting if is_other_half(paper.title, each[0].title)]
        values = {
            "piece": paper.title,
            "count": count,
            "width": dart.intake,
            "length": _long(dart),
        }
        if not others:
            told.append(Saying("sew.dart" if count > 1 else "sew.dart_one", values))
            continue
        waiting.remove(others[0])
        _, other, more = others[0]
        both = {
            "piece": whole_title(paper.title),
            "count": count + more,
            "width": LengthOfHalves(dart.intake, other.intake),
            "length": LengthOfHalves(_long(dart), _long(other)),
        }
        told.append(Saying("sew.dart_apart", both))
    return tuple(told)


def _long(dart: CutDart) -> float:
    """Down its middle, as the draft has it."""
    return dart.fold.start.to(dart.fold.end)


def _tucks(paper: Paper) -> set[Fold]:
    folds = (Fold.part_of(mark.name)[0] for mark in paper.panel.marks)
    return {fold for fold in folds if fold is not None and fold.kind == "tuck"}


# Grain


def _grain(papers: list[Paper], shell: list[Paper]) -> SeenFacts:
    waists = [_headings(p, name) for p in shell for name in p.of_role(WAIST)]
    tops = [_off_grain(p, name) for p in shell for name in p.of_role(WAIST)]
    hems = [_off_grain(p, name) for p in shell for name in p.of_role(HEM)]
    seams = [_lower_end_off(p, edge) for p in papers for edge in _hanging(p)]
    return {
        "waist_bend": max((max(w) - min(w) for w in waists if w), default=0.0),
        "waist_off_grain": max((max(found) for found in tops), default=0.0),
        "hem_off_grain": max((max(found) for found in hems), default=0.0),
        "seam_off_grain": max(seams, default=0.0),
        "bias_pieces": float(sum(p.piece.spec.count for p in shell if _on_bias(p))),
    }


def _steps(paper: Paper, edge: str) -> Iterator[tuple[Place, float]]:
    """The ways an edge goes, each with its length; caps of darts left out."""
    drawn = paper.edges[edge]
    for i in range(1, len(drawn.points)):
        size = drawn.walked[i] - drawn.walked[i - 1]
        if size > 0:
            (x, y), (u, v) = drawn.points[i - 1], drawn.points[i]
            yield (u - x, v - y), size


def _headings(paper: Paper, edge: str) -> list[float]:
    """How far each step of an edge is turned from its first, degrees."""
    ways = [way for way, _ in _steps(paper, edge)]
    return [turned(ways[0], way) for way in ways]


def _off_grain(paper: Paper, edge: str) -> list[float]:
    """How far each step of an edge runs off the nearest grain, degrees, 0 to 45."""
    return [_degrees_off_grain(paper, way) for way, _ in _steps(paper, edge)] or [0.0]


def _degrees_off_grain(paper: Paper, way: Place) -> float:
    """Off the nearest grain: along the cloth or across it."""
    grain = heading(paper.piece.grain_deg)
    off = abs(turned((grain.x, grain.y), way)) % 90.0
    return min(off, 90.0 - off)


def _hanging(paper: Paper) -> list[str]:
    """The edges that come down to the hem and are sewn."""
    return [edge for edge in _edges_to_hem(paper) if edge not in paper.piece.spec.folds]


def _edges_to_hem(paper: Paper) -> list[str]:
    ends = [(hem, end) for hem in paper.of_role(HEM) for end in (True, False)]
    return [paper.neighbours[end] for end in ends]


def _lower_end_off(paper: Paper, edge: str) -> float:
    drawn = paper.panel.edge(edge).chain
    way = (
        drawn.end_direction
        if paper.role(paper.neighbours[edge, False]) == HEM
        else drawn.start_direction
    )
    return _degrees_off_grain(paper, (way.x, way.y))


def _on_bias(paper: Paper) -> bool:
    """True where all that hangs, folds too, runs off the grain."""
    down = _edges_to_hem(paper)
    return bool(down) and all(_mean_off(paper, edge) > _ON_BIAS for edge in down)


def _mean_off(paper: Paper, edge: str) -> float:
    drawn = paper.edges[edge]
    (x, y), (u, v) = drawn.points[0], drawn.points[-1]
    return _degrees_off_grain(paper, (u - x, v - y))


# Corners that turn inwards


def _inward(shell: list[Paper]) -> SeenFacts:
    """Where seams, and corners between edges, turn into a piece."""
    bends = [0.0]
    where: list[Saying] = []
    clipped: list[Saying] = []
    for paper in shell:
        hanging = _hanging(paper)
        for name, bend in _bends(paper):
            bends.append(bend)
            if bend > _INWARD:
                where.append(_place(paper, name))
                clipped.extend(where[-1:] if name in hanging else ())
        for (name, at_start), angle in paper.corners.items():
            if at_start and angle - 180.0 > _INWARD:
                bends.append(angle - 180.0)
                where.append(_place(paper, name))
    return {
        "inward_bend": max(bends),
        "inward_places": without_repeats(where),
        "clipped_seams": float(len(clipped)),
        "clipped_places": without_repeats(clipped),
    }


def _bends(paper: Paper) -> Iterator[tuple[str, float]]:
    """The most each sewn edge turns into the piece, degrees."""
    hanging = _hanging(paper)
    for edge in paper.panel.edges:
        kept = paper.role(edge.name) in (HEM, WAIST)
        if not kept and edge.name not in paper.piece.spec.folds:
            within = _INWARD_WITHIN if edge.name in hanging else _CORNER_WITHIN
            yield edge.name, _bend_inwards(paper, edge.name, within)


def _place(paper: Paper, edge: str) -> Saying:
    values = {"piece": whole_title(paper.title), "edge": told_edge(edge)}
    return Saying("sew.place_of", values)


def _bend_inwards(paper: Paper, edge: str, within: float) -> float:
    """The most an edge turns into the piece along a short stretch, degrees."""
    forward = paper.panel.edge(edge).forward
    ways = list(_steps(paper, edge))
    if len(ways) < 2:
        return 0.0
    ends = list(accumulate(size for _, size in ways))
    # From the middle of a step; of a long straight one from near its end.
    half = [min(size / 2, within / 4) for _, size in ways]
    heads = [0.0]
    for (before, _), (after, _) in pairwise(ways):
        # Anticlockwise, what turns to the right turns into the piece.
        turn = turned(before, after)
        heads.append(heads[-1] + (-turn if forward else turn))
    best, first = 0.0, 0
    for last in range(1, len(heads)):
        while (
            first < last
            and ends[last - 1] - ends[first] + half[first] + half[last] > within
        ):
            first += 1
        best = max(best, heads[last] - min(heads[first : last + 1]))
    return best


# The hem


def _hem(papers: list[Paper]) -> SeenFacts:
    depths, shares, linings = [0.0], [0.0], [0.0]
    for paper in papers:
        for edge in paper.piece.edges:
            if edge.role != HEM:
                continue
            depth = max((width for width, _ in edge.allowances), default=0.0)
            if not paper.is_shell:
                linings.append(depth)
                continue
            points = paper.edges[edge.name].coarse
            if not paper.panel.edge(edge.name).forward:
                points = points[::-1]
            depths.append(depth)
            shares.append(depth * tightest(points, limits()["hem_depth"]["window"]))
    return {
        "hem_depth": max(depths),
        "hem_share": max(shares),
        "lining_hem": max(linings),
    }


def _down_the_back(papers: list[Paper]) -> SeenFacts:
    """How long skirt and lining are down the centre back, where both are known."""
    lengths: dict[str, dict[str, float]] = {"shell": {}, "lining": {}}
    for paper in papers:
        material = paper.piece.spec.material
        inside = set(map(paper.role, paper.edges)) & {"waist_join", "facing_edge"}
        if material in lengths and paper.piece.spec.body == "back" and not inside:
            # Below a vent there is no centre to be measured.
            centres = () if paper.of_role("opening") else paper.of_role("centre")
            # A godet's edge goes on from where the centre seam stops.
            met = {paper.neighbours[edge, end] for edge in centres for end in _ENDS}
            down = [*centres, *(edge for edge in met if paper.role(edge) == _GODET)]
            long = sum(paper.edges[edge].length for edge in down)
            lengths[material].setdefault(paper.stem, long)
    skirt, lining = (sum(found.values()) for found in lengths.values())
    known = min(skirt, lining) > 0
    return {
        "skirt_back": skirt if known else 0.0,
        "lining_back": lining if known else 0.0,
    }


# Seams


def _seams(report: Report, groups: Groups) -> SeenFacts:
    """The seams that hang; those that open have rules of their own."""
    titles = {s.name: s.title or s.name for s in report.worked.seams}

    def said(*kinds: str) -> Listed:
        sewn = [each.walked.seam.name for g in kinds for each in groups.get(g, ())]
        return without_repeats(
            named(edge_words(titles.get(name, name))) for name in sewn
        )

    def count(*kinds: str) -> float:
        return float(sum(len(groups.get(group, ())) for group in kinds))

    pairs = said("pair")
    hanging = ("pair", "side", "long")
    eased = [sewn.walked.seam.ease for g in hanging for sewn in groups.get(g, ())]
    return {
        "pair_seams": pairs,
        "pairs": float(len(pairs)),
        "vented_said": said("vented"),
        "vented_seams": count("vented"),
        "gore_seams": said("side", "opposite", "long"),
        "other_seams": said("long"),
        "other_seam_count": count("long"),
        "side_seam_count": count("side"),
        "opposite_seams": count("opposite"),
        "waist_seams": count("waist"),
        "lining_seams": said("lining"),
        "overlay_seams": said("overlay"),
        "seam_ease": max(map(abs, eased), default=0.0),
    }


# Measures


def _measured(report: Report) -> SeenFacts:
    stated, taken = report.worked.stated, report.worked.inputs.measurements
    body = stated.measurements
    found: SeenFacts = {name: report.finished[name] or 0.0 for name in FINISHED}
    floor, length = body.get("waist_to_floor_side"), report.finished["length"]
    known = floor is not None and length is not None
    found["over_floor"] = floor - length if known and floor and length else 0.0
    found["floor_known"] = float(known)
    found["floor_taken"] = float(known and "waist_to_floor_side" in taken)
    found["height"] = taken.get("height") or 0.0
    return found

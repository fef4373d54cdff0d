"""Which edges of a cut skirt are sewn, and in which order.

Shared by the suite, which draws a sample, and by `tests/bench`, which tries them all.
"""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise

from bodies import HOUSE
from skirtwright.draft import styles
from skirtwright.draft.halves.halving import Halving
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.sewing.making_up_sheet import cautions_of, findings_told
from skirtwright.export.sewing.sewing_facts import facts_of, table
from skirtwright.export.sewing.sewing_order import sewing_rows
from skirtwright.export.sewing.sewing_seams import pieces_of
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.walked_seams import edge_met
from skirtwright.report import report
from skirtwright.words import Manner, says

MANNER = Manner()
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
    if "waist_join" in roles:
        return "finish"
    # The hip piece of a slanted pocket is a part of the front, and is seen.
    if "pocket" in roles and not {"waist", "side"} <= roles:
        return "pocket"
    material = piece.spec.material
    return "skirt" if material in ("shell", "interfacing") else material


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
    mouths = {
        edge.name
        for piece in pieces.values()
        for edge in piece.edges
        if layer(piece) == "pocket" and edge.role == "seam"
    }
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
            mouth = edge.role == "seam" and edge.name in mouths
            if mouth or edge.role == "pocket":
                wanted = "pocket"
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
    yield from snips_unlike(report.cut)


SNIPS_FACE = 1.0
"""Snips nearer to where they face, mm, are at one place (common practice)."""


def snips_unlike(cut):
    """Seams whose two sides are not snipped alike.

    They face at the same walked distance, or share of it where a side is eased to the
    other; a snip may face a place where two pieces meet.
    """
    pieces = {piece.name: piece for piece in cut.pieces}
    for walked in cut.seams:
        share = 1.0
        if walked.seam.ease and walked.lengths[1]:
            share = walked.lengths[0] / walked.lengths[1]
        sides = [
            _snips_along(side, pieces, by)
            for side, by in zip(walked.seam.sides, (1.0, share), strict=True)
        ]
        meetings = [place for _, places in sides for place in places]
        first, second = (
            [s for s in snips if all(abs(s[0] - m) > SNIPS_FACE for m in meetings)]
            for snips, _ in sides
        )
        facing = len(first) == len(second) and all(
            one[1] == other[1] and abs(one[0] - other[0]) <= SNIPS_FACE
            for one, other in zip(first, second, strict=True)
        )
        if not facing:
            yield f"{walked.seam.name} is snipped {first} against {second}"


def _snips_along(side, pieces, share):
    """The snips along a side of a seam, in order, and where its pieces meet."""
    begun, snips, meetings = 0.0, set(), []
    for run in side:
        length = pieces[run.piece].panel.edge(run.edge).chain.length
        for mark in pieces[run.piece].spec.notches:
            if mark.edge == run.edge:
                way = mark.distance if run.forward else length - mark.distance
                snips.add((round((begun + way) * share, 1), mark.count))
        begun += length
        meetings.append(begun * share)
    return sorted(snips), [0.0, *meetings]


def order_faults(report):
    """What is wrong with the order of sewing of a skirt, as one who sews sees it."""
    facts = facts_of(report)
    rows = sewing_rows(facts)
    yield from _seams_once(report, rows)
    yield from _crossed_later(report, rows)
    yield from _shut_too_soon(report, rows)
    yield from step_faults(rows)
    used = {piece.name for row in rows for piece in row.pieces}
    used |= {p for row in rows for sewn in row.seams for p in pieces_of(sewn.walked)}
    for piece in report.cut.pieces:
        if piece.name not in used:
            yield f"{piece.name} is cut and never used"
    steps = {row.step for row in rows}
    for rule in table()["notions"]:
        if facts.holds(rule.get("when", "1 > 0")) and not steps & set(rule["for"]):
            yield f"{rule['says']} is bought and never used"
    yield from _findings_unanswered(report, facts, rows)


def _seams_once(report, rows):
    """Every seam that the order of sewing leaves out, or sews twice."""
    sewn = {walked.seam.name: [] for walked in report.cut.seams}
    for row in rows:
        for seam in row.seams:
            sewn[seam.walked.seam.name].append(seam.half)
    for name, halves in sewn.items():
        if sorted(halves) not in ([""], ["left", "right"]):
            yield f"seam {name} is in the order as {halves}"


def _crossed_later(report, rows):
    """A seam that runs over the meeting of two pieces before those are joined."""
    panels = {piece.name: piece.panel for piece in report.cut.pieces}
    turns, ends = {}, {}
    for turn, row in enumerate(rows):
        for sewn in row.seams:
            name = sewn.walked.seam.name
            ends[name] = turn
            for run in (run for side in sewn.walked.seam.sides for run in side):
                turns.setdefault(run.key, set()).add((turn, name))
    for walked in report.cut.seams:
        for side in walked.seam.sides:
            for one, two in pairwise(side):
                met = (
                    edge_met(one, panels, at_end=True),
                    edge_met(two, panels, at_end=False),
                )
                joined = turns.get(met[0], set()) & turns.get(met[1], set())
                for turn, name in joined:
                    if turn > ends[walked.seam.name]:
                        yield f"{walked.seam.name} runs over {name}, sewn later"


BEFORE = (
    ("lay", "cut"),
    ("cut", "mark"),
    ("mark", "darts"),
    ("darts", "side"),
    ("tucks", "lining"),
    ("strips", "zip"),
    ("interface", "waist"),
    ("interface", "placket"),
    ("pocket_facing", "pockets"),
    ("pockets", "side"),
    ("side", "pocket_top"),
    ("pocket_top", "waist"),
    ("yoke", "crossing"),
    ("crossing", "zip"),
    ("wrap_facing", "waist"),
    ("wrap_facing", "hem_corners"),
    ("zip", "waist"),
    ("tape", "waist"),
    ("ties", "waist"),
    ("lining_waist", "waist"),
    ("waist", "lining_zip"),
    ("zip", "lining_zip"),
    ("waist", "hang"),
    ("hang", "level"),
    ("level", "hem_corners"),
    ("hem_corners", "hem"),
    ("level", "hem"),
    ("hem", "hem_lining"),
    ("hem_lining", "vent_lining"),
    ("hem", "train_loop"),
    ("level", "hem_overlay"),
    ("bias_seams", "side"),
)
"""What nobody can sew the other way about, whatever the data say."""


def step_faults(rows):
    """What is wrong with an order, whatever the skirt."""
    steps = [row.step for row in rows]
    for first, second in BEFORE:
        if {first, second} <= set(steps):
            last = len(steps) - 1 - steps[::-1].index(first)
            if last > steps.index(second):
                yield f"{second} stands before {first}"
    yield from _closed_before_filled(rows)


def _shut_too_soon(report, rows):
    """A seam that comes to the hem or the waist when that is finished."""
    steps = [row.step for row in rows]
    papers = report.skirt.papers
    for role, step in (("hem", "hem"), ("waist", "waist")):
        if step not in steps:
            continue
        for row in rows[steps.index(step) + 1 :]:
            for sewn in row.seams:
                for run in (run for side in sewn.walked.seam.sides for run in side):
                    paper = papers[run.piece]
                    met = {paper.neighbours[run.edge, end] for end in (True, False)}
                    if paper.is_shell and role in map(paper.role, met):
                        yield f"{sewn.walked.seam.name} is sewn after the {step}"


def _closed_before_filled(rows):
    """By what the rules state: a place that is shut while something goes in later."""
    rules = {rule["says"]: rule for rule in table()["rows"]}
    closed = {}
    for row in rows:
        rule = rules[row.says[0].message]
        for place in {*rule.get("fills", ()), *rule.get("closes", ())} & set(closed):
            if place in rule.get("fills", ()):
                yield f"{row.step} goes into {place}, closed by {closed[place]}"
        closed.update(dict.fromkeys(rule.get("closes", ()), row.step))


def _findings_unanswered(report, facts, rows):
    """What the checks say of the making, and the sheet does not."""
    said = {saying.message for row in rows for saying in row.says}
    findings = table()["findings"]
    warned = [*cautions_of(report, facts, MANNER), *findings_told(report, MANNER)]
    for problem in report.problems:
        answers = findings["order"].get(problem.code)
        if answers is not None and not said & set(answers):
            yield f"{problem.code} has no answer in the order"
        said_so = any(says(problem, MANNER) in words for words in warned)
        if problem.code in findings["cautions"] and not said_so:
            yield f"{problem.code} is not warned of"

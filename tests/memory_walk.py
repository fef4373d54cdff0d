"""A walk over orders on one worktable: after each change all is as on a fresh one.

Nothing of the program is looked into: a walk does what a dressmaker does, and compares
what she sees. It is run by `tests/job/test_walk.py`, and longer, and with faults put
into what is remembered, by `tests/bench/drop_leans.py`.
"""

from __future__ import annotations

from random import Random

from bodies import SAMPLE
from drafting import point, small, square_panel
from skirtwright.draft import styles
from skirtwright.draft.alterations import Alteration
from skirtwright.draft.draft import FORMAT
from skirtwright.draft.pulls import Drag, PullTrials, handles
from skirtwright.draft.step import Reads
from skirtwright.draft.working.tracing import trace
from skirtwright.geometry.point import Point
from skirtwright.job import edits, fitting_edits, piece_edits
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.card import Card
from skirtwright.problems import SkirtwrightError
from skirtwright.telling.sentences import sentence
from skirtwright.words import say

BASIC = ("waist", "hip", "waist_to_hip", "waist_to_knee")
OPTIONAL = ("top_hip", "height", "thigh", "waist_to_floor_side", "knee")


class WentStale(AssertionError):
    """Something remembered was not as fresh."""


def told_of(name, default, least, most, kind="length"):
    """An amount that a draft says of itself."""
    range_ = {"default": default, "least": least, "most": most}
    return {"name": name, "label": name, "kind": kind, **range_}


def tiered(unit):
    """A draft in which groups repeat, begin with something and lean on all panels."""
    return small(
        *square_panel(),
        {"step": "low_left", "kind": "start", "right": "0", "up": "wide / 4"},
        {"step": "low_right", "kind": "start", "right": "20", "up": "wide / 4"},
        {"step": "low", "kind": "join", "through": ["low_left", "low_right"]},
        {"group": "marked", "when": "wide > 7", "steps": [
            {"step": "hip", "kind": "mark", "panel": "panel", "name": "hip",
             "through": ["low_left", "low_right"]},
        ]},
        {"step": "round", "kind": "number", "value": "girth(hip) if wide > 7 else 0"},
        {"group": "tier", "repeat": "count", "start": {"top": "low", "width": "wide"},
         "steps": [
            {"step": "width", "kind": "number", "value": "tier[i - 1].width * 1.5"},
            {"step": "end", "kind": "start", "right": "width", "up": "-3 cm * i"},
            {"step": "from", "kind": "start", "up": "-3 cm * i"},
            {"step": "top", "kind": "join", "through": ["from", "end"]},
            {"step": "cloth", "kind": "rectangle", "wide": "5", "high": "3"},
        ]},
        {"step": "knee_line", "kind": "start", "up": "-waist_to_knee"},
        {"step": "last", "kind": "number", "value": "tier[last].width + 3 + round"},
        {"step": "tip", "kind": "start", "right": "last", "up": "walk(tier[last].top)"},
        amounts=[
            told_of("wide", "6", "4", "9"),
            told_of("count", "2", "1", "4", "count"),
            told_of("loose", "wide / 2 if given(wide) else hip / 10", "0", "40"),
        ],
        choices=[],
        measurements=["hip"],
        pieces=[
            {"name": "tier", "title": f"Tier {{i}} {unit}", "panel": "tier[i].cloth"}
            | {"repeat": "count"},
            {"name": "last", "title": "Last", "panel": "tier[last].cloth"},
        ],
        unit=unit,
        pulls=[{"place": "tip", "amount": "wide"}],
    )  # fmt: skip


SAID = ("slack", "feel", "gather", "lean", "again", "bend", "beyond", "raised")
SAID += ("reach", "slip", "most", "lift")
"""Amounts on each of which one thing hangs: a seam, a mark, a line, what is told."""


MEASURED = (
    ("waist_to_hip", "24 cm"),
    ("waist_to_hip", "16 cm"),
    ("waist_to_hip_left", "19.5 cm"),
    ("waist_to_hip_left", "20.5 cm"),
    ("waist_to_hip_left", None),
    ("waist_to_knee", None),
    ("waist_to_knee", "58 cm"),
)
"""What is measured one after another, each in one unit and the other."""


def panel_of(name, width, height, hem, up=0):
    """Steps for a panel that hangs from its waist, with a hip line 20 cm below."""
    corners = {"a": (0, 0), "b": (width, up), "c": (hem, -height), "d": (0, -height)}
    corners |= {"e": (0, -20), "f": (width, -20)}
    lines = {"waist": "ab", "side": "bc", "hem": "dc", "centre": "ad"}
    return [
        *(point(f"{name}_{n}", *at) for n, at in corners.items()),
        *(
            {"step": f"{name}_{edge}_line", "kind": "join"}
            | {"through": [f"{name}_{end}" for end in ends]}
            for edge, ends in lines.items()
        ),
        {"step": name, "kind": "outline"}
        | {"edges": {edge: f"{name}_{edge}_line" for edge in lines}},
        {"step": f"{name}_hip", "kind": "mark", "panel": name, "name": "hip"}
        | {"through": [f"{name}_e", f"{name}_f"], "level": "hip"},
    ]


def told_much(unit):
    """A draft that tells the checks of itself by amounts nothing else hangs on."""
    roles = {"waist": "waist", "side": "side", "hem": "hem", "centre": "centre"}
    side = {"sides": [["front.side"], ["back.side"]]}
    return small(
        *panel_of("front", 24, 50, 30, "raised"),
        *panel_of("back", 24, 52, 24),
        {"step": "bent", "kind": "curve", "start": "back_d", "end": "back_c"}
        | {"leaving": "-80", "arriving": "80"}
        | {"start_reach": "2 - reach / 2 cm", "end_reach": "2 - reach / 2 cm"},
        {"step": "low", "kind": "outline", "edges": {
            "waist": "back_waist_line", "side": "back_side_line",
            "hem": "bent", "centre": "back_centre_line",
        }},
        amounts=[told_of(name, "0.2 cm", "0 cm", "3 cm") for name in SAID],
        measurements=["hip"],
        pieces=[
            {"name": name, "title": name, "panel": name, "roles": roles, "count": "2"}
            | {"allowances": {"side": "1.5", "hem": "4"}, "turned_up": ["hem"]}
            | ({"worn": "low"} if name == "back" else {})
            for name in ("front", "back", "low")
        ],
        seams=[
            {"name": "side", "ease": "slack * 3 if slack > 1 cm else 0", **side}
            | {"notches": [{"at": "front_f"}]},
            {"name": "other", "sides": [["front.centre"], ["back.side"]]}
            | {"notches": [{"at": "front.centre at 33", "beyond": "beyond"}]},
            # Without marks: they would tell its ease to the pieces.
            {"name": "plain", "ease": "slip / 10"}
            | {"sides": [["front.waist"], ["back.waist"]]},
            {"name": "uneven", "sides": [["back.centre"], ["front.centre"]]}
            | {"notches": [{"at": "back.centre at 51"}]},
            {"name": "more", "when": "again > 1 cm"}
            | {"sides": [["back.centre"], ["low.centre"]]},
        ],
        checks={
            "gathers at side": {"value": "1", "when": "gather > 1 cm"},
            "seam_lean_meant at side": "lean / 1 mm * 1 deg",
            "bend_meant at low.hem": "bend",
            "heavy": {"value": "1", "when": "feel > 1 cm"},
            "waist_raised": "lift",
        },
        unit=unit,
        format=FORMAT,
    )  # fmt: skip


def sought(to):
    """A draft that seeks a number or states it: another draft seeks another."""
    return small(
        *square_panel(),
        {"group": "seeking", "find": {"unknown": "u", "kind": "ratio"}
         | {"wanted": "most > 3", "otherwise": "most / 3"}
         | {"least": "reach", "most": "most", "match": "u * u", "to": to},
         "steps": [{"step": "got", "kind": "number", "value": "u + 1"}]},
        amounts=[
            told_of("most", "9", "1", "9", "ratio"),
            told_of("reach", "0", "0", "3", "ratio"),
        ],
    )  # fmt: skip


def told_in_turn(*names):
    """A draft whose amounts are told in this order: a later one may use an earlier."""
    return small(
        *square_panel(),
        {"step": "got", "kind": "number", "value": "wide + loose"},
        amounts=[told_of(name, "6", "1", "9") for name in names],
    )


def sought_by(**numbers):
    """A draft that seeks `u` by numbers that are worked from it in turn."""
    return small(
        *square_panel(),
        {"group": "seeking", "find": {"unknown": "u", "kind": "ratio"}
         | {"least": "0", "most": "9", "match": "got", "to": "4"},
         "steps": [
            {"step": name, "kind": "number", "value": value}
            for name, value in numbers.items()
         ]},
    )  # fmt: skip


def laid_on_fold(most):
    """A draft whose one piece is cut on the fold where `laid` is more."""
    told = {"name": "back", "title": "back", "panel": "back", "body": "back"}
    told["roles"] = {edge: edge for edge in ("waist", "side", "hem", "centre")}
    return small(
        *panel_of("back", 24, 50, 30),
        amounts=[told_of("laid", "3 cm", "0 cm", "3 cm")],
        pieces=[
            told | {"when": f"laid > {most}", "folds": ["centre"]},
            told | {"when": f"not laid > {most}", "count": "2"},
        ],
        format=FORMAT,
    )


def lacking():
    """A draft with steps that lean on what need not be measured."""
    steps = [
        {"step": f"half_{name}", "kind": "number", "value": f"{name} / 2"}
        for name in OPTIONAL
    ]
    return small(*square_panel(), *steps)


TWINS = (
    (told_in_turn("wide", "loose"), told_in_turn("loose", "wide")),
    (sought_by(got="u + 1"), sought_by(middle="u * 2", got="middle + 1")),
    (laid_on_fold("2 cm"), laid_on_fold("1 cm")),
)
"""Drafts in which the same is read or sought in another way."""

MADE = (
    told_much("cm"),
    told_much("in"),
    tiered("cm"),
    tiered("in"),
    sought("4"),
    sought("5"),
    lacking(),
    *(first for first, _ in TWINS),
)
"""Drafts with what no style of the shelf has; neighbours differ in one thing alone."""

ALTERED = (
    Alteration(what="side_seams", by="-4 mm", first="waist", last="hip"),
    Alteration(what="side_seams", by="4 mm", side="left", first="14 cm", last="hem"),
    Alteration(what="centre_back_seam", by="-3 mm", first="waist", last="9 cm"),
    Alteration(what="level_hem", readings=("30", "30.3", "30.1", "30", "30")),
    Alteration(what="length", by="-1 cm"),
)
"""What is altered at fittings."""

ON_FOLD = (
    Alteration(what="level_hem", readings=("30", "30.3", "30.1", "30", "30")),
    Alteration(what="centre_back_seam", by="-0.3", first="5", last="hem"),
)
"""What is altered on a seam that may be on the fold, without a unit."""

QUICK = 6
"""So many times as many changes are made to what is drawn in a moment."""


def added_options(draft):
    """What a style takes in from additions: choices, each with an option."""
    added = {c.name for name in styles.additions() for c in styles.origin(name).choices}
    return [
        (choice.name, option)
        for choice in draft.choices
        if choice.name in added and choice.when is None
        for option in choice.options
        if option != choice.default
    ]


class Walk:
    """One walk: the same seed takes the same way.

    Args:
        seed: of what is done.
        stay: how many changes are made to each style.
        shelf: the styles it leads over; None for all.
    """

    def __init__(self, seed, stay=5, shelf=None):
        self.random = Random(seed)
        self.drafts = [
            *map(styles.style, styles.names() if shelf is None else shelf),
            *MADE,
        ]
        self.stay = stay
        self.table, self.trials = Worktable(), PullTrials()
        self.done, self.added = [], []
        self.undone: list = []
        measurements = {n: f"{mm:g} mm" for n, mm in SAMPLE.items()}
        self.card = Card(name="Anna", unit="cm", measurements=measurements)

    def go(self):
        """Walk, and raise where something is not as fresh."""
        shelf, made = self.drafts[: -len(MADE)], self.drafts[-len(MADE) :]
        self.random.shuffle(shelf)
        for draft in (*shelf, *made):
            self._opened(draft)
            self._turn_all()
            for number in range(self.stay * (QUICK if draft in made else 1)):
                if number or not self._add():
                    self._change()
                self._compare()
            if draft in made:
                # As it was opened: nothing but the draft is another in the next one.
                self._opened(draft)

    # What is done

    def _opened(self, draft):
        self.job = new_job(draft, self.card)
        self.undone = []
        self.done.append(f"open {draft.id}")
        self._compare()

    def _change(self):
        is_made = self.job.draft in MADE
        acts = {
            self._amount: 6,
            self._amount_again: 20 if is_made else 3,
            self._other_order: 3 if is_made else 1,
            self._choice: 5,
            self._measure: 8 if is_made else 3,
            self._sides: 2,
            self._piece: 3,
            self._alter: 2,
            self._undo: 3,
            self._unit: 1,
        }
        act = self.random.choices(list(acts), list(acts.values()))[0]
        try:
            changed = act()
        except SkirtwrightError:
            return
        if changed is not None:
            if act != self._undo:
                self.undone.append(self.job)
            self.job = changed

    def _add(self):
        """An addition taken in, of those the style has the one seen least."""
        known = added_options(self.job.draft)
        if not known:
            return False
        self.random.shuffle(known)
        name, option = min(known, key=self.added.count)
        self.added.append((name, option))
        self._say("addition", name, option)
        self.undone.append(self.job)
        self.job = edits.set_choice(self.job, name, option).job
        return True

    def _say(self, *words):
        self.done.append(" ".join(map(str, words)))

    def _amount(self):
        states = [s for s in self.look.worked.stated.amounts.values() if s.applies]
        return self._set(self.random.choice(states)) if states else None

    def _amount_again(self):
        """One of those that were set last, or that little hangs on, set once more."""
        known = self.look.worked.stated.amounts
        said = [name for name in SAID if name in known]
        if said:
            return self._turned(known[self.random.choice(said)])
        names = list(self.job.amounts)[-2:]
        states = [known[name] for name in names if known[name].applies]
        return self._set(self.random.choice(states)) if states else None

    def _turn_all(self):
        """Each thing on which one answer hangs is turned, and turned back."""
        for name in SAID * 2:
            known = self.look.worked.stated.amounts
            if name in known:
                self.job = self._turned(known[name])
                self._compare()
        if self.job.draft not in MADE:
            return
        for name, text in MEASURED:
            self._say("measure", name, text)
            self.job = edits.set_measurement(self.job, name, text).job
            self._compare()
            self.job = self._other_order()
            self._compare()
        self._turn_fold()
        self._turn_draft()

    def _turn_fold(self):
        """A seam is altered on the fold and off it, in one unit and the other."""
        if self.job.draft.amount("laid") is None:
            return
        for laid, altered in (("3 cm", ON_FOLD), ("0 cm", ())):
            self.job = edits.set_amount(self.job, "laid", laid).job
            self._say("amount", "laid", laid)
            self._compare()
            for made in altered:
                self._say("alter", made.what)
                stated = self.look.worked.stated
                self.job = fitting_edits.alter(self.job, made, stated).job
                self._compare()
        self.job = self._other_order()
        self._compare()

    def _turn_draft(self):
        """The same order of a draft that is worked in another way, and back."""
        for first, second in TWINS:
            if self.job.draft is not first:
                continue
            for name, text in (("loose", "wide / 2"), ("laid", "1.5 cm")):
                if first.amount(name):
                    self._say("amount", name, text)
                    self.job = edits.set_amount(self.job, name, text).job
                    self._compare()
            before = self.job
            for draft in (second, first):
                self._say("other draft")
                self.undone.append(before)
                self.job = before.replace(draft=draft)
                self._compare()

    def _turned(self, state):
        """An amount set from one end of its range to the other."""
        is_low = state.value < (state.least + state.most) / 2
        unit = " mm" if state.amount.kind == "length" else ""
        text = f"{state.most if is_low else state.least:g}{unit}"
        self._say("amount turned", state.amount.name, text)
        return edits.set_amount(self.job, state.amount.name, text).job

    def _set(self, state):
        text = self._typed(state)
        self._say("amount", state.amount.name, text)
        return edits.set_amount(self.job, state.amount.name, text).job

    def _other_order(self):
        """An order in which the same was typed in another unit."""
        unit = "in" if self.job.unit == "cm" else "cm"
        self._say("other order in", unit)
        return self.job.replace(unit=unit)

    def _typed(self, state):
        value = self.random.choice(
            [None, state.default, state.least, state.most, self._between(state)]
        )
        if value is None:
            return None
        if state.amount.kind == "length":
            if self.random.random() < 0.3:
                return f"hip * {value / SAMPLE['hip']:.5f}"
            return f"{value / (10 if self.job.unit == 'cm' else 25.4):.3f}"
        if state.amount.kind == "count":
            return f"{round(value)}"
        return f"{value:.4f}"

    def _between(self, state):
        return state.least + (state.most - state.least) * self.random.random()

    def _choice(self):
        if not self.job.draft.choices:
            return None
        choice = self.random.choice(self.job.draft.choices)
        option = self.random.choice(list(choice.options))
        self._say("choice", choice.name, option)
        return edits.set_choice(self.job, choice.name, option).job

    def _measure(self):
        given = self.job.card.measurements
        needed = self.job.draft.measurements
        known = BASIC if self.random.random() < 0.5 else OPTIONAL
        name = self.random.choice(known)
        text = f"{SAMPLE.get(name, 400) * self.random.uniform(0.97, 1.03):.1f} mm"
        if name not in needed and name in given and self.random.random() < 0.5:
            text = None
        self._say("measure", name, text)
        return edits.set_measurement(self.job, name, text).job

    def _sides(self):
        text = self.random.choice([None, "19.5 cm", "20.5 cm"])
        self._say("waist_to_hip_left", text)
        return edits.set_measurement(self.job, "waist_to_hip_left", text).job

    def _piece(self):
        if not self.look.pieces:
            return None
        piece = self.random.choice(self.look.pieces)
        edge = self.random.choice(piece.edges).name
        text = self.random.choice([None, "1", "2.5", "hip / 50"])
        self._say("piece", piece.name, edge, text)
        which = self.random.randrange(4)
        if which == 0:
            return piece_edits.rename_piece(self.job, piece.name, text and "Hers").job
        if which == 1:
            return piece_edits.show_piece(self.job, piece.name, text is None).job
        if which == 2:
            return piece_edits.add_notch(self.job, piece.name, edge, text or "2").job
        return piece_edits.set_allowance(self.job, piece.name, edge, text).job

    def _alter(self):
        """A seam or the hem altered, or the first of what was altered taken back."""
        stated = self.look.worked.stated
        if self.job.fitting and self.random.random() < 0.5:
            self._say("take back")
            return fitting_edits.without(self.job, 0, stated).job
        made = self.random.choice(ALTERED)
        self._say("alter", made.what, made.side, made.by)
        return fitting_edits.alter(self.job, made, stated).job

    def _undo(self):
        self._say("undo")
        return self.undone.pop() if self.undone else None

    def _unit(self):
        self._say("unit")
        return edits.set_unit(self.job, self.random.choice(["cm", "in"])).job

    # What is compared

    def _compare(self):
        look = self._looked(self.table)
        fresh = self._looked(Worktable())
        if isinstance(look, SkirtwrightError) or isinstance(fresh, SkirtwrightError):
            self._same(
                "refusal", *(repr(getattr(x, "problem", x)) for x in (look, fresh))
            )
            self.job = self.undone.pop() if self.undone else self.job
            self.look = self.table.look(self.job)
            return
        self.look = look
        self._same_look(look, fresh)
        self._same_words(look.worked, fresh.worked)
        self._pulled(look, fresh)

    def _looked(self, table, provisional=None):
        try:
            return table.look(self.job, provisional)
        except SkirtwrightError as error:
            return error

    def _same(self, what, one, other):
        if one != other:
            raise WentStale(f"{what} after {'; '.join(self.done[-12:])}")

    def _same_look(self, look, fresh):
        for what in ("values", "problems", "stated", "made_by"):
            one, other = (getattr(each.worked, what) for each in (look, fresh))
            if what == "stated":
                one, other = ((s.amounts, s.values, s.problems) for s in (one, other))
            self._same(what, one, other)
        for what in ("pieces", "shown", "problems"):
            self._same(what, getattr(look, what), getattr(fresh, what))
        self._same("seams", look.report.cut.seams, fresh.report.cut.seams)
        self._same("finished", look.report.finished, fresh.report.finished)
        self._same("points", handles(look.worked), handles(fresh.worked))

    def _same_words(self, worked, fresh):
        paths = sorted({path for made in worked.made_by.values() for path in made})
        for path in self.random.sample(paths, min(5, len(paths))):
            said = [sentence(each, path) for each in (worked, fresh)]
            self._same(path, *(say(one.message, one.values) for one in said))
        names = sorted(worked.made_by)
        if names:
            name = self.random.choice(names)
            self._same(f"what {name} hangs on", trace(worked, name), trace(fresh, name))

    def _pulled(self, look, fresh):
        """A pull point, and what a pull of it draws, as on a fresh worktable."""
        points = handles(look.worked)
        if not points or not look.drawn or self.random.random() < 0.5:
            return
        point = self.random.choice(points)
        others = {handle.amount for handle in points}
        amount = self.random.choice([point.amount, *sorted(others)])
        value = self._between(look.worked.stated.amounts[amount])
        pulled = {amount: value}
        place = self.trials.place(look.worked, point, pulled)
        whole = self._looked(Worktable(), pulled)
        self.done.append(f"pull {point.place} by {amount} to {value:.3f}")
        if place is not None and not isinstance(whole, SkirtwrightError):
            self._same("place", place, _read(whole.worked, point.place))
            held = self.table.look(self.job, pulled)
            self._same_look(self.table.look(self.job), fresh)
            # What is found of it is worked when it is asked for, here after another.
            self._same_look(held, whole)
        if self.random.random() < 0.2:
            away = Point(self.random.uniform(-30, 30), self.random.uniform(-30, 30))
            drags = [
                Drag(trials, each.worked, point, point.point).to(point.point + away)
                for trials, each in ((self.trials, look), (PullTrials(), fresh))
            ]
            self._same("pull", *drags)


def _read(worked, place):
    try:
        return worked.read(place, Reads.PLACE)
    except SkirtwrightError:
        return None

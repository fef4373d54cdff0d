"""Every name a draft uses, looked for before anything is worked.

A pass down the draft learns what there is: measurements, choices, amounts, what steps
make, and which edges and marks each panel may have. Then each name that is used is
looked for, whether it is worked just now or not, so that no part of a draft is lost
because its name was misspelt.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from string import Formatter
from typing import Any

from skirtwright import shelf
from skirtwright.budget import MOST_LISTED
from skirtwright.draft.counting import whole_number
from skirtwright.draft.draft import (
    FINISHED,
    MOST_ALLOWANCE,
    WORKINGS,
    AllowanceRun,
    Amount,
    Draft,
    Group,
    PieceOf,
    Seam,
    Told,
    WorkingOf,
)
from skirtwright.draft.inputs import READS
from skirtwright.draft.kinds.numbers import Check
from skirtwright.draft.kinds.pleating import AddPleats
from skirtwright.draft.known_names import TURN, plain_path
from skirtwright.draft.name_lookup import NameLookup, nothing_called
from skirtwright.draft.runs import Run
from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.step import Reads, Step
from skirtwright.draft.unused_names import (
    check_steps_used,
    check_used,
    places,
    unused_steps,
    without,
)
from skirtwright.measures.measurements import measurements
from skirtwright.measures.working_parsing import parse_working
from skirtwright.measures.working_renaming import names_of
from skirtwright.problems import BadInput, told_of


def check_names(draft: Draft, what: str, own: Draft | None = None) -> None:
    """Look for every name that a draft uses.

    Args:
        draft: with the drafts it grows from copied in.
        what: the file it is from.
        own: as the file was written, before anything was copied in: what its own steps
            make is used, too.

    Raises:
        BadInput: one is not there, or nothing asks for it; its place and the nearest
            name are told.
    """
    found = _lookup_of(draft, what)
    if own is not None:
        check_steps_used(found, frozenset(places(own.steps, "steps.")))


def without_unused(draft: Draft) -> Draft:
    """The draft without the steps that draw what nothing asks for.

    What a style grew from may find more than this one needs.
    """
    left = None
    while left != (left := unused_steps(_lookup_of(draft, draft.id))):
        draft = draft.replace(steps=without(draft.steps, "steps.", left))
    return draft


def _lookup_of(draft: Draft, what: str) -> NameLookup:
    found = _EveryName(draft, what)
    found.all()
    check_used(found)
    return found


class _EveryName(NameLookup):
    """Every place where a draft names something."""

    def all(self) -> None:
        """Look for every name.

        Raises:
            BadInput: one is not there.
        """
        draft = self.draft
        if draft.adds:
            raise BadInput("draft.adds_to_nothing", "adds", what=self.what)
        self._refuse_repeats()
        self.each("measurements", draft.measurements, measurements())
        self.each("first", draft.first, self.amounts)
        self.each("sample", [draft.sample], shelf.names("cards", ".json"))
        for choice in draft.choices:
            self.text(f"choices.{choice.name}.when", choice.when, Reads.WHETHER)
        for amount in draft.amounts:
            at = f"amounts.{amount.name}"
            self._named_workings(amount, f"{at}.where")
            for key in WORKINGS:
                self.text(f"{at}.{key}", amount.working(key), READS[amount.kind])
            self._range(amount, at)
            self.text(f"{at}.when", amount.when, Reads.WHETHER)
        self._steps(draft.steps, (), "steps.")
        for piece in draft.pieces:
            self._piece(piece, f"pieces.{piece.name}")
        for seam in draft.seams:
            self._seam(seam, f"seams.{seam.name}")
        self._figures()
        self._told("checks", draft.checks)
        self._told("sewing", draft.sewing)

    def _range(self, amount: Amount, at: str) -> None:
        """A range that hangs on nobody's measurements is one, with its default in it.

        Another is found from the body, and may be empty for some.
        """
        said = {key: self._figure(amount, key) for key in WORKINGS}
        least, most, default = (said[key] for key in ("least", "most", "default"))
        if least is not None and most is not None and least > most:
            self.refuse("draft.range_empty", at, amount.name, "")
        for key, bound in (("least", least), ("most", most)):
            if default is None or bound is None:
                continue
            if default < bound if key == "least" else default > bound:
                self.refuse("draft.default_beyond", f"{at}.{key}", amount.name, "")

    def _figure(self, amount: Amount, key: WorkingOf) -> float | None:
        """What a working of plain figures comes to; None where it names anything."""
        return self.plain_figure(amount.working(key), READS[amount.kind])

    def _refuse_repeats(self) -> None:
        """Nothing is nameless, and nothing stands twice where one of it would do."""
        draft = self.draft
        self._check_listed_once("id", [draft.id])
        self._check_listed_once("measurements", draft.measurements)
        self._check_listed_once("first", draft.first)
        self._check_listed_once("amounts", [amount.name for amount in draft.amounts])
        self._check_listed_once("choices", [choice.name for choice in draft.choices])
        for number, piece in enumerate(draft.pieces):
            at = f"pieces.{piece.name or number}"
            self._check_listed_once("pieces", [piece.name])
            self._check_listed_once(f"{at}.material", [piece.material])
            for key in ("folds", "turned_up", "lines"):
                self._check_listed_once(f"{at}.{key}", getattr(piece, key))
        for seam in draft.seams:
            self._check_listed_once("seams", [seam.name])

    def _check_listed_once(self, at: str, names: Sequence[str]) -> None:
        for number, name in enumerate(names):
            if not name.strip():
                self.refuse("draft.nameless", at, name, "")
            if name in names[:number]:
                self.refuse("draft.listed_twice", f"{at}.{name}", name, "")

    def _named_workings(self, amount: Amount, at: str) -> None:
        """What an amount's workings have in common: named anew, and asked for."""
        for name in amount.where:
            if name in self.names:
                self.refuse("draft.name_taken", f"{at}.{name}", name, "")
            later = list(amount.where)[list(amount.where).index(name) + 1 :]
            texts = [amount.where[other] for other in later]
            texts += [amount.default, amount.least, amount.most]
            if not any(name in names_of(parse_working(text)) for text in texts):
                self.refuse("draft.unused", f"{at}.{name}", name, "")

    def _figures(self) -> None:
        """Finished measures, room to walk and pulls."""
        draft = self.draft
        self.each("finished", draft.finished, FINISHED)
        for name, text in draft.finished.items():
            self.text(f"finished.{name}", text, Reads.LENGTH)
        for number, level in enumerate(draft.stride):
            self.text(f"stride.{number}", level.girth, Reads.LENGTH)
            self.text(f"stride.{number}", level.below_waist, Reads.LENGTH)
        for number, pull in enumerate(draft.pulls):
            at = f"pulls.{number}"
            named = (pull.amount, *([pull.second] if pull.second else ()))
            self.each(at, named, self.amounts)
            self.text(f"{at}.place", pull.place, Reads.PLACE)
            self.text(f"{at}.when", pull.when, Reads.WHETHER)

    def _steps(self, items: Iterable[Any], within: tuple[str, ...], at: str) -> None:
        met: set[str] = set()
        for item in items:
            name = item.group if isinstance(item, Group) else item.step
            self._check_listed_once(at.removesuffix("."), [name])
            if name in met:
                # One of the two would be worked by the other's conditions.
                self.refuse("draft.named_twice", f"{at}{name}", name, "")
            met.add(name)
            if not isinstance(item, Group):
                self._step(item, within, at + item.step)
                continue
            here = at + item.group
            inside = self.known.enter(item, within)
            self.text(f"{here}.when", item.when, Reads.WHETHER, within)
            self.text(f"{here}.repeat", item.repeat, Reads.RATIO, within)
            for name, text in item.start.items():
                self.any(f"{here}.start.{name}", text, within)
            if item.find is not None:
                for key in ("least", "most", "match", "to", "otherwise"):
                    text = getattr(item.find, key)
                    self.text(f"{here}.{key}", text, Reads.FIGURE, within)
                self.text(f"{here}.wanted", item.find.wanted, Reads.WHETHER, within)
            self._steps(item.steps, inside, f"{here}.")

    def _step(self, step: Step, within: tuple[str, ...], at: str) -> None:
        for field, how in type(step).reading().items():
            for text in _texts(getattr(step, field)):
                self.text(f"{at}.{field}", text, how, within)
        if isinstance(step, Check):
            shown = {*_shown(step.says), *_shown(step.remedy)}
            self.each(f"{at}.says", shown, step.values)
            self.each(f"{at}.values", step.values, shown)
        if isinstance(step, AddPleats) and step.dart:
            fold = Fold.of(step.dart)
            if fold is None or fold.kind != "dart" or fold.number < 1:
                self.lost(f"{at}.dart", step.dart, [str(Fold("dart", 1))])
        self.make(step, within, at)
        for field, panel in type(step).on_edges():
            named = getattr(step, field)
            base = self.known.find(plain_path(getattr(step, panel) or ""), within)[0]
            for edge in _texts(list(named) if isinstance(named, dict) else named):
                if edge:
                    self.part(f"{at}.{field}", base, Run.of(edge).edge)

    def _piece(self, piece: PieceOf, at: str) -> None:
        panel = self.panel(f"{at}.panel", piece.panel)
        if piece.worn is not None:
            self.panel(f"{at}.worn", piece.worn)
        if piece.whole is not None:
            others = [one for one in self.draft.pieces if one is not piece]
            halves = (name for one in others for name in (one.whole, one.name) if name)
            self.each(f"{at}.whole", [piece.whole], halves)
        self.text(f"{at}.repeat", piece.repeat, Reads.RATIO)
        self.text(f"{at}.when", piece.when, Reads.WHETHER)
        self.text(f"{at}.count", piece.count, Reads.RATIO)
        count = self.plain_figure(piece.count, Reads.RATIO)
        if count is not None and whole_number(count, 1) is None:
            beyond = BadInput("pieces.count", piece.name, count=count)
            raise told_of(beyond, f"{self.what}, {at}.count")
        edges = {
            "folds": piece.folds,
            "allowances": piece.allowances,
            "turned_up": piece.turned_up,
            "corners": (place.rpartition(" ")[0] for place in piece.corners),
            "roles": piece.roles,
            "lines": piece.lines,
        }
        for key, named in edges.items():
            for edge in named:
                self.part(f"{at}.{key}", panel, edge)
        for place in piece.corners:
            self.each(f"{at}.corners", [place.rpartition(" ")[2]], ("start", "end"))
        for edge, width in piece.allowances.items():
            self._width(f"{at}.allowances.{edge}", width)
        if piece.grain is not None and "." in TURN.sub("", piece.grain):
            self.text(f"{at}.grain", piece.grain, Reads.LINE)
        elif piece.grain is not None:
            self.text(f"{at}.grain", piece.grain, Reads.DEGREES)

    def _width(self, at: str, width: str | tuple[AllowanceRun, ...]) -> None:
        """The width of an edge, or its runs: each but the last says how far it goes."""
        if isinstance(width, str):
            self.text(at, width, Reads.LENGTH)
            self._can_be_cut(at, width)
            return
        open_runs = [run for run in width if run.to is None]
        if len(width) > MOST_LISTED:
            values = {"what": self.what, "place": at, "most": MOST_LISTED}
            raise BadInput("json.too_many", at, **values)
        if not width or open_runs != [width[-1]]:
            self.refuse("draft.last_run_open", at, at.rpartition(".")[2], "")
        for run in width:
            self.text(at, run.width, Reads.LENGTH)
            self._can_be_cut(at, run.width)
            self.text(at, run.to, Reads.LENGTH)

    def _can_be_cut(self, at: str, text: str) -> None:
        """A width of plain figures is one that can be cut, taken just now or not."""
        width = self.plain_figure(text, Reads.LENGTH)
        if width is not None and not 0 <= width <= MOST_ALLOWANCE:
            values = {"width": width, "most": MOST_ALLOWANCE}
            beyond = BadInput("pieces.allowance_beyond", at, **values)
            raise told_of(beyond, f"{self.what}, {at}")

    def _seam(self, seam: Seam, at: str) -> None:
        cut = {plain_path(piece.panel) for piece in self.draft.pieces}
        for run in (run for side in seam.sides for run in side):
            base = self.panel(f"{at}.sides", plain_path(run.piece), cut)
            self.part(f"{at}.sides", base, plain_path(run.edge))
        self.text(f"{at}.repeat", seam.repeat, Reads.RATIO)
        self.text(f"{at}.ease", seam.ease, Reads.LENGTH)
        self.text(f"{at}.when", seam.when, Reads.WHETHER)
        for mark in seam.notches:
            self.text(f"{at}.notches", mark.at, Reads.PLACE)
            self.text(f"{at}.notches", mark.beyond, Reads.LENGTH)
            self.text(f"{at}.notches", mark.when, Reads.WHETHER)

    def _told(self, key: str, said: Mapping[str, str | Told]) -> None:
        """What the draft says of itself: known facts, of edges that are there."""
        known = _told_kinds(key)
        panels = {piece.name: plain_path(piece.panel) for piece in self.draft.pieces}
        seams = [seam.name for seam in self.draft.seams]
        repeated = {p.name for p in self.draft.pieces if p.repeat is not None}
        repeated |= {s.name for s in self.draft.seams if s.repeat is not None}
        for name, told in said.items():
            fact, _, place = name.partition(" at ")
            self.each(key, [fact], known)
            piece, dot, edge = place.partition(".")
            whole, _, turn = piece.rpartition("_")
            piece = whole if whole in repeated and turn.isdigit() else piece
            if dot:
                self.each(f"{key}.{name}", [piece], panels)
                self.part(f"{key}.{name}", panels[piece], edge)
            elif place and key == "checks":
                self.each(f"{key}.{name}", [piece], (*panels, *seams))
            self._saying(f"{key}.{name}", Told.of(told), known[fact])

    def _saying(self, at: str, told: Told, kind: str | list[str]) -> None:
        """A working, or one of the words of a fact or a choice that gives one."""
        self.text(at, told.when, Reads.WHETHER)
        if isinstance(kind, str):
            self.text(at, told.value, Reads.FIGURE)
        else:
            self.each(at, [told.value], (*kind, *self.choices))
            self.used.add(told.value)


_TOLD_AS = {"length": Reads.LENGTH, "angle": Reads.DEGREES, "number": Reads.RATIO}
"""As what a fact of each kind is read."""


def told_workings(draft: Draft) -> Iterator[tuple[str, str, Reads]]:
    """Place, text and reading of all that a draft says of the finished skirt.

    Nothing is drawn from these: one that cannot be read would be missed by nobody.
    """
    for name, text in draft.finished.items():
        yield f"finished.{name}", text, Reads.LENGTH
    for number, level in enumerate(draft.stride):
        for key, text in level:
            yield f"stride.{number}.{key}", text, Reads.LENGTH
    for number, pull in enumerate(draft.pulls):
        yield f"pulls.{number}.place", pull.place, Reads.PLACE
        if pull.when:
            yield f"pulls.{number}.when", pull.when, Reads.WHETHER
    for key, said in (("checks", draft.checks), ("sewing", draft.sewing)):
        kinds = _told_kinds(key)
        for name, saying in said.items():
            told, fact = Told.of(saying), name.partition(" at ")[0]
            kind = kinds.get(fact)
            if told.when:
                yield f"{key}.{name}.when", told.when, Reads.WHETHER
            if isinstance(kind, str):
                yield f"{key}.{name}", told.value, _TOLD_AS[kind]


def unknown_facts(draft: Draft) -> Iterator[BadInput]:
    """What a draft says of the finished skirt that nobody asks for, if anything."""
    for key, said in (("checks", draft.checks), ("sewing", draft.sewing)):
        known = _told_kinds(key)
        for fact in sorted({name.partition(" at ")[0] for name in said} - set(known)):
            yield nothing_called(draft.id, key, fact, known)


def _told_kinds(key: str) -> Mapping[str, Any]:
    """What a draft may tell the checks, or the sewing, with the kind of each."""
    if key == "checks":
        stated = shelf.read_json("checks.json")["stated"]
        return {name: kind for name, kind in stated.items() if name != "source"}
    told = shelf.read_json("sewing.json")["told"]
    return {name: fact["kind"] for name, fact in told.items() if name != "source"}


def _shown(text: str) -> Iterator[str]:
    """The names in braces of a sentence."""
    try:
        fields = [field for _, field, _, _ in Formatter().parse(text)]
    except ValueError:
        # A brace that is not closed: the sentence shows nothing.
        return
    yield from (field.partition(":")[0] for field in fields if field)


def _texts(value: Any) -> Iterator[str]:
    """Every text of a field, however deep in lists it stands."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for item in value.values():
            yield from _texts(item)
    elif value is not None:
        for item in value:
            yield from _texts(item)

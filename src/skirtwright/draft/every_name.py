"""Every name a draft uses, looked for before anything is worked.

A pass down the draft learns what there is: measurements, choices, amounts, what steps
make, and which edges and marks each panel may have. Then each name that is used is
looked for, whether it is worked just now or not, so that no part of a draft is lost
because its name was misspelt.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping, Sequence
from string import Formatter
from typing import Any, NoReturn

from skirtwright import shelf
from skirtwright.budget import MOST_LISTED, spend
from skirtwright.draft.counting import whole_number
from skirtwright.draft.draft import (
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
from skirtwright.draft.kinds.numbers import Check, Number
from skirtwright.draft.kinds.panels import Outline
from skirtwright.draft.kinds.pleating import AddPleats
from skirtwright.draft.known_names import SEVERAL, TURN, KnownNames, plain_path
from skirtwright.draft.names import Names, StandingScope
from skirtwright.draft.runs import Run
from skirtwright.draft.shapes.folds import DART_PARTS, Fold
from skirtwright.draft.step import Reads, Step
from skirtwright.draft.step_fields import read_text
from skirtwright.measures.measurements import measurements
from skirtwright.measures.working_renaming import names_of
from skirtwright.measures.workings import (
    Call,
    Is,
    Name,
    Place,
    parse_condition,
    parse_place,
    parse_working,
)
from skirtwright.problems import BadInput, SkirtwrightError, nearest, told_of

_DART = frozenset(f"dart[].{part}" for part in DART_PARTS)
_MADE_FOR_ALL = frozenset({"pi", "i"})

_ALIKE, _MUCH_ALIKE = 0.4, 0.75
"""How like a name is to one that was meant: at all, and hardly by chance."""

_COMPARED = 4
"""So many names held against another are as much work as to find a point."""


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
    looking = _Looking(draft, what)
    looking.all()
    if own is not None:
        looking.all_used(frozenset(places(own.steps, "steps.")))


def without_unused(draft: Draft) -> Draft:
    """The draft without the steps that draw what nothing asks for.

    What a style grew from may find more than this one needs.
    """
    left = None
    while left != (left := _Looking(draft, draft.id).unused_steps()):
        draft = draft.model_copy(update={"steps": _left(draft.steps, "steps.", left)})
    return draft


class _Looking:
    """The search for what a draft uses."""

    def __init__(self, draft: Draft, what: str) -> None:
        self.draft = draft
        self.what = what
        self.choices = {choice.name: choice.options for choice in draft.choices}
        self.amounts = [amount.name for amount in draft.amounts]
        self.known = KnownNames(draft)
        self.names, self.parts = self.known.names, self.known.parts
        self.used: set[str] = set()
        self.parts_used: set[str] = set()
        self.outlines: list[tuple[str, str, Mapping[str, str]]] = []
        self.made: list[tuple[str, Step, tuple[str, ...]]] = []
        """Each step that makes something new: its place, and the full names."""

    # The search

    def all(self) -> None:
        """Look for every name.

        Raises:
            BadInput: one is not there.
        """
        draft = self.draft
        if draft.adds:
            raise BadInput("draft.adds_to_nothing", "adds", what=self.what)
        self._each_once()
        self._each("measurements", draft.measurements, measurements())
        self._each("first", draft.first, self.amounts)
        self._each("sample", [draft.sample], shelf.names("cards", ".json"))
        for choice in draft.choices:
            self._text(f"choices.{choice.name}.when", choice.when, Reads.WHETHER)
        for amount in draft.amounts:
            at = f"amounts.{amount.name}"
            self._where(amount, f"{at}.where")
            for key in WORKINGS:
                self._text(f"{at}.{key}", amount.working(key), READS[amount.kind])
            self._range(amount, at)
            self._text(f"{at}.when", amount.when, Reads.WHETHER)
        self._steps(draft.steps, (), "steps.")
        for piece in draft.pieces:
            self._piece(piece, f"pieces.{piece.name}")
        for seam in draft.seams:
            self._seam(seam, f"seams.{seam.name}")
        self._figures()
        self._told("checks", draft.checks)
        self._told("sewing", draft.sewing)
        self._unused()
        self._unused_edges()
        self._alike("pieces", [piece.name for piece in draft.pieces])
        cloths = dict.fromkeys((*CLOTHS, *(piece.material for piece in draft.pieces)))
        for number, cloth in enumerate(cloths):
            near = nearest(cloth, list(cloths)[:number], _MUCH_ALIKE)
            if near:
                self._refuse("draft.letter_apart", f"cloths.{cloth}", cloth, near)
        self._alike("seams", [seam.name for seam in draft.seams])
        for panel, parts in self.parts.items():
            self._alike(f"steps.{panel}", list(parts))

    def _range(self, amount: Amount, at: str) -> None:
        """A range that hangs on nobody's measurements is one, with its default in it.

        Another is found from the body, and may be empty for some.
        """
        said = {key: self._figure(amount, key) for key in WORKINGS}
        least, most, default = (said[key] for key in ("least", "most", "default"))
        if least is not None and most is not None and least > most:
            self._refuse("draft.range_empty", at, amount.name, "")
        for key, bound in (("least", least), ("most", most)):
            if default is None or bound is None:
                continue
            if default < bound if key == "least" else default > bound:
                self._refuse("draft.default_beyond", f"{at}.{key}", amount.name, "")

    def _figure(self, amount: Amount, key: WorkingOf) -> float | None:
        """What a working of plain figures comes to; None where it names anything."""
        return self._plain_figure(amount.working(key), READS[amount.kind])

    def _plain_figure(self, text: str, how: Reads) -> float | None:
        if _names_anything(parse_working(text)):
            return None
        scope = StandingScope(Names({}), self.draft.unit)
        return float(read_text(text, how, scope)[0].work({}))

    def _each_once(self) -> None:
        """Nothing is nameless, and nothing stands twice where one of it would do."""
        draft = self.draft
        self._once("id", [draft.id])
        self._once("measurements", draft.measurements)
        self._once("first", draft.first)
        self._once("amounts", [amount.name for amount in draft.amounts])
        self._once("choices", [choice.name for choice in draft.choices])
        for number, piece in enumerate(draft.pieces):
            at = f"pieces.{piece.name or number}"
            self._once("pieces", [piece.name])
            self._once(f"{at}.material", [piece.material])
            for key in ("folds", "turned_up", "lines"):
                self._once(f"{at}.{key}", getattr(piece, key))
        for seam in draft.seams:
            self._once("seams", [seam.name])

    def _once(self, at: str, names: Sequence[str]) -> None:
        for number, name in enumerate(names):
            if not name.strip():
                self._refuse("draft.nameless", at, name, "")
            if name in names[:number]:
                self._refuse("draft.listed_twice", f"{at}.{name}", name, "")

    def _where(self, amount: Amount, at: str) -> None:
        """What an amount's workings have in common: named anew, and asked for."""
        for name in amount.where:
            if name in self.names:
                self._refuse("draft.name_taken", f"{at}.{name}", name, "")
            later = list(amount.where)[list(amount.where).index(name) + 1 :]
            texts = [amount.where[other] for other in later]
            texts += [amount.default, amount.least, amount.most]
            if not any(name in names_of(parse_working(text)) for text in texts):
                self._refuse("draft.unused", f"{at}.{name}", name, "")

    def _figures(self) -> None:
        """Finished measures, room to walk and handles."""
        draft = self.draft
        self._each("finished", draft.finished, FINISHED)
        for name, text in draft.finished.items():
            self._text(f"finished.{name}", text, Reads.LENGTH)
        for number, level in enumerate(draft.stride):
            self._text(f"stride.{number}", level.girth, Reads.LENGTH)
            self._text(f"stride.{number}", level.below_waist, Reads.LENGTH)
        for number, handle in enumerate(draft.handles):
            at = f"handles.{number}"
            named = (handle.amount, *([handle.second] if handle.second else ()))
            self._each(at, named, self.amounts)
            self._text(f"{at}.place", handle.place, Reads.PLACE)
            self._text(f"{at}.when", handle.when, Reads.WHETHER)

    def _unused(self) -> None:
        """An amount or choice that nothing asks for was meant to be another.

        So was what a step makes, where it is a letter off a name that is there.
        """
        asked = [*self.amounts, *self.choices]
        for name in asked:
            if name not in self.used:
                kind = "amounts" if name in self.amounts else "choices"
                near = nearest(name, [other for other in asked if other != name])
                code = "draft.unused_near" if near else "draft.unused"
                self._refuse(code, f"{kind}.{name}", name, near)
        used = self.used | {plain_path(piece.panel) for piece in self.draft.pieces}
        for name in [name for name in self.names if name not in used]:
            spend("points", 1 + len(self.names) // _COMPARED)
            near = next((other for other in self.names if _slip(name, other)), "")
            if near and name not in measurements():
                self._refuse("draft.unused_near", f"steps.{name}", name, near)

    def _unused_edges(self) -> None:
        """An edge that nothing asks for was meant to be one that its outline lacks.

        The other outlines of the panel, drawn where this one is not, may have it.
        """
        for at, panel, edges in self.outlines:
            named = {plain_path(edge) for edge in edges}
            lacks = self.parts_used.intersection(self.parts[panel]) - named
            for edge in sorted(named - self.parts_used):
                near = nearest(edge, sorted(lacks))
                if near:
                    self._refuse("draft.unused_near", f"{at}.edges", edge, near)

    def all_used(self, places: frozenset[str]) -> None:
        """What the steps at these places make is asked for somewhere.

        Else it was meant to be what another makes under other conditions, and is
        missed where they do not hold.

        Raises:
            BadInput: nothing asks for it.
        """
        unused = self._unused_steps()
        for at, step, names in self.made:
            if at in places and at in unused:
                self._unasked(at, names[0], self.used, _offered(step))
            for part in _parts_written(step) if at in places else ():
                if part not in self.parts_used:
                    self._unasked(at, part, self.parts_used)

    def unused_steps(self) -> frozenset[str]:
        """The places of steps that make only what nothing asks for."""
        self.all()
        return self._unused_steps()

    def _unused_steps(self) -> frozenset[str]:
        used = self.used | {plain_path(piece.panel) for piece in self.draft.pieces}
        return frozenset(
            at for at, _, names in self.made if names and used.isdisjoint(names)
        )

    def _unasked(
        self, at: str, name: str, known: Iterable[str], offered: bool = False
    ) -> None:
        near = nearest(name, sorted(known), _MUCH_ALIKE if offered else _ALIKE)
        if near or not offered:
            code = "draft.unused_near" if near else "draft.unused"
            self._refuse(code, at, name, near)

    def _alike(self, at: str, names: list[str]) -> None:
        """Two names a letter apart were meant to be one."""
        for number, name in enumerate(names):
            spend("points", 1 + number // _COMPARED)
            near = next((other for other in names[:number] if _slip(name, other)), "")
            if near:
                self._refuse("draft.letter_apart", f"{at}.{name}", name, near)

    def _steps(self, items: Iterable[Any], within: tuple[str, ...], at: str) -> None:
        met: set[str] = set()
        for item in items:
            name = item.group if isinstance(item, Group) else item.step
            self._once(at.removesuffix("."), [name])
            if name in met:
                # One of the two would be worked by the other's conditions.
                self._refuse("draft.named_twice", f"{at}{name}", name, "")
            met.add(name)
            if not isinstance(item, Group):
                self._step(item, within, at + item.step)
                continue
            here = at + item.group
            inside = self.known.enter(item, within)
            self._text(f"{here}.when", item.when, Reads.WHETHER, within)
            self._text(f"{here}.repeat", item.repeat, Reads.RATIO, within)
            for name, text in item.start.items():
                self._any(f"{here}.start.{name}", text, within)
            if item.find is not None:
                for key in ("least", "most", "match", "to", "otherwise"):
                    text = getattr(item.find, key)
                    self._text(f"{here}.{key}", text, Reads.FIGURE, within)
                self._text(f"{here}.wanted", item.find.wanted, Reads.WHETHER, within)
            self._steps(item.steps, inside, f"{here}.")

    def _step(self, step: Step, within: tuple[str, ...], at: str) -> None:
        for field, how in type(step).reading().items():
            for text in _texts(getattr(step, field)):
                self._text(f"{at}.{field}", text, how, within)
        if isinstance(step, Check):
            shown = {*_shown(step.says), *_shown(step.remedy)}
            self._each(f"{at}.says", shown, step.values)
            self._each(f"{at}.values", step.values, shown)
        if isinstance(step, AddPleats) and step.dart:
            fold = Fold.of(step.dart)
            if fold is None or fold.kind != "dart" or fold.number < 1:
                self._lost(f"{at}.dart", step.dart, [str(Fold("dart", 1))])
        self._makes(step, within, at)
        for field, panel in type(step).on_edges():
            named = getattr(step, field)
            base = self.known.find(plain_path(getattr(step, panel) or ""), within)[0]
            for edge in _texts(list(named) if isinstance(named, dict) else named):
                if edge:
                    self._part(f"{at}.{field}", base, Run.of(edge).edge)

    def _makes(self, step: Step, within: tuple[str, ...], at: str) -> None:
        """Keep what a step makes, to be asked for."""
        names = step.results()[1 if step.rewrites else 0 :]
        if not isinstance(step, Check):
            before = within[0] if within else ""
            self.made.append((at, step, tuple(before + name for name in names)))
        if isinstance(step, Outline):
            panel = self.known.find(plain_path(step.step), within)[0]
            self.outlines.append((at, panel, step.edges))

    def _piece(self, piece: PieceOf, at: str) -> None:
        panel = self._panel(f"{at}.panel", piece.panel)
        if piece.whole is not None:
            others = [one for one in self.draft.pieces if one is not piece]
            halves = (name for one in others for name in (one.whole, one.name) if name)
            self._each(f"{at}.whole", [piece.whole], halves)
        self._text(f"{at}.repeat", piece.repeat, Reads.RATIO)
        self._text(f"{at}.when", piece.when, Reads.WHETHER)
        self._text(f"{at}.count", piece.count, Reads.RATIO)
        count = self._plain_figure(piece.count, Reads.RATIO)
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
                self._part(f"{at}.{key}", panel, edge)
        for place in piece.corners:
            self._each(f"{at}.corners", [place.rpartition(" ")[2]], ("start", "end"))
        for edge, width in piece.allowances.items():
            self._width(f"{at}.allowances.{edge}", width)
        if piece.grain is not None and "." in TURN.sub("", piece.grain):
            self._text(f"{at}.grain", piece.grain, Reads.LINE)
        elif piece.grain is not None:
            self._text(f"{at}.grain", piece.grain, Reads.DEGREES)

    def _width(self, at: str, width: str | tuple[AllowanceRun, ...]) -> None:
        """The width of an edge, or its runs: each but the last says how far it goes."""
        if isinstance(width, str):
            self._text(at, width, Reads.LENGTH)
            self._can_be_cut(at, width)
            return
        open_runs = [run for run in width if run.to is None]
        if len(width) > MOST_LISTED:
            values = {"what": self.what, "place": at, "most": MOST_LISTED}
            raise BadInput("json.too_many", at, **values)
        if not width or open_runs != [width[-1]]:
            self._refuse("draft.last_run_open", at, at.rpartition(".")[2], "")
        for run in width:
            self._text(at, run.width, Reads.LENGTH)
            self._can_be_cut(at, run.width)
            self._text(at, run.to, Reads.LENGTH)

    def _can_be_cut(self, at: str, text: str) -> None:
        """A width of plain figures is one that can be cut, taken just now or not."""
        width = self._plain_figure(text, Reads.LENGTH)
        if width is not None and not 0 <= width <= MOST_ALLOWANCE:
            values = {"width": width, "most": MOST_ALLOWANCE}
            beyond = BadInput("pieces.allowance_beyond", at, **values)
            raise told_of(beyond, f"{self.what}, {at}")

    def _seam(self, seam: Seam, at: str) -> None:
        cut = {plain_path(piece.panel) for piece in self.draft.pieces}
        for run in (run for side in seam.sides for run in side):
            base = self._panel(f"{at}.sides", plain_path(run.piece), cut)
            self._part(f"{at}.sides", base, plain_path(run.edge))
        self._text(f"{at}.repeat", seam.repeat, Reads.RATIO)
        self._text(f"{at}.ease", seam.ease, Reads.LENGTH)
        self._text(f"{at}.when", seam.when, Reads.WHETHER)
        for mark in seam.notches:
            self._text(f"{at}.notches", mark.at, Reads.PLACE)
            self._text(f"{at}.notches", mark.beyond, Reads.LENGTH)
            self._text(f"{at}.notches", mark.when, Reads.WHETHER)

    def _told(self, key: str, said: Mapping[str, str | Told]) -> None:
        """What the draft says of itself: known facts, of edges that are there."""
        known = _told_kinds(key)
        panels = {piece.name: plain_path(piece.panel) for piece in self.draft.pieces}
        seams = [seam.name for seam in self.draft.seams]
        repeated = {p.name for p in self.draft.pieces if p.repeat is not None}
        repeated |= {s.name for s in self.draft.seams if s.repeat is not None}
        for name, told in said.items():
            fact, _, place = name.partition(" at ")
            self._each(key, [fact], known)
            piece, dot, edge = place.partition(".")
            whole, _, turn = piece.rpartition("_")
            piece = whole if whole in repeated and turn.isdigit() else piece
            if dot:
                self._each(f"{key}.{name}", [piece], panels)
                self._part(f"{key}.{name}", panels[piece], edge)
            elif place and key == "checks":
                self._each(f"{key}.{name}", [piece], (*panels, *seams))
            self._saying(f"{key}.{name}", Told.of(told), known[fact])

    def _saying(self, at: str, told: Told, kind: str | list[str]) -> None:
        """A working, or one of the words of a fact or a choice that gives one."""
        self._text(at, told.when, Reads.WHETHER)
        if isinstance(kind, str):
            self._text(at, told.value, Reads.FIGURE)
        else:
            self._each(at, [told.value], (*kind, *self.choices))
            self.used.add(told.value)

    # Names in texts

    def _any(self, at: str, text: str, within: tuple[str, ...]) -> None:
        """A text that is the name of something drawn, or else a working."""
        try:
            self._text(at, text, Reads.SHAPE, within)
        except SkirtwrightError:
            self._text(at, text, Reads.FIGURE, within)

    def _text(
        self, at: str, text: str | None, how: Reads, within: tuple[str, ...] = ()
    ) -> None:
        if text is None:
            return
        try:
            self._tree(at, _parsed(text, how), within)
        except SkirtwrightError as error:
            raise told_of(error, f"{self.what}, {at}") from None

    def _tree(self, at: str, tree: Any, within: tuple[str, ...]) -> None:
        if isinstance(tree, Name):
            self._name(at, _flat(tree), within)
        elif isinstance(tree, Is):
            choice = _flat(tree.choice)
            self._each(at, [choice], self.choices)
            self.used.add(choice)
            self._each(at, [tree.option], self.choices[choice])
        elif isinstance(tree, Place):
            self._place(at, tree, within)
        elif isinstance(tree, Call) and tree.function == "girth":
            path = ".".join(
                _flat(name) for name in _inner(tree) if isinstance(name, Name)
            )
            if "." in path:
                self._name(at, path, within)
            else:
                spend("points", 1 + self.known.size() // _COMPARED)
                marks = {part for parts in self.parts.values() for part in parts}
                self._each(at, [path], marks)
        else:
            for inner in _inner(tree):
                self._tree(at, inner, within)

    def _place(self, at: str, place: Place, within: tuple[str, ...]) -> None:
        base = self._name(at, _flat(place.object), within)
        if place.how == "mark" and isinstance(place.argument, Name):
            self._part(at, base, _flat(place.argument))
        elif place.argument is not None:
            self._tree(at, place.argument, within)

    def _name(self, at: str, path: str, within: tuple[str, ...]) -> str:
        """The base of a path that is there; what is named on it is there too."""
        base, rest = self.known.find(path, within)
        if base:
            self.used.add(base)
            if rest:
                self._part(at, base, rest)
        elif path not in _MADE_FOR_ALL:
            self._lost(at, path, self.names)
        return base

    def _panel(self, at: str, name: str, known: Iterable[str] | None = None) -> str:
        """The panel of a name; of `known`, those that are cut."""
        plain = plain_path(name)
        if plain not in self.parts or (known is not None and plain not in known):
            self._lost(at, name, self.parts if known is None else known)
        return plain

    def _part(self, at: str, panel: str, part: str) -> None:
        """An edge or a mark of a panel; `tuck[]` is what begins so."""
        plain = TURN.sub(SEVERAL, part)
        self.parts_used.add(plain)
        known = self.parts.get(panel, {})
        begins = part.endswith(SEVERAL) and any(p.startswith(plain) for p in known)
        if plain not in known and not begins and plain not in _DART:
            self._lost(at, part, known)

    def _each(self, at: str, named: Iterable[str], known: Iterable[str]) -> None:
        there = list(known)
        for name in named:
            if name not in there:
                self._lost(at, name, there)

    def _lost(self, at: str, name: str, known: Iterable[str]) -> None:
        near = nearest(name, known)
        code = "draft.nothing_called_near" if near else "draft.nothing_called"
        self._refuse(code, at, name, near)

    def _refuse(self, code: str, at: str, name: str, near: str) -> NoReturn:
        """Say that a name is not as it should be, and which is nearest if one is."""
        values = {"what": self.what, "place": at, "name": name, "nearest": near}
        raise BadInput(code, at, **values)


CLOTHS = ("shell", "lining", "interfacing")
"""The cloths that every draft knows; a style may name others."""

FINISHED = ("waist", "hip", "knee", "sweep", "length", "step_allowed")
"""The finished measures a draft may state."""


def _told_kinds(key: str) -> Mapping[str, Any]:
    """What a draft may tell the checks, or the sewing, with the kind of each."""
    if key == "checks":
        stated = shelf.read_json("checks.json")["stated"]
        return {name: kind for name, kind in stated.items() if name != "source"}
    told = shelf.read_json("sewing.json")["told"]
    return {name: fact["kind"] for name, fact in told.items() if name != "source"}


def _flat(name: Name) -> str:
    words = (word + (SEVERAL if index else "") for word, index in name.parts)
    return ".".join(words)


def _inner(tree: Any) -> Iterator[Any]:
    """The trees within a tree."""
    for field in dataclasses.fields(tree):
        value = getattr(tree, field.name)
        for item in value if isinstance(value, tuple) else (value,):
            if dataclasses.is_dataclass(item):
                yield item


def _parsed(text: str, how: Reads) -> Any:
    if how is Reads.WHETHER:
        return parse_condition(text)
    if how in (Reads.LENGTH, Reads.RATIO, Reads.DEGREES, Reads.FIGURE):
        return parse_working(text)
    return parse_place(text)


def _names_anything(tree: Any) -> bool:
    return isinstance(tree, Name | Is) or any(map(_names_anything, _inner(tree)))


def _shown(text: str) -> Iterator[str]:
    """The names in braces of a sentence."""
    try:
        fields = [field for _, field, _, _ in Formatter().parse(text)]
    except ValueError:
        # A brace that is not closed: the sentence shows nothing.
        return
    yield from (field.partition(":")[0] for field in fields if field)


def places(items: Iterable[Any], at: str) -> Iterator[str]:
    """Where each step stands."""
    for item in items:
        if isinstance(item, Group):
            yield from places(item.steps, f"{at}{item.group}.")
        else:
            yield at + item.step


def _offered(step: Step) -> bool:
    """Whether it is a plain figure: a default for drafts that grow from this one."""
    return isinstance(step, Number) and not _names_anything(parse_working(step.value))


def _left(items: Iterable[Any], at: str, out: frozenset[str]) -> tuple[Any, ...]:
    """The items without the steps at these places."""
    return tuple(
        item.model_copy(update={"steps": _left(item.steps, f"{at}{item.group}.", out)})
        if isinstance(item, Group)
        else item
        for item in items
        if isinstance(item, Group) or at + item.step not in out
    )


def _parts_written(step: Step) -> Iterator[str]:
    """The edges and marks a step makes whose names are its own choice.

    Those of a half laid the other way (`others`) have to be named, used or not; of
    several that are counted, some may be asked for.
    """
    if isinstance(step, Outline):
        yield from map(plain_path, step.edges)
        return
    for field in ("name", "edge"):
        name = getattr(step, field, "")
        if name in (step.parts(()) or ()) and SEVERAL not in plain_path(name):
            yield name


def _slip(name: str, other: str) -> bool:
    """True when two names differ by one letter.

    A digit is none, nor is the last of two as long: `dart_a` and `dart_b`, `point_1`
    and `point_2` are meant so.
    """
    if name == other or abs(len(name) - len(other)) > 1:
        return False
    short, long = sorted((name, other), key=len)
    pairs = zip(short, long, strict=False)
    at = next((i for i, (a, b) in enumerate(pairs) if a != b), len(short))
    if len(short) < len(long):
        return short[at:] == long[at + 1 :] and not long[at].isdigit()
    last = at == len(short) - 1
    return not last and short[at + 1 :] == long[at + 1 :] and not long[at].isdigit()


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

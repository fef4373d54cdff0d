"""The draft as she would draw it by hand: its steps in sentences, under headings.

Everything is made from the steps. Only what ends on a piece is drawn; of the sums only
those are shown that a drawn step, or another sum that is shown, takes a length from.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from skirtwright.draft.draft import all_groups
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.styles import origin
from skirtwright.draft.working.recompute import Worked
from skirtwright.draft.working.replay import Moment, Replay
from skirtwright.export.sewing.drafting_halves import both_halves, of_left_half
from skirtwright.export.sewing.drafting_strips import Strip, strips_in
from skirtwright.measures import working_trees as trees
from skirtwright.measures.working_kinds import LENGTH
from skirtwright.problems import SkirtwrightError
from skirtwright.telling.names_in_words import SMALLEST, plain
from skirtwright.telling.sentences import Sentence, sentence
from skirtwright.telling.sums import Summing
from skirtwright.telling.tellers import changed
from skirtwright.words import (
    Composed,
    Manner,
    Phrase,
    Sayable,
    Several,
    say,
    translate,
)

FINEST = 16
"""A line is drawn to the sixteenth of an inch, however coarsely she reads others."""

_MOST_TOGETHER = 6
"""So many alike steps are said in one sentence; more are hard to follow."""


@dataclass(frozen=True)
class DraftPart:
    """Some steps under one heading.

    Attributes:
        heading: the innermost taken-in draft they belong to, or the style.
        sentences: what to do, in order.
        panels: those drawn or changed by it, as they are then.
    """

    heading: str
    sentences: tuple[str, ...]
    panels: tuple[Panel, ...] = ()


def drafting_text(worked: Worked, manner: Manner) -> tuple[DraftPart, ...]:
    """The draft to be drawn by hand, grouped as the style takes it together."""
    manner = replace(manner, fraction=max(manner.fraction, FINEST))
    moments = worked.replay
    shown = _Shown(worked, moments)
    headings = _headings(worked, manner)
    parts: list[DraftPart] = []
    met: set[str] = set()
    for heading, paths in groupby(
        shown.in_order(), key=lambda path: _heading(path, headings)
    ):
        told = list(paths)
        words = _sentences(told, shown, manner)
        title = heading or translate(worked.draft.title, manner)
        if title in met:
            title = say("making.continued", {"title": title}, manner)
        met.add(title)
        parts.append(DraftPart(title, tuple(words), shown.panels(told)))
    return tuple(parts)


def is_halved(worked: Worked) -> bool:
    """Whether left and right are drafted apart."""
    titles = [piece.title for piece in worked.draft.pieces]
    return any(isinstance(t, Composed) and t.is_of("half.left") for t in titles)


# What is told


class _Shown:
    """The steps that are told, and how."""

    def __init__(self, worked: Worked, moments: Replay) -> None:
        self.worked = worked
        self.moments = moments
        self.summing = Summing(worked, moments)
        self.halved = is_halved(worked)
        self.strips: dict[str, Strip] = {}
        self._within: set[str] = set()
        # What is worked in a group that seeks a number is worked many times.
        groups = all_groups(worked.draft.steps)
        self._searches = tuple(path for path, group in groups if group.find is not None)
        drawn = self._drawn()
        for strip in strips_in([moments[path] for path in drawn]):
            self.strips[strip.path] = strip
            self._within.update(strip.within)
        self.figures: dict[str, Sayable] = {}
        self.amounts: dict[str, list[Sayable]] = {}
        self._asked: set[str] = set()
        self._measures: set[str] = set()
        self._sums: dict[str, trees.Tree] = {}
        self._handed: dict[str, list[tuple[str, Moment]]] = {}
        for path in drawn:
            for name in moments[path].bound.leans_on:
                self._want(name, moments[path], path)
        self.drawn = {path for path in drawn if path not in self._within}
        for path in [path for path in moments if path in {*drawn, *self.figures}]:
            self._want_amounts(moments[path])

    def in_order(self) -> list[str]:
        """The paths of what is told, as the draft goes."""
        told = {*self.drawn, *self.figures, *self.amounts}
        return [path for path in self.moments if path in told]

    def panels(self, paths: Iterable[str]) -> tuple[Panel, ...]:
        """What some steps leave drawn, each panel once."""
        left: dict[str, Panel] = {}
        for path in paths:
            moment = self.moments[path]
            if isinstance(moment.after, Panel):
                left[moment.bound.results[0]] = moment.after
        if self.halved:
            # Both halves are drawn alike: the left one is shown.
            return tuple(
                p for name, p in left.items() if of_left_half(name) not in left
            )
        return tuple(left.values())

    def _drawn(self) -> list[str]:
        """The steps that end on a piece and draw something, in order."""
        last: dict[str, str] = {}
        for path, moment in self.moments.items():
            last.update(dict.fromkeys(moment.bound.results, path))
        panels = [piece.panel for piece in self.worked.pieces]
        waiting = [last[name] for name in panels if name in last]
        if not waiting:
            waiting = list(self.moments)
        reached: set[str] = set()
        while waiting:
            path = waiting.pop()
            if path not in reached:
                reached.add(path)
                waiting.extend(self.moments[path].reads.values())
        return [
            path
            for path, moment in self.moments.items()
            if path in reached
            and not isinstance(moment.after, float)
            and changed(moment)
        ]

    # Figures

    def _want_amounts(self, moment: Moment) -> None:
        tree = self._sums.get(moment.path)
        names = moment.bound.leans_on if tree is None else self.summing.names(tree)
        for name, made in self._handed.get(moment.path, ()):
            self._want_amount(name, made, moment.path)
        for name in names:
            self._want_amount(name, moment, moment.path)

    def _want_amount(self, name: str, moment: Moment, path: str) -> None:
        """Show what a measure she did not set herself is worked from."""
        state = self.worked.stated.amounts.get(name)
        if state is None or state.given or name in self._measures:
            return
        self._measures.add(name)
        if state.amount.kind != "length" or abs(state.value) < SMALLEST:
            return
        tree = self.summing.short(state.amount.working("default"), moment)
        if isinstance(tree, trees.Number):
            return
        for inner in self.summing.names(tree):
            self._want_amount(inner, moment, path)
        values = {
            "name": self.summing.named(name),
            "working": self.summing.said(tree, moment),
            "result": state.value,
        }
        self.amounts.setdefault(path, []).append(Phrase("making.figure", values))

    def _want(self, name: str, moment: Moment, reader: str) -> None:
        """Show what a length is worked from, and what that is worked from.

        Args:
            name: of the length.
        """
        path = moment.reads.get(name)
        if path is None:
            self._want_found(name, moment, reader)
            return
        made = self.moments[path]
        if path in self._asked or not isinstance(made.after, float):
            return
        self._asked.add(path)
        if made.bound.kind != LENGTH or made.step.kind != "number":
            return
        tree = self.summing.short(made.step.value, made)  # type: ignore[attr-defined]
        hands_on = isinstance(tree, trees.Name)
        shown = not (
            hands_on or abs(made.after) < SMALLEST or path.startswith(self._searches)
        )
        self._want_inside(tree, made, path if shown else reader)
        if not shown:
            handed = [(inner, made) for inner in self.summing.names(tree)]
            self._handed.setdefault(reader, []).extend(handed)
            return
        self._sums[path] = tree
        values = {"name": plain(made.step.step), "result": made.after}
        if isinstance(tree, trees.Number):
            self.figures[path] = Phrase("making.figure_plain", values)
        else:
            working = self.summing.said(tree, made)
            values["working"] = working
            self.figures[path] = Phrase("making.figure", values)

    def _want_inside(self, tree: trees.Tree, made: Moment, reader: str) -> None:
        """The numbers in a sum; one that was handed on is found where it was made."""
        for name in self.summing.names(tree):
            if name in made.reads:
                self._want(name, made, reader)
            elif name in self.worked.made_by:
                path = self._made_before(name, made.path)
                if path:
                    self._want(name, _reading(made, name, path), reader)

    def _want_found(self, name: str, moment: Moment, reader: str) -> None:
        """What a number that was sought hangs on."""
        if name in self._asked:
            return
        self._asked.add(name)
        for source in self.worked.found_from(name):
            path = self._made_before(source, moment.path)
            if path and isinstance(self.moments[path].after, float):
                self._want(source, _reading(moment, source, path), reader)

    def _made_before(self, name: str, path: str) -> str:
        """The last step that made a name before another step, or nothing."""
        order = self.worked.order
        made = [
            before
            for before in self.worked.made_by.get(name, ())
            if before in self.moments and order[before] < order[path]
        ]
        return made[-1] if made else ""


def _reading(moment: Moment, name: str, path: str) -> Moment:
    """A moment as if it had read a name from a step."""
    return replace(moment, reads={**moment.reads, name: path})


# Headings


def _headings(worked: Worked, manner: Manner) -> dict[str, str]:
    """The groups that take in another draft, by their paths, with its title."""
    found: dict[str, str] = {}
    for path, group in all_groups(worked.draft.steps):
        if group.from_ is not None:
            try:
                found[path] = translate(origin(group.from_).title, manner)
            except SkirtwrightError:
                # An old order may have grown from what is off the shelf now.
                found[path] = plain(group.group).capitalize()
    return found


def _heading(path: str, headings: dict[str, str]) -> str:
    """The title of the innermost taken-in draft a step belongs to, or nothing."""
    parts = path.split("/")
    for size in range(len(parts) - 1, 0, -1):
        title = headings.get("/".join(parts[:size]) + "/")
        if title is not None:
            return title
    return ""


# Sentences


def _sentences(paths: list[str], shown: _Shown, manner: Manner) -> list[str]:
    """The sentences of a part, left and right in one where they are drawn apart."""
    said = list(_told_in_rows(paths, shown, manner))
    return both_halves(said) if shown.halved else said


def _told_in_rows(paths: list[str], shown: _Shown, manner: Manner) -> Iterator[str]:
    """Sums in a row together, and what is done alike."""
    figures: list[Sayable] = []
    drawn: list[str] = []
    for path in paths:
        own = [*shown.amounts.get(path, ())]
        if path in shown.figures:
            own.append(shown.figures[path])
        if own and drawn:
            yield from _drawn_sentences(drawn, shown, manner)
            drawn = []
        figures.extend(own)
        if path in shown.drawn:
            if figures:
                yield _figures(figures, shown, manner)
                figures = []
            drawn.append(path)
    yield from _drawn_sentences(drawn, shown, manner)
    if figures:
        yield _figures(figures, shown, manner)


def _figures(figures: list[Sayable], shown: _Shown, manner: Manner) -> str:
    told = [figure.said(manner) for figure in figures]
    told = both_halves(told) if shown.halved else told
    return say("making.figures", {"figures": "; ".join(told)}, manner)


def _drawn_sentences(paths: list[str], shown: _Shown, manner: Manner) -> Iterator[str]:
    said: list[Sentence] = []
    about = ""
    for path in paths:
        strip = shown.strips.get(path)
        one = strip.said() if strip else sentence(shown.worked, path)
        blank = _blank(one, manner)
        if said and (len(said) == _MOST_TOGETHER or not blank or blank != about):
            yield _together(said, manner)
            said = []
        said.append(one)
        about = blank
    if said:
        yield _together(said, manner)


def _blank(said: Sentence, manner: Manner) -> str:
    """A sentence without what it is about: alike ones are said together."""
    if "where" not in said.values:
        return ""
    return say(said.message, {**said.values, "where": ""}, manner)


def _together(said: list[Sentence], manner: Manner) -> str:
    """One sentence about one thing or about several."""
    values = dict(said[0].values)
    if len(said) > 1:
        values["where"] = Several(tuple(one.values["where"] for one in said))
    return say(said[0].message, values, manner)

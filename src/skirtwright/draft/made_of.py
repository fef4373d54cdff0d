"""Edges of panels that are not cut, and the edges of cut pieces that they are made of.

A finishing is joined to the waist of a front and a back. A skirt cut in more pieces
draws these two to measure by and says what each of their edges is made of, in order;
whatever is told of such an edge is then told of those.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from skirtwright.draft.draft import Draft, MadeOf, PullOf, Seam, SeamNotch, Told
from skirtwright.draft.runs import Run, Side
from skirtwright.measures.working_joining import all_of, any_of
from skirtwright.problems import BadInput

_OTHER_END = {"start": "end", "end": "start"}


def written_out(draft: Draft) -> Draft:
    """The draft with its seams, and what is told of edges, on the pieces that are cut.

    Raises:
        BadInput: an edge that is said to be made of others is named nowhere.
    """
    if not draft.made_of:
        return draft
    made = _Made(draft.made_of)
    new = {
        "seams": tuple(new for seam in draft.seams for new in made.seams(seam)),
        "checks": made.told(draft.checks),
        "sewing": made.told(draft.sewing),
        "pulls": tuple(new for old in draft.pulls for new in made.pulls(old)),
        "made_of": (),
    }
    made.refuse_unused()
    return draft.replace(**new)


class _Made:
    def __init__(self, ways: tuple[MadeOf, ...]) -> None:
        self._ways = ways
        self._unused = {edge for way in ways for edge in way.edges}
        self._known = frozenset(self._unused)

    def refuse_unused(self) -> None:
        for edge in sorted(self._unused):
            raise BadInput("draft.made_of_nothing", edge, edge=edge)

    def _concerned(self, named: Iterable[str]) -> bool:
        met = self._known & set(named)
        self._unused -= met
        return bool(met)

    def seams(self, seam: Seam) -> Iterator[Seam]:
        """A seam, once for each way in which its edges are made; else as it is."""
        named = [run.named for side in seam.sides for run in side]
        if not self._concerned(named):
            yield seam
            return
        found: list[tuple[Seam, list[str]]] = []
        for way in self._ways:
            if all(edge in way.edges for edge in named if edge in self._known):
                sides = tuple(tuple(_cut(side, way.edges)) for side in seam.sides)
                marks = tuple(_mark(mark, seam.sides[0], way) for mark in seam.notches)
                new = seam.replace(sides=sides, notches=marks)
                whens = next((whens for alike, whens in found if alike == new), None)
                if whens is None:
                    found.append((new, [way.when]))
                else:
                    whens.append(way.when)
        for new, whens in found:
            yield _with_condition(new, any_of(whens))

    def told(self, said: Mapping[str, str | Told]) -> dict[str, str | Told]:
        """What is told, of the cut edges where it is of an edge made of others."""
        found: dict[str, str | Told] = {}
        for key, told in said.items():
            measure, at, edge = key.partition(" at ")
            # What lies in place is cut under its own name still.
            if self._ways[0].in_place or not self._concerned([edge]):
                found[key] = told
                continue
            for way in self._ways:
                for run in way.edges.get(edge, ()):
                    new = _with_condition(Told.of(told), way.when)
                    name = f"{measure}{at}{run.named}"
                    found[name] = _either(found.get(name), new)
        return found

    def pulls(self, pull: PullOf) -> Iterator[PullOf]:
        """A pull, on each edge that its own is made of."""
        edge, _, spot = pull.place.partition(" ")
        if not self._concerned([edge]):
            yield pull
            return
        for way in self._ways:
            made = way.edges.get(edge, ())
            at_end = [_end(made, spot)] if made and spot in _OTHER_END else []
            for place in at_end or [f"{run.named} {spot}".strip() for run in made]:
                new = pull.replace(place=place)
                yield _with_condition(new, way.when)


def _with_condition(item: Any, when: str) -> Any:
    """The same, where its edges are made in this way."""
    return item.replace(when=all_of([when, item.when]))


def _either(before: str | Told | None, new: Told) -> Told:
    """What is told in one of two ways in which an edge is made."""
    if not isinstance(before, Told):
        return new
    whens = [when for told in (before, new) if (when := told.when) is not None]
    return new.replace(when=any_of(whens))


def _cut(side: Side, edges: Mapping[str, Side]) -> Iterator[Run]:
    """One side of a seam, on the edges that are cut."""
    for run in side:
        made = edges.get(run.named)
        if made is None:
            yield run
        elif run.forward:
            yield from made
        else:
            yield from (Run(r.piece, r.edge, not r.forward) for r in reversed(made))


def _mark(mark: SeamNotch, side: Side, way: MadeOf) -> SeamNotch:
    """A balance mark, from a place on the edges that are cut."""
    edge, _, spot = mark.at.partition(" ")
    made = way.edges.get(edge)
    if made is None:
        return mark
    if made and all(way.edges.get(run.named, (run,)) for run in side):
        if len(made) == 1 and made[0].forward:
            return mark.replace(at=f"{made[0].named} {spot}")
        if spot in _OTHER_END:
            return mark.replace(at=_end(made, spot))
    if way.in_place and spot not in _OTHER_END:
        return mark
    # One piece lies over where two edges meet: it is found by how far along it lies.
    if spot not in _OTHER_END:
        raise BadInput("draft.made_of_place", mark.at, place=mark.at)
    cut = tuple(_cut(side, way.edges))
    if not cut or edge not in [run.named for run in side]:
        raise BadInput("draft.made_of_place", mark.at, place=mark.at)
    begun = _end(cut, "start")
    before = [run.named for run in side]
    number = before.index(edge)
    reached = before[:number]
    if (spot == "start") != side[number].forward:
        reached.append(edge)
    beyond = " + ".join([*(f"walk({name})" for name in reached), f"({mark.beyond})"])
    return mark.replace(at=begun, beyond=beyond)


def _end(side: Side, spot: str) -> str:
    """The start or the end of a side, as a place on its edge."""
    run = side[0] if spot == "start" else side[-1]
    return f"{run.named} {spot if run.forward else _OTHER_END[spot]}"

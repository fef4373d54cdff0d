"""What additions make of the style that takes them in.

A flounce at the hem turns that hem into a seam, and what was the finished hem lies
lower: an addition says so of edges by name, and whatever the style tells of them is
written out for each addition, and for none. A hem takes one of them at a time.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import chain
from typing import Any, TypeVar

from skirtwright.draft.draft import (
    Addition,
    Draft,
    EdgeChange,
    Level,
    MadeOf,
    PieceOf,
    Seam,
    Told,
)
from skirtwright.draft.made_of import written_out
from skirtwright.draft.name_lookup import nothing_called
from skirtwright.draft.runs import Run, Side
from skirtwright.measures.working_intermediates import written_in
from skirtwright.measures.working_joining import (
    all_of,
    any_of,
    either,
    no_more_than,
    opposite,
)

_BEFORE = "before"
"""In a working of an addition: what the style has there."""

Additions = Sequence[Addition]
_Said = TypeVar("_Said", bound=Hashable)


def with_additions(draft: Draft, additions: Additions) -> Draft:
    """The draft as it is with each addition, and as it is without.

    Args:
        draft: with the additions' own steps, pieces and seams in it.
    """
    if not additions:
        return draft
    checks = {name: Told.of(told) for name, told in draft.checks.items()}
    values = {name: told.value for name, told in checks.items()}
    changed = _reworked(values, [(a.when, a.checks) for a in additions])
    return draft.replace(
        pieces=tuple(new for p in draft.pieces for new in _pieces(p, additions)),
        seams=tuple(new for s in draft.seams for new in _seams(s, additions)),
        finished=_reworked(draft.finished, [(a.when, a.finished) for a in additions]),
        checks={
            name: told
            if changed[name] == values[name]
            else checks[name].replace(value=changed[name])
            for name, told in draft.checks.items()
        },
        stride=tuple(_levels(draft.stride, additions)),
    )


def check_added(draft: Draft, addition: Addition, what: str) -> None:
    """See that what an addition changes is there.

    Args:
        what: the draft, as it is told.

    Raises:
        BadInput: it is not; the nearest that is there is named.
    """
    cut = dict.fromkeys(piece.panel for piece in draft.pieces)
    ends = {side[-1].named for seam in draft.seams for side in seam.sides}
    edges = (name.partition(".")[0] for name in addition.edges)
    new = addition.cut_from.values()
    for field, names, known in (
        ("edges", set(edges).difference(new), cut),
        ("goes_on", addition.goes_on, ends),
        ("lines", set(addition.lines).difference(new), cut),
        ("cut_from", addition.cut_from, cut),
        ("pairs", addition.pairs, new),
        ("made_of", addition.made_of, _places(draft)),
        ("finished", addition.finished, draft.finished),
        ("checks", addition.checks, draft.checks),
    ):
        offered = list(known)
        for name in sorted(set(names).difference(offered)):
            raise nothing_called(what, f"adds.{field}", name, offered)


def cut_from_others(draft: Draft, additions: Additions) -> Draft:
    """The draft with pieces cut from other panels where an addition says so.

    Args:
        draft: as it is with the additions.
    """
    for addition in additions:
        if addition.cut_from:
            draft = written_out(_cut_from(draft, addition))
    return draft


def _cut_from(draft: Draft, addition: Addition) -> Draft:
    """Pieces of either panel; what is said of the edges is so made of the others'."""
    kept: dict[str, Side] = {}
    moved: dict[str, Side] = {}
    for place in _places(draft):
        panel, _, edge = place.partition(".")
        if panel in addition.cut_from:
            kept[place] = (Run(panel, edge),)
            same = (Run(addition.cut_from[panel], edge),)
            moved[place] = addition.made_of.get(place, same)
    cut = [new for piece in draft.pieces for new in _elsewhere(piece, addition)]
    return draft.replace(
        pieces=tuple(cut),
        made_of=(
            # First as they are drawn in any case: of two alike the first is taken.
            MadeOf.model_construct(
                when=opposite(addition.when), edges=kept, in_place=True
            ),
            MadeOf.model_construct(when=addition.when, edges=moved, in_place=True),
        ),
    )


def _places(draft: Draft) -> Iterator[str]:
    """The edges and marks that seams and pulls are at, as `panel.name`."""
    for seam in draft.seams:
        yield from (run.named for side in seam.sides for run in side)
    for pull in draft.pulls:
        yield pull.place.partition(" ")[0]


def _elsewhere(piece: PieceOf, addition: Addition) -> Iterator[PieceOf]:
    """A piece, and where its panel is another's the same cut from that."""
    panel = addition.cut_from.get(piece.panel)
    if panel is None:
        yield piece
        return
    yield piece.replace(when=_without(piece.when, [addition]))
    drawn = (*piece.lines, *addition.lines.get(panel, ()))
    new: dict[str, Any] = {"panel": panel, "worn": piece.panel, "lines": drawn}
    if panel in addition.pairs:
        kept = {e: wide for e, wide in piece.allowances.items() if e not in piece.folds}
        new |= {"folds": (), "count": "2", "allowances": kept}
    yield _changed(piece.replace(**new), addition)


def _without(when: str | None, additions: Additions) -> str:
    return all_of([when, *(opposite(addition.when) for addition in additions)])


def _pieces(piece: PieceOf, additions: Additions) -> Iterator[PieceOf]:
    """A piece, once more as it is cut with each addition that changes it."""
    drawn = chain.from_iterable(a.lines.get(piece.panel, ()) for a in additions)
    piece = piece.replace(lines=(*piece.lines, *drawn))
    changing = [a for a in additions if _changes(piece, a)]
    if not changing:
        yield piece
        return
    yield piece.replace(when=_without(piece.when, changing))
    for addition in changing:
        yield _changed(piece, addition)


def _changed(piece: PieceOf, addition: Addition) -> PieceOf:
    """A piece as it is cut with an addition that changes it."""
    edges = _changes(piece, addition)
    roles = {edge: change.role for edge, change in edges.items()}
    widths = {edge: change.allowance for edge, change in edges.items()}
    flat = {e for e, c in edges.items() if c.role != "hem" or not c.turned_up}
    turned = [edge for edge in piece.turned_up if edge not in flat]
    new = {
        "when": all_of([piece.when, addition.when]),
        "roles": {**piece.roles, **roles},
        "allowances": {**piece.allowances, **widths},
        "turned_up": tuple(turned),
    }
    return piece.replace(**new)


def _changes(piece: PieceOf, addition: Addition) -> dict[str, EdgeChange]:
    """What becomes of the piece's edges."""
    named = {tuple(name.rsplit(".", 1)): c for name, c in addition.edges.items()}
    return {edge: c for (panel, edge), c in named.items() if panel == piece.panel}


def _seams(seam: Seam, additions: Additions) -> Iterator[Seam]:
    """A seam, once more going on along each addition along which both its sides do."""
    longer = [(a, sides) for a in additions if (sides := _longer(seam, a))]
    if not longer:
        yield seam
        return
    without = _without(seam.when, [addition for addition, _ in longer])
    yield seam.replace(when=without)
    for addition, sides in longer:
        when = all_of([seam.when, addition.when])
        yield seam.replace(sides=sides, when=when)


def _longer(seam: Seam, addition: Addition) -> tuple[Side, ...]:
    """The sides of a seam that goes on along an addition; none where it does not."""
    on = addition.goes_on
    if not all(side[-1].forward and side[-1].named in on for side in seam.sides):
        return ()
    return tuple((*side, on[side[-1].named]) for side in seam.sides)


def _reworked(
    told: Mapping[str, str], new: Sequence[tuple[str, Mapping[str, str]]]
) -> dict[str, str]:
    """Workings, each as an addition has it where that is taken in, else as it was."""
    found = dict(told)
    for name, before in told.items():
        workings = [(when, one[name]) for when, one in new if name in one]
        for working, when in _alike(workings):
            after = written_in(working, ((_BEFORE, before),))
            found[name] = either(after, when, found[name])
    return found


def _alike(said: Iterable[tuple[str, _Said]]) -> Iterator[tuple[_Said, str]]:
    """What is said, each once, with the conditions under which it is in one."""
    whens: dict[_Said, list[str]] = {}
    for when, what in said:
        whens.setdefault(what, []).append(when)
    for what, conditions in whens.items():
        yield what, any_of(conditions)


def _levels(own: Sequence[Level], additions: Additions) -> Iterator[Level]:
    """Levels to stride at: none of the style's own below where its cloth ends now.

    Where a further one is not, the last of the style's own is told once more.
    """
    ends = list(_alike((a.when, a.stride) for a in additions if a.stride is not None))
    for level in own:
        new = level
        for low, when in ends:
            deep = no_more_than(low.below_waist, level.below_waist)
            new = _level(low, all_of([when, deep]), new)
        yield new
    for level, when in _alike((a.when, level) for a in additions for level in a.levels):
        yield _level(level, when, new)


def _level(level: Level, when: str, otherwise: Level) -> Level:
    """A level where something holds, another where it does not."""
    return level.replace(
        **{
            key: either(getattr(level, key), when, getattr(otherwise, key))
            for key in ("girth", "below_waist")
        }
    )

"""What a draft draws and nothing asks for, and names a letter apart: slips, likely."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from skirtwright.budget import spend
from skirtwright.draft.draft import CLOTHS, Group
from skirtwright.draft.kinds.numbers import Number
from skirtwright.draft.kinds.panels import Outline
from skirtwright.draft.known_names import SEVERAL, plain_path
from skirtwright.draft.name_lookup import COMPARED, NameLookup, names_anything
from skirtwright.draft.step import Step
from skirtwright.measures.measurements import measurements
from skirtwright.measures.working_parsing import parse_working
from skirtwright.problems import nearest

_ALIKE, _MUCH_ALIKE = 0.4, 0.75
"""How like a name is to one that was meant: at all, and hardly by chance."""


def check_used(found: NameLookup) -> None:
    """See that amounts, choices and edges are asked for, and no name is a slip.

    Args:
        found: once every name was looked up.

    Raises:
        BadInput: nothing asks for one, or two are a letter apart.
    """
    _unused(found)
    _unused_edges(found)
    draft = found.draft
    in_finishings = frozenset(_finishing_places(draft.steps, "steps."))
    _check_parts_used(found, in_finishings, counted=True)
    _refuse_near_names(found, "pieces", [piece.name for piece in draft.pieces])
    cloths = dict.fromkeys((*CLOTHS, *(piece.material for piece in draft.pieces)))
    for number, cloth in enumerate(cloths):
        near = nearest(cloth, list(cloths)[:number], _MUCH_ALIKE)
        if near:
            found.refuse("draft.letter_apart", f"cloths.{cloth}", cloth, near)
    _refuse_near_names(found, "seams", [seam.name for seam in draft.seams])
    for panel, parts in found.parts.items():
        _refuse_near_names(found, f"steps.{panel}", list(parts))


def _unused(found: NameLookup) -> None:
    """An amount or choice that nothing asks for was meant to be another.

    So was what a step makes, where it is a letter off a name that is there.
    """
    asked = [*found.amounts, *found.choices]
    for name in asked:
        if name not in found.used:
            kind = "amounts" if name in found.amounts else "choices"
            near = nearest(name, [other for other in asked if other != name])
            code = "draft.unused_near" if near else "draft.unused"
            found.refuse(code, f"{kind}.{name}", name, near)
    used = found.used | {plain_path(piece.panel) for piece in found.draft.pieces}
    for name in [name for name in found.names if name not in used]:
        spend("points", 1 + len(found.names) // COMPARED)
        near = next((other for other in found.names if _slip(name, other)), "")
        if near and name not in measurements():
            found.refuse("draft.unused_near", f"steps.{name}", name, near)


def _unused_edges(found: NameLookup) -> None:
    """An edge that nothing asks for was meant to be one that its outline lacks.

    The other outlines of the panel, drawn where this one is not, may have it.
    """
    for at, panel, edges in found.outlines:
        named = {plain_path(edge) for edge in edges}
        lacks = found.parts_used.intersection(found.parts[panel]) - named
        for edge in sorted(named - found.parts_used):
            near = nearest(edge, sorted(lacks))
            if near:
                found.refuse("draft.unused_near", f"{at}.edges", edge, near)


def check_steps_used(found: NameLookup, places: frozenset[str]) -> None:
    """What the steps at these places make is asked for somewhere.

    Else it was meant to be what another makes under other conditions, and is
    missed where they do not hold.

    Raises:
        BadInput: nothing asks for it.
    """
    unused = unused_steps(found)
    # Figures to grow from stand by themselves; one among steps is meant to be used.
    mixed = {_group_of(at) for at, step, _ in found.made if not _offered(step)}
    for at, step, names in found.made:
        if at in places and at in unused:
            offered = _offered(step) and _group_of(at) not in mixed
            _unasked(found, at, names[0], found.used, offered)
    # Of several that are counted, what this style grew from may need some.
    _check_parts_used(found, places, counted=False)


def _check_parts_used(
    found: NameLookup, places: frozenset[str], *, counted: bool
) -> None:
    """The edges and marks that the steps at these places make are asked for."""
    for at, step, _ in found.made:
        for part in _parts_written(step) if at in places else ():
            known = part in found.parts_used or (SEVERAL in part and not counted)
            if not known:
                _unasked(found, at, part, found.parts_used)


def unused_steps(found: NameLookup) -> frozenset[str]:
    """The places of steps that make only what nothing asks for."""
    used = found.used | {plain_path(piece.panel) for piece in found.draft.pieces}
    return frozenset(
        at for at, _, names in found.made if names and used.isdisjoint(names)
    )


def _unasked(
    found: NameLookup, at: str, name: str, known: Iterable[str], offered: bool = False
) -> None:
    near = nearest(name, sorted(known), _MUCH_ALIKE if offered else _ALIKE)
    if near or not offered:
        code = "draft.unused_near" if near else "draft.unused"
        found.refuse(code, at, name, near)


def _refuse_near_names(found: NameLookup, at: str, names: list[str]) -> None:
    """Two names a letter apart were meant to be one."""
    for number, name in enumerate(names):
        spend("points", 1 + number // COMPARED)
        near = next((other for other in names[:number] if _slip(name, other)), "")
        if near:
            found.refuse("draft.letter_apart", f"{at}.{name}", name, near)


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


def _group_of(at: str) -> str:
    return at.rpartition(".")[0]


def _offered(step: Step) -> bool:
    """Whether it is a plain figure: a default for drafts that grow from this one."""
    return isinstance(step, Number) and not names_anything(parse_working(step.value))


def _parts_written(step: Step) -> Iterator[str]:
    """The edges and marks a step makes whose names are its own choice.

    Those of a half laid the other way (`others`) have to be named, used or not.
    """
    if isinstance(step, Outline):
        yield from map(plain_path, step.edges)
        return
    for field in ("name", "edge"):
        name = getattr(step, field, "")
        if name in (step.parts(()) or ()):
            yield plain_path(name)


def _finishing_places(items: Iterable[Any], at: str) -> Iterator[str]:
    """Where each step of a finishing stands."""
    for item in items:
        if isinstance(item, Group):
            here = f"{at}{item.group}."
            is_finishing = (item.from_ or "").startswith("finishing/")
            yield from (places if is_finishing else _finishing_places)(item.steps, here)


def places(items: Iterable[Any], at: str) -> Iterator[str]:
    """Where each step stands."""
    for item in items:
        if isinstance(item, Group):
            yield from places(item.steps, f"{at}{item.group}.")
        else:
            yield at + item.step


def without(items: Iterable[Any], at: str, out: frozenset[str]) -> tuple[Any, ...]:
    """The items without the steps at these places."""
    return tuple(
        item.replace(steps=without(item.steps, f"{at}{item.group}.", out))
        if isinstance(item, Group)
        else item
        for item in items
        if isinstance(item, Group) or at + item.step not in out
    )

"""Styles on the shelf, and drafts read from text."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from itertools import chain
from typing import Any

from skirtwright import shelf
from skirtwright.budget import bounded
from skirtwright.draft.adding import check_added, cut_from_others, with_additions
from skirtwright.draft.draft import (
    Choice,
    Draft,
    Group,
    Seam,
    SeamNotch,
    Told,
    all_groups,
)
from skirtwright.draft.draft_upgrade import upgraded
from skirtwright.draft.every_name import check_names
from skirtwright.draft.made_of import written_out
from skirtwright.draft.name_lookup import listed_twice
from skirtwright.draft.panels_meant import on_panels
from skirtwright.draft.runs import Run
from skirtwright.measures.records import take
from skirtwright.measures.strict_json import read_as, read_strict
from skirtwright.problems import BadInput, NotFound, nearest, told_of

_FOLDER = "styles"
_FINISHINGS = "finishings"
_FINISHING = "finishing/"
_ADDITIONS = "additions"
_ADDITION = "addition/"
JOINED = (_FINISHING, _ADDITION)
"""What a style joins to panels it has shaped begins with one of these."""


def names() -> tuple[str, ...]:
    """The ids of the styles on the shelf, in the order of its list."""
    listed = shelf.read_json(f"{_FOLDER}/shelf.json")
    return tuple(listed["order"])


def families() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The styles on the shelf by what they have in common: a title, and their ids.

    What no family lists stands under the last of them.
    """
    listed = shelf.read_json(f"{_FOLDER}/shelf.json")
    known: list[str] = listed["order"]
    found = {
        str(family["title"]): [name for name in family["styles"] if name in known]
        for family in listed["families"]
    }
    told = {name for members in found.values() for name in members}
    found[next(reversed(found))] += [name for name in known if name not in told]
    return tuple((title, tuple(names)) for title, names in found.items() if names)


def first() -> str:
    """The id of the style that a new order opens with."""
    return str(shelf.read_json(f"{_FOLDER}/shelf.json")["first"])


@cache
def style(name: str) -> Draft:
    """A style by its id, with the drafts it grows from copied in.

    Raises:
        NotFound: there is none; the nearest is named.
    """
    return _on_shelf(_FOLDER, name, names())


def finishings() -> tuple[str, ...]:
    """The names of the finishings on the shelf, as a style's `from` writes them."""
    return tuple(_FINISHING + name for name in shelf.names(_FINISHINGS, ".json"))


def additions() -> tuple[str, ...]:
    """The names of the additions on the shelf, as a style's `from` writes them."""
    return tuple(_ADDITION + name for name in shelf.names(_ADDITIONS, ".json"))


@cache
def finishing_choices() -> frozenset[str]:
    """The names of the choices of every finishing: how a skirt is made up."""
    return frozenset(c.name for name in finishings() for c in origin(name).choices)


@cache
def origin(name: str) -> Draft:
    """What a `from` names: a finishing, an addition, or else a style.

    Raises:
        NotFound: there is none; the nearest is named.
    """
    for prefix, folder in ((_FINISHING, _FINISHINGS), (_ADDITION, _ADDITIONS)):
        if name.startswith(prefix):
            known = shelf.names(folder, ".json")
            return _on_shelf(folder, name.removeprefix(prefix), known)
    return style(name)


def _on_shelf(folder: str, name: str, known: tuple[str, ...]) -> Draft:
    if name not in known:
        raise NotFound("draft.no_style", name, name=name, nearest=nearest(name, known))
    raw = shelf.read_json(f"{folder}/{name}.json")
    return with_origins(take(Draft, raw), origin)


def read_draft(text: str | bytes, what: str) -> Draft:
    """A draft from the text of a style file.

    Raises:
        BadInput: it is not JSON, of a newer format, or not a draft; or a name that it
            uses is nowhere.
        NotFound: it grows from a style that is not there.
    """
    raw = read_strict(text, what)
    with bounded():
        own = _written(raw, what)
        grown = with_origins(own, origin, what)
        check_names(grown, what, own)
        check_additions(grown, origin, what)
        return grown


def whole(draft: Draft, what: str) -> Draft:
    """The draft, with those it grows from copied in and every name found.

    One that is a style of the shelf as it stands is whole already.

    Raises:
        BadInput: a name that it uses is nowhere; its place is told.
        NotFound: it grows from a style that is not there.
    """
    if draft.id in names() and draft == style(draft.id):
        return style(draft.id)
    grown = with_origins(draft, origin, what)
    check_names(grown, what)
    check_additions(grown, origin, what)
    return grown


def check_additions(draft: Draft, find: Callable[[str], Draft], what: str) -> None:
    """See that what is changed by the additions a draft takes in is there.

    Raises:
        BadInput: it is not.
    """
    for _, group in all_groups(draft.steps):
        if str(group.from_).startswith(_ADDITION):
            for addition in _origin(group, find).adds:
                check_added(draft, addition, what)


def _check_taken_in_once(draft: Draft, what: str) -> None:
    """Refuse a draft that takes an addition in twice: which would hold?"""
    taken: set[str] = set()
    for _, group in all_groups(draft.steps):
        name = str(group.from_)
        if name.startswith(_ADDITION) and name in taken:
            raise listed_twice(what, f"{group.group}.from", name)
        taken.add(name)


def _written(raw: Any, what: str) -> Draft:
    if not isinstance(raw, dict):
        raise BadInput("draft.not_a_draft", what, what=what)
    draft = read_as(Draft, upgraded(raw, what), what)
    for number, pull in enumerate(draft.pulls):
        if pull in draft.pulls[:number]:
            raise listed_twice(what, f"pulls.{number}", pull.amount)
    return draft


def with_origins(draft: Draft, find: Callable[[str], Draft], what: str = "") -> Draft:
    """The draft with every `from` group filled, and what its origins bring.

    An amount or choice the draft lists itself stands where the origin had it, with
    those listed above it. Pieces and seams that a group takes in, and all that a
    finishing brings, stand behind the draft's own, where it has none of that name, and
    apply where the groups around do; of a seam only the balance marks are added, where
    it has one of that name.
    """
    unfilled = list(_unfilled(draft.steps, ()))
    if not unfilled:
        return written_out(draft)
    _check_taken_in_once(draft, what or draft.id)
    steps = tuple(_filled(item, find, what or draft.id) for item in draft.steps)
    grown = draft.replace(steps=steps)
    for group, _ in reversed(unfilled):
        if not (group.pieces and str(group.from_).startswith(JOINED)):
            grown = _grown_from(grown, find(str(group.from_)))
    for group, when in unfilled:
        if group.pieces:
            grown = _finished_by(grown, _origin(group, find), when)
    added = [a for group, _ in unfilled for a in _origin(group, find).adds]
    return cut_from_others(written_out(with_additions(grown, added)), added)


def _grown_from(draft: Draft, block: Draft) -> Draft:
    """The draft with the amounts and choices of what it grows from put before."""
    return draft.replace(
        choices=_merged(block.choices, draft.choices),
        amounts=_merged(block.amounts, draft.amounts),
        measurements=_all_of(draft.measurements, block.measurements),
        checks={**block.checks, **draft.checks},
        sewing={**block.sewing, **draft.sewing},
    )


def _finished_by(draft: Draft, finishing: Draft, when: tuple[str, ...]) -> Draft:
    """The draft with all of what finishes it put behind its own."""
    brought = {
        part: tuple(_applying(item, when) for item in getattr(finishing, part))
        for part in ("choices", "amounts", "pieces", "pulls")
    }
    return draft.replace(
        choices=_behind(_widened(draft, finishing), brought["choices"]),
        amounts=_behind(draft.amounts, brought["amounts"]),
        pieces=_behind(draft.pieces, brought["pieces"]),
        seams=_marked(draft.seams, finishing, when),
        pulls=tuple(dict.fromkeys(draft.pulls + brought["pulls"])),
        checks=_all_told(draft.checks, finishing, finishing.checks, when),
        sewing=_all_told(draft.sewing, finishing, finishing.sewing, when),
        measurements=_all_of(draft.measurements, finishing.measurements),
        finished={**finishing.finished, **draft.finished},
        stride=draft.stride or finishing.stride,
    )


def _widened(draft: Draft, finishing: Draft) -> tuple[Choice, ...]:
    """The draft's choices, with the options an addition has for one of that name."""
    if not finishing.adds:
        return draft.choices
    more = {choice.name: choice.options for choice in finishing.choices}
    return tuple(
        choice.replace(options={**choice.options, **more.get(choice.name, {})})
        for choice in draft.choices
    )


def _marked(
    own: tuple[Seam, ...], origin: Draft, when: tuple[str, ...]
) -> tuple[Seam, ...]:
    """The draft's seams and behind them those brought.

    A seam of a name the draft has, such as the side seam that a pocket lies in, adds
    its balance marks to the draft's own.
    """
    brought = tuple(_applying(seam, when) for seam in origin.seams)
    begun = {seam.name: seam.sides[0][0] for seam in own}
    marks: dict[str, tuple[SeamNotch, ...]] = {}
    for seam in brought:
        said = () if seam.when is None else (seam.when,)
        begins = (seam.sides[0][0], begun.get(seam.name))
        here = tuple(_applying(_from_start(m, *begins), said) for m in seam.notches)
        marks[seam.name] = marks.get(seam.name, ()) + here
    return _behind(
        tuple(
            seam.replace(notches=seam.notches + marks.get(seam.name, ()))
            for seam in own
        ),
        brought,
    )


def _from_start(mark: SeamNotch, brought: Run, own: Run | None) -> SeamNotch:
    """A balance mark measured from a seam's start, where the draft's own begins."""
    if own is None or mark.at != f"{brought} start":
        return mark
    end = "start" if own.forward else "end"
    return mark.replace(at=f"{own.named} {end}")


def _applying(item: Any, when: tuple[str, ...]) -> Any:
    """A choice, amount, seam, piece or pull that applies only where these hold."""
    if not when:
        return item
    held = [*when, item.when] if item.when is not None else when
    both = held[0] if len(held) == 1 else " and ".join(f"({text})" for text in held)
    return item.replace(when=both)


def _told(
    said: Mapping[str, str | Told], when: tuple[str, ...]
) -> dict[str, str | Told]:
    """What is said, told only where these conditions hold."""
    return {name: _applying(Told.of(told), when) for name, told in said.items()}


def _all_told(
    own: Mapping[str, str | Told],
    finishing: Draft,
    said: Mapping[str, str | Told],
    when: tuple[str, ...],
) -> dict[str, str | Told]:
    """What a draft tells and behind it what finishes it tells besides.

    Several additions may tell the same, each where it is taken in.
    """
    brought = _told(said, when)
    both = {**brought, **own}
    for name in brought.keys() & own.keys() if finishing.adds else ():
        first, then = Told.of(own[name]), Told.of(brought[name])
        if first.when is None or then.when is None:
            continue
        value = f"({first.value}) if {first.when} else ({then.value})"
        update = {"value": value, "when": f"({first.when}) or ({then.when})"}
        both[name] = first.replace(**update)
    return both


def _unfilled(
    items: tuple[Any, ...], when: tuple[str, ...]
) -> Iterator[tuple[Group, tuple[str, ...]]]:
    """Groups still to be filled, each with the conditions of the groups around it."""
    for item in items:
        if isinstance(item, Group):
            if item.from_ is not None and not item.steps:
                yield item, when
            inside = when if item.when is None else (*when, item.when)
            yield from _unfilled(item.steps, inside)


def _filled(item: Any, find: Callable[[str], Draft], what: str) -> Any:
    if not isinstance(item, Group):
        return item
    if item.from_ is not None and not item.steps:
        try:
            return item.replace(steps=_origin(item, find).steps)
        except NotFound as missing:
            raise told_of(missing, f"{what}, {item.group}.from") from None
    steps = tuple(_filled(inner, find, what) for inner in item.steps)
    return item.replace(steps=steps)


def _origin(group: Group, find: Callable[[str], Draft]) -> Draft:
    """What a group is filled from, joined to the panels that it says are meant."""
    return on_panels(find(str(group.from_)), group.panels, f"{group.group}.panels")


def _merged(origin: tuple[Any, ...], own: tuple[Any, ...]) -> tuple[Any, ...]:
    """Both; an item of the draft's own stands where the origin had it.

    What the draft lists above such an item is taken along before it, so that its
    default may lean on that.
    """
    known = {item.name for item in origin}
    ahead: dict[str, list[Any]] = {}
    waiting: list[Any] = []
    for item in own:
        waiting.append(item)
        if item.name in known:
            ahead[item.name], waiting = waiting, []
    taken = chain.from_iterable(ahead.get(item.name, (item,)) for item in origin)
    return (*taken, *waiting)


def _behind(own: tuple[Any, ...], brought: tuple[Any, ...]) -> tuple[Any, ...]:
    mine = {item.name for item in own}
    return own + tuple(item for item in brought if item.name not in mine)


def _all_of(own: tuple[str, ...], brought: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(own + brought))

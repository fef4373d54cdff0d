"""Allowances a workroom keeps: a width for each part an edge plays, under a name.

Which edges play a part is data (`resources/allowances/roles.json`), as are the sets
that come with the program. Hers are kept for this machine's user.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache

from skirtwright import shelf
from skirtwright.draft.draft import PieceOf
from skirtwright.job import habits
from skirtwright.job.edits import Edited
from skirtwright.job.job import Job
from skirtwright.job.piece_edits import set_allowances
from skirtwright.job.worktable import Look
from skirtwright.measures.letters import check_letters
from skirtwright.measures.records import Record, ruled, take
from skirtwright.measures.units import read_length, show_number
from skirtwright.pieces.piece_settings import (
    AS_THE_STYLE,
    allowance_keys,
    edge_and_run,
    live_runs,
    run_key,
)
from skirtwright.problems import BadInput, SkirtwrightError

_FOLDER, _ROLES, _KEPT = "allowances", "roles", "allowances.json"
MOST_TITLE = 60
"""Letters of a set's name."""


class Role(Record):
    """A part that edges play.

    Attributes:
        name: as sets have it.
        material: of the pieces.
        roles: of the edges, as the style states them; `side[1]` is the first run of
            an edge that has several.
        most: an edge the style gives more than this plays another part.
    """

    name: str
    title: str
    material: str
    roles: tuple[str, ...]
    most: str | None = None


class _Roles(Record):
    help: str
    roles: tuple[Role, ...]


class AllowanceSet(Record):
    """A width for each part that edges play.

    Attributes:
        widths: lengths with their units, by the names of roles.
        source: where they are from; empty for one she made.
    """

    title: str = ruled(min_length=1, max_length=MOST_TITLE)
    widths: dict[str, str]
    source: str = ""


class _KeptSets(habits.Habit):
    sets: tuple[AllowanceSet, ...] = ()


@cache
def roles() -> tuple[Role, ...]:
    """Every part that edges play."""
    raw = shelf.read_json(f"{_FOLDER}/{_ROLES}.json")
    return take(_Roles, raw).roles


@cache
def shipped() -> tuple[AllowanceSet, ...]:
    """The sets that come with the program."""
    names = [n for n in shelf.names(_FOLDER, ".json") if n != _ROLES]
    return tuple(
        take(AllowanceSet, shelf.read_json(f"{_FOLDER}/{name}.json")) for name in names
    )


# Kept by her


def kept() -> tuple[AllowanceSet, ...]:
    """The sets she keeps, in the order they were made.

    Raises:
        FileTrouble, BadInput: the file is there and cannot be read.
    """
    found = habits.kept_as(_KeptSets, _KEPT).sets
    for one in found:
        for width in one.widths.values():
            read_length(width)
    return found


def keep(sets: Sequence[AllowanceSet]) -> None:
    """Keep her sets, instead of those kept before.

    Raises:
        FileTrouble: they cannot be written; what was kept stays.
    """
    habits.keep_as(_KEPT, _KeptSets(sets=tuple(sets)))


def with_set(
    sets: Sequence[AllowanceSet], new: AllowanceSet
) -> tuple[AllowanceSet, ...]:
    """Her sets with one more, or with another in place of the one of that name.

    Raises:
        BadInput: a set that comes with the program has the name.
    """
    _refuse_taken(new.title, shipped())
    places = [i for i, known in enumerate(sets) if _same(known.title, new.title)]
    if not places:
        return (*sets, new)
    return (*sets[: places[0]], new, *sets[places[0] + 1 :])


def renamed(
    sets: Sequence[AllowanceSet], title: str, new: str
) -> tuple[AllowanceSet, ...]:
    """Her sets with one under another name.

    Raises:
        BadInput: the name is empty, too long, or another set's.
    """
    new = named(new)
    others = [known for known in sets if known.title != title]
    _refuse_taken(new, (*shipped(), *others))
    return tuple(
        known.replace(title=new) if known.title == title else known for known in sets
    )


def without(sets: Sequence[AllowanceSet], title: str) -> tuple[AllowanceSet, ...]:
    """Her sets but one."""
    return tuple(known for known in sets if known.title != title)


def named(text: str) -> str:
    """A name for a set as it is kept.

    Raises:
        BadInput: it is empty, too long, or no text a file can hold.
    """
    title = " ".join(check_letters(text, "text.name").split())
    if not title:
        raise BadInput("allowances.no_name")
    if len(title) > MOST_TITLE:
        raise BadInput("allowances.name_too_long", title, title=title, most=MOST_TITLE)
    return title


def _refuse_taken(title: str, sets: Sequence[AllowanceSet]) -> None:
    if any(_same(known.title, title) for known in sets):
        raise BadInput("allowances.name_taken", title, title=title)


def _same(first: str, second: str) -> bool:
    return first.casefold() == second.casefold()


# Of an order


def applied(look: Look, chosen: AllowanceSet) -> Edited:
    """The order with a set's widths on every edge that plays a part of it."""
    found = {
        (piece, key): chosen.widths[role.name]
        for piece, key, role in _parts(look)
        if role.name in chosen.widths
    }
    return set_allowances(look.job, found, chosen.title)


def in_use(look: Look, sets: Sequence[AllowanceSet]) -> AllowanceSet | None:
    """The set whose widths the order has and no others of her own; None for none."""
    bare = _without_own(look.job)
    for known in sets:
        widths = {
            (piece, key): known.widths[role.name]
            for piece, key, role in _parts(look)
            if role.name in known.widths
        }
        if widths and _own_allowances(
            set_allowances(bare, widths, "").job
        ) == _own_allowances(look.job):
            return known
    return None


def taken(look: Look, title: str) -> AllowanceSet:
    """The widths an order has, as a set: for each part the one most edges have.

    Raises:
        BadInput: the name is empty or too long.
    """
    counted: dict[str, Counter[str]] = {}
    for piece, key, role in _parts(look):
        for width in _widths(look, piece, key):
            counted.setdefault(role.name, Counter())[width] += 1
    widths = {name: found.most_common(1)[0][0] for name, found in counted.items()}
    order = [role.name for role in roles() if role.name in widths]
    return AllowanceSet(title=named(title), widths={n: widths[n] for n in order})


def _own_allowances(job: Job) -> dict[str, dict[str, str]]:
    return {own.piece: own.allowances for own in job.pieces if own.allowances}


def _without_own(job: Job) -> Job:
    pieces = [own.replace(allowances={}) for own in job.pieces]
    return job.replace(pieces=tuple(pieces))


def _parts(look: Look) -> Iterator[tuple[str, str, Role]]:
    """Each edge, or run of one, that plays a part, whether it is cut now or not.

    A style may ask for a piece in several ways; the one that holds now goes before.
    """
    asked = look.report.cut.asked
    others = [data for data in look.worked.pieces if data.name not in asked]
    said = set()
    for data in (*asked.values(), *others):
        for edge in data.allowances:
            if edge in data.folds:
                continue
            for key in allowance_keys(data, edge):
                role = _role(data, key)
                new = role is not None and (data.name, key) not in said
                if role and new and not _is_for_another(look, data, edge, role):
                    said.add((data.name, key))
                    yield data.name, key, role


def _role(data: PieceOf, key: str) -> Role | None:
    edge, number = edge_and_run(key)
    played = run_key(data.role(edge), number)
    alike = (role for role in roles() if role.material == data.material)
    return next((role for role in alike if played in role.roles), None)


def _is_for_another(look: Look, data: PieceOf, edge: str, role: Role) -> bool:
    """Whether the style turns the edge for something else, such as a casing."""
    if role.most is None:
        return False
    try:
        runs = live_runs(look.worked, data, edge, AS_THE_STYLE.allowances)
    except SkirtwrightError:
        return False
    return any(run.width > read_length(role.most) for _, run in runs)


def _widths(look: Look, piece: str, key: str) -> Iterator[str]:
    """What an edge has now, as typed where she typed it; nothing for one not cut."""
    data = look.report.cut.asked.get(piece)
    if data is None:
        return
    own = look.job.piece(piece).allowances
    edge = edge_and_run(key)[0]
    text = own.get(key, own.get(edge, ""))
    run = dict(live_runs(look.worked, data, edge, own)).get(key)
    if run is not None:
        is_whole = text.strip()[-1:].isalpha()
        yield text if is_whole else f"{show_number(run.width, 2)} mm"

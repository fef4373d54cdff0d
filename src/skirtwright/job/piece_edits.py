"""Changes to single pieces: their names, allowances and notches, and what is shown."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from skirtwright.job.edits import Edited
from skirtwright.job.job import Job
from skirtwright.job.piece_changes import (
    MOST_SNIPS,
    MOST_TITLE,
    AddedNotch,
    PieceChanges,
)
from skirtwright.measures.letters import check_letters
from skirtwright.measures.units import read_length
from skirtwright.pieces.joined_edges import Key
from skirtwright.pieces.parts import MOST_JOINS, piece_of_part
from skirtwright.pieces.piece_settings import edge_and_run
from skirtwright.problems import BadInput, NotFound
from skirtwright.telling.names_in_words import plain


def rename_piece(job: Job, piece: str, title: str | None) -> Edited:
    """A name of her own for a piece; None or nothing sets the style's again.

    Raises:
        BadInput: the name is too long for a label, or no text a file can hold.
    """
    title = " ".join(check_letters(title or "", "text.name").split())
    if len(title) > MOST_TITLE:
        raise BadInput("pieces.title_too_long", piece, title=title, most=MOST_TITLE)
    changed = _changed(job, piece, title=title)
    return Edited(changed, "edit.piece_title", _named(job, piece))


def show_piece(job: Job, piece: str, on: bool) -> Edited:
    """A piece shown on the table and on paper, or left off both."""
    changed = _changed(job, piece, hidden=not on)
    name = "edit.piece_shown" if on else "edit.piece_hidden"
    return Edited(changed, name, _named(job, piece))


def set_allowance(job: Job, piece: str, edge: str, text: str | None) -> Edited:
    """The allowance of an edge, or of one run of it; None for the style's.

    Args:
        edge: its name; `edge[1]` is its first run. Set for the whole edge, it takes
            the place of what was set for its runs.
    """
    changed = _with_allowance(job, piece, edge, text)
    values = {**_named(job, piece), "edge": edge_id(edge)}
    return Edited(changed, "edit.allowance", values)


def set_allowance_of(job: Job, keys: Sequence[Key], text: str | None) -> Edited:
    """The allowance of a seam or one edge of it, as `set_allowance` has it.

    Args:
        keys: at least one: each piece, and an edge of it, or a run of it.
        text: as typed; None for the style's.
    """
    for piece, key in reversed(keys):
        edited = set_allowance(job, piece, key, text)
        job = edited.job
    return edited


def set_allowances(
    job: Job, widths: Mapping[tuple[str, str], str | None], title: str
) -> Edited:
    """The allowances of several edges at once, each as `set_allowance` has it.

    What was set for a whole edge goes where its runs are set.

    Args:
        widths: as typed, by piece and edge.
    """
    changed = job
    for (piece, edge), text in widths.items():
        changed = _with_allowance(changed, piece, edge, text)
        base, run = edge_and_run(edge)
        kept = changed.piece(piece).allowances
        if run and base in kept:
            rest = {key: width for key, width in kept.items() if key != base}
            changed = _changed(changed, piece, allowances=rest)
    return Edited(changed, "edit.allowances", {"title": title})


def without_allowances(job: Job) -> Edited:
    """Every allowance as the style has it."""
    changed = job
    for own in job.pieces:
        changed = _changed(changed, own.piece, allowances={})
    return Edited(changed, "edit.allowances_back", {})


def add_notch(job: Job, piece: str, edge: str, at: str, count: int = 1) -> Edited:
    """A notch at a walked distance from an edge's start, as typed.

    Raises:
        BadInput: it has no snip, or more than can be told apart.
    """
    made = _notch(piece, edge, at, count)
    own = job.piece(piece)
    if made in own.notches:
        raise BadInput("pieces.notch_there", piece, edge=edge_id(edge), at=at)
    changed = _changed(job, piece, notches=(*own.notches, made))
    return Edited(changed, "edit.notch_added", _of_edge(job, piece, edge))


def change_notch(
    job: Job, piece: str, number: int, at: str | None = None, count: int | None = None
) -> Edited:
    """Another distance or count for a notch she placed.

    Args:
        number: which of the piece's, from 0.
        at: as typed; None for the same.
        count: of snips; None for the same.

    Raises:
        NotFound: there is no such notch.
        BadInput: it has no snip, or more than can be told apart.
    """
    own = job.piece(piece)
    old = _numbered(own, number)
    new_at = old.at if at is None else at
    made = _notch(piece, old.edge, new_at, old.count if count is None else count)
    notches = (*own.notches[:number], made, *own.notches[number + 1 :])
    changed = _changed(job, piece, notches=notches)
    return Edited(changed, "edit.notch_changed", _of_edge(job, piece, old.edge))


def remove_notch(job: Job, piece: str, number: int) -> Edited:
    """A notch she placed taken away again.

    Raises:
        NotFound: there is no such notch.
    """
    own = job.piece(piece)
    old = _numbered(own, number)
    notches = (*own.notches[:number], *own.notches[number + 1 :])
    changed = _changed(job, piece, notches=notches)
    return Edited(changed, "edit.notch_removed", _of_edge(job, piece, old.edge))


def set_joins(job: Job, joins: Mapping[str, Sequence[str]]) -> Edited:
    """Pieces cut apart and joined again; of one without a join nothing is.

    What was set for parts that are no more is dropped.

    Args:
        joins: by the names of pieces, as typed: from the fold, else from the left or
            lower end; 0 is a seam on the fold.

    Raises:
        BadInput: a join cannot be read, or there are more than any piece has.
    """
    changed = job
    for piece, at in joins.items():
        if len(at) > MOST_JOINS:
            raise BadInput("join.too_many", piece, most=MOST_JOINS)
        for text in at:
            read_length(text, job.unit)
        changed = _changed(changed, piece, joins=tuple(text.strip() for text in at))
        kept = tuple(p for p in changed.pieces if piece_of_part(p.piece) != piece)
        changed = changed.replace(pieces=kept)
    named = ", ".join(str(_named(job, piece)["piece"]) for piece in joins)
    message = "edit.joined" if any(joins.values()) else "edit.join_taken_away"
    return Edited(changed, message, {"piece": named})


def set_across(job: Job, pieces: Iterable[str], *, on: bool) -> Edited:
    """Pieces cut with the grain across them, or along them as the style has it."""
    changed, names = job, list(pieces)
    for piece in names:
        changed = _changed(changed, piece, across=on)
    named = ", ".join(str(_named(job, piece)["piece"]) for piece in names)
    message = "edit.cut_across" if on else "edit.cut_along"
    return Edited(changed, message, {"piece": named})


def edge_id(edge: str) -> str:
    """The name of an edge in a sentence, without the number of its run."""
    return plain(edge_and_run(edge)[0])


def _notch(piece: str, edge: str, at: str, count: int) -> AddedNotch:
    if not 1 <= count <= MOST_SNIPS:
        raise BadInput("pieces.snips", piece, count=count, most=MOST_SNIPS)
    return AddedNotch(edge=edge, at=at.strip(), count=count)


def _numbered(own: PieceChanges, number: int) -> AddedNotch:
    if not 0 <= number < len(own.notches):
        raise NotFound("pieces.no_notch", own.piece, number=number + 1)
    return own.notches[number]


def _with_allowance(job: Job, piece: str, edge: str, text: str | None) -> Job:
    base, run = edge_and_run(edge)
    kept = dict(job.piece(piece).allowances)
    if not run:
        kept = {key: w for key, w in kept.items() if edge_and_run(key)[0] != base}
    if text is None:
        kept.pop(edge, None)
    else:
        kept[edge] = text.strip()
    return _changed(job, piece, allowances=kept)


def _changed(job: Job, piece: str, **changes: Any) -> Job:
    """The order with a piece's settings changed; the order of records is kept."""
    own = job.piece(piece).replace(**changes)
    others = tuple(known for known in job.pieces if known.piece != piece)
    bare = job.replace(pieces=others)
    # A record that says nothing is kept only where it hides another's.
    if own.is_plain and bare.piece(piece).is_plain:
        return bare
    kept = [own if known.piece == piece else known for known in job.pieces]
    if len(kept) == len(others):
        kept.append(own)
    return job.replace(pieces=tuple(kept))


def _named(job: Job, piece: str) -> dict[str, Any]:
    """What the piece is called, for a sentence."""
    own = job.piece(piece).title
    known = (data.title for data in job.draft.pieces if data.name == piece)
    return {"piece": own or next(known, plain(piece))}


def _of_edge(job: Job, piece: str, edge: str) -> dict[str, Any]:
    return {**_named(job, piece), "edge": edge_id(edge)}

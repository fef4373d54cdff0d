"""What changed of an order since it was printed: her figures, and the pieces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from skirtwright.draft.inputs import AmountState
from skirtwright.geometry.apart import SEEN
from skirtwright.job import fitting_edits
from skirtwright.job.job import Job
from skirtwright.job.prints import Print
from skirtwright.job.worktable import Look
from skirtwright.measures.measurements import known_measurement, measurements
from skirtwright.pieces.differing import cutting_length, differ
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import whole_title
from skirtwright.words import Phrase, Several

_LEAST = 1e-6
"""Figures that differ by less are the same, typed otherwise."""


@dataclass(frozen=True)
class Changed:
    """What is another than it was.

    Attributes:
        figures: what she measured, set or chose, a phrase each.
        differing: the pieces that are to be cut now and are not what was printed, new
            ones too.
        of: how many pieces are to be cut now.
        gone: titles of pieces that were printed and are no more.
    """

    figures: tuple[Phrase, ...]
    differing: tuple[Piece, ...]
    of: int
    gone: tuple[str, ...]

    def phrases(self) -> tuple[Phrase, ...]:
        """All of it in order; the pieces last."""
        titles = [piece.spec.title for piece in self.differing]
        values = {"count": len(titles), "of": self.of, "names": _named(titles)}
        said = [Phrase("changed.nothing")] if not titles and not self.gone else []
        if titles:
            some = "pieces" if len(titles) > 1 else "one_piece"
            which = "every_piece" if len(titles) == self.of > 1 else some
            said = [Phrase(f"changed.{which}", values)]
        if self.gone:
            said.append(Phrase("changed.gone", {"names": _named(self.gone)}))
        return (*self.figures, *said)


def _named(titles: Iterable[str]) -> Several:
    """Pieces by their titles; two halves of one are named once."""
    by_base: dict[str, list[str]] = {}
    for title in titles:
        by_base.setdefault(whole_title(title), []).append(title)
    return Several(
        tuple(
            Phrase("changed.both_halves", {"title": base})
            if len(both) > 1
            else Phrase("changed.piece", {"title": both[0]})
            for base, both in by_base.items()
        )
    )


def changed_since(one: Print, before: Look, now: Look) -> Changed:
    """What is another than it was when it was printed."""
    then = {piece.name: piece for piece in before.report.to_cut.pieces}
    shown = now.report.to_cut.shown
    differing = tuple(
        piece for piece in shown if _is_another(piece, then.get(piece.name), one)
    )
    names = {piece.name for piece in now.pieces}
    # What is cut for both halves now, or again for one, is not gone.
    cut = {whole_title(piece.spec.title) for piece in now.pieces}
    lost = [then[n].spec.title for n in one.drawn if n not in names and n in then]
    gone = [title for title in lost if whole_title(title) not in cut]
    figures = (*figures_changed(before, now), *_parted(then.values(), shown))
    return Changed(figures, differing, len(shown), tuple(gone))


def _parted(then: Iterable[Piece], now: Iterable[Piece]) -> Iterator[Phrase]:
    """Why all is cut anew: left and right are drafted apart since, or alike again."""
    was, is_now = (
        any(whole_title(piece.spec.title) != piece.spec.title for piece in pieces)
        for pieces in (then, now)
    )
    if was != is_now:
        yield Phrase("changed.apart" if is_now else "changed.alike")


def _is_another(piece: Piece, before: Piece | None, one: Print) -> bool:
    length = one.drawn.get(piece.name)
    if before is None or length is None:
        return True
    # Another version of the program may draw it otherwise.
    return abs(cutting_length(before) - length) > SEEN or differ(piece, before)


def figures_changed(before: Look, now: Look) -> Iterator[Phrase]:
    """Her figures and choices that are others than they were."""
    old, new = before.job, now.job
    if old.draft.title != new.draft.title:
        values = {"was": old.draft.title, "now": new.draft.title}
        yield Phrase("changed.style", values)
    if old.card.name != new.card.name:
        yield Phrase("changed.client", {"was": old.card.name, "now": new.card.name})
    yield from _measurements(old, new)
    yield from _amounts(before, now)
    yield from _choices(before, now)
    yield from _fittings(old, new)
    yield from _pieces(old, new)


def _measurements(old: Job, new: Job) -> Iterator[Phrase]:
    was, now = old.inputs().measurements, new.inputs().measurements
    for name in [*measurements(), *sorted({*was, *now} - {*measurements()})]:
        one, other = was.get(name), now.get(name)
        if one == other:
            continue
        values = {"label": known_measurement(name).label, "was": one, "now": other}
        if one is None:
            yield Phrase("changed.taken", values)
        elif other is None:
            yield Phrase("changed.not_taken", values)
        elif abs(one - other) > _LEAST:
            yield Phrase("changed.length", values)


def _amounts(before: Look, now: Look) -> Iterator[Phrase]:
    was = before.worked.stated.amounts
    for name, state in now.worked.stated.amounts.items():
        old = was.get(name)
        if old is not None and _was_set_by_hand(old, state):
            kind = state.amount.kind
            label, (was_told, now_told) = state.amount.told(old.value, state.value)
            values = {"label": label, "was": was_told, "now": now_told}
            yield Phrase(f"changed.{kind}", values)


def _was_set_by_hand(old: AmountState, state: AmountState) -> bool:
    """Whether she set it, then or now, and it is another: not what merely follows."""
    own = (old.applies and old.given) or (state.applies and state.given)
    return own and abs(old.value - state.value) > _LEAST


def _choices(before: Look, now: Look) -> Iterator[Phrase]:
    was = before.worked.stated.choices
    for choice in now.job.draft.choices:
        old, new = was.get(choice.name), now.worked.stated.choices.get(choice.name)
        if old in choice.options and new in choice.options and old != new:
            options = {"was": choice.options[old], "now": choice.options[new]}
            yield Phrase("changed.choice", {"label": choice.label, **options})


def _fittings(old: Job, new: Job) -> Iterator[Phrase]:
    """What was altered at a fitting since, and what was taken back."""
    for job, other, message in (
        (new, old, "changed.altered"),
        (old, new, "changed.altered_back"),
    ):
        left = list(other.fitting)
        lines = fitting_edits.told(job, readings=False)
        for alteration, line in zip(job.fitting, lines, strict=True):
            if alteration in left:
                left.remove(alteration)
            else:
                yield Phrase(message, {"altered": line})


def _pieces(old: Job, new: Job) -> Iterator[Phrase]:
    """Pieces for which she set something else."""
    was, now = ({own.piece: own for own in job.pieces} for job in (old, new))
    drafted = (*old.draft.pieces, *new.draft.pieces)
    titles = {piece.name: piece.title for piece in drafted}
    names = [name for name in {**was, **now} if was.get(name) != now.get(name)]
    plain = [name for name in names if name in titles]
    if plain:
        named = _named(titles[name] for name in plain)
        yield Phrase("changed.settings", {"names": named})

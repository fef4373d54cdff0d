"""What would mend a finding: the least change of an amount, or a choice, by trying.

An amount is tried in steps a tape can read, one step first, then twice as many until
the finding is gone, and back to the least number that does; what is told was itself
tried, as it would be typed. A remedy that makes another finding, or a graver one, is
none, and so is one that changes what was measured the way its check says never mends.
A choice is a design of hers: it is tried only where the data of the checks says that it
mends. That data also names the amounts that are tried first, and alone where they do,
and those that are never tried, since the skirt would be another without them.
Nothing else is known of any check: what mends is seen, not said.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Generator, Iterable, Iterator
from dataclasses import dataclass
from itertools import count

from skirtwright.checks.limits import limits
from skirtwright.draft.draft import STEPS, Amount, Choice
from skirtwright.draft.inputs import AmountState
from skirtwright.geometry.tolerance import SAME
from skirtwright.job.edits import Edited, amount_text, set_amount, set_choice
from skirtwright.job.job import Job
from skirtwright.job.piece_edits import set_allowance_of
from skirtwright.job.worktable import Look
from skirtwright.measures.units import Unit, next_mark, show_number
from skirtwright.pieces.joined_edges import JoinedEdges, joined_edges
from skirtwright.problems import Problem, SkirtwrightError

MOST_TRIES = 100
"""Looks for one finding; what needs more is nothing a dressmaker would think of."""

MOST_FOUND = 3
"""Remedies after which no more is looked for; the two least are kept."""

_MOST_IN_VAIN = 18
"""Looks after the last remedy found; what is least is tried early."""

OFFERED = 2
_LENGTH_STEP: dict[Unit, float] = {"cm": 5.0, "mm": 5.0, "in": 25.4 / 4}
_FINE_STEP: dict[Unit, float] = {"cm": 1.0, "mm": 1.0, "in": 25.4 / 16}
_TURNED_STEP: dict[Unit, float] = {"cm": 1.0, "mm": 1.0, "in": 25.4 / 8}
_FEW = 8
"""Steps that the range of an amount has at least."""

_RANK = {"note": 0, "caution": 1, "wrong": 2}

Try = Callable[[Job], Look]


@dataclass(frozen=True)
class Remedy:
    """A change after which the finding is gone and nothing else is graver.

    Attributes:
        of: the amount or choice that is changed, or the hem turned up less.
        before, after: mm, degrees or a plain number; of a choice, its options.
        edited: the order after it, one step of its history.
        look: the order as it would stand.
        share: of the amount's range that it is changed by.
    """

    of: Amount | Choice | JoinedEdges
    before: float | str
    after: float | str
    edited: Edited
    look: Look
    share: float


def remedies(
    problem: Problem, look: Look, try_out: Try, unit: Unit
) -> Iterator[tuple[Remedy, ...]]:
    """What would mend a finding, the least change first.

    Args:
        try_out: works an order; it may raise any SkirtwrightError.
        unit: hers; changes are in its steps.

    Yields:
        What was found until now, after every try, so that whoever waits may stop.
    """
    search = _Search(problem, look, try_out, unit)
    most, known = MOST_TRIES, 0
    for tries, _ in zip(count(1), search.run(), strict=False):
        yield search.best()
        if len(search.found) > known:
            known, most = len(search.found), min(tries + _MOST_IN_VAIN, MOST_TRIES)
        if tries >= most or known >= MOST_FOUND:
            return
    yield search.best()


class _Search:
    def __init__(self, problem: Problem, look: Look, try_out: Try, unit: Unit) -> None:
        self._problem, self._look = problem, look
        self._code = problem.code.removeprefix("check.")
        self._try_out, self._unit = try_out, unit
        self._ranks = _ranks(look)
        self.found: list[Remedy] = []

    def best(self) -> tuple[Remedy, ...]:
        """The least changes of those found."""
        return tuple(sorted(self.found, key=lambda r: r.share)[:OFFERED])

    def run(self) -> Iterator[None]:
        """Every try is one turn: what is foremost in the style comes first."""
        draft, states = self._look.job.draft, self._look.worked.stated.amounts
        first = dict.fromkeys([self._problem.where, *draft.first])
        pulled = [pull.amount for pull in draft.pulls]
        rest = [name for name in dict.fromkeys([*pulled, *states]) if name not in first]
        named = limits()["mended_by_amount"].get(self._code, [])
        yield from self._amounts(named)
        if not self.found:
            yield from self._turned_up()
        if self.found:
            return
        yield from self._amounts(first)
        for choice in draft.choices:
            if self._stated(choice) and self._look.worked.applies(choice):
                yield from self._options(choice)
        yield from self._amounts(rest)

    def _amounts(self, names: Iterable[str]) -> Iterator[None]:
        kept = limits()["not_mended_by_amount"].get(self._code, [])
        for name in names:
            state = self._look.worked.stated.amounts.get(name)
            if state is None or not state.applies or name in kept:
                continue
            for way in (1, -1):
                if (yield from self._walk(state, way)):
                    break

    def _step(self, state: AmountState) -> float:
        kind = state.amount.kind
        if kind != "length":
            return STEPS[kind]
        coarse = _LENGTH_STEP[self._unit]
        few = state.most - state.least < _FEW * coarse
        return _FINE_STEP[self._unit] if few else coarse

    def _walk(self, state: AmountState, way: int) -> Generator[None, None, bool]:
        """One step, then twice as many each time; back from the first that mends.

        Returns:
            True when the finding leans on another amount: the other way is no use.
        """
        step, failed, reach = self._step(state), 0, 1
        while True:
            value = _on_step(state, step, way * reach)
            if value is None:
                return False
            look = self._tried(state, value)
            yield
            if look is None:
                return False
            if reach == 1 and self._is_as_before(look):
                return True
            if _is_within(state, value) and self._mends(look):
                break
            failed, reach = reach, 2 * reach
        mended, found = reach, look
        while mended - failed > 1:
            middle = (mended + failed) // 2
            value = _on_step(state, step, way * middle)
            is_within = value is not None and _is_within(state, value)
            look = (
                self._tried(state, value) if value is not None and is_within else None
            )
            yield
            if look is not None and self._mends(look):
                mended, found = middle, look
            else:
                failed = middle
        after = _on_step(state, step, way * mended)
        if after is not None:
            self._keep(state, after, found)
        return True

    def _keep(self, state: AmountState, after: float, look: Look) -> None:
        share = abs(after - state.value) / max(state.most - state.least, 1e-9)
        amount = state.amount
        edited = set_amount(self._look.job, amount.name, amount_text(amount, after))
        self.found.append(Remedy(amount, state.value, after, edited, look, share))

    def _stated(self, choice: Choice) -> list[str]:
        """The options said to mend the finding; a choice unsaid is hers alone."""
        mended = limits()["mended_by_choice"].get(self._code, {})
        return list(mended.get(choice.name, []))

    def _turned_up(self) -> Iterator[None]:
        """As much turned up at the hem, all round, as its check says would do."""
        would_do, before = map(self._problem.values.get, ("would_do", "depth"))
        if would_do is None or before is None:
            return
        piece, _, edge = self._problem.where.partition(".")
        step = _TURNED_STEP[self._unit]
        after = math.floor(would_do / step + SAME) * step
        for hem in joined_edges(self._look.report.cut):
            if (piece, edge) in hem.edges and after > 0:
                text = f"{show_number(after, 2)} mm"
                edited = set_allowance_of(self._look.job, hem.edges, text)
                look = self._worked(edited.job)
                yield
                if look is not None and self._mends(look):
                    self.found.append(Remedy(hem, before, after, edited, look, 0.0))

    def _options(self, choice: Choice) -> Iterator[None]:
        job = self._look.job
        now = self._look.worked.stated.choices[choice.name]
        for option in choice.offered:
            if option == now or option not in self._stated(choice):
                continue
            edited = set_choice(job, choice.name, option)
            look = self._worked(edited.job)
            yield
            if look is not None and self._mends(look):
                # A choice weighs more than a change by half of a range.
                self.found.append(Remedy(choice, now, option, edited, look, 0.5))

    def _tried(self, state: AmountState, value: float) -> Look | None:
        text = amount_text(state.amount, value)
        return self._worked(set_amount(self._look.job, state.amount.name, text).job)

    def _worked(self, job: Job) -> Look | None:
        try:
            look = self._try_out(job)
        except SkirtwrightError:
            return None
        return look if look.drawn else None

    def _is_as_before(self, look: Look) -> bool:
        """Whether the finding did not so much as notice."""
        problem = self._problem
        return any(
            (p.code, p.where, p.values) == (problem.code, problem.where, problem.values)
            for p in look.problems
        )

    def _mends(self, look: Look) -> bool:
        """Whether the finding is gone and nothing is graver for it."""
        ranks = _ranks(look)
        if (self._problem.code, self._problem.where) in ranks or self._moves_wrong_way(
            look
        ):
            return False
        return all(self._ranks.get(key, 0) >= rank for key, rank in ranks.items())

    def _moves_wrong_way(self, look: Look) -> bool:
        """Whether the measure found fault with changed the wrong way for its check.

        A hem too near the floor is not mended by another still nearer to it.
        """
        way, where = self._problem.mended_by, self._problem.where
        before = self._look.report.finished.get(where)
        after = look.report.finished.get(where)
        if not way or before is None or after is None:
            return False
        more = after - before
        return (more if way == "less" else -more) > SAME


def _ranks(look: Look) -> dict[tuple[str, str], int]:
    """How grave each finding is; notes, decided for her, don't count."""
    found: dict[tuple[str, str], int] = {}
    for problem in look.problems:
        if problem.severity != "note":
            key = (problem.code, problem.where)
            found[key] = max(found.get(key, 0), _RANK[problem.severity])
    return found


def _is_within(state: AmountState, value: float) -> bool:
    return state.least - 1e-9 <= value <= state.most + 1e-9


def _on_step(state: AmountState, step: float, steps: int) -> float | None:
    """The value so many steps away, on a mark; None beyond the range."""
    value = next_mark(state.value, step, steps)
    # What lies beyond its range may come back to it.
    least, most = min(state.least, state.value), max(state.most, state.value)
    return value if least - 1e-9 <= value <= most + 1e-9 else None

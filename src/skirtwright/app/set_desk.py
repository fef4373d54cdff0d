"""Sets of allowances: given to the order, kept from it, renamed, taken away."""

from __future__ import annotations

from skirtwright.app.desk import Desk
from skirtwright.job import allowance_sets, piece_edits
from skirtwright.job.allowance_sets import AllowanceSet
from skirtwright.words import Manner


class SetDesk:
    """What is done to sets; each raises SkirtwrightError and leaves all as it is."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    @property
    def manner(self) -> Manner:
        """How she is spoken to."""
        return self._desk.manner

    def sets(self) -> tuple[AllowanceSet, ...]:
        """The program's sets, then hers."""
        return (*allowance_sets.shipped(), *allowance_sets.kept())

    def apply(self, chosen: AllowanceSet | None) -> None:
        """Set the allowances of a set; None for the style's own."""
        if chosen is None:
            self._desk.change(piece_edits.without_allowances(self._desk.job))
        else:
            self._desk.change(allowance_sets.applied(self._desk.look, chosen))

    def keep(self, title: str) -> AllowanceSet:
        """Keep the allowances of the order as a set of hers."""
        made = allowance_sets.taken(self._desk.look, title)
        allowance_sets.keep(allowance_sets.with_set(allowance_sets.kept(), made))
        return made

    def bring_back(self, known: AllowanceSet) -> None:
        """Keep a set that was taken away again."""
        allowance_sets.keep(allowance_sets.with_set(allowance_sets.kept(), known))

    def rename(self, title: str, new: str) -> None:
        """Another name for a set of hers."""
        sets = allowance_sets.renamed(allowance_sets.kept(), title, new)
        allowance_sets.keep(sets)

    def remove(self, title: str) -> None:
        """Take a set of hers away."""
        allowance_sets.keep(allowance_sets.without(allowance_sets.kept(), title))

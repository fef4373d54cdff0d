"""What was printed of the order in hand: worked once more, and what changed since."""

from __future__ import annotations

from typing import TYPE_CHECKING

from skirtwright.job.changed import Changed, changed_since
from skirtwright.job.job import Job
from skirtwright.job.prints import Print, last_on_sheets, printed_whole
from skirtwright.job.worktable import Look, Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, say

if TYPE_CHECKING:
    from skirtwright.export.printing import PrintBefore

_Known = tuple[Print, Look | None]


class PrintedBefore:
    """Works the order as it was printed, once for each print; in any thread."""

    def __init__(self) -> None:
        self._known: dict[int, _Known] = {}

    def look(self, job: Job, one: Print | None) -> Look | None:
        """The order as it was when it was printed; None where it is not known."""
        if one is None:
            return None
        known = self._known.get(id(one))
        if known is None:
            known = self._keep(job, one, _worked(job.as_printed(one)))
        return known[1]

    def note_printed(self, job: Job, look: Look) -> None:
        """The order was printed as it stands: its last print need not be worked."""
        self._keep(job, job.prints[-1], look)

    def _keep(self, job: Job, one: Print, look: Look | None) -> _Known:
        wanted = {id(kept) for kept in job.prints}
        kept = {key: value for key, value in self._known.items() if key in wanted}
        self._known = {**kept, id(one): (one, look)}
        return one, look

    def changed(self, job: Job, now: Look) -> tuple[Print, Changed] | None:
        """The last print with what changed since, where it can be told."""
        one = job.prints[-1] if job.prints else None
        before = self.look(job, one)
        if one is None or before is None:
            return None
        return one, changed_since(one, before, now)

    def on_sheets(self, job: Job) -> PrintBefore | None:
        """The last print on sheets, where its pieces could be laid once more."""
        one = last_on_sheets(job.prints)
        before = self.look(job, one)
        if one is None or one.laid is None or before is None:
            return None
        # What prints is slow to load.
        from skirtwright.export.printing import PrintBefore

        whole = printed_whole(one, job.prints)
        return PrintBefore(before.report, one.laid, one.drawn, one.on, whole)


def said_since(one: Print, changed: Changed, manner: Manner) -> str:
    """What changed since a print, a line each."""
    head = say("changed.since", {"on": one.on}, manner)
    return "\n".join([head, *(phrase.said(manner) for phrase in changed.phrases())])


def _worked(job: Job | None) -> Look | None:
    try:
        look = Worktable().look(job) if job is not None else None
    except SkirtwrightError:
        # Of a print by another version of the program; its figures stand in the file.
        return None
    return look if look is not None and look.drawn else None

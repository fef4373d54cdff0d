"""How much cloth the skirt takes, laid while the order rests.

Pieces are laid in a process of their own, first quickly, then in earnest; nothing of
the window waits. It leaves off when the order changes, and stays for the next. Until
that is done pieces lie where they lay, as they are now, and what they take is an
estimate. A lay by hand, and one whose pieces and cloth are what they were, is not
worked again; nor is one of the last few when what was done since is undone.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from skirtwright.app.child import KeptChild, Task
from skirtwright.app.desk import Desk
from skirtwright.app.pause import Pause
from skirtwright.export.lay_words import bought_words, left_over, material_name
from skirtwright.job.cloth_edits import set_hand_lay
from skirtwright.job.joining import Offer, from_record
from skirtwright.job.laid_apart import laid_again
from skirtwright.job.worktable import Look
from skirtwright.lay.all_cloths import Lays, materials
from skirtwright.lay.by_hand import at_spots, hand_lay, spots_of, why_left_off
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.lay.lay import QUICK, TRIES, Lay
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import say

REST_MS = 200
"""How long the order must rest before its pieces are laid, ms."""

_REMEMBERED = 4
"""Of each cloth so many lays are kept for what is undone."""

_PAUSE_MS = 200
"""A hand that pulls and is still for so long sees the estimate, and what was laid."""


@dataclass(frozen=True)
class _Known:
    """What is known of a cloth, and what that leans on.

    Attributes:
        cut: of the skirt that was laid.
        found: the lay, or why there is none.
        by_hand: it is hers.
        would: what would do where a piece is too wide, or take less cloth.
        partial: where there is none, what goes on the cloth.
    """

    cut: Cut
    cloth: Cloth
    found: Lay | Problem
    by_hand: bool = False
    would: tuple[Offer, ...] = ()
    partial: Lay | None = None

    def holds(self, cut: Cut, cloth: Cloth) -> bool:
        """Whether nothing it leans on is another now."""
        pieces = [
            [p for p in each.shown if p.spec.material == cloth.material]
            for each in (cut, self.cut)
        ]
        same = pieces[0] == pieces[1] and cut.seams == self.cut.seams
        bare = [replace(c, price=None, on_hand=None) for c in (cloth, self.cloth)]
        return same and bare[0] == bare[1]


class ClothWork(QObject):
    """Knows what the order takes of each cloth, as it stands or stood last.

    Attributes:
        follow: the pause in which the estimate follows a pull.
        share: of the laying that is done; 1 when nothing is being laid.
        failed: the last laying came to nothing.
        trouble: why what is not locked could not be laid round what is.

    Signals:
        told: something of it is another, or only an estimate now.
        laid: the order as it stands was laid.
    """

    told = Signal()
    laid = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._known: dict[str, _Known] = {}
        self._before: dict[str, list[_Known]] = {}
        self._look: Look | None = None
        self._lays: Lays | None = None
        self.share, self.failed = 1.0, False
        self._closed = False
        self.trouble: Problem | None = None
        self.kept = KeptChild(self)
        self.child: Task | None = None
        self._after: Callable[[bool], None] | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._begin)
        self.follow = Pause(self, _PAUSE_MS, self._catch_up)
        self._waiting: list[Mapping[str, Any]] = []
        desk.looked.connect(self._looked)
        desk.begun.connect(self._begun)

    # What is known

    @property
    def lays(self) -> Lays:
        """The pieces where they lie, or lay last, as they are now."""
        if self._lays is None:
            look = self._look or self._desk.look
            names = materials(look.report.to_cut)
            found = [self._lay_of(name, look) for name in names]
            partial = (known.partial for known in self._known.values())
            self._lays = Lays(
                tuple(one for one in found if isinstance(one, Lay)),
                tuple(one for one in found if isinstance(one, Problem)),
                tuple(one for one in partial if one and one.cloth.material in names),
            )
        return self._lays

    @property
    def seen(self) -> tuple[Lay, ...]:
        """A lay for each cloth as the cut list has them; of some what goes on them."""
        of = {one.cloth.material: one for one in (*self.lays.partial, *self.lays.lays)}
        names = materials((self._look or self._desk.look).report.to_cut)
        return tuple(of[name] for name in names if name in of)

    def _lay_of(self, material: str, look: Look) -> Lay | Problem | None:
        known = self._known.get(material)
        if known is None or not isinstance(known.found, Lay):
            return known.found if known else None
        try:
            asked = look.job.cloth(material)
            if known.cloth == asked and known.holds(look.report.to_cut, asked):
                return known.found
            on = replace(asked, fold=known.found.cloth.fold)
            return at_spots(look.report.to_cut, on, asked, spots_of(known.found))
        except SkirtwrightError as error:
            return error.problem

    def is_known(self, material: str) -> bool:
        """Whether a cloth was laid as the order stands, or is being pulled."""
        try:
            return self._holds(material, self._look or self._desk.look)
        except SkirtwrightError:
            return False

    def is_sure(self, material: str) -> bool:
        """Whether what a cloth takes is more than an estimate: nothing is laid anew."""
        return self.child is None and self.is_known(material)

    def is_by_hand(self, material: str) -> bool:
        """Whether the lay of a cloth is hers."""
        known = self._known.get(material)
        return known is not None and known.by_hand and self.is_known(material)

    def _holds(self, material: str, look: Look) -> bool:
        known, cut, job = self._known.get(material), look.report.to_cut, look.job
        cloth, hand = job.cloth(material), job.hand_lays.get(material)
        if known is None:
            return False
        moved = known.by_hand and (hand is None or not hand.fits(cut, cloth))
        return known.holds(cut, cloth) and not moved

    def _unknown(self) -> list[str]:
        """The cloths of the order that have to be laid."""
        look, found = self._desk.look, []
        for material in materials(look.report.to_cut):
            try:
                if not self._holds(material, look):
                    found.append(material)
            except SkirtwrightError as error:
                # Nothing is to be laid on what is no cloth: that is told.
                nothing = Cloth(material, 0.0)
                self._keep(_Known(look.report.to_cut, nothing, error.problem))
        return found

    def _not_offered(self) -> list[str]:
        """Cloths too narrow for a lay by hand of which it is not known what would do.

        As where the order was opened with it.
        """
        names = materials(self._desk.look.report.to_cut)
        by_hand = [self._known[name] for name in names if self.is_by_hand(name)]
        return [one.cloth.material for one in by_hand if one.partial and not one.would]

    def _keep(self, known: _Known) -> None:
        self._known[known.cloth.material] = known
        self._lays = None

    def lines(self) -> tuple[str, ...]:
        """What is told on the table; nothing before the first lay."""
        look, manner = self._look or self._desk.look, self._desk.manner
        if self.failed:
            return (say("table.cloth_failed", {}, manner),)
        if not self._known:
            return ()
        lays = {lay.cloth.material: lay for lay in self.lays.lays}
        names = materials(look.report.to_cut)
        sure = look is self._desk.look and self.child is None and not self._unknown()
        head = "table.cloth" if sure else "table.cloth_about"
        lines = (self._line(name, lays.get(name)) for name in names)
        return (say(head, {}, manner), *lines)

    def _line(self, material: str, lay: Lay | None) -> str:
        manner, known = self._desk.manner, self._known.get(material)
        values: dict[str, Any] = {"cloth": material_name(material, manner)}
        if lay is None:
            width = known.cloth.width if known else 0.0
            return say("table.cloth_narrow", {**values, "width": width}, manner)
        bought = bought_words(lay.bought, manner.unit)
        left = left_over(lay)
        told = {**values, "width": lay.asked.width, "length": bought, "left": left}
        line = "table.cloth_enough" if left else "table.cloth_line"
        if self.is_by_hand(material) and lay.faults:
            line = "table.cloth_not_so"
        return say(line, told, manner)

    # The order changes

    def _begun(self) -> None:
        """Another order: nothing is known of it."""
        self._forget()
        self._looked(self._desk.look)

    def _forget(self) -> None:
        self._known.clear()
        self._before.clear()

    def _looked(self, look: Look) -> None:
        if self._look and look.job.draft.id != self._look.job.draft.id:
            self._forget()
        if look is self._desk.look:
            self._remember()
        self._look, self._lays = look, None
        if look is not self._desk.look:
            # Pulled: the estimate follows when the hand pauses, what was begun goes on.
            self.follow.begin()
        else:
            self.follow.stop()
            self._waiting.clear()
            self._take_back()
            self._take_by_hand(look)
            self.trouble, self.failed = None, False
            if self.child is not None:
                self.child.stop()
                self._laying_ended()
            if not self._unknown():
                self._settle()
            if self._unknown() or self._not_offered():
                self._rest.start()
            else:
                self._rest.stop()
            self.told.emit()

    def _remember(self) -> None:
        """Keep what was laid in earnest for the time when it holds again."""
        by_hand = self._look.job.hand_lays if self._look else {}
        for material, known in self._known.items():
            if material in by_hand or self.child is not None:
                continue
            kept = self._before.get(material, [])
            others = [each for each in kept if not each.holds(known.cut, known.cloth)]
            self._before[material] = [*others, known][-_REMEMBERED:]

    def _take_back(self) -> None:
        """Let the pieces lie where they lay when the order stood as it stands."""
        for material in self._unknown():
            last = self._known.get(material)
            for known in self._before.get(material, ()):
                self._known[material] = known
                if self._holds(material, self._desk.look):
                    break
            else:
                if last is not None:
                    self._known[material] = last

    def _take_by_hand(self, look: Look) -> None:
        """Lays by hand that fit stand at once."""
        cut = look.report.to_cut
        for material, hand in look.job.hand_lays.items():
            try:
                cloth = look.job.cloth(material)
                found = at_spots(cut, cloth, cloth, hand.spots)
            except SkirtwrightError:
                # It is told as what keeps the cloth from being laid.
                continue
            if found is None or not hand.fits(cut, cloth):
                continue
            why, would = why_left_off(found), self.would(material)
            known = _Known(cut, cloth, why or found, by_hand=True)
            if why:
                known = replace(known, would=would, partial=found)
            self._keep(known)

    def _settle(self) -> None:
        """The order as it stands is laid."""
        look = self._desk.look
        self._desk.laid = replace(look, report=look.report.with_lays(self.lays))
        self.laid.emit()

    # Laying

    def wait(self) -> None:
        """Let nothing be laid any more."""
        # What is still shown on the way out begins nothing anew.
        self._closed = True
        self._rest.stop()
        self.child = None
        self.kept.close(wait=True)

    def stop(self) -> None:
        """Let what was found so far do."""
        self._take_waiting()
        self._rest.stop()
        if self.child is not None:
            self.child.stop()
            self._ended(well=True)

    def lay_rest(self, material: str) -> None:
        """Lay what is not locked of a cloth anew, round what is; one step."""
        self.stop()

        def over(well: bool) -> None:
            desk, known = self._desk, self._known.get(material)
            if well and known is not None and isinstance(known.found, Lay):
                laid = hand_lay(known.found, desk.look.report.to_cut)
                desk.change(set_hand_lay(desk.job, material, laid, "edit.rest_laid"))
            elif known is not None and isinstance(known.found, Problem):
                trouble = known.found
                self._take_by_hand(desk.look)
                self.trouble = trouble

        self._start(["rest", material, str(QUICK), str(TRIES)], over)

    def _begin(self) -> None:
        look = self._desk.look
        unknown = [*self._unknown(), *self._not_offered()]
        ready = self._desk.waits is None and look.drawn and not self._closed
        if ready and unknown:
            self._start(["lay", str(QUICK), str(TRIES), "/", *unknown])

    def _start(
        self, asked: Sequence[str], after: Callable[[bool], None] | None = None
    ) -> None:
        child = self.child = self.kept.ask(asked, self._desk.job)
        self.share, self.failed, self._after = 0.0, False, after
        child.told.connect(self._news)
        child.ended.connect(self._ended)
        self.told.emit()

    def _catch_up(self) -> None:
        """Take what was told while a hand went on; no move of it waited for that."""
        self._take_waiting()
        self.told.emit()

    def _take_waiting(self) -> None:
        while self._waiting:
            self._take_news(self._waiting.pop(0))

    def _news(self, news: Mapping[str, Any]) -> None:
        if self.follow.isActive() and "share" not in news:
            self._waiting.append(news)
        else:
            self._take_news(news)

    def _take_news(self, news: Mapping[str, Any]) -> None:
        try:
            if "share" in news:
                self.share = float(news["share"])
            elif "would" in news:
                self._offer(news["would"])
            else:
                self.take(news)
        except (ValueError, TypeError, KeyError):
            if self.child is not None:
                self.child.fail()
            return
        self._tell()

    def _tell(self) -> None:
        """Something is another; while a hand goes on that is told in its next pause."""
        if not self.follow.isActive():
            self.told.emit()

    def _offer(self, records: Sequence[Mapping[str, Any]]) -> None:
        """Take what would do for the cloths that were laid."""
        found = [from_record(record) for record in records]
        for material in dict.fromkeys(offer.material for offer in found):
            would = tuple(offer for offer in found if offer.material == material)
            self._keep(replace(self._known[material], would=would))

    def would(self, material: str) -> tuple[Offer, ...]:
        """What would do where a piece is too wide for a cloth, or take less of it."""
        known = self._known.get(material)
        return known.would if known and self.is_known(material) else ()

    def take(self, news: Mapping[str, Any]) -> None:
        """Take lays of the order as it stands.

        Raises:
            ValueError: they are of another.
        """
        look = self._desk.look
        cut, lays = look.report.to_cut, laid_again(look, news)
        # What was asked only for its offers lies as she laid it.
        hers = set(self._not_offered()) if self._after is None else set()
        for lay in lays.lays:
            if lay.asked.material not in hers:
                self._keep(_Known(cut, lay.asked, lay))
        goes = {lay.cloth.material: lay for lay in lays.partial}
        for problem in lays.refused:
            material = str(problem.values.get("material", problem.where))
            if material in hers:
                continue
            partial, cloth = goes.get(material), look.job.cloth(material)
            self._keep(_Known(cut, cloth, problem, partial=partial))
        self._settle()

    def _ended(self, well: bool) -> None:
        after = self._after
        if after is not None:
            self._take_waiting()
        self._laying_ended()
        self.failed = not well
        if after is not None:
            after(well)
        self._tell()

    def _laying_ended(self) -> None:
        self.child, self.share, self._after = None, 1.0, None

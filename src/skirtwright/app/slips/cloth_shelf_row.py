"""Her own cloths: one picked for the order, the order's put on the shelf."""

from __future__ import annotations

from skirtwright.app.desk import Desk
from skirtwright.app.fields import tell
from skirtwright.app.slips.kept_choice import KeptChoice
from skirtwright.job import cloth_shelf
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.cloth_shelf import ShelfCloth
from skirtwright.problems import SkirtwrightError
from skirtwright.words import say

_WORDS = {each: f"cloth_shelf.{each}" for each in ("pick", "keep", "remove", "name")}


class ShelfRow(KeptChoice):
    """The shelf beside a cloth of the order."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, _WORDS, cloth_shelf.MOST_TITLE)
        self._material = ""
        self._cloths: tuple[ShelfCloth, ...] = ()
        self.arrange(self.keep, self.remove)

    def show_cloth(self, material: str) -> None:
        """Her cloths, and which of them the order has."""
        self._material, job = material, self.desk.job
        try:
            self._cloths = cloth_shelf.kept()
        except SkirtwrightError as trouble:
            self._cloths = ()
            self.refuse(trouble)
        used = cloth_shelf.in_use(job, material, self._cloths)
        none = say("cloth_shelf.none", manner=self.desk.manner)
        self.box.fill([none, *(cloth.title for cloth in self._cloths)])
        self.box.setCurrentIndex(self._cloths.index(used) + 1 if used else 0)
        self.remove.setVisible(used is not None)
        self.keep.setVisible(used is None)
        for widget in (self.label, self.box):
            widget.setVisible(bool(self._cloths))

    def choose(self, index: int) -> None:
        """Have the order cut from a cloth of hers."""
        if not index:
            return
        typed = self._cloths[index - 1].typed
        try:
            self.desk.change(set_cloth(self.desk.job, self._material, **typed))
        except SkirtwrightError as refused:
            self.refuse(refused)

    def take_name(self) -> None:
        """Put the order's cloth on the shelf."""
        try:
            new = cloth_shelf.put(self.desk.job, self._material, self.name.text())
        except SkirtwrightError as refused:
            self.refuse(refused)
            return
        self.drop()
        self.show_cloth(self._material)
        self.say_kept(say("cloth_shelf.kept", {"title": new.title}, self.desk.manner))

    def take_away(self) -> None:
        """Take the cloth off the shelf."""
        try:
            cloth_shelf.take_off(self._cloths[self.box.currentIndex() - 1].title)
        except SkirtwrightError as refused:
            self.refuse(refused)
            return
        tell(self.said, "")
        self.show_cloth(self._material)

"""Her own cloths: one picked for the order, the order's put on the shelf."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import Choosing, link_button, sentence_label, tell
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.slips.sets_row import NameLine
from skirtwright.job import cloth_shelf
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.cloth_shelf import ShelfCloth
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class ShelfRow(QWidget):
    """The shelf beside a cloth of the order."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._material = desk, ""
        self._cloths: tuple[ShelfCloth, ...] = ()
        self.label, self.box = QLabel(), Choosing()
        self.label.setBuddy(self.box)
        self.keep, self.remove = link_button(), link_button()
        self.name = NameLine()
        self.name.setMaxLength(cloth_shelf.MOST_TITLE)
        self.name.hide()
        self.said = sentence_label()
        ways = in_row(self.keep, self.remove, 1)
        in_column(
            self.label,
            self.box,
            ways,
            self.name,
            self.said,
            on=self,
            spacing=3,
            margins=(0, 0, 0, 4),
        )
        self.box.activated.connect(self._choose)
        self.keep.clicked.connect(self._ask_name)
        self.remove.clicked.connect(self._remove)
        self.name.returnPressed.connect(self._named)
        self.name.dropped.connect(self._drop)

    def say_again(self) -> None:
        """Labels in her language."""
        manner = self._desk.manner
        self.label.setText(say("cloth_shelf.pick", manner=manner))
        self.box.setAccessibleName(say("cloth_shelf.pick", manner=manner))
        self.keep.setText(say("cloth_shelf.keep", manner=manner))
        self.remove.setText(say("cloth_shelf.remove", manner=manner))
        self.name.setPlaceholderText(say("cloth_shelf.name", manner=manner))
        self.name.setAccessibleName(say("cloth_shelf.name", manner=manner))

    def show_cloth(self, material: str) -> None:
        """Her cloths, and which of them the order has."""
        self._material, manner = material, self._desk.manner
        try:
            self._cloths = cloth_shelf.kept()
        except SkirtwrightError as trouble:
            self._cloths = ()
            tell(self.said, in_one_sentence(trouble.problem, manner), "wrong")
        used = cloth_shelf.in_use(self._desk.job, material, self._cloths)
        names = [say("cloth_shelf.none", manner=manner)]
        names += [cloth.title for cloth in self._cloths]
        self.box.fill(names)
        self.box.setCurrentIndex(self._cloths.index(used) + 1 if used else 0)
        self.remove.setVisible(used is not None)
        self.keep.setVisible(used is None)
        for widget in (self.label, self.box):
            widget.setVisible(bool(self._cloths))

    def _choose(self, index: int) -> None:
        if not index:
            return
        desk, cloth = self._desk, self._cloths[index - 1]
        try:
            desk.change(set_cloth(desk.job, self._material, **cloth.typed))
        except SkirtwrightError as refused:
            self._refuse(refused)

    def _ask_name(self) -> None:
        self.name.clear()
        self.name.show()
        tell(self.said, "")
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _named(self) -> None:
        try:
            new = cloth_shelf.put(self._desk.job, self._material, self.name.text())
        except SkirtwrightError as refused:
            self._refuse(refused)
            return
        self._drop()
        self.show_cloth(self._material)
        words = say("cloth_shelf.kept", {"title": new.title}, self._desk.manner)
        tell(self.said, words)
        self.box.setFocus(Qt.FocusReason.OtherFocusReason)

    def _remove(self) -> None:
        index = self.box.currentIndex()
        try:
            cloth_shelf.take_off(self._cloths[index - 1].title)
        except SkirtwrightError as refused:
            self._refuse(refused)
            return
        tell(self.said, "")
        self.show_cloth(self._material)

    def _drop(self) -> None:
        if self.name.hasFocus():
            self.keep.setFocus(Qt.FocusReason.OtherFocusReason)
        self.name.hide()
        tell(self.said, "")

    def _refuse(self, refused: SkirtwrightError) -> None:
        tell(self.said, in_one_sentence(refused.problem, self._desk.manner), "wrong")

"""At most one slip lies over the table's edge; each is made when first asked for."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from skirtwright.app.bookkeeping import Bookkeeping
from skirtwright.app.cloth_work import ClothWork
from skirtwright.app.desk import Desk
from skirtwright.app.mending import Mending
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.slips.slip import Slip

if TYPE_CHECKING:
    from skirtwright.app.slips.check import CheckSlip
    from skirtwright.app.slips.cloth_slip import ClothSlip
    from skirtwright.app.slips.cut import CutSlip
    from skirtwright.app.slips.fitting_slip import FittingSlip
    from skirtwright.app.slips.measure import MeasureSlip
    from skirtwright.app.slips.orders_slip import OrdersSlip
    from skirtwright.app.slips.paper import PaperSlip
    from skirtwright.app.slips.sew import SewSlip
    from skirtwright.app.slips.shape import ShapeSlip
    from skirtwright.app.slips.steps import StepsSlip

SLIPS = (
    "measure",
    "shape",
    "check",
    "cut",
    "cloth",
    "paper",
    "sew",
    "fit",
    "steps",
    "orders",
)
_Slip = TypeVar("_Slip", bound=Slip)

WIDE = 344
"""Width of a slip at ordinary text size, at every size of the window, px."""


class SlipHolder(QObject):
    """The slips by their names, as attributes; what one is made of is loaded with it.

    Attributes:
        made: the slips made until now.
        open_name: which one lies over the table; empty for none.

    Signals:
        fresh: a slip was made: its name, and it.
        changed: another slip lies over the table, or none.
        left: the slip that had the keyboard was put away.
    """

    fresh = Signal(str, object)
    changed = Signal()
    left = Signal()

    def __init__(
        self,
        desk: Desk,
        piece_desk: PieceDesk,
        mending: Mending,
        cloth_work: ClothWork,
        bookkeeping: Bookkeeping,
        place: QWidget,
    ) -> None:
        super().__init__(place)
        self._cloth_work, self._bookkeeping = cloth_work, bookkeeping
        self._desk, self._piece_desk, self._place = desk, piece_desk, place
        self._mending = mending
        self.made: list[Slip] = []
        self.open_name = ""

    def __getitem__(self, name: str) -> Slip:
        """A slip by its name."""
        slip: Slip = getattr(self, name)
        return slip

    @property
    def now(self) -> Slip | None:
        """The slip that lies over the table."""
        return self[self.open_name] if self.open_name else None

    def show(self, name: str, on: bool) -> None:
        """Lay a slip over the table and give it the keyboard, or put it away."""
        if on == (name == self.open_name):
            return
        before = self.now
        held = self._place.window().focusWidget()
        had_keyboard = before and held and (held is before or before.isAncestorOf(held))
        if had_keyboard:
            # Else Qt hands it to whatever comes next when the field is hidden.
            held.clearFocus()
        self.open_name = name if on else ""
        if before is not None:
            before.hide()
        # Laid out before it is shown: what is shown later takes no keyboard yet.
        self.say_again()
        self.changed.emit()
        if self.now is not None:
            self.now.first_place().setFocus(Qt.FocusReason.ShortcutFocusReason)
        elif had_keyboard:
            self.left.emit()

    def take_nothing_in_hand(self) -> None:
        """The open slip keeps the keyboard, and no field of it is in hand."""
        if self.now is not None:
            self.now.setFocus(Qt.FocusReason.MouseFocusReason)

    def put_away(self) -> None:
        """No slip over the table, which takes the keyboard if the slip had it."""
        if self.open_name:
            self.show(self.open_name, on=False)

    def wait(self) -> None:
        """Let nothing be half written when the window closes."""
        for name in ("sew", "cloth", "paper"):
            if name in self.__dict__:
                getattr(self, name).wait()

    def say_again(self) -> None:
        """The open slip as things stand; the others before they come in sight."""
        if self.now is not None:
            self.now.refresh()
            self.now.show_look(self._desk.look)

    def _put(self, name: str, slip: _Slip) -> _Slip:
        slip.setParent(self._place)
        slip.hide()
        self.made.append(slip)
        self.fresh.emit(name, slip)
        return slip

    @cached_property
    def measure(self) -> MeasureSlip:
        """Whom the skirt is for, and what the tape said."""
        from skirtwright.app.slips.measure import MeasureSlip

        return self._put("measure", MeasureSlip(self._desk))

    @cached_property
    def shape(self) -> ShapeSlip:
        """What may be changed of the style."""
        from skirtwright.app.slips.shape import ShapeSlip

        return self._put("shape", ShapeSlip(self._desk))

    @cached_property
    def check(self) -> CheckSlip:
        """What to look at before cutting."""
        from skirtwright.app.slips.check import CheckSlip

        return self._put("check", CheckSlip(self._desk, self._mending))

    @cached_property
    def cut(self) -> CutSlip:
        """Pieces, seam allowances and notches."""
        from skirtwright.app.slips.cut import CutSlip

        return self._put("cut", CutSlip(self._piece_desk))

    @cached_property
    def cloth(self) -> ClothSlip:
        """The cloths, and the pieces on them."""
        from skirtwright.app.slips.cloth_slip import ClothSlip

        return self._put("cloth", ClothSlip(self._desk, self._cloth_work))

    @cached_property
    def paper(self) -> PaperSlip:
        """Sheets and files of the pattern."""
        from skirtwright.app.slips.paper import PaperSlip

        return self._put("paper", PaperSlip(self._desk, self._bookkeeping))

    @cached_property
    def sew(self) -> SewSlip:
        """The making-up sheet."""
        from skirtwright.app.slips.sew import SewSlip

        return self._put("sew", SewSlip(self._desk))

    @cached_property
    def fit(self) -> FittingSlip:
        """What is altered at a fitting."""
        from skirtwright.app.slips.fitting_slip import FittingSlip

        return self._put("fit", FittingSlip(self._desk))

    @cached_property
    def steps(self) -> StepsSlip:
        """The draft in sentences."""
        from skirtwright.app.slips.steps import StepsSlip

        return self._put("steps", StepsSlip(self._desk))

    @cached_property
    def orders(self) -> OrdersSlip:
        """What is to be made, and for whom."""
        from skirtwright.app.slips.orders_slip import OrdersSlip

        return self._put("orders", OrdersSlip(self._desk, self._bookkeeping))

"""Everything she can choose about a print, and the order that comes of it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from typing import cast

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from skirtwright.app.bookkeeping import Bookkeeping
from skirtwright.app.fields import role_label
from skirtwright.app.layouts import in_column
from skirtwright.app.slips.nesting_choice import NestingChoice
from skirtwright.app.slips.printing_order import KINDS, Kind, Wanted
from skirtwright.app.slips.printing_printer import PrinterPart
from skirtwright.app.slips.printing_rows import LengthRow, OptionRow, TextRow, TickRow
from skirtwright.app.slips.slip import clear
from skirtwright.export.print_media import paper_named, papers, plotters, rolls
from skirtwright.export.printing import SCALES, Lines, PrintBefore, Printing
from skirtwright.export.projector import GROUNDS, Ground
from skirtwright.export.tiles import LAYINGS, Laying, Orientation
from skirtwright.problems import Refused
from skirtwright.words import Manner, say

ORIENTATIONS: tuple[Orientation, ...] = ("auto", "portrait", "landscape")
LINES: tuple[Lines, ...] = ("both", "stitching", "cutting")
_FEWER: tuple[Kind, ...] = ("sheets", "roll")
"""What less paper is needed for where less is drawn."""

OWN = "own"
"""The key of a roll of her own width."""

MACHINE = "machine"
"""The key of the roll a machine is made for."""


_SAYS_ITSELF = TickRow | LengthRow | TextRow | NestingChoice | PrinterPart
"""Rows that need to be handed nothing to be said again."""


class Choices(QWidget):
    """The rows of the strip; those that have no meaning for a kind are hidden.

    Signals:
        changed: another choice.
    """

    changed = Signal()

    def __init__(self, book: Bookkeeping) -> None:
        super().__init__()
        self._manner = Manner()
        self._papered = False
        self._rolled_for: Kind | None = None
        self._pieces: list[tuple[str, str]] = []
        self._left_out: set[str] = set()
        self.kind_row = OptionRow("kind")
        self.paper = OptionRow("paper")
        self.orientation = OptionRow("orientation")
        self.laying = OptionRow("laying")
        self.range = TextRow("range")
        self.overlap = LengthRow("overlap")
        self.margin = LengthRow("margin")
        self.roll = OptionRow("roll")
        self.plotter = OptionRow("plotter")
        self.width_row = LengthRow("width")
        self.pieces_label = role_label("subheading")
        self._ticks = QWidget()
        self._tick_rows = in_column(on=self._ticks, spacing=4)
        self.ticks: dict[str, QCheckBox] = {}
        self.drawn_label = role_label("subheading")
        self.lines = OptionRow("lines")
        self.scale = OptionRow("scale")
        self.ground = OptionRow("ground")
        self.open_out, self.mirrored = TickRow("open_out"), TickRow("mirrored")
        self.named, self.solid = TickRow("named"), TickRow("solid")
        self.toile = TickRow("toile")
        self.lining_on_shell = TickRow("lining_on_shell")
        self.as_sizes, self.layers = TickRow("as_sizes"), TickRow("layers")
        self.layers.setChecked(True)
        self.changed_only = TickRow("changed_only")
        self.nesting = NestingChoice(book)
        self._before: PrintBefore | None = None
        self.printer = PrinterPart()
        self.printer_label = role_label("subheading", wraps=True)
        self._arrange()
        self.overlap.otherwise(Printing().overlap)

    def _arrange(self) -> None:
        parts = (
            self.kind_row,
            self.changed_only,
            self.paper,
            self.orientation,
            self.laying,
            self.range,
            self.overlap,
            self.margin,
            self.plotter,
            self.roll,
            self.width_row,
            self.ground,
            self.open_out,
            self.mirrored,
            self.named,
            self.solid,
            self.nesting,
            self.pieces_label,
            self._ticks,
            self.drawn_label,
            self.lines,
            self.scale,
            self.toile,
            self.lining_on_shell,
            self.as_sizes,
            self.layers,
            self.printer_label,
            self.printer,
        )
        in_column(*parts, on=self, spacing=10)
        for part in parts:
            if isinstance(part, OptionRow | _SAYS_ITSELF):
                part.changed.connect(self._changed)
        self._says = [part for part in parts if isinstance(part, _SAYS_ITSELF)]

    # What is chosen

    @property
    def kind(self) -> Kind:
        """On what."""
        return cast(Kind, self.kind_row.key or "sheets")

    def wanted(self) -> Wanted:
        """The order.

        Raises:
            SkirtwrightError: no piece is ticked, or a reading is too far out.
        """
        only = tuple(n for n, tick in self.ticks.items() if tick.isChecked())
        if self.ticks and not only:
            raise Refused("print.nothing")
        how = Printing(
            only=() if len(only) == len(self.ticks) else only,
            lines=cast(Lines, self.lines.key),
            scale=self.scale.key,
            toile=self.toile.isChecked() and not self._is_nested(),
            layered=self.layers.isChecked(),
            named=self.named.isChecked(),
            solid=self.solid.isChecked(),
            ground=cast(Ground, self.ground.key),
            open_out=self.open_out.isChecked(),
            mirrored=self.mirrored.isChecked(),
        )
        if self.kind in _FEWER and not self._is_nested():
            how = replace(
                how,
                lining_on_shell=self.lining_on_shell.isChecked(),
                as_sizes=self.as_sizes.isChecked(),
            )
        if self.kind == "sheets":
            how = self._on_sheets(how)
        return Wanted(
            self.kind,
            how,
            self._roll() or "",
            self.plotter.key,
            self._roll(),
            self._before if self._as_before() else None,
            self.nesting.wanted() if self._is_nested() else None,
        )

    def _is_nested(self) -> bool:
        """Whether sizes are drawn over one another, and this kind has them so."""
        return self.nesting.is_on and self.kind != "projector"

    def _as_before(self) -> bool:
        """Whether only what changed is printed, on sheets as they were."""
        changed = self._before is not None and self.changed_only.isChecked()
        return changed and not self._is_nested() and self.kind == "sheets"

    def show_before(self, before: PrintBefore | None) -> None:
        """The print of which only what changed can be printed, if there is one."""
        self._before = before
        self._fit()

    def _on_sheets(self, how: Printing) -> Printing:
        overlap = self.overlap.value
        return replace(
            how,
            paper=self.paper.key,
            orientation=cast(Orientation, self.orientation.key),
            overlap=how.overlap if overlap is None else overlap,
            margin=self.margin.value,
            laying=cast(Laying, self.laying.key),
            sheets=self.range.text,
            correction=self.printer.correction(),
            printer=self.printer.printer,
        )

    def _roll(self) -> str | None:
        """The roll's name, or her own width; None for the machine's own."""
        if self.roll.key == OWN:
            return f"{self.width_row.value or 0.0}mm"
        return None if self.roll.key == MACHINE else self.roll.key

    # What is kept for the next time

    def kept(self) -> str:
        """Her paper and her printer, as text; not what belongs to one order."""
        chosen = {name: row.key for name, row in self._kept_options().items()}
        lengths = {name: row.value for name, row in self._kept_lengths().items()}
        return json.dumps({**chosen, **lengths, "printer": self.printer.printer})

    def bring_back(self, kept: str) -> None:
        """What was kept, after `say_again`; what makes no sense is passed over."""
        try:
            known = json.loads(kept)
        except ValueError:
            return
        if not isinstance(known, dict):
            return
        for name, row in self._kept_options().items():
            row.choose(str(known.get(name, "")))
        for name, length in self._kept_lengths().items():
            length.put(_length(known.get(name)))
        self.printer.call(str(known.get("printer", "")))
        self._changed()

    def _kept_options(self) -> dict[str, OptionRow]:
        return {
            "kind": self.kind_row,
            "paper": self.paper,
            "orientation": self.orientation,
            "plotter": self.plotter,
            "laying": self.laying,
            "ground": self.ground,
        }

    def _kept_lengths(self) -> dict[str, LengthRow]:
        return {"overlap": self.overlap, "margin": self.margin}

    def unread(self) -> LengthRow | None:
        """A field in sight with something in it that is no length."""
        rows = (
            self.overlap,
            self.margin,
            self.width_row,
            self.printer.across,
            self.printer.along,
        )
        return next((r for r in rows if r.unread and r.isVisible()), None)

    def mark(self, where: str) -> None:
        """Mark the field that keeps the order from being printed; "" for none."""
        fields: dict[str, LengthRow | TextRow] = {
            "overlap": self.overlap,
            "margin": self.margin,
            "sheets": self.range,
            "roll": self.width_row,
            "across": self.printer.across,
            "along": self.printer.along,
        }
        for name, row in fields.items():
            row.mark(wrong=name == where)
        self.nesting.mark(where)

    # What is shown

    def show_pieces(self, pieces: Sequence[tuple[str, str]]) -> None:
        """The pieces there are, each a name and a title; what is left out stays so."""
        if list(pieces) == self._pieces:
            return
        self._pieces = list(pieces)
        clear(self._tick_rows)
        self.ticks = {}
        for name, title in pieces:
            tick = QCheckBox(title.replace("&", "&&"))
            tick.setChecked(name not in self._left_out)
            tick.toggled.connect(self._ticked)
            self.ticks[name] = tick
            self._tick_rows.addWidget(tick)

    def _ticked(self) -> None:
        for name, tick in self.ticks.items():
            if tick.isChecked():
                self._left_out.discard(name)
            else:
                self._left_out.add(name)
        self.changed.emit()

    def say_again(self, manner: Manner) -> None:
        """Names and units in her manner; paper is what is sold where she is."""
        self._manner = manner
        sheet_sizes = [(key, paper.name) for key, paper in papers().items()]
        self.kind_row.fill(self._said("kind", KINDS), manner)
        self.paper.fill(sheet_sizes, manner)
        if not self._papered:
            self._papered = True
            self.paper.choose("letter" if manner.unit == "in" else "a4")
        self.orientation.fill(self._said("orientation", ORIENTATIONS), manner)
        self.laying.fill(self._said("laying", LAYINGS), manner)
        self.ground.fill(self._said("ground", GROUNDS), manner)
        self.lines.fill(self._said("lines", LINES), manner)
        self.scale.fill(self._said("scale", SCALES), manner)
        machines = [(key, machine.name) for key, machine in plotters().items()]
        self.plotter.fill(machines, manner)
        for part in self._says:
            part.say_again(manner)
        for label, name in (
            (self.pieces_label, "pieces"),
            (self.drawn_label, "drawn"),
            (self.printer_label, "printer_title"),
        ):
            label.setText(say(f"printing.{name}", manner=manner))
        self._fit()

    def _said(
        self, row: str, keys: Sequence[str] | dict[str, float]
    ) -> list[tuple[str, str]]:
        manner = self._manner
        return [(key, say(f"printing.{row}.{key}", manner=manner)) for key in keys]

    def _fill_rolls(self) -> None:
        """The machine's own first, for a plotter; her own width last."""
        named = [(key, roll.name) for key, roll in rolls().items()]
        if self.kind == "plotter":
            named = [*self._said("roll", [MACHINE]), *named]
        self.roll.fill([*named, *self._said("roll", [OWN])], self._manner)
        if self.kind != self._rolled_for:
            self._rolled_for = self.kind
            own = self.kind == "plotter"
            self.roll.choose(MACHINE if own else Wanted().roll)

    def _changed(self) -> None:
        self._fit()
        self.changed.emit()

    def _fit(self) -> None:
        """Only what has a meaning for the kind is shown."""
        kind = self.kind
        self._fill_rolls()
        nested, as_before = self._is_nested(), self._as_before()
        can_follow = kind == "sheets" and self._before is not None and not nested
        self.changed_only.setVisible(can_follow)
        self.nesting.setVisible(kind != "projector" and not as_before)
        shown: dict[Kind, tuple[QWidget, ...]] = {
            "projector": (self.ground, self.open_out, self.mirrored),
            "plotter": (self.plotter, self.solid),
            "roll": (self.named,),
        }
        for kind_shown, widgets in shown.items():
            for widget in widgets:
                widget.setVisible(kind == kind_shown)
        for row in (
            self.paper,
            self.orientation,
            self.laying,
            self.range,
            self.overlap,
            self.margin,
            self.printer,
            self.printer_label,
        ):
            row.setVisible(kind == "sheets" and not as_before)
        for row in (self.lines, self.scale):
            row.setVisible(not as_before)
        self.toile.setVisible(not (as_before or nested))
        for choice in (self.lining_on_shell, self.as_sizes):
            choice.setVisible(kind in _FEWER and not (as_before or nested))
        self.layers.setVisible(kind != "plotter")
        on_roll = kind in ("roll", "plotter")
        self.roll.setVisible(on_roll)
        self.width_row.setVisible(on_roll and self.roll.key == OWN)
        self.margin.otherwise(paper_named(self.paper.key).margin)


def _length(kept: object) -> float | None:
    """A length as it was kept, mm; None for anything else."""
    if isinstance(kept, bool) or not isinstance(kept, float | int):
        return None
    return float(kept) if 0 <= kept <= 100 else None

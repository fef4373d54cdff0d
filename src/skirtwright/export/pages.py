"""A document as a value: pages of marks, and the drawing seen through windows.

The writer (`pdf.py`) only translates this. Lengths are true mm; a page's `enlarge` is
what the printer's correction asks for, and the writer alone applies it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from skirtwright.export.print_media import Look, looks
from skirtwright.export.sheet import LAYERS, SIZE_LAYERS, Layer, Mark, Sheet
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say


@dataclass(frozen=True)
class View:
    """The drawing seen on a page.

    Attributes:
        window: the part of the page it is seen in; nothing is drawn outside.
        origin: where the drawing's origin comes to lie on the page.
    """

    window: Box
    origin: Point


@dataclass(frozen=True)
class Page:
    """One page.

    Attributes:
        name: its bookmark.
        width: true mm.
        height: true mm.
        marks: its own marks, over the drawing.
        stencils: names of marks it shares with other pages, under the drawing.
        view: the drawing seen on it, if any.
        enlarge: drawn that much larger along x and y, as the printer needs.
    """

    name: str
    width: float
    height: float
    marks: tuple[Mark, ...] = ()
    stencils: tuple[str, ...] = ()
    view: View | None = None
    enlarge: tuple[float, float] = (1.0, 1.0)


@dataclass(frozen=True)
class Document:
    """Pages and what they share.

    Attributes:
        subject: what is on the pages, in one line.
        manner: the language of the words.
        look: how each kind of line is drawn; as on paper, unless said.
        drawing: what the pages' views show.
        stencils: marks by name, drawn once and used on many pages.
        layered: with kinds of line that can be turned off; else it is flat.
        grounded: True to fill the page with the look's paper colour.
        date: the day it is printed, such as 2026-11-28; the file says no other.
    """

    of: str
    subject: str
    client: str
    manner: Manner
    pages: tuple[Page, ...]
    look: Look = field(default_factory=lambda: looks()["paper"])
    drawing: Sheet = field(default_factory=lambda: Sheet("", ()))
    stencils: Mapping[str, tuple[Mark, ...]] = field(default_factory=dict)
    layered: bool = False
    grounded: bool = False
    date: str = ""

    @property
    def title(self) -> str:
        """For the reader's title bar: whom it is for, said once, and what it is of."""
        client = "" if self.client in self.of else self.client
        return " · ".join(filter(None, (client, self.of)))

    @cached_property
    def layer_names(self) -> dict[Layer, str]:
        """What each kind of line is called; a size by its name; none where flat."""
        if not self.layered:
            return {}
        kinds = [layer for layer in LAYERS if layer not in SIZE_LAYERS]
        named = {kind: say(f"print.layer.{kind}", manner=self.manner) for kind in kinds}
        return named | dict(zip(SIZE_LAYERS, self.drawing.sizes, strict=False))


def language_tag(manner: Manner) -> str:
    """The language as a PDF names it."""
    return manner.language.replace("_", "-")

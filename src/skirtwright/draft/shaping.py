"""Where a draft shapes its panels, and what grows from them afterwards."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from skirtwright.draft.draft import Draft, Group, PieceOf, Role, all_steps
from skirtwright.draft.kinds.darting import TipsToLine
from skirtwright.draft.kinds.goring import Gore
from skirtwright.draft.kinds.panels import DivideEdge, PanelMark
from skirtwright.draft.kinds.panels_from_panels import Unfold
from skirtwright.draft.step import Reads, Step

_ADDITION = "addition/"
_JOINED = ("finishing/", _ADDITION)
_SHAPES_NO_SEAM = (DivideEdge, TipsToLine)
"""An edge is divided for a godet, darts are brought to a line: seams stay."""

Body = str | None


class Shaping:
    """The steps of a draft, those of styles it grows from among them.

    Attributes:
        steps: as written, but what a style takes from another stands there itself.
    """

    def __init__(self, draft: Draft) -> None:
        self.steps = tuple(_opened(draft.steps))
        self._pieces = draft.pieces
        self._from = {
            made: (source, step)
            for step in all_steps(self.steps)
            if (source := source_of(step))
            for made in step.results()
        }

        self._grown = [at for at, item in enumerate(self.steps) if _grows(item)]

    def shapes(self, *, low: bool) -> Shapes:
        """The panels as far as they are shaped.

        Args:
            low: with their whole shape; else only until something grows from them.
        """
        at = len(self.steps) if low else next(iter(self._grown), len(self.steps))
        return Shapes(self.steps, at, self._from, self._pieces)

    def linings_before(self, at: int) -> Iterator[str | None]:
        """When a lining is cut from panels that are made before a step."""
        made = {name for s in all_steps(self.steps[:at]) for name in s.results()}
        cut = [p for p in self._pieces if p.material == "lining" and p.panel in made]
        yield from list(dict.fromkeys(piece.when for piece in cut))[:1]

    def altered_at(self, panels: Iterable[str]) -> Iterator[tuple[int, int | None]]:
        """Where panels are altered, so that all that grows from them follows.

        Yields:
            How many steps stand before the alteration, and before the panels are as
            they were again, to be shaped further; None the last time.
        """
        wanted = set(panels)
        shaped = [
            at
            for at, item in enumerate(self.steps)
            if at not in self._grown and _makes(item, wanted, but=_SHAPES_NO_SEAM)
        ]
        ends = [*self._grown, len(self.steps)]
        while shaped:
            grown = next(at for at in ends if at > shaped[0])
            before = [at for at in shaped if at < grown]
            shaped = shaped[len(before) :]
            last = max(
                (at for at in self._grown if shaped and at < shaped[0]), default=0
            )
            yield before[-1] + 1, last + 1 if shaped else None


class Shapes:
    """Panels that are shaped, with their edges by what they are."""

    def __init__(
        self,
        steps: tuple[Any, ...],
        until: int,
        made_from: dict[str, tuple[str, Step]],
        pieces: Iterable[PieceOf],
    ) -> None:
        self._steps, self._from = steps, made_from
        self._parts: dict[str, tuple[str, ...]] = {}
        self._hips: dict[str, str] = {}
        for step in all_steps(item for item in steps[:until] if not _adds(item)):
            of = self._parts.get(str(getattr(step, "panel", "")), ())
            parts = step.parts(of)
            if parts is not None:
                for name in step.results():
                    known = (*self._parts.get(name, ()), *parts)
                    self._parts[name] = tuple(dict.fromkeys(known))
            if isinstance(step, PanelMark) and step.level == "hip":
                self._hips[step.panel] = step.name
            elif isinstance(step, Gore):
                self._hips[step.step] = "hip"
        self._pieces = [p for p in pieces if p.material == "shell"]
        self._bodies: dict[str, set[Body]] = {}
        for piece in self._pieces:
            panel = self._shaped(piece.panel)
            if panel is not None:
                self._bodies.setdefault(panel, set()).add(piece.body)
        for bodies in self._bodies.values():
            if len(bodies) > 1:
                bodies.discard(None)  # A facing, say: it is no side of the body's.

    def _shaped(self, panel: str) -> str | None:
        """The shaped half that a panel is, or was unfolded or made from."""
        found = panel if panel in self._parts else None
        for source, step in self._origins(panel):
            unfolded = isinstance(step, Unfold)
            if source in self._parts and (found is None or unfolded):
                found = source
        return found

    def _origins(self, panel: str) -> Iterator[tuple[str, Step]]:
        """What a panel was made of, and that was made of, each with how."""
        seen = {panel}
        while panel in self._from and self._from[panel][0] not in seen:
            panel, step = self._from[panel]
            seen.add(panel)
            yield panel, step

    def edges(self, role: Role, body: Body) -> Iterator[tuple[PieceOf, str, str]]:
        """Piece, shaped panel and edge for each edge with a role, of one body or any.

        A panel that front and back are both cut from is of neither.
        """
        for piece in self._pieces:
            panel = self._shaped(piece.panel)
            if panel is None or (body and self._bodies[panel] != {body}):
                continue
            for edge, known in piece.roles.items():
                if known == role and edge in self._parts[panel]:
                    yield piece, panel, edge

    def bodies(self, panel: str) -> set[Body]:
        """On which sides of the body what is cut from a panel lies."""
        return self._bodies[panel]

    def meeting(self, panel: str, role: Role) -> str | None:
        """The edge of a panel that has a role."""
        found = self.edges(role, None)
        return next((edge for _, of, edge in found if of == panel), None)

    def hip(self, panel: str) -> str | None:
        """The name of the line at the hip, be it from what the panel is made of."""
        while panel not in self._hips:
            if panel not in self._from:
                return None
            made, panel = panel, self._from[panel][0]
            name = self._hips.get(panel)
            if name is not None and name not in self._parts.get(made, ()):
                return None
        return self._hips[panel]

    def is_whole(self, panel: str) -> bool:
        """Whether left and right are cut in one, with neither a fold nor a pair."""
        return any(
            self._shaped(piece.panel) == panel
            and piece.count == "1"
            and not (piece.folds or piece.half)
            for piece in self._pieces
        )

    def is_unfolded(self, panel: str) -> bool:
        """Whether left and right are drawn in one from the panel, a half."""
        return any(
            self._shaped(piece.panel) == panel
            and any(isinstance(step, Unfold) for _, step in self._origins(piece.panel))
            for piece in self._pieces
        )

    def ends_at(self, panels: Iterable[str]) -> int:
        """How many of the draft's steps there are when panels have their shape."""
        wanted = set(panels)
        last = max(at for at, s in enumerate(self._steps) if _makes(s, wanted))
        return last + 1


def source_of(step: Step) -> str | None:
    """The panel that a step makes another of."""
    reads = type(step).reading().get("panel")
    if step.rewrites or reads is not Reads.PANEL:
        return None
    makes_panel = bool(step.makes) or step.parts(()) is not None
    return str(getattr(step, "panel", "")) if makes_panel else None


def _opened(items: Iterable[Any]) -> Iterator[Any]:
    """Steps and groups; a group that only holds another's steps stands open."""
    for item in items:
        if isinstance(item, Group) and item.from_ and not _finishes(item):
            yield from _opened(item.steps)
        else:
            yield item


def _finishes(item: Any) -> bool:
    """Whether a group is joined on with its pieces; one without them only shapes."""
    if not isinstance(item, Group) or not (item.from_ or "").startswith(_JOINED):
        return False
    return item.pieces


def _adds(item: Any) -> bool:
    """Whether a group is an addition: its panels hang on those that are shaped."""
    return isinstance(item, Group) and (item.from_ or "").startswith(_ADDITION)


def _grows(item: Any) -> bool:
    """Whether a finishing, or a panel made of another, is in a step or group."""
    if isinstance(item, Group):
        return _finishes(item) or any(map(_grows, item.steps))
    return source_of(item) is not None


def _makes(item: Any, panels: set[str], but: tuple[type[Step], ...] = ()) -> bool:
    """Whether a step or group draws one of the panels, and not to finish it."""
    if isinstance(item, Group):
        drawn = any(_makes(inner, panels, but) for inner in item.steps)
        return drawn and not _finishes(item)
    return bool(panels & set(item.results())) and not isinstance(item, but)

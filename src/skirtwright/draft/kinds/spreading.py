"""Slash and spread."""

from __future__ import annotations

from typing import ClassVar, Literal

from skirtwright.budget import MOST_LISTED
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.slashing import Spread, spread
from skirtwright.draft.shapes.spot import Spot
from skirtwright.draft.step import Length, PanelOf, Ratio, SpotOf, Step
from skirtwright.measures.records import ruled
from skirtwright.problems import Refused


class SlashAndSpread(Step):
    """Slashes a panel and spreads it, at one slash or several in turn.

    Each slash is a list of places: its mouth on an edge, any corners, its hinge. All
    are found on the panel as it stands above; each is then carried along by those
    before it. `opening` is the straight gap at the `corner`th place (1 = the mouth);
    the last slash may open by a share of it. The part that holds the edge `stays`
    lies still.
    """

    kind: Literal["slash_and_spread"] = "slash_and_spread"
    panel: PanelOf
    slashes: list[list[SpotOf]] = ruled(max_length=MOST_LISTED)
    opening: Length
    corner: int = 1
    stays: str
    last_share: Ratio = "1"

    rewrites: ClassVar[str | None] = "panel"

    def draw(
        self,
        panel: Panel,
        slashes: tuple[tuple[Spot, ...], ...],
        opening: float,
        last_share: float,
    ) -> Panel:
        """The spread panel.

        Raises:
            Refused: see `skirtwright.draft.shapes.slashing.spread`.
        """
        panel.edge(self.stays)
        done: list[Spread] = []
        for number, path in enumerate(slashes, 1):
            carried = path
            for earlier in done:
                carried = tuple(
                    Spot(earlier.carried(spot.point), spot.part) for spot in carried
                )
            share = last_share if number == len(slashes) and number > 1 else 1.0
            try:
                opened = spread(
                    panel, carried, self.corner, opening * share, self.stays
                )
            except Refused as refused:
                code, values = refused.problem.code, refused.problem.values
                raise Refused(code, self.step, **values) from refused
            done.append(opened)
            panel = opened.panel
        return panel

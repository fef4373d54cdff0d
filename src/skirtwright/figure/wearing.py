"""The skirt put on her, look after look; what stays the same is not worked again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from skirtwright.budget import bounded
from skirtwright.figure.body import body_of
from skirtwright.figure.cloth import ClothOnHer
from skirtwright.figure.worn_skirt import COARSE, FINE, Worn, worn
from skirtwright.pieces.cutting import Cut


class Wearing:
    """Puts skirts on bodies one after another."""

    def __init__(self) -> None:
        self._cloth = ClothOnHer()
        self._overlay = ClothOnHer()

    @bounded()
    def of(
        self,
        taken: Mapping[str, float],
        cut: Cut,
        finished: Mapping[str, float | None],
        stretch: float = 0.0,
        *,
        fine: bool = True,
        flat: tuple[float, float] = (0.0, 0.0),
        left_on_top: bool = False,
    ) -> Worn | None:
        """The skirt on her; None where nothing of it hangs from her waist.

        Args:
            taken: her measurements, mm, those of one side too.
            finished: waist, hip and sweep of the closed skirt on the body, mm.
            stretch: the share by which the cloth stretches round her.
            fine: to be looked at large; else quick enough to follow a hand.
            flat: how much of the waist is not gathered in front and behind, mm.
            left_on_top: where fronts lap, her left one lies over the right one.

        Raises:
            Refused: the draft asks for more cloth round her than any skirt has.
        """
        body = body_of(taken)
        if body is None:
            return None
        cloth = self._cloth.of(cut, body.waist_to_hip)
        if cloth is None:
            return None
        count = FINE if fine else COARSE
        thin = self._overlay.of(cut, body.waist_to_hip, "overlay")
        waist = {"waist": finished.get("waist")}
        over = worn(body, thin, waist, count=count) if thin else None
        cloth = replace(cloth, left_on_top=left_on_top)
        return worn(body, cloth, finished, stretch, count, flat, over)

"""Numbers worked on the way, and checks of them."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from skirtwright.budget import LONGEST_SENTENCE
from skirtwright.draft.step import Figure, Step, Whether
from skirtwright.problems import Problem


class Number(Step):
    """A number by a working: a length, a plain number or an angle."""

    kind: Literal["number"] = "number"
    value: Figure

    def draw(self, value: float) -> float:
        """The number itself."""
        return float(value)


class Check(Step):
    """Says something when a condition holds; with `refuse` the draft stops there.

    `says` and `remedy` may name numbers above in braces: `{side_edge:length}`.
    """

    kind: Literal["check"] = "check"
    when: Whether
    grade: Literal["note", "caution", "wrong", "refuse"] = "note"
    says: str = Field(max_length=LONGEST_SENTENCE)
    remedy: str = Field(default="", max_length=LONGEST_SENTENCE)
    values: dict[str, Figure] = {}

    def draw(self, when: bool, values: dict[str, float]) -> Problem | None:
        """The finding, or nothing."""
        if not when:
            return None
        return Problem(
            code=f"style.{self.step}",
            severity="wrong" if self.grade == "refuse" else self.grade,
            where=self.step,
            values=values,
            says=self.says,
            remedy=self.remedy or None,
            stops=self.grade == "refuse",
        )


KINDS: tuple[type[Step], ...] = (Number, Check)

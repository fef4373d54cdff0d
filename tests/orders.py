"""Orders whose amounts stand at the ends of the ranges that are offered, seeded."""

from __future__ import annotations

import random
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.draft.inputs import AmountState, Inputs, Stating
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Reworking, Worked


@dataclass
class Orders:
    """Orders of one style for seeded bodies, each worked.

    Attributes:
        style: its name.
        women: the measured bodies, mm, to begin from.
        seed: the same seed gives the same orders.
    """

    style: str
    women: Sequence[dict[str, float]]
    seed: int
    draft: Draft = field(init=False)

    def __post_init__(self) -> None:
        self.draft = styles.style(self.style)
        self._working, self._stating = Reworking(), Stating()
        self._chance = random.Random(f"{self.style} {self.seed}")

    def own_amounts(self) -> tuple[str, ...]:
        """Amounts that the straight block does not have."""
        if self.style == "straight-block":
            return tuple(amount.name for amount in self.draft.amounts)
        shared = {amount.name for amount in styles.style("straight-block").amounts}
        return tuple(a.name for a in self.draft.amounts if a.name not in shared)

    def alone(
        self, names: Sequence[str], left_out: Collection[tuple[str, int]] = ()
    ) -> Iterator[Worked]:
        """Each amount that applies at both ends of its range, all else untouched.

        Args:
            names: of the amounts.
            left_out: ends that are not drawn: an amount with 0 for its least, or 1.
        """
        body = self.body()
        plain = self._worked(body, {}, {})
        yield plain
        for name in names:
            for number, end in enumerate(ends_of(plain.stated.amounts[name])):
                if (name, number) not in left_out:
                    yield self._worked(body, {name: end}, {})

    def together(self, count: int) -> Iterator[Worked]:
        """One to five amounts at an end, each in the range the ones above leave it."""
        for _ in range(count):
            body = self._measured_further(self.body())
            chosen = self._chosen(body) if self._chance.random() < 0.6 else {}
            amounts: dict[str, float] = {}
            names = [amount.name for amount in self.draft.amounts]
            few = min(len(names), self._chance.choice([1, 1, 2, 3, 5]))
            for place in sorted(self._chance.sample(range(len(names)), few)):
                inputs = Inputs(body, amounts, chosen)
                stated = self._stating.state(self.draft, inputs)
                ends = ends_of(stated.amounts[names[place]])
                if ends:
                    amounts[names[place]] = self._chance.choice(ends)
            yield self._worked(body, amounts, chosen)

    def body(self) -> dict[str, float]:
        """A measured woman, or one of her girths over other depths or longer legs."""
        chance = self._chance
        body = dict(chance.choice(self.women))
        kind = chance.random()
        if kind < 0.6:
            body["waist_to_hip"] = chance.uniform(170, 250)
            body["waist_to_knee"] = chance.uniform(520, 660)
        if kind < 0.3:
            hip = chance.uniform(760, 1400)
            # Hip less waist as in the measured women.
            waist = hip - chance.uniform(51, 367)
            if 560 <= waist <= 1250:
                body["hip"], body["waist"] = hip, waist
        return {name: round(value, 1) for name, value in body.items()}

    def _measured_further(self, body: dict[str, float]) -> dict[str, float]:
        """Now and then the measurements that may be left out."""
        chance = self._chance
        more = dict(body)
        if chance.random() < 0.25:
            side = chance.uniform(980, 1120)
            more["waist_to_floor_side"] = side
            more["waist_to_floor_front"] = side - chance.uniform(-5, 20)
            more["waist_to_floor_back"] = side - chance.uniform(-15, 20)
        for name, low, high in (
            ("front_hip", 0.46 * body["hip"], 0.52 * body["hip"]),
            ("front_waist", 0.47 * body["waist"], 0.55 * body["waist"]),
            (
                "top_hip",
                0.4 * body["hip"] + 0.6 * body["waist"],
                0.8 * body["hip"] + 0.2 * body["waist"],
            ),
            ("dart_spacing", 80, 110),
        ):
            if chance.random() < 0.2:
                more[name] = chance.uniform(low, high)
        return {name: round(value, 1) for name, value in more.items()}

    def _chosen(self, body: dict[str, float]) -> dict[str, str]:
        """An option of two choices that are offered."""
        plain = self._worked(body, {}, {})
        offered = [
            choice
            for choice in self.draft.choices
            if choice.when is None or plain.read(choice.when, Reads.WHETHER)
        ]
        chosen = {
            choice.name: self._chance.choice(list(choice.options))
            for choice in self._chance.sample(offered, min(2, len(offered)))
        }
        if chosen.get("waist_shape") == "side_elastic":
            # It does not open at the side, and says so.
            chosen = {n: o for n, o in chosen.items() if not o.endswith("left_side")}
        if "vent" in chosen:
            # The hem of a vent takes nothing else, and says so.
            chosen.pop("at_hem", None)
        return chosen

    def _worked(
        self,
        body: dict[str, float],
        amounts: dict[str, float],
        chosen: dict[str, str],
    ) -> Worked:
        return self._working.work(self.draft, Inputs(body, amounts, chosen))


def body_of(woman: Any) -> dict[str, float]:
    """A measured woman as a card, mm: waist to hip and knee by her height."""
    return {
        "waist": woman.waist,
        "hip": woman.hip,
        "waist_to_hip": 0.122 * woman.height,
        "waist_to_knee": 0.35 * woman.height,
    }


def ends_of(state: AmountState) -> tuple[float, ...]:
    """Both ends of the range an amount offers; none where it is not offered."""
    if not state.applies or state.least > state.most + 1e-9:
        return ()
    return state.least, state.most

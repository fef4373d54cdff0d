"""A card that is not whole yet, filled with guesses: to look at, never to cut from."""

from __future__ import annotations

from skirtwright.measures.card import Card, values_of
from skirtwright.measures.sizes import chart, size

_CHART = "measured-women"
"""Of women measured: what is guessed is what such women were on the mean."""

_GIRTHS = ("waist", "hip")


def with_guesses(card: Card) -> Card:
    """A card with what no skirt is drawn without, guessed where it is not measured.

    The lengths are those of the size nearest to the girths she was measured for, or of
    the middle size; a girth is that size's too, in proportion to her other one.

    Raises:
        BadInput: an unknown measurement, or one that is not a usable length.
    """
    given = values_of(card)
    taken = [name for name in _GIRTHS if name in given]
    names = chart(_CHART).names
    sizes = [values_of(size(_CHART, name)) for name in names]
    nearest = sizes[len(sizes) // 2]
    if taken:
        nearest = min(sizes, key=lambda s: sum(abs(s[n] - given[n]) for n in taken))
    larger = given[taken[0]] / nearest[taken[0]] if taken else 1.0
    guessed = {
        name: f"{value * (larger if name in _GIRTHS else 1.0):.0f} mm"
        for name, value in nearest.items()
        if name not in given
    }
    return card.replace(measurements={**card.measurements, **guessed})

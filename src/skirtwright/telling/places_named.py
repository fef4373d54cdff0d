"""What tellers of steps share: the places, edges and lines a step names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.working.replay import Moment
from skirtwright.geometry.chain import Chain
from skirtwright.telling.names_in_words import (
    beside_words,
    edge_words,
    line_words,
    own_place_words,
    place_words,
    plain,
)
from skirtwright.words import Phrase, Sayable, Several

Values = Mapping[str, Sayable | float]
"""What a sentence names: never bare text, so that alike ones can be put together."""

PhraseOf = tuple[str, Values]
"""What is added to the message id, and the values."""


DRAWN = 0.8
"""Half a sixteenth of an inch, mm: who draws by hand moves nothing by less."""


def place(moment: Moment, field: str) -> Sayable:
    """The place a field names."""
    text = getattr(moment.step, field)
    return place_words(text, moment.seen, moment.fields.get(field))


def own_place(moment: Moment) -> Sayable:
    """Where on its edge a step begins."""
    step: Any = moment.step
    edge = f"{step.panel}.{step.edge}"
    return own_place_words(step.at, edge, moment.seen, moment.fields["at"])


def places_of(moment: Moment, field: str) -> tuple[Sayable, ...]:
    """The places a field lists."""
    texts, points = getattr(moment.step, field), moment.fields.get(field, ())
    return tuple(
        place_words(text, moment.seen, point)
        for text, point in zip(texts, points, strict=False)
    )


def lines_of(moment: Moment, field: str) -> Several:
    """The lines a field lists."""
    texts = getattr(moment.step, field)
    return Several(tuple(line_words(text, moment.seen) for text in texts))


def name_of(moment: Moment) -> str:
    """What a step is called."""
    return plain(moment.step.step)


def edge_of(moment: Moment) -> Sayable:
    """The edge a step is about: "the side of the front"."""
    values = {"edge": edge_words(moment.step.edge), "panel": plain(moment.step.panel)}  # type: ignore[attr-defined]
    return Phrase("step.edge_of", values)


def where(moment: Moment) -> PhraseOf:
    """A step that tells no more than its edge."""
    return "", {"where": edge_of(moment)}


def panels_of(moment: Moment) -> tuple[Panel, Panel]:
    """The panel before and after a step.

    Raises:
        KeyError: it draws none, or the first of its name.
    """
    before, after = moment.before, moment.after
    if not isinstance(before, Panel) or not isinstance(after, Panel):
        raise KeyError(moment.path)
    return before, after


def swollen(chain: Chain, values: Values) -> PhraseOf:
    """How far a curve stands off the straight between its ends, half way along."""
    middle = chain.at(chain.length / 2)
    along = (chain.end - chain.start).unit()
    foot = chain.start + along * (middle - chain.start).dot(along)
    swell = middle - foot
    if swell.size() < DRAWN:
        return "_straight", values
    return "", {**values, "swell": swell.size(), "side": beside_words(swell)}


def meets(moment: Moment) -> tuple[Sayable, Sayable]:
    """The edges that a step's edge meets, at its start and its end."""
    before, _ = panels_of(moment)
    first, second = before.neighbours(moment.step.edge)  # type: ignore[attr-defined]
    return edge_words(first[0].name), edge_words(second[0].name)


def to_line(moment: Moment) -> PhraseOf:
    """An edge, and the line it is brought to."""
    line = line_words(moment.step.line, moment.seen)  # type: ignore[attr-defined]
    return "", {"where": edge_of(moment), "line": line}


def by_words(moment: Moment) -> PhraseOf:
    """A change the one way or, by less than nothing, the other."""
    by = moment.fields["by"]
    values = {"where": edge_of(moment), "by": abs(by)}
    return ("_other" if by < 0 else ""), values

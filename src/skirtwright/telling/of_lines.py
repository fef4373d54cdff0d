"""What steps that draw points and lines tell of themselves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from skirtwright.draft.working.replay import Moment
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point, heading
from skirtwright.telling.names_in_words import (
    SMALLEST,
    beside_words,
    line_words,
    named,
    offset_words,
    side_words,
    way_words,
)
from skirtwright.telling.places_named import (
    PhraseOf,
    lines_of,
    name_of,
    place,
    places_of,
    swollen,
)
from skirtwright.words import Phrase, Several

_HALF = 0.5

# Points


def _start(moment: Moment) -> PhraseOf:
    point: Point = moment.after
    if point.size() < SMALLEST:
        return "_here", {"where": named(moment.step.step)}
    where = {"name": name_of(moment), "offset": offset_words(point)}
    return "", {"where": Phrase("step.point_at", where)}


def _measured_off(moment: Moment) -> PhraseOf:
    way = way_words(heading(moment.fields["direction"]))
    return "", {"start": place(moment, "start"), "way": way}


def _squared_out(moment: Moment) -> PhraseOf:
    at, line = moment.fields["at"], moment.step.line  # type: ignore[attr-defined]
    values = {
        "name": name_of(moment),
        "at": place(moment, "at"),
        "line": line_words(line, moment.seen),
        "side": beside_words(moment.after - at),
        "distance": moment.fields["distance"],
    }
    return "", {"where": Phrase("step.squared", values)}


def _divided(moment: Moment) -> PhraseOf:
    start, end = moment.fields["start"], moment.fields["end"]
    values = {
        "start": place(moment, "start"),
        "end": place(moment, "end"),
        "distance": start.to(moment.after),
    }
    half = abs(moment.fields["share"] - _HALF) < 1e-9
    return ("_half" if half else ""), values | {"length": start.to(end)}


def _met(moment: Moment) -> PhraseOf:
    return "", {
        "start": place(moment, "start"),
        "through": place(moment, "through"),
        "line": line_words(moment.step.line, moment.seen),  # type: ignore[attr-defined]
        "distance": moment.fields["start"].to(moment.after),
    }


def _placed(moment: Moment) -> PhraseOf:
    values = {"name": name_of(moment), "at": place(moment, "at")}
    return "", {"where": Phrase("step.placed", values)}


def _turned(moment: Moment) -> PhraseOf:
    angle = moment.fields["angle"]
    return ("_clockwise" if angle < 0 else ""), {
        "point": place(moment, "point"),
        "about": place(moment, "about"),
        "angle": abs(angle),
    }


def _reflected(moment: Moment) -> PhraseOf:
    return "", {name: place(moment, name) for name in ("point", "start", "end")}


# Lines


def _joined(moment: Moment) -> PhraseOf:
    through = places_of(moment, "through")
    values: dict[str, Any] = {"name": name_of(moment), "start": through[0]}
    values["end"] = through[-1]
    if len(through) > 2:
        values["through"] = Several(through[1:-1])
        return "", {"where": Phrase("step.joined_through", values)}
    return "", {"where": Phrase("step.joined", values)}


def _curved(moment: Moment) -> PhraseOf:
    chain: Chain = moment.after
    values = {
        "start": place(moment, "start"),
        "end": place(moment, "end"),
        "leaving": way_words(chain.start_direction),
        "arriving": way_words(chain.end_direction),
    }
    return swollen(chain, values)


def _arc(moment: Moment) -> PhraseOf:
    centre, start = moment.fields["centre"], moment.fields["start"]
    less = moment.fields["less"]
    chain: Chain = moment.after
    return ("_less" if less > 0 else ""), {
        "centre": place(moment, "centre"),
        "start": place(moment, "start"),
        "radius": centre.to(start),
        "length": chain.length,
        "angle": abs(moment.fields["angle"]),
        "less": less,
        "side": side_words(chain.end - chain.start),
    }


def _run(moment: Moment) -> PhraseOf:
    return "", {"lines": lines_of(moment, "lines")}


TELLERS: dict[str, Callable[[Moment], PhraseOf]] = {
    "start": _start,
    "measure_off": _measured_off,
    "square_out": _squared_out,
    "divide": _divided,
    "meet": _met,
    "place": _placed,
    "turned": _turned,
    "reflected": _reflected,
    "join": _joined,
    "curve": _curved,
    "arc": _arc,
    "run": _run,
}
"""By kind; see `skirtwright.telling.tellers`."""

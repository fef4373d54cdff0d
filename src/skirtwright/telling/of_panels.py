"""What steps that draw panels and redraw their edges tell of themselves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from skirtwright.draft.kinds.redrawn_edges import graded_share
from skirtwright.draft.shapes.darts import darts_on
from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.draft.shapes.shutting import shut_line
from skirtwright.draft.working.replay import Moment
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.curves import level_at_ends
from skirtwright.geometry.point import Point, heading
from skirtwright.telling.names_in_words import (
    SMALLEST,
    edge_words,
    line_words,
    named,
    offset_words,
    plain,
    way_words,
)
from skirtwright.telling.places_named import (
    PhraseOf,
    Values,
    by_words,
    edge_of,
    lines_of,
    meets,
    own_place,
    panels_of,
    place,
    places_of,
    swollen,
    to_line,
)
from skirtwright.words import Phrase, Sayable, Several

# Panels


def _outlined(moment: Moment) -> PhraseOf:
    edges = moment.step.edges  # type: ignore[attr-defined]
    parts = []
    for edge, line in edges.items():
        values = {"edge": edge_words(edge), "line": line_words(line, moment.seen)}
        parts.append(Phrase("step.edge_is", values))
    return "", {"edges": Several(tuple(parts))}


def _marked(moment: Moment) -> PhraseOf:
    step: Any = moment.step
    values = {"name": plain(step.name), "panel": plain(step.panel)}
    places = places_of(moment, "through")
    if len(places) == 1:
        values["at"] = places[0]  # type: ignore[assignment]
        return "", {"where": Phrase("step.marked_point", values)}
    if places:
        more = {"start": places[0], "end": places[-1]}
        if len(places) > 2:
            more["through"] = Several(places[1:-1])
            return "", {"where": Phrase("step.marked_through", {**values, **more})}
        return "", {"where": Phrase("step.marked_line", {**values, **more})}
    if step.shape is None:
        return "", {"where": Phrase("step.marked", values)}
    values["line"] = line_words(step.shape, moment.seen)  # type: ignore[assignment]
    return "", {"where": Phrase("step.marked_along", values)}


def _marked_in_a_row(moment: Moment) -> PhraseOf:
    step: Any = moment.step
    fields = moment.fields
    number = int(fields["count"])
    long = fields["before"] + fields["after"]
    values: Values = {
        "name": named(step.name),
        "panel": named(step.panel),
        "count": number,
        "start": place(moment, "start"),
        "end": place(moment, "end"),
        "apart": fields["start"].to(fields["end"]) / max(number - 1, 1),
        "long": long,
        "before": fields["before"],
        "way": way_words(heading(fields["direction"])),
    }
    return ("_lines" if long > SMALLEST else ""), values


def _darted(moment: Moment) -> PhraseOf:
    before, after = panels_of(moment)
    step: Any = moment.step
    begins = before.neighbours(step.edge)[0][0].name
    known = {dart.name for dart in before.darts}
    told = [
        _dart(after, dart, begins, step.axis)
        for dart in darts_on(after, step.edge)
        if dart.name not in known
    ]
    values: Values = {
        "where": edge_of(moment),
        "count": len(told),
        "darts": Several(tuple(told)),
    }
    return ("_one" if len(told) == 1 else ""), values


def _dart(panel: Panel, dart: Any, begins: str, axis: str) -> Sayable:
    near, far = panel.legs(dart)
    chain = panel.edge(dart.edge).chain
    # On paper what a dart takes up is there to be walked over.
    paper = Chain(tuple(segment.taken_up("") for segment in chain.segments))
    distance = (paper.nearest(near)[0] + paper.nearest(far)[0]) / 2
    fold = Fold.of(dart.name)
    values = {
        "number": str(fold.number) if fold else dart.name,
        "distance": distance,
        "shut": chain.nearest(near)[0],
        "begins": edge_words(begins),
        "edge": edge_words(dart.edge),
        "length": paper.at(distance).to(dart.tip),
        "tip": offset_words(dart.tip),
    }
    return Phrase("step.dart_upright" if axis == "upright" else "step.dart", values)


def _led(moment: Moment) -> PhraseOf:
    values = {
        "edge_of": edge_of(moment),
        "at": own_place(moment),
        "lines": lines_of(moment, "lines"),
    }
    before, _ = panels_of(moment)
    end = before.edge(moment.step.edge).chain.end  # type: ignore[attr-defined]
    anew = "" if moment.fields["at"].to(end) < SMALLEST else "_anew"
    return anew, {"where": Phrase("step.led", values)}


def _lengthened(moment: Moment) -> PhraseOf:
    before, _ = panels_of(moment)
    more, values = by_words(moment)
    met = before.neighbours(moment.step.edge)[1][0].name  # type: ignore[attr-defined]
    return more, {**values, "met": edge_words(met)}


def _set(moment: Moment) -> PhraseOf:
    more, values = by_words(moment)
    first, second = meets(moment)
    return more, {**values, "first": first, "second": second}


def _redrawn(moment: Moment) -> PhraseOf:
    _, after = panels_of(moment)
    step: Any = moment.step
    first, second = meets(moment)
    chain = shut_line(after, step.edge)
    darts = darts_on(after, step.edge)
    values: Values = {
        "where": edge_of(moment),
        "first": first,
        "second": second,
        "length": chain.length,
        "panel": named(step.panel),
        "edge": edge_words(step.edge),
    }
    bent, values = swollen(chain, values)
    drawn = {"start": getattr(step, "start", ""), "end": getattr(step, "end", "")}
    ends = "" if "as_drawn" not in drawn.values() else "_on"
    if darts:
        trimmed = Several(tuple(_trimmed(after, dart) for dart in darts))
        return "_darted", {"swell": 0.0, "darts": trimmed, **values}
    return bent or ends, values


def _trimmed(panel: Panel, dart: Dart) -> Sayable:
    """A dart as its edge, drawn anew, leaves it: that is what is sewn."""
    near, far = panel.legs(dart)
    fold = Fold.of(dart.name)
    values = {
        "number": str(fold.number) if fold else dart.name,
        "width": near.to(far),
        "length": dart.tip.to(near.between(far, 0.5)),
    }
    return Phrase("step.dart_trimmed", values)


def _graded(moment: Moment) -> PhraseOf:
    before, after = panels_of(moment)
    step: Any = moment.step
    first, second = meets(moment)
    old, new = before.edge(step.edge).chain, after.edge(step.edge).chain
    edge = before.edge(step.edge)
    lowered = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        at = share * old.length
        along = old.direction_at(at)
        out = along.right() if edge.forward else along.left()
        place = new.at(new.nearest(_moved(moment, old, at, out))[0])
        lowered.append((place - old.at(at)).dot(out))
    names = ("first_by", "quarter_by", "half_by", "late_by", "last_by")
    values = dict(zip(names, map(_signed, lowered), strict=True))
    return "", {"where": edge_of(moment), "first": first, "second": second, **values}


def _moved(moment: Moment, old: Chain, at: float, out: Point) -> Point:
    fields = moment.fields
    shares = fields["start_share"], fields["end_share"]
    share = graded_share(at / old.length, shares, fields["ahead"])
    rise = level_at_ends(share ** fields["late"])
    by = fields["first"] + (fields["last"] - fields["first"]) * rise
    place: Point = old.at(at) + out * by
    return place


def _signed(by: float) -> Sayable:
    if abs(by) < SMALLEST:
        return Phrase("step.lowered_nothing")
    return Phrase("step.lowered" if by > 0 else "step.raised", {"by": abs(by)})


TELLERS: dict[str, Callable[[Moment], PhraseOf]] = {
    "outline": _outlined,
    "mark": _marked,
    "mark_row": _marked_in_a_row,
    "insert_darts": _darted,
    "lead_along": _led,
    "lengthen": _lengthened,
    "set_edge": _set,
    "redraw": _redrawn,
    "redraw_to_length": _redrawn,
    "even_from": to_line,
    "graded_hem": _graded,
}
"""By kind; see `skirtwright.telling.tellers`."""

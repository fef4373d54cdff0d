"""What steps that cut, fold and move the paper tell of themselves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from skirtwright.draft.shapes.darts import darts_on
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.working.replay import Moment
from skirtwright.telling.names_in_words import (
    SMALLEST,
    edge_words,
    line_words,
    named,
    place_words,
    plain,
)
from skirtwright.telling.places_named import (
    PhraseOf,
    by_words,
    edge_of,
    meets,
    name_of,
    own_place,
    panels_of,
    places_of,
    to_line,
    where,
)
from skirtwright.words import Phrase, Sayable, Several

# Paper cut and moved


def _slashed(moment: Moment) -> PhraseOf:
    step: Any = moment.step
    told: list[Sayable] = []
    gaps: list[Sayable] = []
    for texts, spots in zip(step.slashes, moment.fields["slashes"], strict=True):
        places = [
            place_words(text, moment.seen, spot.point)
            for text, spot in zip(texts, spots, strict=True)
        ]
        values: dict[str, Any] = {"mouth": places[0], "hinge": places[-1]}
        gaps.append(places[step.corner - 1])
        if len(places) > 2:
            values["through"] = Several(tuple(places[1:-1]))
            told.append(Phrase("step.slash_through", values))
        else:
            told.append(Phrase("step.slash", values))
    values = {"slashes": Several(tuple(told)), "gap": Several(tuple(gaps))}
    share = moment.fields.get("last_share", 1.0)
    if len(told) > 1 and abs(share - 1.0) > 1e-9:
        values["last_opening"] = moment.fields["opening"] * share
        return "_last", values
    return "", values


def _at_corner(moment: Moment) -> PhraseOf:
    values = {"edge_of": edge_of(moment), "at": own_place(moment)}
    return "", {"where": Phrase("step.corner_in", values)}


def _past_corner(moment: Moment) -> PhraseOf:
    partly = moment.fields["turned"] < 1
    return "_partly" if partly else "", _at_corner(moment)[1]


def _squared_end(moment: Moment) -> PhraseOf:
    first, second = meets(moment)
    at_start = moment.step.which == "start"  # type: ignore[attr-defined]
    return "", {"where": edge_of(moment), "met": first if at_start else second}


def _swung(moment: Moment) -> PhraseOf:
    before, after = panels_of(moment)
    step: Any = moment.step
    by = moment.fields["by"]
    old, new = before.edge(step.edge).chain.end, after.edge(step.edge).chain.end
    values = {
        "where": Phrase(
            "step.edge_from", {"edge_of": edge_of(moment), "at": own_place(moment)}
        ),
        "by": abs(by),
        "moved": old.to(new),
        "ease": moment.fields["ease"],
    }
    eased = "_eased" if values["ease"] >= SMALLEST else ""
    return ("_other" if by < 0 else "") + eased, values


def _cut(moment: Moment) -> PhraseOf:
    step: Any = moment.step
    return "", {
        "line": line_words(step.line, moment.seen),
        "holds": edge_words(step.holds),
    }


def _extended(moment: Moment) -> PhraseOf:
    return "", {"where": edge_of(moment), "at": own_place(moment)}


def _let_out(moment: Moment) -> PhraseOf:
    more, values = by_words(moment)
    edge = Phrase(
        "step.edge_from", {"edge_of": edge_of(moment), "at": own_place(moment)}
    )
    return more, {**values, "where": edge}


def _let_out_between(moment: Moment) -> PhraseOf:
    more, values = by_words(moment)
    step: Any = moment.step
    ends = {
        end: place_words(getattr(step, end), moment.seen, moment.fields[end])
        for end in ("first", "last")
    }
    return more, {**values, **ends, "where": edge_of(moment)}


def _shortened_along(moment: Moment) -> PhraseOf:
    cut = [Phrase("step.cut_off_there", {"by": by}) for by in moment.fields["cuts"]]
    return "", {"where": edge_of(moment), "cuts": Several(tuple(cut))}


def _copied(moment: Moment) -> PhraseOf:
    values = {"panel": plain(moment.step.panel), "name": name_of(moment)}  # type: ignore[attr-defined]
    return "", {"where": Phrase("step.copied", values)}


def _put_back(moment: Moment) -> PhraseOf:
    step: Any = moment.step
    return "", {"panel": named(step.panel), "traced": named(step.traced)}


def _strip(moment: Moment) -> PhraseOf:
    less = moment.fields["less"]
    step: Any = moment.step
    panel: Panel = moment.fields["panel"]
    first = edge_words(panel.neighbours(step.edge)[0][0].name)
    values = {"where": edge_of(moment), "less": less, "first": first}
    darted = "_darted" if darts_on(panel, step.edge) else ""
    return darted + ("_less" if less >= SMALLEST else ""), values


def _moved_start(moment: Moment) -> PhraseOf:
    more, values = by_words(moment)
    return more, {**values, "met": meets(moment)[0]}


def _turned_over(moment: Moment) -> PhraseOf:
    return "", {"where": named(moment.step.panel)}  # type: ignore[attr-defined]


def _pleated(moment: Moment) -> PhraseOf:
    count = round(moment.fields["count"])
    pairs = zip(places_of(moment, "at"), places_of(moment, "feet"), strict=False)
    told = [Phrase("step.pleat", {"at": at, "foot": foot}) for at, foot in pairs]
    values = {
        "pleats": Several(tuple(told[:count])),
        "count": count,
        "side": Phrase(f"step.{moment.step.laid}", {"met": _laid_to(moment)}),  # type: ignore[attr-defined]
        "bottom": moment.fields["bottom"],
    }
    how = "_hinged" if values["bottom"] < SMALLEST else ""
    dart = moment.step.dart_of(panels_of(moment)[0])  # type: ignore[attr-defined]
    return (f"{how}_at_dart" if dart and how else how), values


def _pleats_laid(moment: Moment) -> PhraseOf:
    begins, laid = moment.step.begins, moment.step.laid  # type: ignore[attr-defined]
    first = Phrase(f"step.pleats_from_{begins}")
    return ("_both" if laid == "both" else ""), {"from": first, "met": _laid_to(moment)}


def _laid_to(moment: Moment) -> Sayable:
    first, second = meets(moment)
    return first if moment.step.laid == "to_start" else second  # type: ignore[attr-defined]


TELLERS: dict[str, Callable[[Moment], PhraseOf]] = {
    "slash_and_spread": _slashed,
    "ease_corner": _at_corner,
    "ease_start": _past_corner,
    "square_end": _squared_end,
    "swing_edge": _swung,
    "cut_apart": _cut,
    "add_extension": _extended,
    "divide_edge": _extended,
    "let_out": _let_out,
    "let_out_between": _let_out_between,
    "shorten_along": _shortened_along,
    "copy": _copied,
    "put_back": _put_back,
    "strip_along": _strip,
    "bow_legs": by_words,
    "move_start": _moved_start,
    "turn_over": _turned_over,
    "add_pleats": _pleated,
    "lay_pleats": _pleats_laid,
    "tips_to_line": to_line,
    "tucks": where,
    "shut_dart": where,
    "shut_darts": where,
}
"""By kind; see `skirtwright.telling.tellers`."""

"""Size charts, published or reckoned, from resources/sizes: a size read into a card.

A chart prints waist and hip; what it does not print is filled in by a working that
stands in the chart with its source, so that a size can be drafted as it is.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from skirtwright import shelf
from skirtwright.measures.card import Card
from skirtwright.measures.measurements import body_working, read_measurement
from skirtwright.measures.records import Record, ruled, take
from skirtwright.measures.units import Unit, show_length
from skirtwright.problems import BadInput, NotFound, nearest

_FOLDER = "sizes"


class Column(Record):
    """One measurement of a chart: a value for each size, or one working for all.

    Attributes:
        values: as printed, in the chart's unit and in the order of its sizes.
        working: what stands in where the chart prints nothing.
    """

    values: tuple[str, ...] = ()
    working: str | None = None
    source: str


class Chart(Record):
    """A published table of sizes.

    Attributes:
        id: as written before the colon in `CHART:SIZE`; it says whose sizes they are.
        formerly: what it was written as before, which goes on answering.
        unit: of the printed values.
        names: the sizes, smallest first.
        measurements: the columns by measurement; workings may use those above them.
    """

    id: str
    formerly: str = ""
    title: str
    source: str
    unit: Unit
    names: tuple[str, ...] = ruled(min_length=1)
    measurements: dict[str, Column]


@cache
def charts() -> tuple[Chart, ...]:
    """Every chart on the shelf, in alphabetical order of their ids."""
    return tuple(
        take(Chart, shelf.read_json(f"{_FOLDER}/{name}.json"))
        for name in shelf.names(_FOLDER, ".json")
    )


def chart(name: str) -> Chart:
    """The chart of that id.

    Raises:
        NotFound: there is none; the nearest and all are named.
    """
    known = {one.id: one for one in charts()}
    called = {one.formerly: one for one in charts() if one.formerly} | known
    if name not in called:
        near = nearest(name.lower(), called, 0.0)
        raise NotFound(
            "measures.no_chart",
            name,
            name=name,
            nearest=called[near].id if near else "",
            known=", ".join(known),
        )
    return called[name]


def size(chart_name: str, name: str) -> Card:
    """A size as a card, each measurement as the chart prints it.

    Raises:
        NotFound: no such chart, or no such size in it; the nearest is named.
        BadInput: several sizes.
    """
    found = chart(chart_name)
    if name not in found.names:
        if all(part.strip() in found.names for part in re.split("[-,]", name)):
            example = f"{chart_name}:{found.names[0]}-{found.names[:3][-1]}"
            raise BadInput("measures.several_sizes", name, name=name, example=example)
        raise NotFound(
            "measures.no_size",
            name,
            name=name,
            chart=found.title,
            nearest=nearest_size(name, found.names),
            known=", ".join(found.names),
        )
    index = found.names.index(name)
    typed: dict[str, str] = {}
    known: dict[str, float] = {}
    for measurement, column in found.measurements.items():
        if column.working is None:
            typed[measurement] = f"{column.values[index]} {found.unit}"
            known[measurement] = read_measurement(measurement, typed[measurement])
        else:
            known[measurement] = body_working(column.working).work(known)
            shown = show_length(known[measurement], found.unit)
            typed[measurement] = f"{shown} {found.unit}"
    return Card(name=f"{found.title}, {name}", measurements=typed, unit=found.unit)


def read_size(text: str) -> Card:
    """The card of `CHART:SIZE`.

    Raises:
        BadInput: there is no colon, or no chart before it.
        NotFound: no such chart, or no such size in it; the nearest is named.
    """
    chart_name, colon, name = map(str.strip, text.partition(":"))
    if not (colon and chart_name):
        raise BadInput(
            "measures.not_a_size",
            text,
            text=text,
            example=f"{charts()[0].id}:{charts()[0].names[0]}",
        )
    return size(chart_name, name)


def nearest_size(name: str, names: Sequence[str]) -> str:
    """The nearest by number where all are numbers, else by spelling."""
    if name.isascii() and name.isdigit() and all(one.isdigit() for one in names):
        return min(names, key=lambda one: abs(int(one) - int(name)))
    return nearest(name, names, 0.0)

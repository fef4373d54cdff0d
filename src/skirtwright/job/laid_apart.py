"""Lays worked in a process of their own: an order in, a line of JSON for each news.

`python -m skirtwright.job.laid_apart WHAT ...` reads an order and is asked to

    lay TRIES TRIES MATERIAL...       lay cloths, first quickly, then in earnest;
    rest MATERIAL TRIES...            lay round what is locked by hand what is not;
    widths MATERIAL MANNER TRIES      say what would be bought of it in other widths;
    largest MATERIAL MANNER NAME...   take amounts as far as the cloth on hand gives.

A line holds `share` (of the work that is done), `width`, or `lays` with what is
`refused`; `largest` ends with what is `said` and, where the cloth gives something, the
`amounts` as typed. MANNER is how she is spoken to, as JSON. Whoever has the same order
makes the lays of it again without searching.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

from skirtwright.job import file
from skirtwright.job.on_hand import Given, given_sentences, largest
from skirtwright.job.worktable import Look, Worktable
from skirtwright.lay.all_cloths import Lays, at_widths, lay_all, materials
from skirtwright.lay.by_hand import Spot, at_spots, spots_of
from skirtwright.lay.cloth_to_cut import widths_sold
from skirtwright.lay.lay import QUICK, lay
from skirtwright.measures.records import take
from skirtwright.problems import Problem, Refused, SkirtwrightError
from skirtwright.words import Manner

_TOLD = 0.02
"""What share of the work is done before it is told again."""


def main() -> int:
    """Do what is asked with the order on stdin."""
    look = Worktable().look(file.read(sys.stdin.buffer.read(), "stdin"))
    what, *asked = sys.argv[1:]
    _DOES[what](look, asked)
    return 0


def _tell(**news: Any) -> None:
    sys.stdout.write(json.dumps(news) + "\n")
    sys.stdout.flush()


def _progress() -> Callable[[float], None]:
    """What tells the share of the work that is done, now and then."""
    told = 0.0

    def tell(share: float) -> None:
        nonlocal told
        if share - told >= _TOLD:
            told = share
            _tell(share=share)

    return tell


def _in_parts(tries: Sequence[int]) -> Iterator[tuple[int, Callable[[float], None]]]:
    """Each count of tries, with what tells how far all of them are."""
    told, whole, before = _progress(), sum(tries), 0
    for count in tries:

        def part(share: float, before: int = before, count: int = count) -> None:
            told((before + share * count) / whole)

        yield count, part
        before += count


def _lay(look: Look, asked: Sequence[str]) -> None:
    quick, earnest, *names = asked
    job, cut = look.job, look.report.to_cut
    cloths = [job.cloth(name) for name in names]
    for tries, part in _in_parts([int(quick), int(earnest)]):
        _tell(**recorded(lay_all(cut, cloths, tries, part, job.hand_lays)))


def _rest(look: Look, asked: Sequence[str]) -> None:
    material, *counts = asked
    cut, cloth = look.report.to_cut, look.job.cloth(material)
    hand = look.job.hand_lays[material]
    known = at_spots(cut, cloth, cloth, hand.spots)
    held = [one for one in known.placed if one.locked] if known else []
    for tries, part in _in_parts([*map(int, counts)]):
        try:
            found = lay(cut, cloth, tries, part, held)
        except Refused as refused:
            _tell(**recorded(Lays((), (refused.problem,))))
            return
        _tell(**recorded(Lays((found,) if found else ())))


def _widths(look: Look, asked: Sequence[str]) -> None:
    material, spoken, tries = asked
    cloth, unit = look.job.cloth(material), _manner(spoken).unit
    for at in at_widths(look.report.to_cut, cloth, widths_sold(unit), int(tries)):
        _tell(width=asdict(at))


def _largest(look: Look, asked: Sequence[str]) -> None:
    material, spoken, *names = asked
    cloth, manner = look.job.cloth(material), _manner(spoken)
    found = largest(look.job, names, cloth, manner.unit, _progress())
    said = list(given_sentences(found, look.job, names, cloth, manner))
    if not isinstance(found, Given):
        _tell(said=said)
        return
    cut, job = found.look.report.to_cut, found.edited.job
    others = [job.cloth(name) for name in materials(cut) if name != material]
    rest = lay_all(cut, others, QUICK, by_hand=job.hand_lays)
    lays = recorded(replace(rest, lays=(found.lay, *rest.lays)))
    _tell(said=said, amounts={n: job.amounts[n] for n in names}, **lays)


def _manner(spoken: str) -> Manner:
    return Manner(**json.loads(spoken))


_DOES: dict[str, Callable[[Look, Sequence[str]], None]] = {
    "lay": _lay,
    "rest": _rest,
    "widths": _widths,
    "largest": _largest,
}


# As text, and back


def recorded(lays: Lays) -> dict[str, Any]:
    """Lays as a line tells them."""
    return {
        "lays": [
            {
                "material": one.cloth.material,
                "fold": one.cloth.fold,
                "spots": [spot.model_dump() for spot in spots_of(one)],
            }
            for one in lays.lays
        ],
        "refused": [asdict(problem) for problem in lays.refused],
    }


def laid_again(look: Look, news: Mapping[str, Any]) -> Lays:
    """The lays of a line of news that the same order gave.

    Raises:
        ValueError: the line is none of ours, or of another order.
    """
    lays = []
    try:
        for record in news["lays"]:
            asked = look.job.cloth(record["material"])
            on = replace(asked, fold=record["fold"])
            spots = [take(Spot, spot) for spot in record["spots"]]
            one = at_spots(look.report.to_cut, on, asked, spots)
            keys = {(spot.piece, spot.number) for spot in spots}
            if one is None or {placed.key for placed in one.placed} != keys:
                message = "no lays of this order"
                raise ValueError(message)
            lays.append(one)
        refused = tuple(Problem(**problem) for problem in news["refused"])
    except (KeyError, TypeError, AttributeError, SkirtwrightError) as fault:
        message = "no lays of this order"
        raise ValueError(message) from fault
    return Lays(tuple(lays), refused)


if __name__ == "__main__":
    sys.exit(main())

"""Lays worked in a process of their own: an order in, a line of JSON for each news.

`python -m skirtwright.job.laid_apart` stays, and does one thing after another: it is
asked in lines of JSON with a `number`, the `order`, and what is `asked`:

    lay TRIES... / MATERIAL...        lay cloths, first quickly, then in earnest;
    rest MATERIAL TRIES...            lay round what is locked by hand what is not;
    widths MATERIAL MANNER TRIES      say what would be bought of it in other widths;
    largest MATERIAL MANNER NAME...   take amounts as far as the cloth on hand gives.

A line holds `share` (of the work that is done), `width`, or `lays` with what is
`refused`; after the lays, what `would` do for a piece too wide, or to need less cloth.
`largest` ends with what is `said` and, where the cloth gives something, the
`amounts` as typed. MANNER is how she is spoken to, as JSON. Whoever has the same order
makes the lays of it again without searching.

The number stands in every line of its news, the last of which says that it is `done`.
Asked again before that, it leaves what it does and begins the next.
"""

from __future__ import annotations

import contextlib
import json
import queue
import sys
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

from skirtwright.job import file
from skirtwright.job.joining import Offer, offers
from skirtwright.job.on_hand import Given, given_sentences, largest
from skirtwright.job.worktable import Look, Worktable
from skirtwright.lay.all_cloths import (
    Lays,
    at_widths,
    lay_all,
    materials,
    partial_lay,
    saved_by_opening,
)
from skirtwright.lay.by_hand import Spot, at_spots, spots_of
from skirtwright.lay.cloth_to_cut import Cloth, widths_sold
from skirtwright.lay.lay import QUICK, Lay, lay
from skirtwright.measures.records import take
from skirtwright.problems import Problem, Refused, SkirtwrightError
from skirtwright.words import Manner

_TOLD = 0.02
"""What share of the work is done before it is told again."""


class _LeftError(Exception):
    """Something else is asked for."""


class _Telling:
    """Tells news of one thing that is asked.

    Args:
        number: of what is asked.
        waiting: whether something else is asked meanwhile.
    """

    def __init__(self, number: int, waiting: Callable[[], bool]) -> None:
        self._number, self._waiting, self._told = number, waiting, 0.0

    def news(self, **news: Any) -> None:
        """Tell something.

        Raises:
            _LeftError: something else is asked for.
        """
        if self._waiting():
            raise _LeftError
        sys.stdout.write(json.dumps({"number": self._number, **news}) + "\n")
        sys.stdout.flush()

    def share(self, share: float) -> None:
        """Tell the share of the work that is done, now and then.

        Raises:
            _LeftError: something else is asked for.
        """
        if share - self._told >= _TOLD:
            self._told = share
            self.news(share=share)
        elif self._waiting():
            raise _LeftError

    def in_parts(
        self, tries: Sequence[int]
    ) -> Iterator[tuple[int, Callable[[float], None]]]:
        """Each count of tries, with what tells how far all of them are."""
        whole, before = sum(tries), 0
        for count in tries:

            def part(share: float, before: int = before, count: int = count) -> None:
                self.share((before + share * count) / whole)

            yield count, part
            before += count


def main() -> int:
    """Do what is asked on stdin, one thing after another."""
    lines: queue.SimpleQueue[bytes] = queue.SimpleQueue()

    def read() -> None:
        for line in sys.stdin.buffer:
            lines.put(line)
        lines.put(b"")

    threading.Thread(target=read, daemon=True).start()
    table = Worktable()
    while line := lines.get():
        request = json.loads(line)
        telling = _Telling(request["number"], lambda: not lines.empty())
        with contextlib.suppress(_LeftError):
            if request["asked"]:
                what, *asked = request["asked"]
                order = file.read(request["order"].encode(), "stdin")
                _DOES[what](table.look(order), asked, telling)
            telling.news(done=True)
    return 0


def _lay(look: Look, asked: Sequence[str], telling: _Telling) -> None:
    at = asked.index("/")
    job, cut, names = look.job, look.report.to_cut, asked[at + 1 :]
    cloths = [job.cloth(name) for name in names]
    lays = Lays()
    for tries, part in telling.in_parts([*map(int, asked[:at])]):
        lays = lay_all(cut, cloths, tries, part, job.hand_lays)
        telling.news(**recorded(lays))
    if lays.refused:
        goes = (partial_lay(cut, cloth) for cloth in _refused(cloths, lays))
        lays = replace(lays, partial=tuple(filter(None, goes)))
        telling.news(**recorded(lays))
    found = [offer for name in names for offer in offers(look, job.cloth(name))]
    for one in lays.lays:
        material = one.cloth.material
        single = saved_by_opening(cut, one, job.unit) if material in names else None
        if single:
            found.append(Offer(material, "opened", {}, length=single.bought))
    if found:
        telling.news(would=[asdict(offer) for offer in found])


def _refused(cloths: Sequence[Cloth], lays: Lays) -> Iterator[Cloth]:
    """The cloths that were laid and hold no lay."""
    held = {one.cloth.material for one in lays.lays}
    return (cloth for cloth in cloths if cloth.material not in held)


def _rest(look: Look, asked: Sequence[str], telling: _Telling) -> None:
    material, *counts = asked
    cut, cloth = look.report.to_cut, look.job.cloth(material)
    hand = look.job.hand_lays[material]
    known = at_spots(cut, cloth, cloth, hand.spots)
    held = [one for one in known.placed if one.locked] if known else []
    for tries, part in telling.in_parts([*map(int, counts)]):
        try:
            found = lay(cut, cloth, tries, part, held)
        except Refused as refused:
            telling.news(**recorded(Lays((), (refused.problem,))))
            return
        telling.news(**recorded(Lays((found,) if found else ())))


def _widths(look: Look, asked: Sequence[str], telling: _Telling) -> None:
    material, spoken, tries = asked
    cloth, unit = look.job.cloth(material), _manner(spoken).unit
    for at in at_widths(look.report.to_cut, cloth, widths_sold(unit), int(tries)):
        telling.news(width=asdict(at))


def _largest(look: Look, asked: Sequence[str], telling: _Telling) -> None:
    material, spoken, *names = asked
    cloth, manner = look.job.cloth(material), _manner(spoken)
    found = largest(look.job, names, cloth, manner.unit, telling.share)
    said = list(given_sentences(found, look.job, names, cloth, manner))
    if not isinstance(found, Given):
        telling.news(said=said)
        return
    cut, job = found.look.report.to_cut, found.edited.job
    others = [job.cloth(name) for name in materials(cut) if name != material]
    rest = lay_all(cut, others, QUICK, by_hand=job.hand_lays)
    lays = recorded(replace(rest, lays=(found.lay, *rest.lays)))
    telling.news(said=said, amounts={n: job.amounts[n] for n in names}, **lays)


def _manner(spoken: str) -> Manner:
    return Manner(**json.loads(spoken))


_DOES: dict[str, Callable[[Look, Sequence[str], _Telling], None]] = {
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
                "left_off": [piece.name for piece in one.left_off],
                "spots": [spot.model_dump() for spot in spots_of(one)],
            }
            for one in (*lays.lays, *lays.partial)
        ],
        "refused": [asdict(problem) for problem in lays.refused],
    }


def laid_again(look: Look, news: Mapping[str, Any]) -> Lays:
    """The lays of a line of news that the same order gave.

    Raises:
        ValueError: the line is none of ours, or of another order.
    """
    lays: list[Lay] = []
    partial: list[Lay] = []
    try:
        for record in news["lays"]:
            asked = look.job.cloth(record["material"])
            on = replace(asked, fold=record["fold"])
            spots = [take(Spot, spot) for spot in record["spots"]]
            cut, names = look.report.to_cut, record["left_off"]
            left_off = tuple(p for p in cut.pieces if p.name in names)
            one = at_spots(cut.without(names), on, asked, spots)
            keys = {(spot.piece, spot.number) for spot in spots}
            if one is None or {placed.key for placed in one.placed} != keys:
                message = "no lays of this order"
                raise ValueError(message)
            found = partial if left_off else lays
            found.append(replace(one, left_off=left_off))
        refused = tuple(Problem(**problem) for problem in news["refused"])
    except (KeyError, TypeError, AttributeError, SkirtwrightError) as fault:
        message = "no lays of this order"
        raise ValueError(message) from fault
    return Lays(tuple(lays), refused, tuple(partial))


if __name__ == "__main__":
    sys.exit(main())

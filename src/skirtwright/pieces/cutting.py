"""From a worked draft to its cut pieces and walked seams: the style's data applied."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from operator import is_

from skirtwright.draft.draft import PieceOf
from skirtwright.draft.draft import Seam as SeamOf
from skirtwright.draft.panel import Panel
from skirtwright.draft.recompute import Worked
from skirtwright.draft.step import Reads
from skirtwright.geometry import Chain, Point
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.piece import Piece, make_piece
from skirtwright.pieces.spec import AllowanceRun, Corner, End, Grain, NotchSpec
from skirtwright.pieces.spec import PieceSpec as Spec
from skirtwright.pieces.walking import Run, Seam, WalkedSeam, matched, walk
from skirtwright.problems import Problem, SkirtwrightError

Marks = tuple[tuple[str, NotchSpec], ...]
"""Balance marks with the pieces they are on."""


@dataclass(frozen=True)
class Cut:
    """Everything cut from a draft.

    Attributes:
        pieces: those that could be made, in the style's order.
        seams: walked, in the style's order.
        problems: what could not be made as asked.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[WalkedSeam, ...]
    problems: tuple[Problem, ...]


class Cutting:
    """Cuts drafts one after another; a piece that stays the same is kept."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[Panel, Spec, Piece]] = {}
        self._kept_marks: dict[object, tuple[Seam, tuple[object, ...], Marks]] = {}

    def cut(self, worked: Worked, own_allowances: Mapping[tuple[str, str], str]) -> Cut:
        """The pieces and seams of a worked draft.

        Args:
            worked: the draft, worked.
            own_allowances: what she set for (piece, edge), as typed.
        """
        problems: list[Problem] = []
        chosen = [d for d in worked.draft.pieces if _is_cut(worked, d, problems)]
        panels: dict[str, Panel] = {d.name: worked.values[d.panel] for d in chosen}
        piece_of = {data.panel: data.name for data in reversed(chosen)}
        seams: list[Seam] = []
        notches: dict[str, list[NotchSpec]] = {}
        for seam_data in worked.draft.seams:
            try:
                self._seam(worked, seam_data, panels, piece_of, seams, notches)
            except SkirtwrightError as error:
                problems.append(_at(error.problem, seam_data.name))
        pieces = []
        for data in chosen:
            try:
                panel, marks = panels[data.name], notches.get(data.name, [])
                spec = _spec(worked, data, panel, own_allowances, marks)
                pieces.append(self._piece(panel, spec))
            except SkirtwrightError as error:
                problems.append(_at(error.problem, data.name))
        problems.extend(_settings_without_edge(pieces, own_allowances))
        for piece in pieces:
            problems.extend(piece.problems)
        walked = tuple(walk(seam, panels) for seam in seams)
        return Cut(tuple(pieces), walked, tuple(problems))

    def _piece(self, panel: Panel, spec: Spec) -> Piece:
        kept = self._kept.get(spec.name)
        if kept is not None and kept[0] is panel and kept[1] == spec:
            return kept[2]
        piece = make_piece(panel, spec)
        self._kept[spec.name] = (panel, spec, piece)
        return piece

    def _seam(
        self,
        worked: Worked,
        data: SeamOf,
        panels: Mapping[str, Panel],
        piece_of: Mapping[str, str],
        seams: list[Seam],
        notches: dict[str, list[NotchSpec]],
    ) -> None:
        """One seam, and the balance marks it puts on its pieces."""
        if data.when is not None and not _holds(worked, data.when):
            return
        sides = (_run(data.sides[0], piece_of), _run(data.sides[1], piece_of))
        if not all(piece in panels for side in sides for piece, _ in side):
            return
        seam = Seam(data.name, sides, worked.read(data.ease, Reads.LENGTH))
        seams.append(seam)
        for piece, spec in self._marks(worked, data, seam, panels):
            marks = notches.setdefault(piece, [])
            if not any(_is_same(spec, mark) for mark in marks):
                marks.append(spec)

    def _marks(
        self, worked: Worked, data: SeamOf, seam: Seam, panels: Mapping[str, Panel]
    ) -> Marks:
        """The balance marks of a seam; the old ones where all they lean on is."""
        leans = (
            data,
            *(panels[piece] for side in seam.sides for piece, _ in side),
            *(worked.values.get(name) for name in _leans(worked, data)),
        )
        key = (data.name, seam.sides)
        kept = self._kept_marks.get(key)
        if kept is not None and kept[0] == seam and _are(kept[1], leans):
            return kept[2]
        found: list[tuple[str, NotchSpec]] = []
        for mark in data.notches:
            if mark.when is None or _holds(worked, mark.when):
                distance = _distance_along(worked, mark.at, data, seam, panels)
                distance += worked.read(mark.beyond, Reads.LENGTH)
                found.extend(matched(seam, panels, distance, mark.count))
        marks = tuple(found)
        self._kept_marks[key] = (seam, leans, marks)
        return marks


def _leans(worked: Worked, data: SeamOf) -> Iterator[str]:
    """The names that the balance marks of a seam lean on."""
    for mark in data.notches:
        if mark.when is not None:
            yield from worked.leans_on(mark.when, Reads.WHETHER)
        yield from worked.leans_on(mark.at, Reads.PLACE)
        yield from worked.leans_on(mark.beyond, Reads.LENGTH)


def _are(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    return len(old) == len(new) and all(map(is_, old, new))


def _is_same(spec: NotchSpec, other: NotchSpec) -> bool:
    alike = (spec.edge, spec.count) == (other.edge, other.count)
    return alike and abs(spec.distance - other.distance) <= 10 * SAME


def _is_cut(worked: Worked, data: PieceOf, problems: list[Problem]) -> bool:
    """Whether a piece is to be cut; a condition that cannot be worked is said."""
    if not isinstance(worked.values.get(data.panel), Panel):
        return False
    try:
        return data.when is None or _holds(worked, data.when)
    except SkirtwrightError as error:
        problems.append(_at(error.problem, data.name))
        return False


def _holds(worked: Worked, condition: str) -> bool:
    return bool(worked.read(condition, Reads.WHETHER))


def _run(side: tuple[str, ...], piece_of: Mapping[str, str]) -> Run:
    run = []
    for name in side:
        back = "-" if name.startswith("-") else ""
        panel, _, edge = name.removeprefix("-").partition(".")
        run.append((piece_of.get(panel, panel), back + edge))
    return tuple(run)


def _distance_along(
    worked: Worked, text: str, data: SeamOf, seam: Seam, panels: Mapping[str, Panel]
) -> float:
    """Walked distance, from the seam's beginning, of a place on its first side.

    Panels lie over one another in a draft: a place named on an edge is looked for on
    that edge, and only another kind of place on all.
    """
    place = worked.read(text, Reads.PLACE)
    named = text.partition(" ")[0]
    edges = [name.removeprefix("-") for name in data.sides[0]]
    walked, best = 0.0, (0.0, float("inf"))
    for edge_name, (piece, edge) in zip(edges, seam.sides[0], strict=True):
        chain = panels[piece].edge(edge.removeprefix("-")).chain
        if named == edge_name or named not in edges:
            along, gap = _along(chain, place)
            if gap < best[1]:
                back = edge.startswith("-")
                best = (walked + (chain.length - along if back else along), gap)
            if best[1] <= SAME:
                break
        walked += chain.length
    return best[0]


def _along(chain: Chain, place: Point) -> tuple[float, float]:
    """Walked distance of the nearest place and its gap; ends are seen at once."""
    if place.is_at(chain.start):
        return 0.0, 0.0
    if place.is_at(chain.end):
        return chain.length, 0.0
    return chain.nearest(place)


def _spec(
    worked: Worked,
    data: PieceOf,
    panel: Panel,
    own: Mapping[tuple[str, str], str],
    notches: list[NotchSpec],
) -> Spec:
    allowances: dict[str, tuple[AllowanceRun, ...]] = {}
    for edge, widths in data.allowances.items():
        text = own.get((data.name, edge))
        if text is not None:
            allowances[edge] = (AllowanceRun(None, worked.read(text, Reads.LENGTH)),)
        elif isinstance(widths, str):
            allowances[edge] = (AllowanceRun(None, worked.read(widths, Reads.LENGTH)),)
        else:
            allowances[edge] = tuple(
                AllowanceRun(
                    None if run.to is None else worked.read(run.to, Reads.LENGTH),
                    worked.read(run.width, Reads.LENGTH),
                )
                for run in widths
            )
    count = round(worked.read(data.count, Reads.RATIO))
    return Spec(
        data.name,
        data.title,
        data.panel,
        data.material,
        count,
        mirrored=not data.folds and count > 1,
        folds=data.folds,
        allowances=_plain(allowances),
        corners=_turned_up(data),
        notches=tuple(sorted(notches, key=lambda n: (n.edge, n.distance))),
        grain=_grain(worked, data),
        inside=tuple(_lines(panel, data.lines)),
    )


def _lines(panel: Panel, names: tuple[str, ...]) -> Iterator[str]:
    """The marks to be drawn inside; `tuck[]` is every tuck's, however many."""
    for name in names:
        if name.endswith("[]"):
            begins = name.removesuffix("]")
            yield from (m.name for m in panel.marks if m.name.startswith(begins))
        else:
            yield name


def _plain(
    allowances: Mapping[str, tuple[AllowanceRun, ...]],
) -> dict[str, tuple[AllowanceRun, ...]]:
    """Allowances without runs that end before they begin or differ from no other."""
    plain = {}
    for edge, runs in allowances.items():
        kept = [run for run in runs if run.until is None or run.until > 0]
        if len({run.width for run in kept}) == 1:
            kept = kept[-1:]
        plain[edge] = tuple(kept)
    return plain


def _turned_up(data: PieceOf) -> dict[tuple[str, End], Corner]:
    corners: dict[tuple[str, End], Corner] = {}
    for edge in data.turned_up:
        corners[edge, "start"] = "mirror"
        corners[edge, "end"] = "mirror"
    return corners


def _grain(worked: Worked, data: PieceOf) -> Grain:
    if data.grain is None:
        return Grain()
    if "." in data.grain:
        return Grain(along=data.grain.partition(".")[2])
    return Grain(angle_deg=worked.read(data.grain, Reads.DEGREES))


def _settings_without_edge(
    pieces: list[Piece], own: Mapping[tuple[str, str], str]
) -> list[Problem]:
    """Settings kept for edges that are not there now: said, not drawn."""
    there = {(piece.name, edge.name) for piece in pieces for edge in piece.edges}
    return [
        Problem("pieces.setting_unused", "note", piece, {"piece": piece, "edge": edge})
        for piece, edge in own
        if (piece, edge) not in there
    ]


def _at(problem: Problem, where: str) -> Problem:
    return Problem(
        problem.code,
        problem.severity,
        problem.where or where,
        problem.values,
        problem.says,
        problem.remedy,
        problem.stops,
    )

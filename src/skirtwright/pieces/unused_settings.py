"""What she set for pieces and edges that are not there: said, and kept."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from skirtwright.draft.draft import PieceOf
from skirtwright.draft.working.recompute import Worked
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_settings import (
    AS_THE_STYLE,
    Settings,
    allowance_keys,
    edge_and_run,
    live_runs,
)
from skirtwright.problems import Problem, SkirtwrightError, nearest
from skirtwright.telling.names_in_words import plain


def settings_without_edge(
    known: Mapping[str, PieceOf], pieces: list[Piece], settings: Settings
) -> Iterator[Problem]:
    """Settings kept for edges that are not there now: said, not drawn.

    A piece the style knows and does not cut just now, such as a lining she left out,
    is her own choice: nothing is said of it.
    """
    there = {piece.name: {edge.name for edge in piece.panel.edges} for piece in pieces}
    for piece, own in settings.items():
        if piece not in known:
            near, names = plain(nearest(piece, known)), [*map(plain, known)]
            values = {"piece": plain(piece), "nearest": near, "known": names}
            yield Problem("pieces.no_piece", "note", piece, values)
        if piece not in there:
            continue
        data, edges = known[piece], there[piece]
        unused = [key for key in own.allowances if not _is_run(data, key, edges)]
        unused += [mark.edge for mark in own.notches if mark.edge not in edges]
        by_nearest: dict[str, dict[str, None]] = {}
        for key in unused:
            edge = edge_and_run(key)[0]
            near = "" if edge in edges else plain(nearest(edge, edges))
            by_nearest.setdefault(near, {})[plain(key)] = None
        for near, lost in by_nearest.items():
            title = own.title or data.title
            values = {"piece": title, "edges": [*lost], "nearest": near}
            yield Problem("pieces.setting_unused", "note", piece, values)


def _is_run(data: PieceOf, key: str, edges: Collection[str]) -> bool:
    """Whether an allowance is set for an edge that is there, or a run it may have."""
    edge = edge_and_run(key)[0]
    return edge in edges and (key == edge or key in allowance_keys(data, edge))


def allowances_on_folds(
    worked: Worked, chosen: Sequence[PieceOf], settings: Settings
) -> Iterator[Problem]:
    """Allowances asked for on edges that lie on the fold, which have none."""
    for data in chosen:
        own = settings.get(data.name, AS_THE_STYLE)
        for edge in data.folds:
            try:
                runs = live_runs(worked, data, edge, own.allowances)
            except SkirtwrightError:
                continue  # Said where the piece is made.
            if any(run.width > 0 for _, run in runs):
                values = {"piece": own.title or data.title, "edge": plain(edge)}
                yield Problem("pieces.fold_allowance", "note", data.name, values)

"""What edges are called where a person reads them."""

from __future__ import annotations

from skirtwright.telling.names_in_words import plain
from skirtwright.words import Manner, has_message, say


def edge_title(edge: str, manner: Manner) -> str:
    """An edge's name as it is read, such as `side seam` for `side`."""
    known = f"table.edge_name.{edge}"
    return say(known, {}, manner) if has_message(known) else plain(edge)

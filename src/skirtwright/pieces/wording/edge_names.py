"""What edges are called where a person reads them."""

from __future__ import annotations

from skirtwright.words import Manner, has_message, say


def edge_title(edge: str, manner: Manner) -> str:
    """An edge's name as it is read, such as `side seam` for `side`."""
    known = f"table.edge_name.{edge}"
    if has_message(known):
        return say(known, {}, manner)
    base, _, number = edge.partition("[")
    plain = base.replace("_", " ")
    return f"{plain} {number.rstrip(']')}" if number else plain

"""A check that no two pieces are called alike: once cut, nothing else tells of them."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.checks.checked_skirt import Skirt
from skirtwright.checks.limits import severity_of
from skirtwright.problems import Problem
from skirtwright.words import translate


def pieces_called_alike(skirt: Skirt) -> Iterator[Problem]:
    """Each piece that has the name of one before it, in whatever capitals."""
    met: set[str] = set()
    for piece in skirt.cut.shown:
        title = translate(piece.spec.title)
        if title.casefold().strip() in met:
            code, grade = "check.same_title", severity_of("caution")
            yield Problem(code, grade, piece.name, {"title": piece.spec.title})
        met.add(title.casefold().strip())

"""What can go wrong, as data.

A `Problem` is one thing to tell the dressmaker: a stable code, how grave it is, where
it lies, and the values its sentence needs. Words are put to it by `skirtwright.words`.
An error of the family below carries exactly one Problem; each is also the builtin
error a Python programmer would expect.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

_COMPARED = 80
"""Letters of a name that are held against those known; no known one is as long."""

Severity = Literal["wrong", "caution", "note"]


@dataclass(frozen=True)
class Problem:
    """One finding.

    Attributes:
        code: stable name, such as `draft.turns_too_far`; the key of its sentence
            (`problem.<code>`) and of its remedy (`remedy.<code>`) in the catalogue.
        severity: `wrong` cannot be cut or sewn as drawn; `caution` is wearable with
            care; `note` was decided for her.
        where: the step, edge, piece, field or file it is about; may be empty.
        values: what the sentence names. Lengths are millimetres; the catalogue's
            sentence says how each is shown.
        says: the sentence itself where it comes from a style's own data, else None.
        remedy: the style's own remedy, else None.
        stops: True when the thing could not be worked at all, so that whatever leans
            on it is missing.
        mended_by: which way alone the finished measure `where` may be changed to mend
            it; empty where either may do.
    """

    code: str
    severity: Severity = "wrong"
    where: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    says: str | None = None
    remedy: str | None = None
    stops: bool = False
    mended_by: Literal["", "less", "more"] = ""


class SkirtwrightError(Exception):
    """Root of the family; carries one Problem."""

    def __init__(self, code: str, where: str = "", **values: Any) -> None:
        self.problem = Problem(code, "wrong", where, values, stops=True)
        super().__init__(code, where, values)

    @classmethod
    def of(cls, problem: Problem) -> SkirtwrightError:
        """The same error around a Problem that exists already."""
        error = cls(problem.code, problem.where, **problem.values)
        error.problem = problem
        return error


def told_of(error: SkirtwrightError, of: Any) -> SkirtwrightError:
    """The same error, whose sentence first says of what it is.

    Args:
        error: whose sentence may not say so yet.
        of: a place in a file, an amount's label, or what is put into words later.
    """
    known = error.problem.values
    if "of" in known or "place" in known or "what" in known:
        return error
    return type(error).of(replace(error.problem, values={**known, "of": of}))


class BadInput(SkirtwrightError, ValueError):
    """Something typed, named or read from a file cannot be used."""


class Refused(SkirtwrightError, ValueError):
    """A step that cannot be worked with these numbers."""


class NotFound(SkirtwrightError, LookupError):
    """A name that is not there."""


class FileTrouble(SkirtwrightError, OSError):
    """A file that cannot be read or written."""


def nearest(name: str, known: Iterable[str], at_least: float = 0.4) -> str:
    """The known name most like another; empty when none is like it at all.

    Args:
        name: as it was written.
        known: the names there are.
        at_least: how alike they must be, 0 (anything) to 1 (the same).
    """
    from difflib import get_close_matches

    found = get_close_matches(name[:_COMPARED], list(known), 1, at_least)
    return found[0] if found else ""

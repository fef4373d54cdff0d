"""What takes cloth up along an edge, named by its kind and number: `pleat[2]`.

Their names, and those of their lines on the panel, are read and written here only.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, Literal, cast

FoldKind = Literal["dart", "tuck", "pleat"]

DART_PARTS: Final = ("tip", "left", "right")
TUCK_LINES: Final = ("left", "right")
PLEAT_LINES: Final = ("fold", "middle", "meets")

_NAMED: Final = re.compile(r"(dart|tuck|pleat)\[(\d+)\](?:\.(\w+))?")


@dataclass(frozen=True, slots=True)
class Fold:
    """A dart, tuck or pleat by its number on the panel, from 1."""

    kind: FoldKind
    number: int

    @classmethod
    def of(cls, name: str) -> Fold | None:
        """Read `pleat[2]`; None for any other name."""
        fold, part = cls.part_of(name)
        return None if part else fold

    @classmethod
    def part_of(cls, name: str) -> tuple[Fold | None, str]:
        """Read `pleat[2].meets`: which it is of, and which part; (None, "") if none."""
        found = _NAMED.fullmatch(name)
        if found is None:
            return None, ""
        return cls(cast(FoldKind, found[1]), int(found[2])), found[3] or ""

    def __str__(self) -> str:
        """As `of` reads it."""
        return f"{self.kind}[{self.number}]"

    def part(self, part: str) -> str:
        """The name of one of its lines or of its tip: `pleat[2].meets`."""
        return f"{self}.{part}"

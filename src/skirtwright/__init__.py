"""Skirtwright: made-to-measure skirts, drafted from the tape."""

from __future__ import annotations

import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from importlib.machinery import ModuleSpec

__version__ = "0.1.0"

_MAY_BE_COMPILED = (
    "skirtwright.app.canvas.",
    "skirtwright.budget",
    "skirtwright.checks.",
    "skirtwright.draft.",
    "skirtwright.figure.",
    "skirtwright.geometry.",
    "skirtwright.measures.",
    "skirtwright.pieces.",
    "skirtwright.remembered",
    "skirtwright_",
)


class _Compiled:
    """Finds compiled modules; what looks for them is loaded with the first of them.

    Nothing else is loaded here: whatever runs before `__main__` does cannot be stopped
    in a sentence.
    """

    @staticmethod
    def find_spec(
        name: str, path: object = None, target: object = None
    ) -> ModuleSpec | None:
        del path, target
        if not name.startswith(_MAY_BE_COMPILED):
            return None
        from skirtwright.compiled import found

        return found(name)


sys.meta_path.insert(0, _Compiled)

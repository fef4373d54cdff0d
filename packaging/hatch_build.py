"""Build hook: the generated parser and the word catalogues, made before every build.

Runs for the source distribution, the wheel and the installation in place alike, so
that none of them can be without its parts.
"""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class PartsHook(BuildHookInterface):
    """Calls `build_parts` of packaging/build_parts.py."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the parts; hatchling calls this before it gathers files."""
        root = Path(self.root)
        parts = runpy.run_path(str(root / "packaging" / "build_parts.py"))
        parts["build_parts"](root)

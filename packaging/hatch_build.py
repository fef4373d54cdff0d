"""Build hook: parser, catalogues and compiled modules, made before every build.

Runs for the source distribution, the wheel and the installation in place alike, so
that none of them can be without its parts. A wheel carries compiled modules where there
was a compiler, and is then for this Python and machine only.
"""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class PartsHook(BuildHookInterface):
    """Calls packaging/build_parts.py and, for a wheel, compile_modules.py."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the parts; hatchling calls this before it gathers files."""
        root = Path(self.root)
        parts = runpy.run_path(str(root / "packaging" / "build_parts.py"))
        parts["build_parts"](root)
        if self.target_name != "wheel":
            return
        modules = runpy.run_path(str(root / "packaging" / "compile_modules.py"))
        if modules["compile_modules"](root):
            build_data["artifacts"].append("/src/skirtwright/_compiled/**")
            build_data["pure_python"] = False
            build_data["infer_tag"] = True

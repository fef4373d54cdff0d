"""Compile the busiest modules with mypyc, where there is a compiler.

`python packaging/compile_modules.py` does it for a source tree; the wheel's build hook
calls `compile_modules` for the same. Where it cannot be done the source runs as it is,
slower and to the same figures.
"""

from __future__ import annotations

import os
import runpy
import shutil
import subprocess
import sys
import sysconfig
import tempfile
from pathlib import Path

BUSY = (
    "app/canvas/entries.py",
    "app/canvas/fitting.py",
    "app/canvas/laying.py",
    "app/canvas/view.py",
    "budget.py",
    "remembered.py",
    "geometry",
    "measures/working_binding.py",
    "measures/working_pieces.py",
    "measures/working_renaming.py",
    "measures/working_writing.py",
    "draft/halves",
    "draft/inputs.py",
    "draft/names.py",
    "draft/runs.py",
    "draft/solving.py",
    "draft/shapes",
    "draft/step_fields.py",
    "draft/working/binding.py",
    "draft/working/one_pass.py",
    "pieces/cutting.py",
    "pieces/folding.py",
    "pieces/piece_making.py",
    "pieces/piece_settings.py",
    "pieces/spec.py",
    "pieces/walked_seams.py",
    "pieces/marks",
    "pieces/outline",
    "pieces/wording/notch_words.py",
    "checks/cut_cloth.py",
    "checks/edge_walk.py",
    "checks/fit.py",
    "checks/hem_line.py",
    "checks/limits.py",
    "checks/scissors.py",
    "checks/sewn_together.py",
    "checks/waist_to_hip.py",
    "figure/hull.py",
    "figure/smooth.py",
    "figure/views.py",
    "figure/worn_skirt.py",
)
"""Under src/skirtwright: where a look spends its time."""

PLAIN = ("__init__.py", "area.py")
"""Nothing to gain: names of other modules, and shapely's own work."""

_BUILD = """
import sys
from mypyc.build import mypycify
from setuptools import setup

out, made, *sources = sys.argv[1:]
extensions = mypycify(
    ["--config-file=../pyproject.toml", *sources],
    only_compile_paths=sources,
    group_name="skirtwright_compiled",
    target_dir=made + "/c",
    opt_level="1",
    debug_level="0",
    multi_file=True,
)
# Where a processor can multiply and add in one it would round once, not twice; and a
# tenth of the library is for what nothing here does, other libraries calling into it
# and stacks being unwound.
plain = ("-ffp-contract=off", "-fvisibility=hidden", "-fno-asynchronous-unwind-tables")
flags = () if sys.platform == "win32" else plain
for extension in extensions:
    extension.extra_compile_args = [*extension.extra_compile_args, *flags]
setup(
    name="skirtwright",
    ext_modules=extensions,
    script_args=["-q", "build_ext", "-b", out, "-t", made + "/o"],
)
"""


def compile_modules(root: Path) -> bool:
    """Compile them under `root`, the folder that holds pyproject.toml.

    Returns:
        Whether they are compiled now, as the source stands.
    """
    source = root / "src"
    known = runpy.run_path(str(source / "skirtwright" / "compiled.py"))
    files = _sources(source)
    names = [file.removesuffix(".py").replace("/", ".") for file in files]
    if {*names, known["SHARED"]} == known["compiled_modules"]():
        return True
    made = known["made_from"](names)
    why = _missing() or _build(known["FOLDER"], source, files, made)
    if why:
        sys.stderr.write(f"Not compiled ({why}); plain Python does the same, slower.\n")
    return not why


def _sources(source: Path) -> list[str]:
    within = source / "skirtwright"
    found = (f for busy in BUSY for f in _python(within / busy) if f.name not in PLAIN)
    return sorted(file.relative_to(source).as_posix() for file in found)


def _python(place: Path) -> list[Path]:
    return [place] if place.is_file() else list(place.glob("*.py"))


def _missing() -> str:
    """What there is not, of what is needed; nothing where all is there."""
    compiler = os.environ.get("CC") or sysconfig.get_config_var("CC") or ""
    if os.name != "nt" and not shutil.which(compiler.partition(" ")[0] or "cc"):
        return "no compiler"
    header = Path(sysconfig.get_path("include")) / "Python.h"
    return "" if header.exists() else "no Python.h"


def _build(folder: Path, source: Path, files: list[str], made: str) -> str:
    """Compile; what went wrong, or nothing."""
    with tempfile.TemporaryDirectory() as work:
        out = Path(work, "out")
        done = subprocess.run(  # noqa: S603 - our own source
            [sys.executable, "-c", _BUILD, str(out), work, *files],
            cwd=source,
            env={**os.environ, "MYPY_CACHE_DIR": str(Path(work, "cache"))},
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode != 0:
            lines = (done.stdout + done.stderr).strip().splitlines() or ["no word why"]
            return lines[-1]
        (out / "made_from.txt").write_text(made, encoding="utf-8")
        shutil.rmtree(folder, ignore_errors=True)
        # Whole or not at all: without its list of sources nothing in it is used.
        fresh = folder.with_name(f"_compiled.{os.getpid()}")
        shutil.copytree(out, fresh)
        fresh.replace(folder)
    return ""


if __name__ == "__main__":
    compile_modules(Path(__file__).resolve().parent.parent)

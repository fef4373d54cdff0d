"""The busiest modules compiled, where `packaging/compile_modules.py` could.

The source is the reference, and what runs where nothing was compiled. What was compiled
from other source than stands here is passed over, all of it.
"""

from __future__ import annotations

import os
import zlib
from collections.abc import Iterable
from functools import cache
from importlib.machinery import EXTENSION_SUFFIXES, ModuleSpec
from importlib.util import spec_from_file_location
from pathlib import Path

SOURCE = Path(__file__).parent.parent
FOLDER = Path(__file__).parent / "_compiled"
CODE = EXTENSION_SUFFIXES[0]
"""How the name of a file of compiled code ends for this Python."""

SHARED = "skirtwright_compiled__mypyc"
"""The library that holds the code of all of them."""

PURE = "SKIRTWRIGHT_PURE"
"""Set in the environment to anything, it has the source run."""


def made_from(modules: Iterable[str], source: Path = SOURCE) -> str:
    """A line for each module: its dotted name and the check sum of its source.

    Raises:
        OSError: a module has no source that can be read.
    """
    return "".join(
        f"{name} {zlib.crc32((source / _path(name, '.py')).read_bytes())}\n"
        for name in modules
    )


def compiled_modules(folder: Path = FOLDER, source: Path = SOURCE) -> frozenset[str]:
    """Names of the modules compiled for this Python from the source as it stands."""
    try:
        made = (folder / "made_from.txt").read_text(encoding="utf-8")
        names = [line.partition(" ")[0] for line in made.splitlines()]
        fresh = made == made_from(names, source)
    except OSError:
        return frozenset()
    names.append(SHARED)
    there = all((folder / _path(name, CODE)).exists() for name in names)
    return frozenset(names if fresh and there else ())


@cache
def _taken() -> frozenset[str]:
    return frozenset() if os.environ.get(PURE) else compiled_modules()


def found(name: str) -> ModuleSpec | None:
    """Where a module is compiled, as the import system asks for it; None where not."""
    if name not in _taken():
        return None
    return spec_from_file_location(name, FOLDER / _path(name, CODE))


def _path(name: str, suffix: str) -> str:
    return name.replace(".", "/") + suffix

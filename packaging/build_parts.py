"""Make the two parts that are built and not written: the parser and the catalogues.

`python packaging/build_parts.py` makes them for a source tree; the wheel's build hook
calls `build_parts` for the same.
"""

from __future__ import annotations

import hashlib
import io
import os
import sys
from pathlib import Path

GRAMMAR = "resources/workings.lark"
PARSER = "src/skirtwright/measures/_workings_parser.py"
CATALOGUES = "resources/words"


def build_parts(root: Path) -> list[Path]:
    """Make the stand-alone parser and the compiled catalogues under `root`.

    Args:
        root: the folder that holds pyproject.toml.

    Returns:
        The files made, parser first.
    """
    return [_build_parser(root), *_build_catalogues(root / CATALOGUES)]


def _build_parser(root: Path) -> Path:
    import lark
    from lark.tools.standalone import gen_standalone

    grammar = (root / GRAMMAR).read_text(encoding="utf-8")
    made_from = hashlib.sha256(f"{lark.__version__}\n{grammar}".encode()).hexdigest()
    head = f"# mypy: ignore-errors\n# ruff: noqa\n# fmt: off\n# Made from {made_from}\n"
    target = root / PARSER
    # The generator orders its tables differently each time: made again only for a
    # changed grammar.
    if target.exists() and target.read_text(encoding="utf-8").startswith(head):
        return target
    made = io.StringIO()
    parser = lark.Lark(grammar, parser="lalr", start=["working", "place"])
    gen_standalone(parser, out=made)
    return _write(target, (head + made.getvalue()).encode())


def _build_catalogues(folder: Path) -> list[Path]:
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    made = []
    for source in sorted(folder.glob("*.po")):
        with source.open("rb") as text:
            catalogue = read_po(text, locale=source.stem, abort_invalid=True)
        compiled = io.BytesIO()
        write_mo(compiled, catalogue)
        target = folder / source.stem / "LC_MESSAGES" / "skirtwright.mo"
        made.append(_write(target, compiled.getvalue()))
    return made


def _write(path: Path, content: bytes) -> Path:
    """Written only when it differs, so that nothing is rebuilt without need."""
    if not path.exists() or path.read_bytes() != content:
        path.parent.mkdir(parents=True, exist_ok=True)
        # Whole or not at all: another process may be importing it just now.
        fresh = path.with_name(f"{path.name}.{os.getpid()}")
        fresh.write_bytes(content)
        fresh.replace(path)
    return path


if __name__ == "__main__":
    here = Path(__file__).resolve().parent.parent
    for part in build_parts(here):
        sys.stdout.write(f"{part.relative_to(here)}\n")

"""Make the two parts that are built and not written: the parser and the catalogues.

`python packaging/build_parts.py` makes them for a source tree; the wheel's build hook
calls `build_parts` for the same.
"""

from __future__ import annotations

import io
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
    from lark import Lark
    from lark.tools.standalone import gen_standalone

    grammar = (root / GRAMMAR).read_text(encoding="utf-8")
    made = io.StringIO()
    parser = Lark(grammar, parser="lalr", start=["working", "place"])
    gen_standalone(parser, out=made)
    head = "# mypy: ignore-errors\n# ruff: noqa\n# fmt: off\n"
    return _write(root / PARSER, (head + made.getvalue()).encode())


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
        path.write_bytes(content)
    return path


if __name__ == "__main__":
    here = Path(__file__).resolve().parent.parent
    for part in build_parts(here):
        sys.stdout.write(f"{part.relative_to(here)}\n")

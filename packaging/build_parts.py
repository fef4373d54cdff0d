"""Make what is built and not written: the parser, the catalogues, the workings read.

`python packaging/build_parts.py` makes them for a source tree; the wheel's build hook
calls `build_parts` for the same.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import runpy
import sys
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from pathlib import Path

GRAMMAR = "resources/workings.lark"
PARSER = "src/skirtwright/measures/_workings_parser.py"
CATALOGUES = "resources/words"
WORKINGS = "resources/workings-read.txt"
SEWING = "resources/sewing.json"
AMERICAN = "packaging/american_words.py"


def build_parts(root: Path) -> list[Path]:
    """Make the parser, the compiled catalogues and the workings read, under `root`.

    Args:
        root: the folder that holds pyproject.toml.

    Returns:
        The files made, parser first.
    """
    from babel.messages.pofile import read_po

    parser = _build_parser(root)
    catalogues = _build_catalogues(root)
    with (root / CATALOGUES / "en_GB.po").open("rb") as text:
        refuse_missing_sentences(root, {str(message.id) for message in read_po(text)})
    return [parser, *catalogues, _read_workings(root)]


def refuse_missing_sentences(root: Path, known: Collection[str]) -> None:
    """Stop where the rules of sewing would say what no catalogue has.

    Raises:
        SystemExit: which sentences are missing.
    """
    sewing = json.loads((root / SEWING).read_text(encoding="utf-8"))
    said = {f"sew.step.{row['step']}" for row in sewing["rows"]}
    for group in ("rows", "cautions", "notions"):
        for rule in sewing[group]:
            said |= {each["says"] for each in (rule, *rule.get("also", ()))}
    if missing := sorted(said.difference(known)):
        raise SystemExit(f"not in {CATALOGUES}/en_GB.po: {', '.join(missing)}")


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


def _build_catalogues(root: Path) -> list[Path]:
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    made, folder = [], root / CATALOGUES
    for source in sorted(folder.glob("*.po")):
        with source.open("rb") as text:
            catalogue = read_po(text, locale=source.stem, abort_invalid=True)
        if source.stem == "en_US":
            american = runpy.run_path(str(root / AMERICAN))["american"]
            for name, text_made in american(root):
                if name not in catalogue:
                    catalogue.add(name, text_made)
        compiled = io.BytesIO()
        write_mo(compiled, catalogue)
        target = folder / source.stem / "LC_MESSAGES" / "skirtwright.mo"
        made.append(_write(target, compiled.getvalue()))
    return made


def _read_workings(root: Path) -> Path:
    """Every working, condition and place of the shelf, read by the parser just made."""
    sys.path.insert(0, str(root / "src"))
    from skirtwright.draft import styles
    from skirtwright.draft.inch_defaults import in_inches
    from skirtwright.measures import working_parsing
    from skirtwright.measures.measurements import measurements
    from skirtwright.measures.named_lengths import named_lengths
    from skirtwright.measures.working_ready import as_text
    from skirtwright.problems import BadInput

    texts = {known.estimate for known in measurements().values() if known.estimate}
    texts |= {named.working for named in named_lengths()}
    # What is added to a style and joined in it is read as well.
    working_parsing.ready = lambda _, text: texts.add(text)
    for name in styles.names():
        style = styles.style(name)
        texts.update(_texts(style))
        texts.update(_texts(in_inches(style)))
    sewing = json.loads((root / SEWING).read_text(encoding="utf-8"))
    texts.update(_texts(sewing))
    made = []
    for how in ("working", "condition", "place"):
        for text in texts:
            try:
                tree = as_text(working_parsing.read_now(how, text))
            except BadInput:
                continue  # a title, or read as something else
            made.append(f"{how} {text}\t{tree}\n".encode())
    return _write(root / WORKINGS, b"".join(sorted(made)))


_WORDS = frozenset({"title", "label", "help", "kind", "says", "remedy", "options"})
"""Where a style has words and no workings."""


def _texts(data: object) -> Iterator[str]:
    """All texts in a style that may be workings; names are among them."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, Sequence):
        for item in data:
            yield from _texts(item)
    elif isinstance(data, Iterable):
        # A mapping, or a record: what it is called, and what it holds.
        for key, item in data.items() if isinstance(data, Mapping) else data:
            if key not in _WORDS:
                yield from _texts(item)


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

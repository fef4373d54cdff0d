"""American entries for texts whose British words an American would not use.

Run after a text with such a word was added: `python packaging/american_words.py`. It
writes what is missing into `resources/words/en_US.po`, spelt and worded as below, to be
read over; an entry that is there is left as it is. `tests/test_words.py` finds what has
none.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

WORDS = {
    "centre": "center",
    "centred": "centered",
    "colour": "color",
    "neighbour": "neighbor",
    "neighbouring": "neighboring",
    "kerb": "curb",
    "metre": "meter",
    "grey": "gray",
    "practise": "practice",
    "toile": "muslin",
    "zip": "zipper",
    "neaten": "finish",
    "neatened": "finished",
    "tack": "baste",
    "tacked": "basted",
}
"""Spelling, and the trade's words (`zip` of a fastening, `tack` of a long stitch)."""

KEYS = frozenset(
    ("label", "help", "title", "whole", "says", "remedy", "text", "how", "where")
)
"""Of resources: what stands under these is read."""

_FOLDERS = (
    "styles",
    "finishings",
    "additions",
    "allowances",
    "variants",
    "measurements.json",
    "lengths.json",
)
_WORD = re.compile(
    rf"\b({'|'.join(sorted(WORDS, key=len, reverse=True))})(s?)\b", re.IGNORECASE
)
_BRACES = re.compile(r"(\{[^{}]*\})")
_ENTRY = re.compile(r'msgid "((?:[^"\\]|\\.)*)"\nmsgstr "((?:[^"\\]|\\.)*)"')


def is_british(text: str) -> bool:
    """Whether a text has a word that has an American one; braces are not read."""
    return any(_WORD.search(part) for part in _BRACES.split(text)[::2])


def in_american(text: str) -> str:
    """The text with its British words exchanged."""
    parts = _BRACES.split(text)
    parts[::2] = [_WORD.sub(_exchanged, part) for part in parts[::2]]
    return "".join(parts)


def _exchanged(found: re.Match[str]) -> str:
    word = WORDS[found[1].lower()] + found[2]
    return word[:1].upper() + word[1:] if found[1][:1].isupper() else word


def entries(path: Path) -> dict[str, str]:
    """The entries of a catalogue, as they stand there."""
    return dict(_ENTRY.findall(path.read_text("utf-8")))


def texts(repository: Path) -> Iterator[tuple[str, str]]:
    """All that is read, British: what its entry is called, and the text."""
    words = repository / "resources" / "words"
    for name, text in entries(words / "en_GB.po").items():
        # What is looked for is never shown.
        if name and not name.endswith(".also"):
            yield name, text
    for named in _FOLDERS:
        place = repository / "resources" / named
        for path in sorted(place.glob("*.json")) if place.is_dir() else [place]:
            for text in _read(json.loads(path.read_text("utf-8")), ""):
                escaped = json.dumps(text, ensure_ascii=False)[1:-1]
                yield escaped, escaped


def _read(known: object, key: str) -> Iterator[str]:
    if isinstance(known, dict):
        for name, each in known.items():
            yield from _read(each, "text" if key == "options" else name)
    elif isinstance(known, list):
        for each in known:
            yield from _read(each, key)
    elif isinstance(known, str) and key in KEYS and known:
        yield known


def missing(repository: Path) -> dict[str, str]:
    """The British texts without an American entry, by what that is to be called."""
    known = entries(repository / "resources" / "words" / "en_US.po")
    return {
        name: text
        for name, text in texts(repository)
        if is_british(text) and (name not in known or is_british(known[name]))
    }


def main() -> None:
    """Write the entries that are missing."""
    repository = Path(__file__).resolve().parents[1]
    path = repository / "resources" / "words" / "en_US.po"
    head, *rest = path.read_text("utf-8").rstrip("\n").split("\n\n")
    blocks = {_ENTRY.search(block)[1]: block for block in rest}  # type: ignore[index]
    for name, text in missing(repository).items():
        blocks[name] = f'msgid "{name}"\nmsgstr "{in_american(text)}"'
    listed = [head, *(blocks[name] for name in sorted(blocks))]
    path.write_text("\n\n".join(listed) + "\n", "utf-8")


if __name__ == "__main__":
    main()

"""What an American workroom reads: the British texts, spelt and worded as below.

`build_parts.py` makes the American catalogue of it. What needs more than an exchange of
words stands in `resources/words/en_US.po` and goes before; `tests/test_words.py` finds
an entry there that says only what would be made here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

WORDS = {
    "centimetre": "centimeter",
    "millimetre": "millimeter",
    "towards": "toward",
    "levelled": "leveled",
    "levelling": "leveling",
    "mitre": "miter",
    "stay-stitch": "staystitch",
    "cloth": "fabric",
    "fastening": "closure",
    "petersham": "grosgrain",
    "upper hip": "high hip",
    "overlock": "serge",
    "overlocked": "serged",
    "underwrap": "underlap",
    "bias binding": "bias tape",
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
    (
        "label",
        "help",
        "title",
        "whole",
        "says",
        "remedy",
        "text",
        "how",
        "where",
        "taken",
    )
)
"""Of resources: what stands under these is read."""

_FOLDERS = (
    "styles",
    "finishings",
    "additions",
    "allowances",
    "variants",
    "alterations.json",
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


def american(repository: Path) -> Iterator[tuple[str, str]]:
    """All texts with a British word, by what their entry is called, in American."""
    for name, text in texts(repository):
        if is_british(text):
            yield _plain(name), _plain(in_american(text))


def _plain(escaped: str) -> str:
    """As it is read, of how it stands in a catalogue."""
    return str(json.loads(f'"{escaped}"'))

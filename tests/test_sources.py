"""Sources: each work that is cited is in one list, and none of our own papers is."""

from __future__ import annotations

import io
import json
import re
import tokenize
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[1]
FOLDERS = ("src", "tests", "resources", "packaging")
TEXTS = {".py", ".json", ".toml", ".po", ".lark", ".in", ".md", ".svg", ".txt"}

PAPERS = (
    *("styles", "finishing", "trade", "house", "house-style", "figures", "words"),
    *("formats", "hang", "screens", "window-and-files", "outside-checks"),
)
WORKING_PAPER = re.compile(
    rf"\b(?:{'|'.join(PAPERS)})\.md\b|\boutside checks? [0-9]", re.IGNORECASE
)
VAGUE = re.compile(r"\(published|\bpublished (?:page|rule|trueing|gathering)")
NAMED = re.compile(
    r"(?P<who>[A-Z][\w'.-]*(?: and [A-Z][\w'.-]*)?,? )?"
    r"\(?(?P<year>1[89][0-9]{2}|20[0-2][0-9])(?![\w.,/]*[0-9])\)?"
)
NEAR = 200
"""Letters before a year within which an author of its work stands."""


@cache
def listed() -> dict[str, Any]:
    listed: dict[str, Any] = json.loads((ROOT / "resources/works.json").read_text())
    return listed


def files() -> Iterator[Path]:
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*")):
            made = {"_compiled", "__pycache__", "fonts", "licences"}
            if path.suffix in TEXTS and not made & set(path.parts):
                yield path
    yield ROOT / "DEVELOPERS.md"
    yield ROOT / "resources/schemas/README.md"
    yield ROOT / "README.md"


@cache
def prose(path: Path) -> tuple[str, ...]:
    """Comments and docstrings of code; what data say of their sources."""
    return tuple(_prose(path))


def _prose(path: Path) -> Iterator[str]:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".json":
        yield from _sources(json.loads(text), inside=False)
    if path.suffix != ".py" or not (NAMED.search(text) or VAGUE.search(text)):
        return
    comments: list[str] = []
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type == tokenize.COMMENT:
            comments.append(token.string)
        elif token.type == tokenize.STRING and token.string.startswith('"""'):
            yield token.string
    yield "\n".join(comments)


def _sources(value: Any, *, inside: bool) -> Iterator[str]:
    if isinstance(value, dict):
        for key, held in value.items():
            yield from _sources(held, inside=inside or key in ("source", "sources"))
    elif isinstance(value, list):
        for held in value:
            yield from _sources(held, inside=inside)
    elif inside and isinstance(value, str):
        yield value


def unlisted(text: str) -> list[str]:
    """Works that a text cites by a year, and that are not in the list."""
    found = []
    for match in NAMED.finditer(text):
        in_brackets = text[match.start("year") - 1 : match.end("year") + 1]
        if match["who"] is None and in_brackets[0] + in_brackets[-1] != "()":
            continue
        before = text[max(0, match.start() - NEAR) : match.end()]
        year = int(match["year"])
        known = [work["authors"] for work in listed()["works"] if work["year"] == year]
        standard = any(match["year"] in number for number in listed()["standards"])
        if not standard and not any(a in before for names in known for a in names):
            found.append(before[-90:])
    return found


def test_no_working_paper_is_named():
    own = Path(__file__).resolve()
    named = {
        f"{path.relative_to(ROOT)}: {match[0]}"
        for path in files()
        if path.resolve() != own
        for match in WORKING_PAPER.finditer(path.read_text(encoding="utf-8"))
    }
    assert named == set()


def test_every_work_that_is_cited_is_in_the_list():
    lost = {
        f"{path.relative_to(ROOT)}: {found}"
        for path in files()
        if path.name not in ("works.json", "test_sources.py")
        # What names no year is not taken apart.
        and NAMED.search(path.read_text(encoding="utf-8"))
        for text in prose(path)
        for found in unlisted(text)
    }
    assert lost == set()


@pytest.mark.parametrize(
    "text",
    [
        "as in A. Nobody (1931)",
        "Nobody 1931: 2 to 3",
        "(Nobody, 1931)",
        "Nobody and Nought, 1931",
        "Murray, Kory and Sepic (1916)",
        "a journal 17 (1931)",
    ],
)
def test_a_work_that_is_not_in_the_list_is_found(text):
    assert unlisted(text)


@pytest.mark.parametrize(
    "text",
    ["Murray, Kory and Sepic (1970)", "(Baldt, 1916)", "EN 14682:2014", "1,986 women"],
)
def test_a_work_of_the_list_and_a_standard_are_known(text):
    assert unlisted(text) == []


def test_no_source_is_vague():
    vague = {
        f"{path.relative_to(ROOT)}: {text[:90]}"
        for path in files()
        if path.suffix == ".json"
        for text in prose(path)
        if VAGUE.search(text)
    }
    assert vague == set()


def test_every_work_of_the_list_is_told_in_full_and_cited():
    cited = "\n".join(
        text for path in files() if path.name != "works.json" for text in prose(path)
    )
    for work in listed()["works"]:
        assert set(work) == {"authors", "year", "title", "for"}
        assert work["title"], work
        assert any(author in cited for author in work["authors"]), work

"""What the page of files and the schemas beside it say is what the program does."""

from __future__ import annotations

import importlib.util
import json
import re
from pathlib import Path
from types import ModuleType

import pytest

from drafting import look_of
from skirtwright.draft.styles import names, read_draft, style
from skirtwright.job.file import read, written
from skirtwright.job.job import new_job


def _writer(repository: Path) -> ModuleType:
    place = repository / "packaging" / "write_schemas.py"
    found = importlib.util.spec_from_file_location("write_schemas", place)
    assert found is not None
    assert found.loader is not None
    module = importlib.util.module_from_spec(found)
    found.loader.exec_module(module)
    return module


def test_schemas_and_table_of_kinds_are_those_of_the_classes(repository: Path) -> None:
    """`packaging/write_schemas.py` would change nothing."""
    for path, text in _writer(repository).texts().items():
        assert path.read_text("utf-8") == text, path


def test_every_file_that_developers_are_sent_to_is_there(repository: Path) -> None:
    """Folders and files named in full or by their end."""
    page = (repository / "DEVELOPERS.md").read_text("utf-8")
    places = ("src", "tests", "packaging", "resources")
    there = {
        path.relative_to(repository).as_posix()
        for place in places
        for path in (repository / place).rglob("*")
    }
    there |= {path.name for path in repository.iterdir()}
    ending = re.compile(r"[\w./-]+\.(py|json|toml|lock|po)|(tests|resources)/[\w./-]+")
    named = {
        word
        for quoted in re.findall(r"`([^`\n]+)`", page)
        for word in quoted.split()
        if ending.fullmatch(word) and "NAME" not in word
    }
    assert len(named) > 80
    lost = {
        name
        for name in named
        if not any(f"/{path}".endswith(f"/{name}") for path in there)
    }
    assert lost == set()


def _example(repository: Path) -> str:
    page = (repository / "resources/schemas/README.md").read_text("utf-8")
    return page.partition("```json\n")[2].partition("```")[0]


def test_the_example_style_drafts(repository: Path) -> None:
    """The whole small example on the style-file page can be used as it stands."""
    draft = read_draft(_example(repository), "the example")
    look = look_of(new_job(draft))
    assert not look.report.refusals
    # hip 98 + 6 ease; the gap of 98 / 25 at the hem is there four times, and a
    # little more or less for the new curve.
    assert look.report.finished["hip"] == pytest.approx(1040, abs=1e-6)
    assert look.report.finished["sweep"] == pytest.approx(1040 + 4 * 39.2, rel=0.03)
    assert [piece.name for piece in look.pieces] == ["half"]


def test_the_example_keeps_in_a_file(repository: Path) -> None:
    """An order of the example is read back the same."""
    job = new_job(read_draft(_example(repository), "the example"))
    text = written(job)
    assert read(text, "x.skirt") == job
    assert written(read(text, "x.skirt")) == text


@pytest.mark.parametrize("name", names())
def test_shelf_styles_fit_the_schema_in_outline(name: str, repository: Path) -> None:
    """Every key a style on the shelf uses is one the schema knows."""
    schema = json.loads((repository / "resources/schemas/style.json").read_text())
    raw = json.loads((repository / f"resources/styles/{name}.json").read_text("utf-8"))
    assert set(raw) <= set(schema["properties"])
    assert set(schema["required"]) <= set(raw)
    assert style(name).id == name

"""The compiled modules and the source they were made from say the same, to the bit."""

from __future__ import annotations

import os
import runpy
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from sampling import some_of
from skirtwright import compiled
from skirtwright.draft import styles

ROOT = Path(__file__).resolve().parents[1]

REPORTS = """
import gc, json, sys
gc.disable()
sys.path.insert(0, sys.argv[1])
from bodies import HOUSE
from sampling import some_of
from skirtwright.draft import styles
from skirtwright.figure.views import dressed
from skirtwright.geometry import point
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.card import Card
from skirtwright.export.report_json import as_json

print(point.__file__.endswith(".py"), file=sys.stderr)
apart = {"waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0}
names = some_of(styles.names(), each=8)
looks = [(name, ({}, {"hip": 1215.0})[n % 2]) for n, name in enumerate(names)]
for name, other in (*looks, ("mermaid", apart)):
    card = {measure: f"{value} mm" for measure, value in {**HOUSE, **other}.items()}
    job = new_job(styles.style(name), Card(name="", measurements=card))
    report = Worktable().look(job).report
    skirt = report.worn(fine=False)
    print(name, json.dumps(as_json(report)), skirt and dressed(skirt, "front"))
"""


@pytest.mark.slow
@pytest.mark.sampled
@pytest.mark.skipif(not compiled.compiled_modules(), reason="nothing is compiled")
def test_the_reports_of_every_style_are_the_same_to_the_bit():
    said = {}
    for pure in ("", "1"):
        done = subprocess.run(
            [sys.executable, "-c", REPORTS, str(ROOT / "tests")],
            env={**os.environ, compiled.PURE: pure},
            capture_output=True,
            text=True,
            check=True,
        )
        assert done.stderr.strip() == str(bool(pure))
        said[pure] = done.stdout.splitlines()
    assert len(said[""]) > len(some_of(styles.names(), each=8))
    for ours, reference in zip(said[""], said["1"], strict=True):
        assert ours == reference, ours.partition(" ")[0]


def test_what_is_compiled_was_made_from_the_source_that_stands_here():
    """Where it was not, `packaging/compile_modules.py` mends it."""
    if compiled.FOLDER.exists() and not os.environ.get(compiled.PURE):
        names = compiled.compiled_modules()
        assert names
        for name in names:
            # One that is passed over has another class of the same name.
            assert find_spec(name).origin.endswith(compiled.CODE), name


def test_what_is_compiled_keeps_by_hand_what_is_worked_out_once():
    """A compiled class works a `cached_property` again each time it is asked."""
    build = runpy.run_path(str(ROOT / "packaging" / "compile_modules.py"))
    for source in build["_sources"](ROOT / "src"):
        text = (ROOT / "src" / source).read_text(encoding="utf-8")
        assert "@cached_property" not in text, source


@pytest.fixture
def made(tmp_path):
    """Two modules, compiled as far as can be seen from without."""
    folder, source = tmp_path / "_compiled", tmp_path / "src"
    names = ("shop.cloth", "shop.thread")
    for name in names:
        path = name.replace(".", "/")
        for place, text in ((source, f"# {name}"), (folder, "code")):
            suffix = ".py" if place is source else compiled.CODE
            (place / f"{path}{suffix}").parent.mkdir(parents=True, exist_ok=True)
            (place / f"{path}{suffix}").write_text(text)
    (folder / f"{compiled.SHARED}{compiled.CODE}").write_text("code")
    (folder / "made_from.txt").write_text(compiled.made_from(names, source))
    assert compiled.compiled_modules(folder, source) == {*names, compiled.SHARED}
    return folder, source


def test_after_an_edit_of_one_source_nothing_compiled_is_used(made):
    folder, source = made
    (source / "shop" / "thread.py").write_text("# shop.Thread")
    assert compiled.compiled_modules(folder, source) == frozenset()


@pytest.mark.parametrize("lost", ["shop/cloth", compiled.SHARED])
def test_nothing_compiled_is_used_where_some_of_it_is_missing(made, lost):
    """As for another Python, whose compiled modules have another ending."""
    folder, source = made
    (folder / f"{lost}{compiled.CODE}").unlink()
    assert compiled.compiled_modules(folder, source) == frozenset()


def test_without_a_compiler_the_source_stays_and_one_line_says_so(
    tmp_path, monkeypatch, capsys
):
    (tmp_path / "src" / "skirtwright" / "geometry").mkdir(parents=True)
    for file in ("compiled.py", "geometry/point.py"):
        text = (ROOT / "src/skirtwright" / file).read_text(encoding="utf-8")
        (tmp_path / "src/skirtwright" / file).write_text(text, encoding="utf-8")
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("CC", "gcc")
    build = runpy.run_path(str(ROOT / "packaging" / "compile_modules.py"))
    assert build["compile_modules"](tmp_path) is False
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert not (tmp_path / "src/skirtwright/_compiled").exists()

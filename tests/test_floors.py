"""The import contracts hold, and each of them would catch its trespasser."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

import pytest

from skirtwright.job import folders

LINT = "from importlinter.cli import lint_imports_command; lint_imports_command()"


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    """Runs the contracts in a folder's pyproject.toml on its sources."""
    return subprocess.run(
        [sys.executable, "-c", LINT, "--no-cache"],
        cwd=folder,
        env={"PYTHONPATH": str(folder / "src"), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def house(tmp_path: Path, repository: Path) -> Path:
    """A small honest house with every floor of the real one."""
    shutil.copy(repository / "pyproject.toml", tmp_path)
    package = tmp_path / "src" / "skirtwright"
    floors = "app cli export job report lay checks figure pieces"
    floors += " telling draft geometry words"
    modules = [f"{floor}/__init__" for floor in (*floors.split(), "measures")]
    modules += ["export/sewing/__init__"]
    modules += ["app/slips/__init__", "app/canvas/__init__", "measures/card"]
    above = ("band", "commands", "line", "slip_holder", "window", "window_frame")
    modules += [f"app/{name}" for name in above]
    modules += ["export/pdf", "export/tiles", "export/sewing/worksheet"]
    modules += ["shelf", "budget", "remembered", "resting", "problems"]
    canvas = (repository / "src/skirtwright/app/canvas").glob("[a-z]*.py")
    modules += [f"app/canvas/{file.stem}" for file in canvas]
    figure = (repository / "src/skirtwright/figure").glob("[a-z]*.py")
    modules += [f"figure/{file.stem}" for file in figure]
    modules += ["export/figure_picture"]
    for module in ["__init__", "__main__", *modules]:
        path = package / f"{module}.py"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    plant(tmp_path, "app/canvas/__init__", "import PySide6.QtGui")
    plant(tmp_path, "geometry/__init__", "import shapely.ops")
    plant(tmp_path, "export/pdf", "import reportlab.pdfgen\nimport pikepdf")
    plant(tmp_path, "measures/card", "import pydantic")
    return tmp_path


def plant(house: Path, module: str, text: str) -> None:
    path = house / "src" / "skirtwright" / f"{module}.py"
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8") as planted:
        planted.write(text + "\n")


def test_the_house_keeps_its_floors(repository):
    answer = lint(repository)
    assert answer.returncode == 0, answer.stdout


def test_an_honest_house_passes(house):
    answer = lint(house)
    assert answer.returncode == 0, answer.stdout + answer.stderr


TRESPASSES = [
    ("measures/sizes", "import skirtwright.pieces", "Floors"),
    ("words/plural", "import skirtwright.geometry", "Floors"),
    ("shelf", "import skirtwright.measures.card", "Floors"),
    ("export/tiles", "import skirtwright.job", "Floors"),
    ("cli/__init__", "import skirtwright.app", "Floors"),
    ("misc", "", "Floors"),
    ("app/slips/measure", "import skirtwright.app.canvas", "strangers"),
    ("app/slips/measure", "import skirtwright.app.window", "know the desk"),
    ("app/canvas/scene", "import skirtwright.app.canvas.painting", "no circle"),
    ("app/canvas/laying", "import PySide6.QtGui", "without Qt"),
    ("job/worktable", "import PySide6.QtCore", "Qt only"),
    ("__main__", "from PySide6 import QtWidgets", "Qt only"),
    ("pieces/allowance", "import shapely", "shapely only"),
    ("export/tiles", "from reportlab import pdfgen", "reportlab and pikepdf"),
    ("cli/__init__", "import pikepdf", "reportlab and pikepdf"),
    ("export/dxf", "import ezdxf", "ezdxf only"),
    ("export/svg", "from PIL import Image", "Pillow only"),
    ("figure/worn_skirt", "import skirtwright.checks", "Floors"),
    ("figure/worn_skirt", "import skirtwright.figure.views", "The figure"),
    ("geometry/area", "import pydantic", "plain Python"),
    ("geometry/area", "from skirtwright.measures import card", "plain Python"),
    ("lay/placing", "import numpy as np", "at run time"),
    ("measures/working_binding", "import lark", "at run time"),
]


def houses() -> Iterator[list[tuple[str, str, str]]]:
    """Trespasses that are planted together: one against each contract at most."""
    against: dict[str, list[tuple[str, str, str]]] = {}
    for trespass in TRESPASSES:
        against.setdefault(trespass[2], []).append(trespass)
    for together in zip_longest(*against.values()):
        yield [trespass for trespass in together if trespass]


@pytest.mark.parametrize("planted", [*houses()])
def test_a_trespass_is_caught(house, planted):
    """By its own contract, and by none that nothing was planted against."""
    for module, text, _ in planted:
        plant(house, module, text)
    answer = lint(house)
    assert answer.returncode == 1, answer.stdout + answer.stderr
    broken = [line for line in answer.stdout.splitlines() if "BROKEN" in line]
    assert len(broken) == len(planted), answer.stdout
    for _, _, contract in planted:
        assert any(contract in line for line in broken), contract


def test_a_circle_of_imports_is_caught(house):
    plant(house, "geometry/point", "import skirtwright.geometry.line")
    plant(house, "geometry/line", "import skirtwright.geometry.point")
    answer = lint(house)
    assert answer.returncode != 0
    assert "No circle of imports" in answer.stdout


def test_a_name_of_a_file_stands_once(repository):
    """So that a newcomer who is told a name finds one file; folders have their own."""
    package = repository / "src" / "skirtwright"
    files = [path for path in package.rglob("*.py") if not path.name.startswith("__")]
    assert len(files) > 150
    twice = {name: n for name, n in Counter(f.name for f in files).items() if n > 1}
    assert not twice


def test_no_test_sees_the_folders_of_who_runs_it(tmp_path_factory):
    kept = (folders.settings_folder(), folders.state_folder(), folders.data_folder())
    made = tmp_path_factory.getbasetemp()
    assert all(folder.is_relative_to(made) for folder in kept)


GROWS = {"_Pan", "_Reading", "Names", "Pull", "Scene"}
"""What is filled or moved as it goes along; all else is a value."""


def test_values_are_frozen(repository):
    """A dataclass without `init=False`: what is compiled has `Final` fields instead."""
    made = re.compile(r"^@dataclass\b(.*)\n(?:@.*\n)*class (\w+)", re.MULTILINE)
    found = [
        each
        for path in (repository / "src").rglob("*.py")
        for each in made.findall(path.read_text("utf-8"))
    ]
    assert len(found) > 300
    values = ("frozen=True", "init=False")
    assert {name for how, name in found if not any(v in how for v in values)} == GROWS

"""The wheel carries all it needs: installed alone, run from another folder."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path
from subprocess import CompletedProcess

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "skirtwright"

pytestmark = pytest.mark.slow
needs_command_line = pytest.mark.skipif(
    not (PACKAGE / "cli").is_dir(), reason="cli is not built yet"
)


def run(*command: str | Path, cwd: Path, **extra: str) -> CompletedProcess[str]:
    """Runs a command in a folder, with nothing of this environment's Python path."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}
    return subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env=environment | extra,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from a clean copy that has none of the made parts."""
    copy = tmp_path_factory.mktemp("source") / "skirtwright"
    made = shutil.ignore_patterns(
        "*.mo", "_workings_parser.py", "workings-read.txt", "__pycache__", ".mypy_cache"
    )
    copy.mkdir()
    for folder in ("src", "resources", "packaging"):
        shutil.copytree(ROOT / folder, copy / folder, ignore=made)
    shutil.copytree(ROOT / "LICENSES", copy / "LICENSES")
    for file in ("pyproject.toml", "README.md", "LICENSE", ".gitignore"):
        shutil.copy(ROOT / file, copy)
    built = run(
        sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", "out", cwd=copy
    )
    assert built.returncode == 0, built.stderr
    (path,) = (copy / "out").glob("*.whl")
    return path


@pytest.fixture(scope="session")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bin folder of an environment that holds the wheel and what it leans on."""
    home = tmp_path_factory.mktemp("installed") / "venv"
    venv.create(home, with_pip=False)
    python = home / "bin" / "python"
    pip = [sys.executable, "-m", "pip", "--python", python, "install", "--quiet"]
    pip += ["--no-compile", "--disable-pip-version-check"]
    answer = run(*pip, "--no-deps", "--no-index", wheel, cwd=home)
    assert answer.returncode == 0, answer.stderr
    # What it leans on is lent by the environment that runs the tests. Pointers in
    # that one, such as the one to our own sources, are not followed from here.
    site = Path(sysconfig.get_path("purelib", vars={"base": str(home)}))
    (site / "lent.pth").write_text(sysconfig.get_path("purelib") + "\n")
    return home / "bin"


def test_the_wheel_holds_every_resource_and_part(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    resources = {
        f"skirtwright/resources/{path.relative_to(ROOT / 'resources').as_posix()}"
        for path in (ROOT / "resources").rglob("*")
        if path.is_file() and path.suffix != ".mo"
    }
    assert resources
    assert resources <= names
    for catalogue in (Path(name) for name in resources if name.endswith(".po")):
        made = catalogue.parent / catalogue.stem / "LC_MESSAGES" / "skirtwright.mo"
        assert made.as_posix() in names
    assert "skirtwright/measures/_workings_parser.py" in names
    assert not [name for name in names if name.startswith(("tests/", "packaging/"))]


def test_the_wheel_holds_the_licences_it_names(wheel):
    """An SPDX expression, and the text of each licence, with the acknowledgement."""
    held = zipfile.ZipFile(wheel)
    (folder,) = {name.split("/")[0] for name in held.namelist() if "dist-info" in name}
    told = held.read(f"{folder}/METADATA").decode()
    assert "License-Expression: MIT AND MPL-2.0 AND OFL-1.1\n" in told
    for file, says in (
        ("LICENSE", "Permission is hereby granted, free of charge"),
        ("LICENSES/MPL-2.0.txt", "Mozilla Public License Version 2.0"),
        ("LICENSES/OFL-1.1.txt", "SIL OPEN FONT LICENSE Version 1.1"),
        ("LICENSES/Hershey.txt", "(mit-eddie!ci-dandelion!hurt)"),
    ):
        assert f"License-File: {file}\n" in told
        assert says in held.read(f"{folder}/licenses/{file}").decode()
    fonts = ROOT / "resources/fonts/OFL.txt"
    assert fonts.read_bytes() == (ROOT / "LICENSES/OFL-1.1.txt").read_bytes()


def test_the_wheel_is_what_runs(installed, tmp_path):
    where = "import skirtwright; print(skirtwright.__file__)"
    answer = run(installed / "python", "-c", where, cwd=tmp_path)
    assert Path(answer.stdout.strip()).is_relative_to(installed.parent)


@needs_command_line
def test_it_drafts_and_exports_from_another_folder(installed, tmp_path):
    program = installed / "skirtwright"
    drafted = run(program, "draft", "mermaid", "-o", "sample.skirt", cwd=tmp_path)
    assert drafted.returncode == 0, drafted.stderr
    assert json.loads((tmp_path / "sample.skirt").read_text("utf-8"))["format"]

    exported = run(program, "export", "sample.skirt", "-o", "sample.svg", cwd=tmp_path)
    assert exported.returncode == 0, exported.stderr
    assert "<svg" in (tmp_path / "sample.svg").read_text("utf-8")


WITHOUT_QT = """
import sys
from skirtwright.__main__ import main
for verb in ("styles", "draft mermaid -o s.skirt", "check s.skirt"):
    assert main(verb.split()) == 0, verb
heavy = {"reportlab", "ezdxf", "pikepdf", "numpy", "scipy", "lark"} & set(sys.modules)
assert not heavy, heavy
assert main("export s.skirt -o s.svg".split()) == 0
assert not hasattr(sys, "qt_was_sought")
"""


@needs_command_line
def test_the_command_line_works_without_qt_and_drafting_loads_nothing_heavy(tmp_path):
    stub = tmp_path / "stub" / "PySide6"
    stub.mkdir(parents=True)
    (stub / "__init__.py").write_text(
        "import sys\nsys.qt_was_sought = True\nraise ImportError('no Qt here')\n"
    )
    path = os.pathsep.join([str(stub.parent), str(PACKAGE.parent)])
    answer = run(sys.executable, "-c", WITHOUT_QT, cwd=tmp_path, PYTHONPATH=path)
    assert (answer.returncode, answer.stderr) == (0, "")

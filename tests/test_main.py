"""The door of the program: a verb goes to the command line, all else to the window."""

from __future__ import annotations

import gc
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

from skirtwright.__main__ import STOPPED, main


@pytest.fixture
def called(monkeypatch) -> Iterator[list[tuple[str, object]]]:
    """What was called, with a command line and a window that only note it."""
    calls: list[tuple[str, object]] = []
    cli = ModuleType("skirtwright.cli")
    cli.VERBS = ("draft", "styles")
    cli.main = lambda arguments: calls.append(("cli", arguments)) or 1
    window = ModuleType("skirtwright.app.main")
    window.run = lambda path: calls.append(("window", path)) or 0
    app = ModuleType("skirtwright.app")
    package = sys.modules["skirtwright"]
    monkeypatch.setattr(package, "cli", cli, raising=False)
    monkeypatch.setitem(sys.modules, "skirtwright.cli", cli)
    monkeypatch.setitem(sys.modules, "skirtwright.app", app)
    monkeypatch.setitem(sys.modules, "skirtwright.app.main", window)
    yield calls
    gc.enable()  # The door to the window leaves it off.


@pytest.mark.parametrize(
    "arguments", [["draft", "x.skirt"], ["--help"], ["-h"], ["drafft"]]
)
def test_verbs_options_and_mistyped_verbs_go_to_the_command_line(called, arguments):
    assert main(arguments) == 1
    assert called == [("cli", arguments)]


def test_nothing_or_a_file_goes_to_the_window(called):
    assert main([]) == 0
    assert main(["anna.skirt"]) == 0
    assert called == [("window", None), ("window", Path("anna.skirt"))]


def test_two_files_are_refused_in_one_sentence(called, capsys):
    assert main(["anna.skirt", "berta.skirt"]) == 2
    assert "one file" in capsys.readouterr().err
    assert called == []


def test_a_missing_qt_is_said_in_one_sentence(called, monkeypatch, capsys):
    def no_qt() -> ModuleType:
        message = "No module named 'PySide6'"
        raise ModuleNotFoundError(message, name="PySide6")

    monkeypatch.setattr("skirtwright.__main__.load_window", no_qt)
    assert main([]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "PySide6" in said
    assert "packaging/start" in said


LOADING = """
import os, signal, sys

# Whoever began the tests may have had it ignored.
signal.signal(signal.SIGINT, signal.default_int_handler)

class Stop:
    # Ctrl-C comes while the `number`th module after the package itself is looked for.
    def __init__(self, number):
        self.left = number

    def find_spec(self, name, path=None, target=None):
        if "skirtwright" in sys.modules:
            self.left -= 1
        if self.left == 0:
            os.kill(os.getpid(), 2)

for number in {numbers}:
    child = os.fork()
    if child:
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
        continue
    sys.meta_path.insert(0, Stop(number))
    from skirtwright.__main__ import main
    os._exit(main(["check", "mermaid"]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no signals of this sort there")
def test_stopping_while_it_is_still_loading_ends_with_one_line_and_130():
    """Wherever it is stopped once `__main__` itself is there: here at 25 modules.

    The first is `__main__`, the second what its first line asks for.
    """
    numbers = [*range(3, 20), *range(20, 300, 35)]
    done = subprocess.run(
        [sys.executable, "-c", LOADING.format(numbers=numbers)],
        capture_output=True,
        text=True,
        check=True,
        timeout=100,
    )
    assert done.stdout.split() == ["130"] * len(numbers)
    assert done.stderr.splitlines() == [STOPPED] * len(numbers)

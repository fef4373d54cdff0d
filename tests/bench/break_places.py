"""Breaks one place of the program after another, and sees which tests notice.

Places are drawn by a seed from geometry, marks, files and what is remembered: a
comparison or an operator turned round, a number changed, `and` for `or`, a lean that is
no longer looked at. Each is broken in a copy of the tree, and the tests that stand
nearest are run, then those further off, until some fail. What none notices needs a
test, or says the same when it is broken.

Run: python tests/bench/break_places.py [PLACES] [SEED] [SUBJECT ...]
"""

from __future__ import annotations

import ast
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PLACES, SEED = 30, 11
SECONDS = 400
"""Of the processor for one run of tests: what takes longer is noticed too."""
SHOWN = 4


@dataclass(frozen=True)
class Subject:
    """Where places are drawn, and the tests of them, the nearest first.

    Attributes:
        share: of the places drawn.
        sources: files and folders below the package.
        tests: runs of tests, each a list for pytest.
    """

    share: int
    sources: tuple[str, ...]
    tests: tuple[str, ...]


DRAWN = "tests/test_report.py tests/draft tests/styles/test_style_figures.py"
SUBJECTS = {
    "geometry": Subject(
        8,
        ("geometry",),
        ("tests/geometry", "tests/pieces", DRAWN, "tests/styles tests/export"),
    ),
    "marks": Subject(
        8,
        ("pieces/marks", "pieces/outline", "pieces/piece.py", "pieces/arrange.py"),
        ("tests/pieces", "tests/export", DRAWN, "tests/styles"),
    ),
    "files": Subject(
        7,
        ("job", "measures"),
        (
            "tests/job tests/measures --deselect tests/job/test_walk.py",
            "tests/test_bad_input.py tests/test_door.py tests/test_cli.py",
            "tests/test_fuzz.py tests/app/test_keeping.py tests/app/test_window_job.py",
        ),
    ),
    "remembered": Subject(
        7,
        ("remembered.py", "draft/working", "draft/inputs.py", "pieces/cutting.py"),
        (
            "tests/test_remembered.py tests/draft",
            "tests/job/test_walk.py tests/app/canvas/test_table_walked.py",
            "tests/pieces tests/test_report.py tests/styles",
        ),
    ),
}

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE,
    ast.LtE: ast.Gt,
    ast.Gt: ast.LtE,
    ast.GtE: ast.Lt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
COUNTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
}


@dataclass(frozen=True)
class Place:
    """A place to break.

    Attributes:
        path: of the file, below the package.
        line: where it stands.
        first, last: the offsets of what is replaced, in bytes.
        old, new: what stands there, and what shall.
    """

    path: str
    line: int
    first: int
    last: int
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: {self.old} -> {self.new}"

    def broken(self, source: bytes) -> bytes:
        """The source with the place broken."""
        return source[: self.first] + self.new.encode() + source[self.last :]


def places_in(path: str, source: bytes) -> Iterator[Place]:
    """Every place of a file that can be broken."""
    starts = [0]
    for line in source.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    tree = ast.parse(source)
    passed = set(_passed_over(tree))
    for node in ast.walk(tree):
        new = None if node in passed else _broken(node)
        if new is None:
            continue
        first = starts[node.lineno - 1] + node.col_offset
        last = starts[node.end_lineno - 1] + node.end_col_offset
        old = " ".join(source[first:last].decode().split())
        yield Place(path, node.lineno, first, last, old, f"({new})")


def _passed_over(tree: ast.AST) -> Iterator[ast.AST]:
    """What says nothing when it runs: types, and what is only for people to read."""
    for node in ast.walk(tree):
        held: list[ast.AST | None] = []
        if isinstance(node, ast.AnnAssign | ast.arg):
            held = [node.annotation]
        elif isinstance(node, ast.FunctionDef):
            held = [node.returns, *node.decorator_list]
        elif isinstance(node, ast.JoinedStr) or _is_for_types(node):
            held = [node]
        for each in filter(None, held):
            yield from ast.walk(each)


def _is_for_types(node: ast.AST) -> bool:
    return (isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)) or (
        isinstance(node, ast.Assign) and "TypeVar" in ast.unparse(node.value)
    )


def _broken(node: ast.AST) -> str | None:
    """An expression with something about it turned round; None where nothing can."""
    match node:
        case ast.Compare(ops=[op]) if type(op) in COMPARED:
            made = ast.Compare(node.left, [COMPARED[type(op)]()], node.comparators)
        case ast.BinOp(op=op) if type(op) in COUNTED and not _is_text(node):
            made = ast.BinOp(node.left, COUNTED[type(op)](), node.right)
        case ast.BoolOp(op=op):
            other = ast.Or() if isinstance(op, ast.And) else ast.And()
            made = ast.BoolOp(other, node.values)
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            return ast.unparse(node.operand)
        case ast.Constant(value=bool(value)):
            return repr(not value)
        case ast.Constant(value=int(value)):
            return repr(value + 1)
        case ast.Constant(value=float(value)):
            return repr(value * 1.5 if value else 1.0)
        case _:
            return None
    return ast.unparse(made)


def _is_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(n, ast.JoinedStr | ast.List | ast.Tuple)
        for n in (node.left, node.right)
    ) or any(
        isinstance(n, ast.Constant) and isinstance(n.value, str)
        for n in (node.left, node.right)
    )


LOOKED_AT = b"kept[0] != leans"


def leans_of(package: Path) -> Iterator[Place]:
    """Each lean of what is remembered, no longer looked at."""
    source = (package / "remembered.py").read_bytes()
    first = source.index(LOOKED_AT)
    line = source[:first].count(b"\n") + 1
    for path in sorted(package.rglob("*.py")):
        if "app" in path.relative_to(package).parts:
            continue
        tree = ast.parse(path.read_text("utf-8"))
        made = {
            call.args[0].id
            for call in ast.walk(tree)
            if isinstance(call, ast.Call)
            and getattr(call.func, "id", "") == "Remembered"
            and isinstance(call.args[0], ast.Name)
        }
        for work in ast.walk(tree):
            if isinstance(work, ast.FunctionDef) and work.name in made:
                for number, given in enumerate(work.args.args):
                    new = (
                        "[n for n, (a, b) in enumerate(zip(kept[0], leans)) if a != b"
                        f" and (getattr(self._work, '__name__', ''), n)"
                        f" != ({work.name!r}, {number})]"
                    )
                    old = f"{work.name} leans on {given.arg}"
                    yield Place(
                        "remembered.py", line, first, first + len(LOOKED_AT), old, new
                    )


def drawn(subject: str, count: int, chance: random.Random) -> list[Place]:
    """So many places of a subject; of what is remembered, half of them leans."""
    package = ROOT / "src" / "skirtwright"
    found: list[Place] = []
    for name in SUBJECTS[subject].sources:
        given = package / name
        files = [given] if given.is_file() else sorted(given.rglob("[!_]*.py"))
        for file in files:
            path = file.relative_to(package).as_posix()
            found.extend(places_in(path, file.read_bytes()))
    if subject != "remembered":
        return chance.sample(found, count)
    leans = list(leans_of(package))
    half = min(count // 2, len(leans))
    return chance.sample(leans, half) + chance.sample(found, count - half)


def noticed(tree: Path, tests: str) -> list[str]:
    """The first tests that fail on a tree; what went wrong when none could be run."""
    run = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:randomly", "-p",
         "no:cacheprovider", f"--maxfail={SHOWN}", "--tb=no", *tests.split()],
        cwd=tree,
        env={**os.environ, "PYTHONPATH": str(tree / "src"), "CI": "1",
             "PYTHONDONTWRITEBYTECODE": "1", "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS)),
    )  # fmt: skip
    if run.returncode in (0, 5):
        return []
    failed = [
        line.split()[1].removeprefix("tests/")
        for line in run.stdout.splitlines()
        if line.startswith(("FAILED ", "ERROR "))
    ]
    return failed or [f"pytest ended with {run.returncode}"]


def main(count: int, seed: int, subjects: list[str]) -> int:
    """Print each place with the tests that noticed; how many went unnoticed."""
    chance, unnoticed, begun = random.Random(seed), [], time.time()
    total = sum(SUBJECTS[name].share for name in subjects)
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder) / "tree"
        skip = shutil.ignore_patterns("_compiled", "__pycache__", ".*_cache", ".venv")
        for name in ("src", "tests", "resources", "packaging"):
            shutil.copytree(ROOT / name, tree / name, ignore=skip)
        for name in (
            "pyproject.toml",
            "README.md",
            "LICENSE",
            "DEVELOPERS.md",
        ):
            shutil.copy(ROOT / name, tree)
        for name in subjects:
            subject = SUBJECTS[name]
            for place in drawn(name, round(count * subject.share / total), chance):
                found = _tried(tree, place, subject)
                if not found:
                    unnoticed.append(place)
                print(f"{name}: {place}\n    {found or 'UNNOTICED'}", flush=True)
    print(f"seed {seed}, {time.time() - begun:.0f} s; unnoticed: {len(unnoticed)}")
    for place in unnoticed:
        print(f"  {place}")
    return len(unnoticed)


def _tried(tree: Path, place: Place, subject: Subject) -> list[str]:
    file = tree / "src" / "skirtwright" / place.path
    source = file.read_bytes()
    file.write_bytes(place.broken(source))
    try:
        return next(filter(None, (noticed(tree, t) for t in subject.tests)), [])
    finally:
        file.write_bytes(source)


if __name__ == "__main__":
    numbers = [int(text) for text in sys.argv[1:] if text.isdigit()]
    named = [text for text in sys.argv[1:] if text in SUBJECTS] or list(SUBJECTS)
    sys.exit(main(*(numbers + [PLACES, SEED][len(numbers) :]), named))

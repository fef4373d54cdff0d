"""Orders that were saved here are opened unchecked, and come out the same."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest

from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.job import edits, file, own_files, piece_edits
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.problems import SkirtwrightError


@pytest.fixture(autouse=True)
def _home(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


def edited(name: str, chance: random.Random):
    """An order of a style with some of it set."""
    job = edits.set_client(new_job(styles.style(name)), "Mara").job
    job = edits.set_measurement(job, "hip", "102.5").job
    for amount in chance.sample([a.name for a in job.draft.amounts], 2):
        job = edits.set_amount(job, amount, "12.5").job
    choice = chance.choice(job.draft.choices)
    job = edits.set_choice(job, choice.name, chance.choice(list(choice.options))).job
    piece = job.draft.pieces[0].name
    return piece_edits.rename_piece(job, piece, "Vorderteil").job


def saved(job, path):
    file.save(job, path)
    own_files.note(path.read_bytes())


def test_prints_are_taken_with_their_drafts():
    table, job = Worktable(), edited("straight", random.Random(0))
    job = job.printed("2026-11-02", "sheets", table.look(job).shown)
    for order in (job, edits.set_style(job, styles.style("a-line")).job):
        data = file.written(order).encode()
        assert repr(file.taken(data)) == repr(file.read(data, "order"))


@pytest.mark.parametrize("name", styles.names())
def test_taken_as_it_is_an_order_is_the_one_that_is_checked(name):
    job = edited(name, random.Random(name))
    data = file.written(job).encode()
    checked, taken = file.read(data, "order"), file.taken(data)
    assert repr(taken) == repr(checked)
    assert taken == checked == job
    assert file.written(taken).encode() == data


def test_only_what_was_saved_here_is_known(tmp_path):
    job, path = edited("mermaid", random.Random(0)), tmp_path / "order.skirt"
    file.save(job, path)
    data = path.read_bytes()
    assert not own_files.is_own(data)
    own_files.note(data)
    assert own_files.is_own(data)
    assert not own_files.is_own(data + b" ")
    assert file.load(path) == job


def test_a_file_that_was_changed_is_checked(tmp_path):
    path = tmp_path / "order.skirt"
    saved(edited("mermaid", random.Random(0)), path)
    path.write_bytes(path.read_bytes().replace(b'"amounts"', b'"ammounts"', 1))
    with pytest.raises(SkirtwrightError, match="ammounts"):
        file.load(path)


def test_another_program_knows_nothing_of_it(monkeypatch):
    own_files.note(b"order")
    monkeypatch.setattr(own_files, "program", lambda: b"a later one")
    assert not own_files.is_own(b"order")


def test_the_earliest_are_forgotten(monkeypatch):
    monkeypatch.setattr(own_files, "_MOST", 3)
    for data in (b"a", b"b", b"c", b"a", b"d"):
        own_files.note(data)
    assert [own_files.is_own(data) for data in (b"a", b"b", b"c", b"d")] == [
        True,
        False,
        True,
        True,
    ]


def test_what_checks_is_not_loaded_for_one_of_ours(tmp_path):
    path = tmp_path / "order.skirt"
    saved(edited("mermaid", random.Random(0)), path)
    program = (
        "import sys; from pathlib import Path; from skirtwright.job import file;"
        "file.load(Path(sys.argv[1])); print('pydantic' in sys.modules)"
    )
    told = subprocess.run(
        [sys.executable, "-c", program, path],
        check=True,
        capture_output=True,
        text=True,
    )
    assert told.stdout.strip() == "False"


def test_the_program_tells_every_file_of_itself_and_its_resources():
    told = own_files.program().decode()
    for place in (Path(own_files.__file__), shelf.path("works.json")):
        known = place.stat()
        assert f"{place} {known.st_size} {known.st_mtime_ns}" in told
    assert "__pycache__" not in told

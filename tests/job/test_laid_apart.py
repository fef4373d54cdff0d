"""Lays from a process of their own are the same lays."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from skirtwright.draft import styles
from skirtwright.job import file
from skirtwright.job.job import new_job
from skirtwright.job.laid_apart import laid_again
from skirtwright.job.worktable import Worktable, laid


@pytest.mark.parametrize("name", ["bias-slip", "yoke"])
def test_the_child_lays_as_we_do(name):
    job = new_job(styles.style(name))
    done = subprocess.run(
        [sys.executable, "-m", "skirtwright.job.laid_apart", "5", "20"],
        input=file.written(job).encode(),
        capture_output=True,
        check=True,
        env=dict(os.environ),
    )
    look = Worktable().look(job)
    lines = done.stdout.splitlines()
    assert len(lines) == 2
    for line, tries in zip(lines, (5, 20), strict=True):
        ours, theirs = laid(look, tries), laid_again(look, line)
        assert theirs.report.lays == ours.report.lays
        assert theirs.report.problems == ours.report.problems


@pytest.mark.parametrize(
    "line",
    [
        b"",
        b"7",
        b"[{}]",
        b'[{"material": "shell", "fold": "single", "placed": [[99]]}]',
    ],
)
def test_another_line_is_none_of_ours(line):
    look = Worktable().look(new_job(styles.style("straight")))
    with pytest.raises(ValueError, match=r"no lays|Expecting|unpack"):
        laid_again(look, line)

"""Lets the tests of this folder share `lay_referee`, and skirts that are cut once."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

import pytest

import drafting
from skirtwright.draft import styles
from skirtwright.job.job import new_job

sys.path[:0] = [str(Path(__file__).parents[1])]


@cache
def _look(name):
    return drafting.look_of(new_job(styles.style(name)))


@pytest.fixture(scope="session")
def look_of():
    """The look of a style for its sample client."""
    return _look

"""Cases of which the suite tries some and `tests/bench/bench_at_length.py` all.

For what does not lean on the style: that it holds of every style is then held by the
tests that draw each of them (tests/styles/test_every_style.py; test_within_ranges.py
draws each at some end of what it offers).
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TypeVar

AT_LENGTH = bool(os.environ.get("AT_LENGTH"))

Case = TypeVar("Case")


def some_of(cases: Sequence[Case], first: int = 0, each: int = 3) -> Sequence[Case]:
    """One case in three; tests that begin at another `first` try other cases.

    A test that uses it is marked `sampled`.
    """
    return cases if AT_LENGTH else cases[first::each]

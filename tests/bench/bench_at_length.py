"""The tests that the suite has try some of its cases, with all: every woman of bdims,
200 actions undone, a thousand examples of hypothesis where a test names no number.

`python tests/bench/bench_at_length.py [PYTEST ARGS]`. Target: none fails. Some minutes.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]


def main() -> None:
    """Pytest's own summary: how many passed, and each that did not."""
    os.environ["AT_LENGTH"] = "1"
    sys.exit(
        pytest.main(["-q", "-m", "sampled or hypothesis", str(TESTS), *sys.argv[1:]])
    )


if __name__ == "__main__":
    main()

"""The garbage collector, at rest while much is made that stays.

It looks through what is young again and again as there comes to be more of it: that
took a third of a first look. So what is made while it rests is counted among what is
old at once, and all of that is looked through when much has been made so.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

MUCH: Final = 500_000
"""Things made while it rests, before all is looked through: some ten first looks."""

_made = 0


@contextmanager
def collector_resting() -> Iterator[None]:
    """Nothing is collected until the end; then as it was before."""
    global _made  # noqa: PLW0603 - the collector is one for all too
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        _made += gc.get_count()[0]
        if _made > MUCH:
            gc.collect()
            _made = 0
        # What is frozen and let go is among the oldest, and was not looked through.
        gc.freeze()
        gc.unfreeze()
        gc.enable()

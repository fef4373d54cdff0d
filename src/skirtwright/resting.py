"""The garbage collector, at rest while much is made that stays.

It looks through what is young again and again as there comes to be more of it: that
took a third of a first look.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_resting() -> Iterator[None]:
    """Nothing is collected until the end; then as it was before."""
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.enable()

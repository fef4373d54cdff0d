"""Workers of a Dask scheduler that is already there: the optional extra `cluster`.

Its workers need Skirtwright of the same version, or the files would not be the same.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from concurrent.futures import CancelledError, Executor
from contextlib import contextmanager
from typing import Any

from skirtwright import __version__
from skirtwright.problems import BadInput, FileTrouble

_WAIT_SECONDS = 10
"""For the scheduler to answer, and for its first worker."""


@contextmanager
def workers_at(address: str) -> Iterator[tuple[Executor, int]]:
    """The workers of a scheduler, to which work is given, and how many there are.

    Raises:
        BadInput: Dask is not installed here; nobody answers at the address; there are
            no workers, or some without this version of Skirtwright.
        FileTrouble: scheduler or workers were lost while they worked.
    """
    values = {"address": address}
    try:
        import distributed
        from distributed.comm import CommClosedError
    except ImportError as missing:
        raise BadInput("batch.no_dask", address, **values) from missing
    # What is wrong is said here, in a sentence; its own log would stand beside it.
    for name in ("distributed", "distributed.client"):
        logging.getLogger(name).setLevel(logging.CRITICAL)
    try:
        client = distributed.Client(
            address, timeout=_WAIT_SECONDS, set_as_default=False
        )
    except (OSError, ValueError) as trouble:
        raise BadInput("batch.no_scheduler", address, **values) from trouble
    try:
        count = _counted(client, address)
        yield client.get_executor(), count
    except (CancelledError, CommClosedError, distributed.KilledWorker) as lost:
        raise FileTrouble("batch.cluster_lost", address, **values) from lost
    finally:
        client.close()


def _counted(client: Any, address: str) -> int:
    """How many workers there are.

    Raises:
        BadInput: none, or one that has not this version of Skirtwright.
    """
    try:
        client.wait_for_workers(1, timeout=_WAIT_SECONDS)
    except TimeoutError as none:
        raise BadInput("batch.no_workers", address, address=address) from none
    found = client.run(_version, on_error="return")
    if any(version != __version__ for version in found.values()):
        values = {"address": address, "version": __version__}
        raise BadInput("batch.other_workers", address, **values)
    return len(found)


def _version() -> str:
    return __version__

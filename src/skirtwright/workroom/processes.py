"""Orders worked side by side: in this process, in others, or by a Dask scheduler."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import (
    FIRST_COMPLETED,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context, parent_process, resource_tracker
from multiprocessing.connection import Connection
from threading import Thread

from skirtwright.problems import FileTrouble
from skirtwright.workroom.one_person import PersonFiles, Request, make, make_alone


@dataclass(frozen=True)
class Task:
    """One person's order, and where it goes.

    Attributes:
        key: of the order and of what is wanted.
    """

    name: str
    row: int
    folder: str
    text: str
    key: str


@contextmanager
def pool_of(workers: int, scheduler: str) -> Iterator[tuple[Executor, int] | None]:
    """What works orders side by side, and how many at once; None for this process."""
    if scheduler:
        from skirtwright.workroom.cluster import workers_at

        with workers_at(scheduler) as pool:
            yield pool
        return
    if not workers:
        yield None
        return
    context = get_context("spawn")
    ends, held = context.Pipe(duplex=False)
    begin = partial(_begin_worker, ends)
    with held, ends, ProcessPoolExecutor(workers, context, begin) as processes:
        try:
            yield processes, workers
        except BaseException:
            held.close()  # What is begun is not waited for.
            raise
        finally:
            processes.shutdown(wait=False, cancel_futures=True)


def worked(
    tasks: Iterator[Task], wanted: Request, pool: tuple[Executor, int] | None
) -> Iterator[tuple[Task, PersonFiles]]:
    """Each task with what came of it, as they come."""
    if pool is None:
        for task in tasks:
            yield task, make(task.text, wanted)
        return
    workers, count = pool
    waiting: dict[Future[PersonFiles], Task] = {}
    try:
        for task in tasks:
            with _stop_held_back():
                submitted = workers.submit(make_alone, task.text, wanted)
            waiting[submitted] = task
            if len(waiting) >= _AHEAD * count:
                yield from _finished(waiting)
        while waiting:
            yield from _finished(waiting)
    except BrokenProcessPool as died:
        name = next(iter(waiting.values())).name if waiting else ""
        raise FileTrouble("people.process_died", name) from died


_AHEAD = 2
"""Orders that wait for each process, so that none stands idle."""

_BETWEEN_LOOKS = 0.1
"""Seconds after which a stop is heard, whether an order is done or not."""


def _finished(
    waiting: dict[Future[PersonFiles], Task],
) -> Iterator[tuple[Task, PersonFiles]]:
    """At least one that is done, taken out of those that are waited for.

    A stop is heard between two looks: in the midst of one it would leave locks of the
    futures held, for which the pool then waits for ever.
    """
    made: dict[Future[PersonFiles], PersonFiles] = {}
    while not made:
        with _stop_held_back():
            done, _ = wait(waiting, _BETWEEN_LOOKS, FIRST_COMPLETED)
            made = {future: future.result() for future in done}
    for future, files in made.items():
        yield waiting.pop(future), files


@contextmanager
def _stop_held_back() -> Iterator[None]:
    """A stop from the keyboard comes when this is over.

    What is begun within heeds none, from its first moment: a stop is for the process
    that began the others.
    """
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    resource_tracker.ensure_running()  # It lets stops through when it begins.
    before = signal.pthread_sigmask(signal.SIG_BLOCK, (signal.SIGINT,))
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin_worker(ends: Connection) -> None:
    """Begin a process that works orders: it ends when what begun it does, or says so.

    Args:
        ends: closed at its other end by then.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _end_after(ends.recv_bytes)


def end_with_parent() -> None:
    """Begin a process: it ends when the one that began it does, killed or not."""
    if parent := parent_process():
        _end_after(parent.join)


def _end_after(wait_for: Callable[[], object]) -> None:
    """End this process, whatever it works at, once something is over."""

    def ended() -> None:
        with suppress(EOFError, OSError):
            wait_for()
        os._exit(1)

    Thread(target=ended, daemon=True).start()

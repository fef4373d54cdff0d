"""Where a verb reads and where it writes: no output is an input or another output."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path

from skirtwright.draft import styles
from skirtwright.job import habits
from skirtwright.job.folders import client_book
from skirtwright.job.habits import PRINTERS
from skirtwright.job.saving import check_place
from skirtwright.problems import BadInput
from skirtwright.workroom.batch import TABLE


def outputs_of(options: argparse.Namespace) -> tuple[Path, ...]:
    """The files a verb is asked to write."""
    own = [getattr(options, name, None) for name in ("output", "record")]
    named = [*own, options.report]
    folder = getattr(options, "folder", None)
    if folder is not None:
        # Of a name that no folder can have `Path.is_dir` raises.
        is_there = os.path.isdir(folder)  # noqa: PTH112
        named.append(folder / TABLE if is_there else folder)
    return tuple(place for place in named if place is not None)


def inputs_of(options: argparse.Namespace) -> tuple[Path, ...]:
    """The files a verb reads."""
    source = getattr(options, "source", None)
    named = [Path(source)] if source and source not in styles.names() else []
    named += [
        place
        for name in ("card", "people", "book")
        if (place := getattr(options, name, None))
    ]
    named += getattr(options, "with_card", [])
    if hasattr(options, "book") and options.book is None:
        named.append(client_book())
    if getattr(options, "what", "") in ("add", "restore", "salvage"):
        named.append(Path(options.subject or ""))
    if getattr(options, "printer", ""):
        named.append(habits.place(PRINTERS))
    return tuple(named)


def check_folder_apart(options: argparse.Namespace) -> None:
    """Refuse a folder that others write into or that is read from as well.

    Raises:
        BadInput: the report is to lie in it, or what is read does.
    """
    folder = getattr(options, "folder", None)
    if folder is None:
        return
    inside = os.path.realpath(folder) + os.sep
    others = [*inputs_of(options), *filter(None, [options.report])]
    for place in others:
        if os.path.realpath(place).startswith(inside):
            raise BadInput("cli.within_folder", str(place), file=place.name)


def check_places(inputs: Sequence[Path], outputs: Sequence[Path]) -> None:
    """Refuse outputs nothing should be written to, before any work is done.

    Raises:
        FileTrouble: it is a folder, a device or a pipe, or its folder is not there or
            may not be written.
        BadInput: it is read as well, or is named twice.
    """
    for number, place in enumerate(outputs):
        check_place(place)
        for other in inputs:
            if _is_same_file(place, other):
                raise BadInput("cli.output_is_input", str(place), file=place.name)
        for other in outputs[:number]:
            if _is_same_file(place, other):
                raise BadInput("cli.output_twice", str(place), file=place.name)


def _is_same_file(one: Path, other: Path) -> bool:
    """True when two names are of one file, through links of either sort too."""
    try:
        if one.samefile(other):
            return True
    except (OSError, ValueError):
        pass  # One of them is not there, or no name a file can have.
    try:
        return os.path.realpath(one) == os.path.realpath(other)
    except (OSError, ValueError):
        return False

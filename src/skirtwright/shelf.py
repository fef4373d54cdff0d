"""The one door to resources: in the wheel, or else in the source tree.

A resource is named by its path inside the folder, with forward slashes:
`styles/mermaid.json`, `fonts/NotoSans-Regular.ttf`.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path, PurePosixPath
from typing import Any, TextIO

from skirtwright.problems import FileTrouble, NotFound


@cache
def _root() -> Path:
    inside = Path(__file__).resolve().parent / "resources"
    if inside.is_dir():
        return inside
    beside = Path(__file__).resolve().parents[2] / "resources"
    if not beside.is_dir():
        raise FileTrouble("shelf.missing", str(beside), folder=str(beside))
    return beside


def path(name: str) -> Path:
    """Where a resource lies on disk, whether it is there or not.

    Raises:
        NotFound: for a name that leads off the shelf (absolute, `..`, a backslash).
    """
    parts = PurePosixPath(name).parts
    if not parts or "\\" in name or ":" in name or {"..", "/", "//"} & set(parts):
        raise NotFound("shelf.off_the_shelf", name, name=name)
    return _root().joinpath(*parts)


def open_text(name: str) -> TextIO:
    """A resource opened for reading as UTF-8; the caller closes it.

    Raises:
        NotFound: when nothing by that name is on the shelf.
    """
    place = path(name)
    if not place.is_file():
        raise NotFound("shelf.not_there", name, name=name)
    return place.open(encoding="utf-8")


def read_json(name: str) -> Any:
    """The JSON of a resource. Ours, so read plainly; files of others are not.

    Raises:
        NotFound: when nothing by that name is on the shelf.
    """
    with open_text(name) as text:
        return json.load(text)


@cache
def read_toml(name: str) -> dict[str, dict[str, Any]]:
    """The tables of a resource.

    Raises:
        NotFound: when nothing by that name is on the shelf.
    """
    import tomllib

    with open_text(name) as text:
        return tomllib.loads(text.read())


def names(folder: str, suffix: str) -> tuple[str, ...]:
    """The names, without `suffix`, of what lies in a folder, in alphabetical order.

    Args:
        folder: such as `styles`.
        suffix: such as `.json`.
    """
    place = path(folder)
    if not place.is_dir():
        return ()
    found = (item.name for item in place.iterdir() if item.is_file())
    return tuple(
        sorted(name.removesuffix(suffix) for name in found if name.endswith(suffix))
    )

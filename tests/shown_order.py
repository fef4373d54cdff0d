"""An order of the style file that the page of files shows, with any value changed."""

from __future__ import annotations

import copy
import json
from functools import cache
from pathlib import Path
from typing import Any

from skirtwright.draft import styles
from skirtwright.job import file
from skirtwright.job.job import new_job

PAGE = Path(__file__).parents[1] / "resources/schemas/README.md"


@cache
def _written() -> str:
    style = PAGE.read_text("utf-8").partition("### A whole small example")[2]
    style = style.partition("```json")[2].partition("```")[0]
    return file.written(new_job(styles.read_draft(style, "tube.json")))


def order() -> dict[str, Any]:
    made: dict[str, Any] = json.loads(_written())
    notches = [{"edge": "side", "at": "3", "count": 1}]
    own = {"piece": "half", "allowances": {"waist": "2"}, "notches": notches}
    return {**made, "pieces": [own]}


def put(place: str, value: Any) -> dict[str, Any]:
    """The order with one value in another's place; a list is told to grow by +."""
    made = order()
    *way, last = [int(key) if key.isdigit() else key for key in place.split(".")]
    holder: Any = made
    for key in way:
        holder = holder[key]
    if last == "+":
        holder.append(copy.deepcopy(holder[-1]) if value is None else value)
    else:
        holder[last] = value
    return made

"""The JSON schema of a .skirt file and of a style file, made from the classes."""

from __future__ import annotations

from typing import Any

from skirtwright.draft.draft import Draft, Group
from skirtwright.draft.kinds import ALL
from skirtwright.job.job import Job
from skirtwright.job.upgrade import FORMAT


def order_schema() -> dict[str, Any]:
    """The schema of a .skirt file."""
    made = Job.model_json_schema()
    made["properties"]["format"] = {"type": "integer", "maximum": FORMAT, "minimum": 1}
    made["required"] = ["format", *made["required"]]
    return _with_items(made)


def style_schema() -> dict[str, Any]:
    """The schema of a style file."""
    return _with_items(Draft.model_json_schema())


def _with_items(made: dict[str, Any]) -> dict[str, Any]:
    """The schema with its steps told: every kind, and groups of them."""
    parts: dict[str, Any] = made.setdefault("$defs", {})
    group = Group.model_json_schema()
    parts.update(group.pop("$defs", {}))
    parts["Group"] = group
    for word, kind in sorted(ALL.items()):
        parts[word] = kind.model_json_schema()
    names = ["Group", *sorted(ALL)]
    parts["Item"] = {"anyOf": [{"$ref": f"#/$defs/{name}"} for name in names]}
    items = {"type": "array", "items": {"$ref": "#/$defs/Item"}}
    for holder in (parts["Group"], parts.get("Draft", made)):
        holder["properties"]["steps"] = items
    return made

"""Writes what is made from the source: schemas, the table of kinds, the floors.

A test sees to it that `resources/schemas`, its README and DEVELOPERS.md agree with the
classes and the contracts.
"""

from __future__ import annotations

import ast
import json
import re
import tomllib
from pathlib import Path
from typing import Any

from skirtwright.draft.draft import Draft, Group
from skirtwright.draft.kinds import ALL
from skirtwright.job.job import Job
from skirtwright.job.upgrade import FORMAT
from skirtwright.measures.records import fields_of

ROOT = Path(__file__).resolve().parents[1]


def texts() -> dict[Path, str]:
    """Each schema file with its text."""
    folder = ROOT / "resources" / "schemas"
    made = {"order.json": order_schema(), "style.json": style_schema()}
    written = {
        folder / name: json.dumps(schema, indent=1, sort_keys=True) + "\n"
        for name, schema in made.items()
    }
    for page, what, text in (
        (ROOT / "resources/schemas/README.md", "kinds", table_of_kinds()),
        (ROOT / "DEVELOPERS.md", "floors", picture_of_floors()),
    ):
        first, last = f"<!-- {what} -->\n", f"<!-- end of {what} -->"
        head, _, rest = page.read_text("utf-8").partition(first)
        written[page] = head + first + text + last + rest.partition(last)[2]
    return written


def picture_of_floors() -> str:
    """The floors of the contract, each with what its package says of itself."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]
    layers = contracts["importlinter"]["contracts"][0]["layers"]
    rows = ["```"]
    for layer in layers:
        for number, name in enumerate(re.findall(r"\w+", layer)):
            place = ROOT / "src" / "skirtwright" / name
            whole = place / "__init__.py"
            place = whole if whole.exists() else place.with_suffix(".py")
            said = ast.get_docstring(ast.parse(place.read_text("utf-8"))) or ""
            beside = "| " if number else "  "
            rows.append(f"{beside}{name:12}{said.partition(chr(10))[0]}")
    return "\n".join([*rows, "```\n"])


def table_of_kinds() -> str:
    """Every kind with the first line of what it says of itself, and its fields."""
    rows = ["| kind | what | fields |", "|---|---|---|"]
    for word, kind in ALL.items():
        about = (kind.__doc__ or "").strip().partition("\n")[0]
        reading = kind.reading()
        fields = [
            f"`{name}`{'' if field.is_required() else '?'} "
            + (reading[name].value if name in reading else "text")
            for name, field in fields_of(kind).items()
            if name not in ("step", "kind")
        ]
        rows.append(f"| `{word}` | {about} | {', '.join(fields)} |")
    return "\n".join(rows) + "\n"


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


if __name__ == "__main__":
    for path, text in texts().items():
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        print(path)

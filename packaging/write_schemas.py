"""Writes what is made from the classes: the schemas and the table of kinds.

A test sees to it that `resources/schemas` and its README agree with the classes.
"""

from __future__ import annotations

import json
from pathlib import Path

from skirtwright.draft.kinds import ALL
from skirtwright.job.schema import order_schema, style_schema
from skirtwright.measures.records import fields_of

ROOT = Path(__file__).resolve().parents[1]
FIRST = "<!-- kinds -->"
LAST = "<!-- end of kinds -->"


def texts() -> dict[Path, str]:
    """Each schema file with its text."""
    folder = ROOT / "resources" / "schemas"
    made = {"order.json": order_schema(), "style.json": style_schema()}
    written = {
        folder / name: json.dumps(schema, indent=1, sort_keys=True) + "\n"
        for name, schema in made.items()
    }
    page = ROOT / "resources/schemas/README.md"
    head, _, rest = page.read_text("utf-8").partition(FIRST)
    _, _, tail = rest.partition(LAST)
    written[page] = head + FIRST + "\n" + table_of_kinds() + LAST + tail
    return written


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


if __name__ == "__main__":
    for path, text in texts().items():
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        print(path)

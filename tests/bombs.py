"""Small files that ask for too much, and a meter to read them under.

`python tests/bombs.py` reads each in a child whose memory and time the system bounds,
and prints how it ended, as JSON lines.
"""

from __future__ import annotations

import gc
import json
import os
import resource
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

MEMORY = 300_000_000
"""Bytes a bomb may take beyond the program itself."""

SECONDS = 20
"""Of the processor, before the system ends it: no figure, only a net."""

Made = str | bytes
_MEASUREMENTS = {
    "waist": "74",
    "hip": "101",
    "waist_to_hip": "21",
    "waist_to_knee": "59",
}
_CORNERS = {"a": ("0", "0"), "b": ("30", "0"), "c": ("30", "-60"), "d": ("0", "-60")}


def order(**draft: Any) -> dict[str, Any]:
    """An order with a rectangle for a skirt, and what is said of its draft instead."""
    starts = [
        {"step": name, "kind": "start", "right": right, "up": up}
        for name, (right, up) in _CORNERS.items()
    ]
    lines = {"top": "ab", "side": "bc", "bottom": "dc", "fold": "ad"}
    joins = [
        {"step": name, "kind": "join", "through": list(ends)}
        for name, ends in lines.items()
    ]
    edges = {"centre": "fold", "hem": "bottom", "side": "side", "waist": "top"}
    outline = {"step": "panel", "kind": "outline", "edges": edges}
    steps = [*starts, *joins, outline, *draft.pop("more", [])]
    made = {
        "format": 1,
        "id": "box",
        "title": "Box",
        "measurements": list(_MEASUREMENTS),
        "steps": steps,
        "pieces": [piece("half")],
        **draft,
    }
    card = {"name": "Ilse Farrow", "measurements": _MEASUREMENTS}
    return {"format": 2, "card": card, "draft": made}


def piece(name: str, panel: str = "panel") -> dict[str, Any]:
    """A piece with an allowance on every edge but the fold."""
    return {
        "name": name,
        "title": name,
        "panel": panel,
        "folds": ["centre"],
        "allowances": {"waist": "1", "side": "1.5", "hem": "3"},
    }


def number(name: str, value: str = "1") -> dict[str, str]:
    """A step that is a number."""
    return {"step": name, "kind": "number", "value": value}


def inside(rule: Callable[[int], dict[str, Any]], deep: int) -> dict[str, Any]:
    """Groups inside one another, each with its rule, round one step."""
    held: dict[str, Any] = number("n")
    for level in range(deep):
        held = {"group": f"g{level}", **rule(level), "steps": [held]}
    return held


def _find(level: int, first: int = 0) -> dict[str, Any]:
    outer = f" + u{level - 1} / 9" if level > first else ""
    outer += f" + u{level + 1} / 9" if level < 6 else ""
    match = {
        "match": f"u{level}",
        "to": f"u{level} * u{level} * u{level} / 9{outer} + 1/7",
    }
    range_ = {"least": "-9", "most": "9"}
    return {"find": {"unknown": f"u{level}", "kind": "ratio", **range_, **match}}


def _curve(reach: str) -> dict[str, Any]:
    bent = {
        "step": "bent",
        "kind": "curve",
        "start": "b",
        "end": "c",
        "leaving": "0",
        "arriving": "180",
        "start_reach": reach,
        "end_reach": reach,
    }
    edges = {"centre": "fold", "hem": "bottom", "side": "bent", "waist": "top"}
    return order(
        more=[bent, {"step": "bag", "kind": "outline", "edges": edges}],
        pieces=[piece("bag", "bag")],
    )


def _amounts(count: int) -> list[dict[str, str]]:
    return [
        {
            "name": f"a{n}",
            "kind": "ratio",
            "label": "A",
            "default": "1",
            "least": "0",
            "most": "9",
        }
        for n in range(count)
    ]


def _zigzag(count: int, deep: float) -> list[dict[str, Any]]:
    """A side of many corners, as steps: its points, and the line through them."""
    points = [
        {
            "step": f"z{n}",
            "kind": "start",
            "right": f"{30 + deep * (n % 2)}",
            "up": f"{-60 * n / count}",
        }
        for n in range(count)
    ]
    through = ["b", *(f"z{n}" for n in range(1, count)), "c"]
    edges = {"centre": "fold", "hem": "bottom", "side": "saw", "waist": "top"}
    return [
        *points,
        {"step": "saw", "kind": "join", "through": through},
        {"step": "cut", "kind": "outline", "edges": edges},
    ]


def _places(count: int) -> dict[str, Any]:
    return order(
        more=[{"step": "j", "kind": "join", "through": ["a", "b"] * (count // 2)}]
    )


def _slashes(count: int) -> dict[str, Any]:
    slashes = [
        [f"panel.hem at share {n + 1}/{count + 2}", "panel.waist middle"]
        for n in range(count)
    ]
    step = {
        "step": "spread",
        "kind": "slash_and_spread",
        "panel": "panel",
        "slashes": slashes,
        "opening": "1",
        "stays": "centre",
    }
    return order(more=[step])


def _darts(count: int) -> dict[str, Any]:
    step = {
        "step": "darts",
        "kind": "insert_darts",
        "panel": "panel",
        "edge": "waist",
        "count": str(count),
        "at": [f"{28 * (n + 1) / (count + 1):.6f}" for n in range(count)],
        "width": "0.001",
        "lengths": ["10"] * count,
    }
    return order(more=[step])


def _notches(count: int) -> dict[str, Any]:
    made = order()
    made["pieces"] = [
        {
            "piece": "half",
            "notches": [
                {"edge": "side", "at": f"{n * 60 / count}"} for n in range(count)
            ],
        }
    ]
    return made


def _runs(count: int) -> dict[str, Any]:
    runs = [{"to": f"{n * 60 / count}", "width": f"{1 + n % 2}"} for n in range(count)]
    cut = piece("half") | {"allowances": {"side": [*runs, {"width": "1"}]}}
    return order(pieces=[cut])


def _seam_notches(count: int) -> dict[str, Any]:
    marks = [{"at": f"panel.side at {n * 60 / count}"} for n in range(count)]
    seam = {"name": "side", "sides": [["panel.side"], ["panel.side"]], "notches": marks}
    return order(seams=[seam])


def _box(wide: str, high: str) -> dict[str, Any]:
    step = {"step": "r", "kind": "rectangle", "wide": wide, "high": high}
    cut = {"name": "r", "title": "R", "panel": "r", "allowances": {"foot": "1"}}
    return order(more=[step], pieces=[cut])


def _check(says: str) -> dict[str, Any]:
    return {
        "step": "said",
        "kind": "check",
        "when": "1 < 2",
        "grade": "note",
        "says": says,
        "values": {"v": "hip / 3"},
    }


def _copies(count: int) -> dict[str, Any]:
    copy = {"step": "p", "kind": "copy", "panel": "panel"}
    group = {"group": "t", "repeat": str(count), "steps": [copy]}
    pieces = [piece(f"p{n}", f"t[{n}].p") for n in range(1, count + 1)]
    return order(more=[group], pieces=pieces)


_WORKING = "+".join(["hip / 4"] * 45)


def _written(made: dict[str, Any]) -> str:
    return json.dumps(made)


BOMBS: dict[str, Callable[[], Made]] = {
    # Readers.
    "depth": lambda: "[" * 4_000_000,
    "objects": lambda: '{"a":' * 900_000,
    "doubled_keys": lambda: (
        "{" + ",".join(f'"k{n % 200_000}":1' for n in range(400_000)) + "}"
    ),
    "different_keys": lambda: "{" + ",".join(f'"k{n}":1' for n in range(400_000)) + "}",
    "backslashes": lambda: '\\"' * 2_400_000,
    "quotes": lambda: '"' * 4_900_000,
    "open_text": lambda: '"' + "\\\\" * 2_400_000,
    "long_text": lambda: _written(order(help="x" * 4_800_000)),
    "long_key": lambda: '{"' + "k" * 4_800_000 + '":1}',
    "long_number": lambda: "[" + "9" * 4_800_000 + "]",
    "long_fraction": lambda: "[0." + "9" * 4_800_000 + "]",
    "numbers": lambda: "[" + "0," * 2_400_000 + "0]",
    "blanks": lambda: " " * 4_900_000 + "{",
    "too_large": lambda: b" " * 6_000_000,
    # Lists of the draft.
    "amounts": lambda: _written(order(amounts=_amounts(20_000))),
    "amounts_in_bounds": lambda: _written(
        order(
            amounts=[
                a | {"default": f"a{max(n - 1, 0)} * 0 + {'1/4+' * 40}1" if n else "1"}
                for n, a in enumerate(_amounts(200))
            ],
            more=[number("last", "a199")],
        )
    ),
    "pieces": lambda: _written(order(pieces=[piece(f"p{n}") for n in range(2_000)])),
    "pieces_in_bounds": lambda: _written(
        order(pieces=[piece(f"p{n}") for n in range(200)])
    ),
    "pieces_of_copies": lambda: _written(_copies(100)),
    "places": lambda: _written(_places(300_000)),
    "places_in_bounds": lambda: _written(_places(38_000)),
    "steps": lambda: _written(order(more=[number(f"n{n}") for n in range(16_000)])),
    "workings": lambda: _written(
        order(more=[number(f"n{n}", _WORKING + f"+{n} cm") for n in range(2_500)])
    ),
    "seams": lambda: _written(
        order(
            seams=[
                {"name": f"s{n}", "sides": [["panel.side"], ["panel.side"]]}
                for n in range(200)
            ]
        )
    ),
    "long_seam": lambda: _written(
        order(
            seams=[{"name": "s", "sides": [["panel.side", "-panel.side"] * 4_500] * 2}]
        )
    ),
    # Groups.
    "repeats": lambda: _written(order(more=[inside(lambda _: {"repeat": "100"}, 7)])),
    "repeats_of_nothing": lambda: _written(
        order(
            more=[
                {
                    "group": "g",
                    "repeat": "100",
                    "steps": [
                        {
                            "group": "h",
                            "repeat": "100",
                            "steps": [{"group": "k", "repeat": "100", "steps": []}],
                        }
                    ],
                }
            ]
        )
    ),
    "finds": lambda: _written(order(more=[inside(_find, 7)])),
    "finds_in_repeats": lambda: _written(
        order(
            more=[
                {
                    "group": "g",
                    "repeat": "100",
                    "steps": [inside(lambda n: _find(n + 5, 5), 2)],
                },
            ]
        )
    ),
    # Shapes.
    "reach_1000": lambda: _written(_curve("1000")),
    "reach_999999": lambda: _written(_curve("999999")),
    "reach_30": lambda: _written(_curve("30")),
    "far_rectangle": lambda: _written(_box("1000000", "1000000")),
    "thin_rectangle": lambda: _written(_box("1990", "0.00002")),
    "zigzag": lambda: _written(
        order(more=_zigzag(1_500, 2), pieces=[piece("cut", "cut")])
    ),
    "zigzag_crossing": lambda: _written(
        order(more=_zigzag(1_000, -40), pieces=[piece("cut", "cut")])
    ),
    "slashes": lambda: _written(_slashes(2_000)),
    "darts": lambda: _written(_darts(2_000)),
    "notches": lambda: _written(_notches(5_000)),
    "seam_notches": lambda: _written(_seam_notches(7_000)),
    "allowance_runs": lambda: _written(_runs(10_000)),
    "unknown_names": lambda: _written(
        order(more=[number(f"n{n}", f"nn{n} + 1") for n in range(6_000)])
    ),
    "wide_choices": lambda: _written(
        order(
            choices=[
                {
                    "name": f"c{n}",
                    "label": "C",
                    "options": {f"o{m}": "O" for m in range(190)},
                    "default": "o0",
                }
                for n in range(200)
            ],
            more=[number(f"picked_{n}", f"1 if c{n} is o7 else 2") for n in range(200)],
        )
    ),
    "origins": lambda: _written(
        order(more=[{"group": f"g{n}", "from": "mermaid"} for n in range(200)])
    ),
    # Sentences.
    "sentences": lambda: _written(
        order(
            more=[
                {
                    "group": "g",
                    "repeat": "100",
                    "steps": [
                        {
                            "group": "h",
                            "repeat": "100",
                            "steps": [_check("{v:length}" * 50)],
                        }
                    ],
                }
            ]
        )
    ),
    "digits": lambda: _written(order(more=[_check("{v:length.999999999}")])),
    "values": lambda: _written(order(more=[_check("{v:length}" * 1_900)])),
}
"""What each bomb is made of."""


def read(made: Made) -> str:
    """How it ends when an order is read and looked at: a refusal's code, or `done`."""
    from skirtwright.export.report_json import as_json
    from skirtwright.job import file
    from skirtwright.job.worktable import Worktable
    from skirtwright.problems import SkirtwrightError

    try:
        look = Worktable().look(file.read(made, "bomb.skirt"))
        json.dumps(as_json(look.report))
    except SkirtwrightError as refused:
        return refused.problem.code
    stops = [problem.code for problem in look.problems if problem.stops]
    return stops[0] if stops else "done"


def metered(work: Callable[[], str]) -> dict[str, Any]:
    """Work done in a child with bounded memory and time: how it ended, what it took."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        try:
            size = int(Path("/proc/self/statm").read_text("ascii").split()[0]) * 4096
            resource.setrlimit(resource.RLIMIT_AS, (size + MEMORY,) * 2)
            resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
            ended = work()
        except BaseException as fault:  # noqa: BLE001 - told to the parent
            ended = f"FAULT {fault!r}"[:300]
        os.write(writer, ended.encode("utf-8", "replace"))
        os._exit(0)
    os.close(writer)
    with os.fdopen(reader, encoding="utf-8") as told:
        ended = told.read()
    _, status, used = os.wait4(child, 0)
    return {
        "ended": ended or f"KILLED {status}",
        "seconds": round(used.ru_utime + used.ru_stime, 2),
    }


def all_of(names: list[str]) -> Iterator[dict[str, Any]]:
    """Each bomb of these names, or every one, under the meter."""
    read(_written(order()))  # what is loaded once is no part of the figure
    gc.freeze()
    for name in names or BOMBS:
        made = BOMBS[name]()
        yield {"name": name, "bytes": len(made), **metered(lambda m=made: read(m))}


if __name__ == "__main__":
    for line in all_of(sys.argv[1:]):
        print(json.dumps(line), flush=True)

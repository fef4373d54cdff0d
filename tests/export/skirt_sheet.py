"""A made-up skirt on a sheet: front, back and waistband, as the pieces floor would
give it. Invented for the tests of paper; its numbers mean nothing else."""

from __future__ import annotations

from skirtwright.export.sheet import (
    Fill,
    Group,
    Mark,
    Path,
    Sheet,
    Stroke,
    Text,
    line,
    outline,
)
from skirtwright.geometry import Cubic, Line, Motion, Point


def P(x: float, y: float) -> Point:
    return Point(x, y)


def panel_path(width: float, length: float, out: float = 0.0) -> Path:
    """Half a skirt, fold at the left, waist at the top; grown by `out` mm."""
    w, o = width, out
    waist = length + o
    return (
        Line(P(0, waist), P(0, -o * 2)),
        Cubic(
            P(0, -o * 2), P(w * 0.4, -o * 2), P(w * 0.7, -o * 2 + 2), P(w + 40 + o, 8)
        ),
        Line(P(w + 40 + o, 8), P(w + o, length - 200)),
        Cubic(
            P(w + o, length - 200),
            P(w + o, length - 110),
            P(w - 12 + o, length - 50),
            P(w - 38 + o, length + 12 + o),
        ),
        Cubic(
            P(w - 38 + o, length + 12 + o),
            P(w * 0.6, length + 2 + o),
            P(w * 0.3, waist),
            P(0, waist),
        ),
    )


def arrow(x: float, low: float, high: float) -> list[Mark]:
    head = outline(P(x, high), P(x - 3, high - 10), P(x + 3, high - 10))
    return [Stroke(line(P(x, low), P(x, high)), "grain"), Fill(head, "grain")]


def panel(name: str, width: float, length: float) -> Group:
    dart = (
        Line(P(width * 0.45, length + 3), P(width * 0.48, length - 110)),
        Line(P(width * 0.48, length - 110), P(width * 0.51, length + 4)),
    )
    marks: list[Mark] = [
        Stroke(panel_path(width, length), "stitching", closed=True),
        Stroke(panel_path(width, length, 15), "cutting", closed=True),
        Stroke(line(P(0, length), P(0, 0)), "fold"),
        Stroke(line(P(0, length - 200), P(width, length - 200)), "inside"),
        Stroke(line(P(0, length - 550), P(width + 22, length - 550)), "inside"),
        Stroke(dart, "stitching"),
        Stroke(line(P(width + 15, length - 200), P(width + 7, length - 200)), "notch"),
        Stroke(line(P(width * 0.3, 0), P(width * 0.3, -8)), "notch"),
        Fill(
            outline(
                P(width * 0.48 - 1, length - 100),
                P(width * 0.48 + 1, length - 100),
                P(width * 0.48, length - 98),
            ),
            "drill",
        ),
        *arrow(width * 0.7, length - 500, length - 260),
        Text(
            f"{name}\nAdaeze Ọ̀bì · straight skirt\nmain cloth: cut 1 on the fold",
            P(width * 0.3, length - 300),
            5,
        ),
        Text("place on fold", P(8, length / 2), 4, 90, anchor="middle"),
        Text("hip line", P(20, length - 197), 3),
        Text("knee line", P(20, length - 547), 3),
    ]
    return Group.of(name, marks)


def waistband() -> Group:
    box = outline(P(0, 0), P(760, 0), P(760, 70), P(0, 70))
    cut = outline(P(-10, -10), P(790, -10), P(790, 80), P(-10, 80))
    return Group.of(
        "Waistband",
        [
            Stroke(box, "stitching", closed=True),
            Stroke(cut, "cutting", closed=True),
            Stroke(line(P(0, 35), P(760, 35)), "fold"),
            *[
                mark.moved(Motion(0, 1, -1, 0, 400, 0))
                for mark in arrow(-35, -200, 200)
            ],
            Text("Waistband\nmain cloth: cut 1", P(40, 50), 5),
        ],
    )


def skirt(title: str = "Straight skirt") -> Sheet:
    """Three pieces side by side."""
    front = panel("Front", 265, 620)
    back = panel("Back", 255, 620).moved(Motion(e=360))
    band = waistband().moved(Motion(f=-140))
    return Sheet(title, (front, back, band))


def rectangle(width: float, height: float) -> Sheet:
    """One plain piece, its size exact."""
    path = outline(P(0, 0), P(width, 0), P(width, height), P(0, height))
    return Sheet(
        "Rectangle", (Group.of("Piece", [Stroke(path, "cutting", closed=True)]),)
    )

"""Draws the pictures of tests/golden/pictures anew, to be looked at one by one.

Each says in its first line what is right about it. Run after a change that is meant:

    python tests/bench/draw_pictures.py
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "pieces"))

from picture import FOLDER, svg_of
from picture_cases import PICTURES


def main():
    FOLDER.mkdir(exist_ok=True)
    for name, make in PICTURES.items():
        (FOLDER / f"{name}.svg").write_text(svg_of(make()), encoding="utf-8")
    print(f"{len(PICTURES)} pictures drawn in {FOLDER}; look at each of them")


if __name__ == "__main__":
    main()

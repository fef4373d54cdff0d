"""Draws the pictures of tests/golden/figures anew, to be looked at one by one.

Each shows a style on the sample client, front, side and back. Run after a change that
is meant:

    python tests/bench/draw_figures.py
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "figure"))

from figure_cases import FOLDER, svg_of

from skirtwright.draft import styles


def main():
    FOLDER.mkdir(exist_ok=True)
    for name in styles.names():
        (FOLDER / f"{name}.svg").write_text(svg_of(name), encoding="utf-8")
    print(f"{len(styles.names())} figures drawn in {FOLDER}; look at each of them")


if __name__ == "__main__":
    main()

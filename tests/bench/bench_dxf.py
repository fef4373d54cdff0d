"""DXF as other programs read it: GDAL, where its tool is installed (Debian: gdal-bin).

For each style the perimeters of the cutting lines that `ogr2ogr` gives, against those
of the report, and how many things it finds against those that were written: it puts a
block's on the layer of the block's place. Prints; is no test of the suite, for GDAL is
no part of it.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import tempfile
from collections import Counter
from itertools import pairwise
from math import dist
from pathlib import Path

import ezdxf

from skirtwright.cli import door
from skirtwright.draft import styles


def main() -> None:
    """Print what differs of each style."""
    if shutil.which("ogr2ogr") is None:
        print("GDAL is not installed: nothing is compared")
        return
    worst, pieces = 0.0, 0
    for name in styles.names():
        with tempfile.TemporaryDirectory() as folder:
            made, told = Path(folder, "a.dxf"), Path(folder, "a.json")
            door.main(["export", name, "-o", str(made), "--report", str(told)])
            report = json.loads(told.read_text())
            whole = sorted(
                perimeter([*p["cut_outline"], p["cut_outline"][0]])
                for p in report["pieces"]
                if not p["cut"]["folds"]
            )
            layers, found = read(made, Path(folder, "a.geojson"))
            pieces += len(whole)
            for length in whole:
                worst = max(worst, min(abs(length - other) for other in found))
            counts = layers.total(), written(made).total()
            print(f"{name}: {counts[0]} things read, {counts[1]} written")
    print(f"{pieces} pieces that lie on no fold: perimeters within {worst:.2g} mm")


def read(made: Path, out: Path) -> tuple[Counter[str], list[float]]:
    """How many things GDAL finds on each layer, and all perimeters, mm."""
    asked = ["ogr2ogr", "-f", "GeoJSON", str(out), str(made)]
    subprocess.run(asked, check=True, capture_output=True)
    layers: Counter[str] = Counter()
    found = []
    for feature in json.loads(out.read_text())["features"]:
        layer = feature["properties"]["Layer"]
        shapes = feature["geometry"]
        for shape in shapes.get("geometries", [shapes]):
            layers[layer] += 1
            if shape["type"] == "LineString":
                found.append(perimeter(shape["coordinates"]))
            elif shape["type"] == "Polygon":
                found.append(perimeter(shape["coordinates"][0]))
    return layers, found


def written(made: Path) -> Counter[str]:
    """How many things stand on each layer of the blocks that are put in place."""
    drawing = ezdxf.readfile(made)
    counts: Counter[str] = Counter()
    for item in drawing.modelspace():
        if item.dxftype() == "INSERT":
            counts.update(e.dxf.layer for e in drawing.blocks[item.dxf.name])
        else:
            counts[item.dxf.layer] += 1
    return counts


def perimeter(places: list[list[float]]) -> float:
    """Along places, mm."""
    return sum(dist(a[:2], b[:2]) for a, b in pairwise(places))


if __name__ == "__main__":
    main()

"""Open cloth: our lays against those of the packing library spyrrow, where it is there.

Every style on open cloth of 150 cm, heads either way: the length of our lay of all its
tries, and what the library finds in five seconds of the clock with one worker.
`pip install --target FOLDER spyrrow` and `PYTHONPATH=FOLDER` bring it; it is no part of
the program.
"""

from __future__ import annotations

import importlib
import importlib.util
import time

from skirtwright.draft import styles
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.lay.cloth_to_cut import opened
from skirtwright.lay.lay import copies_in_phase, lay

SECONDS = 5


def main() -> None:
    """Print a line for each style."""
    if importlib.util.find_spec("spyrrow") is None:
        print("the packing library is not there: nothing is compared")
        return
    library, table = importlib.import_module("spyrrow"), Worktable()
    for name in styles.names():
        job = new_job(styles.style(name))
        cut, cloth = table.look(job).report.to_cut, opened(job.cloth("shell"))
        begun = time.process_time()
        ours = lay(cut, cloth)
        spent = time.process_time() - begun
        items = []
        for number, copy in enumerate(copies_in_phase(cut, cloth)):
            ring = [copy.ways[0].motion(place) for place in copy.outline]
            turns = [0.0, 180.0] if len(copy.ways) > 1 else [0.0]
            points = [(place.y, place.x) for place in ring]
            items.append(
                library.Item(str(number), points, demand=1, allowed_orientations=turns)
            )
        packing = library.StripPackingInstance(
            name, strip_height=cloth.room, items=items
        )
        config = library.StripPackingConfig(
            early_termination=False,
            total_computation_time=SECONDS,
            num_workers=1,
            seed=1,
        )
        theirs = packing.solve(config).width
        more = 100 * (ours.length / theirs - 1)
        print(
            f"{name}, {len(items)} pieces: ours {ours.length:.0f} mm in {spent:.1f} s"
            f" of the processor, the library's {theirs:.0f}: {more:+.1f} %",
            flush=True,
        )


if __name__ == "__main__":
    main()

"""How many misspelt names pass unseen.

Run: python tests/bench/bench_names.py [TRIES] [SEED]

Target: none, over every style and finishing of the shelf.
"""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from misspelling import Misspelling
from skirtwright import shelf
from skirtwright.draft import styles


def main() -> None:
    """Misspell, and print what passed."""
    tries = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    rng = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    raw_of = {name: shelf.read_json(f"styles/{name}.json") for name in styles.names()}
    finishings = shelf.names("finishings", ".json")
    for name in finishings:
        right = Misspelling(shelf.read_json(f"finishings/{name}.json"), (), "", "")
        if right.is_refused_in(f"finishing/{name}"):
            print(f"refused as it is: {name}")
    passed, begun = 0, time.process_time()
    for number in range(tries):
        if number % 4:
            name = rng.choice(styles.names())
            wrong = Misspelling.of(raw_of[name], rng)
            refused = wrong.is_refused()
        else:
            name = rng.choice(finishings)
            wrong = Misspelling.of(shelf.read_json(f"finishings/{name}.json"), rng)
            refused = wrong.is_refused_in(f"finishing/{name}")
        if not refused:
            passed += 1
            print(f"passed: {name} {wrong}")
    each = (time.process_time() - begun) / tries * 1000
    print(
        f"misspelt names: {tries}, passed unseen {passed} (target 0), "
        f"{each:.0f} ms each"
    )


if __name__ == "__main__":
    main()

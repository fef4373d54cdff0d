"""How many misspelt names pass unseen.

Run: python tests/bench/bench_names.py [TRIES] [SEED]

Target: none, over every style, finishing and addition of the shelf.
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
    joined = {
        f"{folder[:-1]}/{name}": shelf.read_json(f"{folder}/{name}.json")
        for folder in ("finishings", "additions")
        for name in shelf.names(folder, ".json")
    }
    for name, raw in joined.items():
        if Misspelling(raw, (), "", "").is_refused_in(name):
            print(f"refused as it is: {name}")
    passed, begun = 0, time.process_time()
    for number in range(tries):
        if number % 4:
            name = rng.choice(styles.names())
            wrong = Misspelling.of(raw_of[name], rng)
            refused = wrong.is_refused()
        else:
            name = rng.choice(list(joined))
            wrong = Misspelling.of(joined[name], rng)
            refused = wrong.is_refused_in(name)
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

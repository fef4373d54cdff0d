"""Random actions in the real window, and the memory they leave behind.

Run it: `python tests/bench/bench_monkey.py [actions] [seed]`. Each 100th action is held
against the same order worked afresh; memory is read each 500.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
ACTIONS, SEED = 20_000, 20_260_101
EACH, READ, SETTLED = 100, 500, 2_000


def main(actions: int, seed: int) -> int:
    """Print what was done and seen; 1 when the window showed a skirt of its own."""
    from monkey import Monkey, differences, memory_kb

    from skirtwright.app.main import _settle, open_window

    window = open_window()
    window.resize(1440, 900)
    # As the program does after its first picture.
    _settle()
    wrong = held = 0
    base = 0
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        monkey = Monkey(window, seed, Path(folder))
        for number in range(1, actions + 1):
            name = monkey.act()
            if number % EACH == 0:
                held += 1
                found = differences(window.desk.look)
                wrong += bool(found)
                if found:
                    print(f"  {number} ({name}): {len(found)} lines, {found[:3]}")
            if number % READ == 0:
                kb = memory_kb()
                base = kb if number <= SETTLED else base
                print(
                    f"  {number:6} actions, {kb / 1024:.1f} MB,"
                    f" {window.desk.history.count()} steps of undo,"
                    f" {time.perf_counter() - begun:.0f} s"
                    f" ({time.process_time():.0f} of the processor)",
                    flush=True,
                )
        window.files.may_lose = True
        window.close()
    print(f"seed {seed}: {dict(monkey.done)}, {monkey.refused} refused")
    print(f"{held} held against a fresh working: {wrong} differ (target 0)")
    if actions > SETTLED:
        each = (memory_kb() - base) / (actions - SETTLED)
        print(f"memory after {SETTLED}: {each:.2f} kB an action (target 1)")
    return int(wrong > 0)


if __name__ == "__main__":
    home = tempfile.mkdtemp()
    os.environ |= dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    sys.path[:0] = [str(HERE.parents[1] / "src"), str(HERE.parent / "app")]
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*(given + [ACTIONS, SEED][len(given) :])))

"""Random actions in the real window, and the memory they leave behind.

Run it: `python tests/bench/bench_monkey.py [actions] [seed]`. Each 100th action is held
against the same order worked afresh; memory is read each 500.
"""

from __future__ import annotations

import ctypes
import os
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
ACTIONS, SEED = 20_000, 20_260_101
EACH, READ, SETTLED = 100, 500, 2_000


class HeapFigures(ctypes.Structure):
    """What `mallinfo2` of the GNU C library tells."""

    _fields_ = tuple(
        (name, ctypes.c_size_t)
        for name in (
            *("arena", "ordblks", "smblks", "hblks", "hblkhd"),
            *("usmblks", "fsmblks", "uordblks", "fordblks", "keepcost"),
        )
    )


def in_use() -> tuple[int, float]:
    """What is in use, whatever the process holds: things of Python; kB of C's heap.

    A process keeps what it once held in pieces; these two grow only where something is
    not let go of.
    """
    blocks = sys.getallocatedblocks()
    library = ctypes.CDLL(None)
    if not hasattr(library, "mallinfo2"):
        return blocks, 0.0
    library.mallinfo2.restype = HeapFigures
    told = library.mallinfo2()
    return blocks, (told.uordblks + told.hblkhd) / 1024


def main(actions: int, seed: int) -> int:
    """Print what was done and seen; 1 when the window showed a skirt of its own."""
    from monkey import Monkey, differences, memory_kb

    from skirtwright.app.main import _settle, open_window

    window = open_window()
    window.resize(1440, 900)
    # As the program does after its first picture.
    _settle()
    wrong = held = base = 0
    live = (0, 0.0)
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
                if number <= SETTLED:
                    base, live = kb, in_use()
                blocks, heap = in_use()
                print(
                    f"  {number:6} actions, {kb / 1024:.1f} MB,"
                    f" in use {blocks} things of Python and {heap / 1024:.1f} MB of C,"
                    f" {window.desk.history.count()} steps of undo,"
                    f" {time.perf_counter() - begun:.0f} s"
                    f" ({time.process_time():.0f} of the processor)",
                    flush=True,
                )
        window.files.loss_allowed = True
        window.close()
    print(f"seed {seed}: {dict(monkey.done)}, {monkey.refused} refused")
    print(f"{held} held against a fresh working: {wrong} differ (target 0)")
    if actions > SETTLED:
        each = (memory_kb() - base) / (actions - SETTLED)
        print(f"memory after {SETTLED}: {each:.2f} kB an action (target 1)")
        more = [
            (now - then) / (actions - SETTLED)
            for now, then in zip(in_use(), live, strict=True)
        ]
        print(f"of that in use: {more[0]:.1f} things of Python, {more[1]:.2f} kB of C")
    return int(wrong > 0)


if __name__ == "__main__":
    home = tempfile.mkdtemp()
    os.environ |= dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    sys.path[:0] = [str(HERE.parents[1] / "src"), str(HERE.parent / "app")]
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*(given + [ACTIONS, SEED][len(given) :])))

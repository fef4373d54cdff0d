"""Every option of every style, and some together, on each of five bodies.

None is wrong that need not be.

Run: python tests/bench/bench_options.py [STYLE ...]
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bodies import FIVE, HOUSE, SAMPLE
from drafting import reported
from options import TOGETHER, every_option, unexpected, unsewable
from skirtwright.draft import styles


def main() -> int:
    """Print for each style what was tried, and what came out wrong."""
    wrong = 0
    for style in sys.argv[1:] or styles.names():
        options = every_option(style)
        for name, body in FIVE.items():
            found = unexpected(style, {**body, "waist_to_knee": 580.0}, options)
            for chosen, problems in found:
                wrong += 1
                print(f"  {name} {chosen}: {[p.code for p in problems]}")
        print(f"{style}: {len(options)} options on {len(FIVE)} bodies", flush=True)
    for style, chosen in TOGETHER:
        for body in (SAMPLE, *({**HOUSE, **body} for body in FIVE.values())):
            for fault in unsewable(reported(style, body, **chosen)):
                wrong += 1
                print(f"  {style} {chosen}: {fault}")
    print(f"{len(TOGETHER)} together; wrong: {wrong} (target 0)")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())

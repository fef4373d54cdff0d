"""Make the picture of the window that the README shows.

`python packaging/make_pictures.py [FOLDER]` writes window.png (1440 x 900, light) into
resources/help; with a folder given, all the pictures that are looked at before a
change to the window is called done, into that folder: two sizes, light and dark,
centimetres and inches, and text at 200 %.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

SHOWN = "window"
PICTURES = {
    SHOWN: ((1440, 900), {"theme": "light"}),
    "window-dark": ((1440, 900), {"theme": "dark"}),
    "window-small": ((1024, 700), {"theme": "light", "unit": "in"}),
    "window-small-dark": ((1024, 700), {"theme": "dark", "unit": "in"}),
    "window-large-text": ((1440, 900), {"theme": "light", "text_size": 200}),
    "window-small-large-text": ((1024, 700), {"theme": "dark", "text_size": 200}),
    **{
        f"{slip}{suffix}": (size, {**wanted, "slip": slip})
        for slip in ("measure", "shape", "check", "cut", "paper", "sew", "steps")
        for suffix, size, wanted in (
            ("", (1440, 900), {"theme": "light"}),
            ("-dark", (1440, 900), {"theme": "dark"}),
            ("-small", (1024, 700), {"theme": "light", "unit": "in"}),
        )
    },
}


def make(names: list[str], folder: Path) -> None:
    """Draw the window on the ready example, without a screen.

    Args:
        names: of the pictures.
        folder: where they are written.
    """
    from PySide6.QtTest import QTest

    from skirtwright.app.main import open_window
    from skirtwright.app.settings import PREFERENCES

    folder.mkdir(parents=True, exist_ok=True)
    for name in names:
        size, wanted = PICTURES[name]
        window = open_window(None)
        for entry in PREFERENCES:
            window.settings.choose(entry.name, wanted.get(entry.name, entry.default))
        window.settings.welcome_done()
        window.welcome.end()
        window.resize(*size)
        if "slip" in wanted:
            window.commands.unfold(wanted["slip"])
        # Until the table has come to rest.
        QTest.qWait(900)
        window.grab().save(str(folder / f"{name}.png"))
        window.close()
        sys.stdout.write(f"{folder / name}.png\n")


if __name__ == "__main__":
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    with tempfile.TemporaryDirectory() as home:
        # Neither her settings nor her work are to be seen, or touched.
        for variable in ("XDG_CONFIG_HOME", "XDG_STATE_HOME"):
            os.environ[variable] = home
        if len(sys.argv) > 1:
            make(list(PICTURES), Path(sys.argv[1]))
        else:
            make([SHOWN], Path(__file__).resolve().parents[1] / "resources" / "help")

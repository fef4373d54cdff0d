"""Where `skirtwright` starts: a verb goes to the command line, all else to the window.

Nothing is imported before `main` has begun, which ends in a sentence when it is
stopped, and nothing heavy before it is known which of the two is wanted.
"""

from __future__ import annotations

import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import ModuleType

NO_QT = (
    "The window needs PySide6, which cannot be loaded here ({reason}): "
    "run packaging/start to install what is missing, or skirtwright --help "
    "for the work that needs no window."
)
NO_WINDOW = "There is no window yet: see skirtwright --help for the work without one."
NO_SCREEN = (
    "There is no screen here to open the window on: start it from a desktop, "
    "or see skirtwright --help for the work that needs no window."
)
_SCREENS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
STOPPED = "Stopped before it was done."
TOO_MANY = "The window opens one file at a time: name one file, or none."


def main(argv: list[str] | None = None) -> int:
    """Run a verb of the command line, or open the window.

    Args:
        argv: the arguments after the program's name; those of the process if None.

    Returns:
        The exit code: 0 done, 1 done with a `wrong` finding, 2 bad input, 70 a fault
        of ours, 130 stopped by her.
    """
    stopped = False

    def stop(*_: object) -> None:
        nonlocal stopped
        stopped = True
        raise KeyboardInterrupt

    try:
        import signal

        signal.signal(signal.SIGINT, stop)
        code = _work(sys.argv[1:] if argv is None else argv)
    except BaseException as ended:
        # A library that was being loaded may have made another error of it.
        if not stopped and not isinstance(ended, KeyboardInterrupt):
            raise
        code = _refuse(STOPPED, 130)
    if stopped:
        # Stopped inside an `exec`, as a data class being made is, Python would end by
        # the signal whatever became of it: a run of nothing makes it forget.
        exec("")  # noqa: S102 - nothing is run
    return code


def _work(arguments: list[str]) -> int:
    if arguments and _is_for_command_line(arguments[0]):
        from skirtwright.cli import main as work

        return work(arguments)
    return _open_window(arguments)


def _is_for_command_line(first: str) -> bool:
    """Whether a first argument is a verb or an option rather than a file to open."""
    if first.startswith("-"):
        return True
    import os
    from pathlib import Path

    from skirtwright.cli import VERBS

    # A word that is neither a verb nor a file is most likely a verb mistyped.
    return first in VERBS or not (Path(first).suffix or os.path.lexists(first))


def _open_window(arguments: list[str]) -> int:
    """Show the window with the file named, if any; back when it is closed."""
    import os
    from pathlib import Path

    if len(arguments) > 1:
        return _refuse(TOO_MANY)
    if sys.platform == "linux" and not any(map(os.environ.get, _SCREENS)):
        # Qt would end the process with a message of its own.
        return _refuse(NO_SCREEN)
    try:
        window = load_window()
    except ImportError as error:
        missing = error.name or ""
        if missing.startswith("skirtwright.app"):
            return _refuse(NO_WINDOW)
        if missing.startswith("skirtwright"):
            raise
        return _refuse(NO_QT.format(reason=error))
    return int(window.run(Path(arguments[0]) if arguments else None))


def load_window() -> ModuleType:
    """The module of the window, with all it needs.

    Raises:
        ImportError: PySide6 cannot be loaded here.
    """
    import gc
    from importlib import import_module

    # Nothing is thrown away before the first picture: looking for it takes 50 ms. The
    # window looks again once it is there.
    gc.disable()
    # By name: the command line must not lean on the window.
    return import_module("skirtwright.app.main")


def _refuse(sentence: str, code: int = 2) -> int:
    print(sentence, file=sys.stderr)
    return code


if __name__ == "__main__":
    sys.exit(main())

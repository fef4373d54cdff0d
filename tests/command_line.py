"""A verb run in this process, as the command line runs it."""

from __future__ import annotations

from typing import Any

from skirtwright.cli import main


def run(capsys: Any, *arguments: object) -> tuple[int, str, str]:
    """How it ended, what it said, and what it told of trouble."""
    code = main([str(argument) for argument in arguments])
    out, err = capsys.readouterr()
    return code, out, err

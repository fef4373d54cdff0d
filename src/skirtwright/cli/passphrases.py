"""A passphrase on the command line: never among the arguments, which others can see."""

from __future__ import annotations

import getpass
import sys

from skirtwright.problems import BadInput
from skirtwright.words import say

_LONGEST = 1_000


def asked_passphrase(*, twice: bool) -> str:
    """A passphrase typed unseen, or the first line of what is piped in.

    Args:
        twice: typed once more, so that a slip of the finger is found.

    Raises:
        BadInput: nothing was typed, or not the same twice.
    """
    if sys.stdin is None or not sys.stdin.isatty():
        line = sys.stdin.readline(_LONGEST) if sys.stdin is not None else ""
        return _given(line.rstrip("\r\n"))
    try:
        typed = _given(getpass.getpass(say("passphrase.prompt")))
        if twice and getpass.getpass(say("passphrase.prompt_again")) != typed:
            raise BadInput("sealed.unlike", "")
    except EOFError as ended:
        raise BadInput("sealed.no_passphrase", "") from ended
    return typed


def _given(typed: str) -> str:
    if not typed:
        raise BadInput("sealed.no_passphrase", "")
    return typed

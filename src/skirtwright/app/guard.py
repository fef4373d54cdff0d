"""The guard that every method Qt calls stands behind.

On Python 3.11 an exception that leaves such a method ends the whole program with a
fault in C++ (measured with PySide6 6.8.3, 6.11.3 and 6.12.0). A guarded method gives
its stand-in value instead; what went wrong goes to `sys.excepthook`, where the window
tells her and keeps her work.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Callable
from typing import Any, TypeVar, cast

_Method = TypeVar("_Method", bound=Callable[..., Any])

GUARDED = "__guarded__"
"""The attribute a guarded method carries, so that a test can find those that don't."""


def guarded(otherwise: Any = None) -> Callable[[_Method], _Method]:
    """A decorator for methods that Qt calls.

    Args:
        otherwise: what the method gives when it fails; a value of its own kind. A
            function without arguments is called for it, for values that are made anew.
    """

    def decorate(method: _Method) -> _Method:
        @functools.wraps(method)
        def kept(*arguments: Any, **named: Any) -> Any:
            try:
                return method(*arguments, **named)
            except Exception as trouble:  # noqa: BLE001 - nothing may pass into C++
                report(trouble)
                return otherwise() if callable(otherwise) else otherwise

        setattr(kept, GUARDED, True)
        return cast(_Method, kept)

    return decorate


def report(trouble: BaseException) -> None:
    """Hand trouble to `sys.excepthook`; Python's own hook takes it when that fails."""
    kind, where = type(trouble), trouble.__traceback__
    try:
        sys.excepthook(kind, trouble, where)
    except Exception as second:  # noqa: BLE001 - the last place that can say it
        sys.__excepthook__(kind, trouble, where)
        sys.__excepthook__(type(second), second, second.__traceback__)

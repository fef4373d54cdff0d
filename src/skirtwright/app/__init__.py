"""The window: the only home of PySide6.

Two things are kept from being loaded with it that it has no need of. PySide6 reads the
source of every module that is imported, and keeps it, to find out whether its
`snake_case` feature may be switched on there (35 ms and 6 MB for ours): it is told
beforehand that each may lean on it. And OpenSSL's check sums are Python's own (3 MB).
"""

import sys

from PySide6.support import feature  # type: ignore[attr-defined]

feature._mod_uses_pyside = bool  # noqa: SLF001 - there is no other way

if "hashlib" not in sys.modules:
    sys.modules["_hashlib"] = None  # type: ignore[assignment]
    import hmac  # noqa: F401 - with hashlib

    del sys.modules["_hashlib"]

"""A file that only its passphrase opens, in the format age-encryption.org/v1.

Written and read by a library that is kept for nothing else; whoever has the passphrase
can also open it without this program.
"""

from __future__ import annotations

from skirtwright.problems import BadInput

SUFFIX = ".age"
_BEGINS = b"age-encryption.org/v1\n"


def is_sealed(data: bytes) -> bool:
    """Whether a file has to be opened before it can be read."""
    return data.startswith(_BEGINS)


def seal(data: bytes, passphrase: str) -> bytes:
    """A file that only a passphrase opens; it takes about a second, on purpose.

    Raises:
        BadInput: the passphrase is empty.
    """
    import pyrage

    if not passphrase:
        raise BadInput("sealed.no_passphrase", "")
    return bytes(pyrage.passphrase.encrypt(data, passphrase))


def unseal(data: bytes, passphrase: str, what: str) -> bytes:
    """What is in a file that was sealed.

    Args:
        passphrase: as it was given; nothing where none was.
        what: its name.

    Raises:
        BadInput: no passphrase was given, or it does not open the file.
    """
    import pyrage

    if not passphrase:
        raise BadInput("sealed.shut", what, file=what)
    try:
        return bytes(pyrage.passphrase.decrypt(data, passphrase))
    except pyrage.DecryptError as shut:
        raise BadInput("sealed.wrong", what, file=what) from shut

"""Text that a file can hold."""

from __future__ import annotations

from skirtwright.problems import BadInput


def check_letters(text: str, what: str) -> str:
    """The text, unless it holds half of a letter.

    UTF-16 writes some letters as a pair; JSON can name one of the two by itself, and
    a terminal hands on bytes that are no letter in the same way. No file in UTF-8
    can hold such a half.

    Args:
        what: what it is to her, for the refusal: a file's or a message's name.

    Raises:
        BadInput: it holds one.
    """
    try:
        text.encode()
    except UnicodeEncodeError as trouble:
        half = f"\\u{ord(trouble.object[trouble.start]):04x}"
        raise BadInput("text.half_letter", what, what=what, letter=half) from None
    return text

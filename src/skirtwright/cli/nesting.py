"""Several sizes asked for at once: of a chart, or of several cards."""

from __future__ import annotations

import argparse

from skirtwright.export.nested import sized
from skirtwright.measures.sizes import chart
from skirtwright.problems import BadInput

_ALONE = (
    "changed",
    "record",
    "projector",
    "toile",
    "lining_on_shell",
    "as_sizes",
)
"""Options that are of one order."""


def cards_asked(
    options: argparse.Namespace,
) -> list[tuple[str, argparse.Namespace]]:
    """The options of each size with its name; empty where one order is asked for.

    The name of a card is known when it has been read.

    Raises:
        NotFound, BadInput: no such chart or sizes, or an option that is of one order.
    """
    found = _of_chart(options) or _of_cards(options)
    if not found:
        if options.nest_on is not None:
            raise BadInput("nest.one", "--nest-on", option="--nest-on")
        return []
    for name in _ALONE:
        if getattr(options, name, None):
            option = f"--{name.replace('_', '-')}"
            raise BadInput("nest.not_together", option, option=option)
    return found


def _of_chart(
    options: argparse.Namespace,
) -> list[tuple[str, argparse.Namespace]]:
    called, colon, sizes = (options.size or "").partition(":")
    if not colon or "-" not in sizes:
        return []
    if not called.strip():
        return []  # Told where the size is read.
    known = chart(called.strip())
    if sizes.strip() in known.names:
        return []
    if options.with_card:
        raise BadInput("cli.not_together", sizes, first="--size", second="--with-card")
    return [
        (name, _with(options, size=f"{known.id}:{name}"))
        for name in sized(known.names, sizes)
    ]


def _of_cards(
    options: argparse.Namespace,
) -> list[tuple[str, argparse.Namespace]]:
    if not options.with_card:
        return []
    others = [
        ("", _with(options, card=card, size=None, client=None))
        for card in options.with_card
    ]
    return [("", _with(options)), *others]


def _with(options: argparse.Namespace, **changed: object) -> argparse.Namespace:
    return argparse.Namespace(**{**vars(options), **changed})

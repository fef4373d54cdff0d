"""Small pictures of the orders opened lately: each skirt on its client.

They lie in the folder for state, one for each file that is remembered, and are no loss
when they go.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from pathlib import Path

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QIcon, QPainter

from skirtwright.app.figure_view import Figure, paint
from skirtwright.app.look import clear_pixmap
from skirtwright.job.folders import recent_pictures_folder

WIDE, TALL = 44, 64
"""Of a picture, px."""

_SUFFIX = ".png"


def keep_picture(path: Path, figure: Figure, known: Collection[Path]) -> None:
    """Keep a picture of the order in a file; those of files no longer known go.

    Nothing is said where it cannot be written: the list of orders does without.

    Args:
        figure: the skirt on her, small.
        known: the files that are remembered.
    """
    pixmap = clear_pixmap(QSize(2 * WIDE, 2 * TALL), 1.0)
    with QPainter(pixmap) as painter:
        paint(painter, QRectF(2, 2, 2 * WIDE - 4, 2 * TALL - 4), figure)
    place = _place(path)
    wanted = {_place(each) for each in (path, *known)}
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        for lost in set(place.parent.glob(f"*{_SUFFIX}")) - wanted:
            lost.unlink()
    except OSError:
        return
    pixmap.save(str(place))


def picture_of(path: Path) -> QIcon:
    """The picture of the order in a file; an empty one where there is none."""
    place = _place(path)
    return QIcon(str(place)) if place.is_file() else QIcon()


def _place(path: Path) -> Path:
    named = hashlib.sha256(str(path.absolute()).encode("utf-8", "surrogateescape"))
    return recent_pictures_folder() / f"{named.hexdigest()[:24]}{_SUFFIX}"

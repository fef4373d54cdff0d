"""What stood on the table last, shown before anything is loaded that could work it.

Kept when the window closes on a saved order: its table at rest, without pull points,
pins and fields, for nothing of it can be taken in hand. The picture is sealed with a
check sum of all it hangs on: the order's bytes, the settings, the screens, the program
and its resources. Where the seal does not stand it is taken away, so that it never
outlives the order it shows.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QBuffer, QEventLoop, QIODevice, Qt, QTimer, Signal, qVersion
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from skirtwright.app.guard import guarded
from skirtwright.job.folders import first_picture_file, state_folder
from skirtwright.job.in_book import load_bytes
from skirtwright.job.own_files import program
from skirtwright.job.saving import companion, save_whole, take_away
from skirtwright.problems import FileTrouble

if TYPE_CHECKING:
    from skirtwright.app.settings import Settings

_SEAL = hashlib.sha256().digest_size
_MINE = 0o600

_LONGEST_MS = 250
"""Waited for the screen to take the picture."""


class Cover(QWidget):
    """The kept picture over the whole window, until the worked table is under it.

    What is done to it while the window is made ready is done to nothing.

    Signals:
        painted: it was.
    """

    painted = Signal()

    def __init__(self, window: QWidget, picture: QImage, ground: str) -> None:
        super().__init__(window)
        self._picture, self._ground = picture, QColor(ground)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setGeometry(window.rect())

    @guarded()
    def paintEvent(self, event: Any) -> None:
        """The picture, where it was made for a window of this size."""
        with QPainter(self) as painter:
            if self._picture.size() == self.size() * self.devicePixelRatioF():
                painter.drawImage(self.rect(), self._picture)
            else:
                painter.fillRect(event.rect(), self._ground)
        self.painted.emit()

    def wait(self) -> None:
        """Until it is on the screen, or a moment has gone by."""
        until = QEventLoop()
        self.painted.connect(until.quit)
        QTimer.singleShot(_LONGEST_MS, until.quit)
        until.exec(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)


def kept_picture(order: Path | None, settings: Settings) -> QImage | None:
    """The picture kept of an order as it lies in its file.

    Args:
        order: the file about to be opened; None for none.

    Returns:
        None where there is none, or where what it hangs on is another than it was;
        then it is taken away. None, too, where unsaved work may come back.
    """
    place = first_picture_file()
    try:
        sealed = load_bytes(place)
    except FileTrouble:
        return None
    picture = sealed[_SEAL:]
    try:
        expected = order is not None and not _left(order) and load_bytes(order)
        if expected and sealed == _sealed(picture, expected, settings):
            return QImage.fromData(picture)
    except (OSError, FileTrouble):
        # The order's file is gone, say: the picture goes with it.
        expected = None
    take_away(place)
    return None


def keep_first_picture(
    order: bytes | None, settings: Settings, drawn: Callable[[], QPixmap]
) -> None:
    """Keep what the next start will show first; without an order what was kept goes.

    Nothing is said where it cannot be written: the next start does without.

    Args:
        order: what its file holds, where the next start will open it as it stands.
        settings: hers, as they lie on disk.
        drawn: draws the window with the order on a fresh table.
    """
    place = first_picture_file()
    if order is None:
        take_away(place)
        return
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    drawn().save(buffer, "PNG")
    try:
        place.parent.mkdir(0o700, parents=True, exist_ok=True)
        picture = bytes(buffer.data().data())
        save_whole(place, _sealed(picture, order, settings), mode=_MINE)
    except (OSError, FileTrouble):
        take_away(place)


def _left(order: Path) -> bool:
    """Whether work that was not saved may be brought back instead."""
    beside = companion(order, "autosave")
    return beside.exists() or any(state_folder().glob("work-*"))


def _sealed(picture: bytes, order: bytes, settings: Settings) -> bytes:
    """A picture after the check sum of itself and of all it hangs on."""
    seal = hashlib.sha256()
    for part in (program(), _screens(), settings.on_disk(), order, picture):
        seal.update(len(part).to_bytes(8, "big"))
        seal.update(part)
    return seal.digest() + picture


def _screens() -> bytes:
    """Qt, the screens as they stand, and whether the desktop is dark."""
    told: list[object] = [qVersion(), QGuiApplication.styleHints().colorScheme()]
    for screen in QGuiApplication.screens():
        area = screen.availableGeometry().getRect()
        told.append((area, screen.devicePixelRatio(), screen.logicalDotsPerInch()))
    return repr(told).encode()

"""What she prefers, as one typed table; the form is made from the same table."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar, cast

from PySide6 import QtWidgets
from PySide6.QtCore import QByteArray, QObject, QSettings, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QLabel,
    QPushButton,
    QWidget,
)

from skirtwright.app.fields import Choosing
from skirtwright.app.guard import guarded
from skirtwright.app.look import Theme
from skirtwright.job.folders import settings_folder
from skirtwright.job.reading import load_bytes
from skirtwright.measures.strict_json import read_strict
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput, FileTrouble
from skirtwright.words import Manner, languages, say

MOST_RECENT = 9

_LARGEST = 100_000
"""Bytes of a file of settings; a few hundred are usual."""

_NEVER_KEPT = (b"@Variant(", b"@DateTime(")
"""What Qt makes things of any class from; such a file was not written here."""


@dataclass(frozen=True)
class Preference:
    """One entry of the table: its name, its options, the first being the default."""

    name: str
    options: tuple[str | int, ...]

    @property
    def default(self) -> str | int:
        """The option of someone who never chose."""
        return self.options[0]

    @property
    def kind(self) -> type:
        """`str` or `int`, as it is read."""
        return type(self.default)

    def told(self, option: str | int, manner: Manner) -> str:
        """An option in words; a language says its name itself."""
        if self.name == "language":
            return say("language.name", manner=Manner(language=str(option)))
        return say(f"setting.{self.name}.{option}", manner=manner)


PREFERENCES = (
    Preference("unit", ("cm", "in")),
    Preference("fraction", (8, 4, 16)),
    Preference("theme", ("system", "light", "dark")),
    Preference("text_size", (100, 110, 125, 150, 175, 200)),
    Preference("language", languages()),
)
_Parts = TypeVar("_Parts", list[Any], dict[str, Any])
_BY_NAME = {entry.name: entry for entry in PREFERENCES}


def settings_file() -> Path:
    """Where preferences are kept on this machine."""
    return settings_folder() / "settings.ini"


def _place() -> Path:
    """The file of settings, or, where that is none of ours, another beside it."""
    first = settings_file()
    others = (first.with_stem(f"{first.stem} {number}") for number in range(2, 9))
    return next((place for place in (first, *others) if _is_safe_to_read(place)), first)


def _is_safe_to_read(place: Path) -> bool:
    """Whether Qt may read a file: a small one without things made from its bytes."""
    if not os.path.lexists(place):
        return True
    try:
        kept = load_bytes(place)
    except FileTrouble:
        return False
    return len(kept) <= _LARGEST and not any(mark in kept for mark in _NEVER_KEPT)


class Settings(QObject):
    """Preferences, and what the window remembers of itself on this machine.

    Signals:
        changed: a preference has another value; its name.
    """

    changed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._kept = QSettings(str(_place()), QSettings.Format.IniFormat)
        self._values = {entry.name: self._read(entry) for entry in PREFERENCES}

    def _read(self, entry: Preference) -> str | int:
        """A preference as kept; one that makes no sense is set back, alone."""
        if not self._kept.contains(entry.name):
            return entry.default
        try:
            value = self._kept.value(entry.name, entry.default, type=entry.kind)
        except (TypeError, ValueError, OverflowError):
            value = None
        if value in entry.options:
            return value
        self._kept.remove(entry.name)
        return entry.default

    def value(self, name: str) -> str | int:
        """The value of a preference."""
        return self._values[name]

    def choose(self, name: str, value: str | int) -> None:
        """Another value for a preference; one that is no option is passed over."""
        if value in _BY_NAME[name].options:
            self._kept.setValue(name, value)
            self._show(name, value)

    def show_unit(self, unit: Unit) -> None:
        """The unit of the order on the table; what she prefers stays as it is."""
        if unit in _BY_NAME["unit"].options:
            self._show("unit", unit)

    def _show(self, name: str, value: str | int) -> None:
        if value != self._values[name]:
            self._values[name] = value
            self.changed.emit(name)

    @property
    def own_unit(self) -> Unit:
        """The one a new client's order begins in."""
        return cast(Unit, self._read(_BY_NAME["unit"]))

    @property
    def theme(self) -> Theme:
        """Light, dark, or as the desktop has it."""
        return cast(Theme, self._values["theme"])

    @property
    def text_size(self) -> int:
        """Percent of ordinary text."""
        return int(self._values["text_size"])

    @property
    def manner(self) -> Manner:
        """How she is spoken to."""
        return Manner(
            cast(Unit, self._values["unit"]),
            int(self._values["fraction"]),
            str(self._values["language"]),
        )

    # What the window remembers

    def recent(self) -> list[Path]:
        """Files opened or saved lately, the last first."""
        named = self._parts("recent", list)
        return [Path(name) for name in named if isinstance(name, str)][:MOST_RECENT]

    def called(self, path: Path) -> str:
        """What a recent file was called by client and style; empty when not known."""
        return str(self._named().get(str(path), ""))

    def _named(self) -> dict[str, Any]:
        return self._parts("recent_called", dict)

    def _parts(self, name: str, kind: type[_Parts]) -> _Parts:
        """A list, or named parts, as kept; where it makes no sense it is taken away."""
        try:
            kept = read_strict(str(self._kept.value(name, "null", type=str)), name)
        except BadInput:
            kept = None
        if not isinstance(kept, kind):
            self._kept.remove(name)
            return kind()
        return kept

    def remember(self, path: Path, called: str = "") -> None:
        """Put a file first among the recent ones, and what it is called."""
        others = [known for known in self.recent() if known != path]
        listed = [str(each) for each in (path, *others)][:MOST_RECENT]
        self._keep_recent(listed, {**self._named(), str(path): called})

    def forget(self, paths: Collection[Path], name: str = "") -> None:
        """Know files no more, nor any that is called by the name of a client."""
        lost = {path.absolute() for path in paths}
        kept = [path for path in self.recent() if path not in lost]
        if name:
            kept = [each for each in kept if not self._has_name(each, name)]
        self._keep_recent([str(path) for path in kept], self._named())
        self._kept.sync()

    def _keep_recent(self, listed: list[str], called: Mapping[str, Any]) -> None:
        self._kept.setValue("recent", json.dumps(listed))
        named = {name: called[name] for name in listed if name in called}
        self._kept.setValue("recent_called", json.dumps(named))

    def _has_name(self, path: Path, name: str) -> bool:
        from skirtwright.workroom.people import holds_name, path_holds_name

        return path_holds_name(path, name) or holds_name(self.called(path), name)

    def kept_text(self, name: str) -> str:
        """A short text as it was typed last; empty for none."""
        return str(self._kept.value(f"typed/{name}", "", type=str))

    def keep_text(self, name: str, text: str) -> None:
        """Keep a short text for the next time it is asked for."""
        # A sign that Qt could make something of is not for a file of settings.
        self._kept.setValue(f"typed/{name}", text.replace("@", ""))

    def is_first_today(self, day: str) -> bool:
        """Whether the window was not opened on a day yet; it was then."""
        before = str(self._kept.value("opened_on", "", type=str))
        self._kept.setValue("opened_on", day)
        return before != day

    @property
    def welcomed(self) -> bool:
        """Whether the five short steps were shown."""
        return str(self._kept.value("welcomed", "", type=str)) == "yes"

    def welcome_done(self) -> None:
        """The five steps need not be shown again."""
        self._kept.setValue("welcomed", "yes")

    def layout(self, name: str) -> QByteArray | None:
        """How a part of the window was laid out last."""
        value = self._kept.value(f"layout/{name}")
        return value if isinstance(value, QByteArray) else None

    def keep_layout(self, name: str, value: QByteArray) -> None:
        """Keep how a part of the window is laid out."""
        self._kept.setValue(f"layout/{name}", value)

    @property
    def open_slip(self) -> str:
        """The slip that lay over the table as the window was closed; empty for none."""
        return str(self._kept.value("open_slip", "", type=str))

    @open_slip.setter
    def open_slip(self, name: str) -> None:
        self._kept.setValue("open_slip", name)

    @property
    def true_scale(self) -> float | None:
        """Pixels to a millimetre as she measured them on this screen, or None."""
        try:
            kept = float(str(self._kept.value("true_scale", "0", type=str)))
        except ValueError:
            kept = 0.0
        return kept if 1.0 <= kept <= 40.0 else None

    @true_scale.setter
    def true_scale(self, pixels_per_mm: float) -> None:
        self._kept.setValue("true_scale", f"{pixels_per_mm:.3f}")

    def on_disk(self) -> bytes:
        """All of it as it lies on disk; nothing where it does not."""
        try:
            return load_bytes(Path(self._kept.fileName()))
        except FileTrouble:
            return b""

    def write_now(self) -> None:
        """Put everything on disk."""
        self._kept.sync()


class SettingsForm(QDialog):
    """One row for each preference; every choice shows at once."""

    def __init__(self, settings: Settings, parent: QWidget) -> None:
        super().__init__(parent)
        self._settings = settings
        manner = settings.manner
        self.setWindowTitle(say("settings.title", manner=manner))
        form = QtWidgets.QFormLayout(self)
        form.setContentsMargins(20, 20, 20, 16)
        form.setVerticalSpacing(12)
        form.setSizeConstraint(QtWidgets.QFormLayout.SizeConstraint.SetMinimumSize)
        self.boxes: dict[str, QComboBox] = {}
        for entry in PREFERENCES:
            box = Choosing()
            # As wide as its longest option: no row moves when another is chosen.
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            for option in entry.options:
                box.addItem(entry.told(option, manner), option)
            box.setCurrentIndex(entry.options.index(settings.value(entry.name)))
            box.activated.connect(self._chooser(entry))
            label = QLabel(say(f"setting.{entry.name}", manner=manner))
            label.setBuddy(box)
            form.addRow(label, box)
            self.boxes[entry.name] = box
        close = QPushButton(say("notice.close", manner=manner))
        close.clicked.connect(self.reject)
        form.addRow("", close)
        settings.changed.connect(self._fit_soon)

    def _fit_soon(self, _: str = "") -> None:
        """As large as its text, once that has its letters."""
        widest = max(box.sizeHint().width() for box in self.boxes.values())
        for box in self.boxes.values():
            box.setMinimumWidth(widest)
        QTimer.singleShot(0, self, self._fit)

    def _fit(self) -> None:
        """All of it on the screen."""
        self.adjustSize()
        room, frame = self.screen().availableGeometry(), self.frameGeometry()
        left = min(frame.left(), room.right() - frame.width())
        top = min(frame.top(), room.bottom() - frame.height())
        self.move(max(left, room.left()), max(top, room.top()))

    @guarded()
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._fit_soon()

    def _chooser(self, entry: Preference) -> Callable[[int], None]:
        def choose(index: int) -> None:
            self._settings.choose(entry.name, entry.options[index])

        return choose

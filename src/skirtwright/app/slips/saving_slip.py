"""A slip that saves a file: what is asked above, and a foot that is always in sight."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QFrame, QPushButton, QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.layouts import in_column
from skirtwright.app.side_work import SideWork
from skirtwright.app.slips.slip import Slip
from skirtwright.problems import Problem
from skirtwright.words import in_two_sentences, say


class SavingSlip(Slip):
    """Asks where to and has the file opened; what it is and how, the others say.

    Signals:
        saved: a file was written; its path.
    """

    saved = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.last_file: Path | None = None
        self._whose = ""
        self.same_order = self._held = False
        self.writing = SideWork(self)
        self.writing.done.connect(self.take_written)
        desk.begun.connect(self._another_order)
        self.dialog: QFileDialog | None = None

    @property
    def suffix(self) -> str:
        """Of the file."""
        return ".pdf"

    def make_foot(self, *above: QWidget) -> None:
        """What went wrong or was saved, over open and save: under all, these above."""
        foot = QFrame()
        foot.setProperty("tape", True)
        self.trouble, self.done = sentence_label("wrong"), sentence_label("ink")
        self.open_button, self.save_button = QPushButton(), QPushButton()
        self.open_button.hide()
        self.save_button.setProperty("main", True)
        in_column(
            *above,
            self.trouble,
            self.done,
            (self.open_button, 0, Qt.AlignmentFlag.AlignLeft),
            self.save_button,
            on=foot,
            spacing=6,
            margins=(24, 12, 24, 16),
        )
        self.outer.addWidget(foot)
        self.save_button.clicked.connect(self.ask_save)
        self.open_button.clicked.connect(self.open_written)

    def enable_saving(self, able: bool) -> None:
        """Have the way to save live or not; with it comes back the keyboard it had."""
        self._held |= self.window().focusWidget() is self.save_button
        self.save_button.setEnabled(able)
        if able:
            held, self._held = self._held, False
            if held and self.window().focusWidget() is self:
                self.save_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def last_place(self) -> QWidget | None:
        """The way to save."""
        return self.save_button

    def is_ready(self) -> bool:
        """Whether there is something to save; what keeps it from that is said."""
        raise NotImplementedError

    def save_to(self, path: Path) -> object:
        """Write the file."""
        raise NotImplementedError

    def named(self) -> tuple[str, ...]:
        """What a file's name is made of; nothing while there is no order."""
        raise NotImplementedError

    def write(self, *parts: Callable[[], object]) -> None:
        """Write beside the window what is of the order on the table."""
        self.show_writing(on=True)
        self.same_order, self._whose = True, ", ".join(self.named()[:2])
        self.writing.begin(*parts)

    def take_written(self, answers: Any) -> None:
        """What came of it: an answer for each part, or why it cannot be written."""
        raise NotImplementedError

    def show_writing(self, *, on: bool) -> None:
        """Something is being written, or no more."""
        self.say_done(say("making.writing", manner=self.desk.manner) if on else "")
        self.open_button.hide()
        tell(self.trouble, "", "wrong")

    def _another_order(self) -> None:
        """What was said goes with its order; what is being written is not of this."""
        self.same_order = False
        if not self.is_writing():
            self.say_done("")
            tell(self.trouble, "", "wrong")

    def is_writing(self) -> bool:
        """Whether a file is being written."""
        return self.writing.busy

    def wait(self) -> None:
        """Have a file that is being written come to its end."""
        self.writing.finish()

    def say_saved(self, code: str, path: Path, elsewhere: str) -> None:
        """Say what was saved, and whose it is where that is no longer on the table."""
        manner = self.desk.manner
        words = say(code, {"file": path.name}, manner)
        if not self.same_order:
            words = f"{words} {say(elsewhere, {'order': self._whose}, manner)}"
        self.say_done(words, path)
        self.saved.emit(str(path))

    def ask_save(self) -> None:
        """Where to; only what there is can be saved."""
        if not self.is_ready():
            return
        manner, suffix = self.desk.manner, self.suffix
        dialog = QFileDialog(self, self.save_button.text().replace("&", ""))
        kind = say(f"printing.files{suffix}", manner=manner)
        dialog.setNameFilter(f"{kind} (*{suffix})")
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suffix.lstrip("."))
        home = Path.home() if self.last_file is None else self.last_file.parent
        dialog.setDirectory(str(home))
        dialog.selectFile(self.suggested())
        dialog.fileSelected.connect(lambda name: self.save_to(Path(name)))
        dialog.finished.connect(dialog.deleteLater)
        self.dialog = dialog
        dialog.open()

    def suggested(self) -> str:
        """A name for the file: whom it is for, which style, and what it is."""
        named = " ".join(self.named())
        plain = "".join(c if c.isalnum() or c in " -_" else " " for c in named)
        return " ".join(plain.split()) + self.suffix

    def with_suffix(self, path: Path) -> Path:
        """The path with the suffix of what is saved."""
        known = path.suffix.lower() == self.suffix
        return path if known else path.with_name(path.name + self.suffix)

    def tell_problem(self, problem: Problem) -> str:
        """Say what keeps it from being saved, and what would do; returns the words."""
        words = in_two_sentences(problem, self.desk.manner)
        tell(self.trouble, words, "wrong")
        return words

    def say_done(self, words: str, path: Path | None = None) -> None:
        """Say what was saved, and offer to have it opened; nothing takes that away."""
        self.last_file = path or self.last_file
        tell(self.done, words, "ink")
        self.open_button.setVisible(bool(words) and self.last_file is not None)

    def open_written(self) -> None:
        """Have the machine open the file with what it has for it."""
        if self.last_file is None:
            return
        if not QDesktopServices.openUrl(QUrl.fromLocalFile(str(self.last_file))):
            values = {"file": self.last_file.name}
            tell(self.trouble, say("printing.not_opened", values, self.desk.manner))

"""Opening, saving and exporting: the dialogs, and what is told when it fails."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6 import QtCore, QtWidgets
from PySide6.QtCore import QObject, Signal

from skirtwright.app.bookkeeping import DAMAGED
from skirtwright.app.due_day import shown_day
from skirtwright.app.line import CLOSE, Ways, nothing
from skirtwright.app.recent_pictures import keep_picture
from skirtwright.export.true_size import WRITERS, Pieces
from skirtwright.job import autosave
from skirtwright.job.file import SUFFIX
from skirtwright.job.folders import settings_folder, state_folder
from skirtwright.job.in_book import in_book
from skirtwright.job.prints import today
from skirtwright.job.saving import check_folder, free, place_that_works, save_whole
from skirtwright.problems import FileTrouble, SkirtwrightError
from skirtwright.words import in_two_sentences, say, says

if TYPE_CHECKING:
    from skirtwright.app.window_frame import Frame
    from skirtwright.measures.card import Card

_LETTERS = 60
"""Of a file's name that is suggested; every file system holds as many."""


class Files(QObject):
    """What the file menu does.

    Attributes:
        loss_allowed: she said that work which can be kept nowhere may go.
        dialog: the file dialog that is open, or was last.

    Signals:
        mend_wanted: the client book is damaged, and what can be read of it is to be
            saved.
    """

    mend_wanted = Signal()

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self.loss_allowed = False
        self.dialog: QtWidgets.QFileDialog | None = None
        self._asked: Card | None = None

    # Asking where

    def ask_folder(self, title: str, then: Callable[[Path], object]) -> None:
        """A file dialog for a folder.

        Args:
            title: a message id.
            then: what is done with the folder she names.
        """
        dialog = QtWidgets.QFileDialog(
            self._window, say(title, manner=self._window.settings.manner)
        )
        dialog.setFileMode(QtWidgets.QFileDialog.FileMode.Directory)
        dialog.setOption(QtWidgets.QFileDialog.Option.ShowDirsOnly)
        self._show(dialog, then)

    def _show(
        self, dialog: QtWidgets.QFileDialog, then: Callable[[Path], object]
    ) -> None:
        """A file dialog where her own files are; it does not hold up the window."""
        path = self._window.keeper.file
        dialog.setDirectory(str(path.parent if path else _home()))
        dialog.fileSelected.connect(lambda name: then(Path(name)))
        dialog.finished.connect(dialog.deleteLater)
        self.dialog = dialog
        dialog.open()

    def ask(
        self,
        title: str,
        suffix: str,
        then: Callable[[Path], object],
        *others: str,
        save: bool = False,
        called: str = "",
    ) -> None:
        """A file dialog for a file.

        Args:
            title: a message id.
            suffix: of the kind of file offered first.
            then: what is done with the file she names.
            others: suffixes of other kinds.
            save: whether it is to be written.
            called: the name suggested for it; empty for that of the order on the table.
        """
        window, manner = self._window, self._window.settings.manner
        dialog = QtWidgets.QFileDialog(window, say(title, manner=manner))
        kinds = {
            f"{say(f'files.kind.{known[1:]}', manner=manner)} (*{known})": known
            for known in (suffix, *others)
        }
        dialog.setNameFilters(list(kinds))
        dialog.filterSelected.connect(lambda kind: dialog.setDefaultSuffix(kinds[kind]))
        if save:
            dialog.setAcceptMode(QtWidgets.QFileDialog.AcceptMode.AcceptSave)
            dialog.setDefaultSuffix(suffix.lstrip("."))
            dialog.selectFile(self._suggested(suffix, called))
        else:
            dialog.setFileMode(QtWidgets.QFileDialog.FileMode.ExistingFile)
        self._show(dialog, then)

    def _suggested(self, suffix: str, called: str = "") -> str:
        window = self._window
        own = window.keeper.file
        if own is not None and not called:
            beside = own.with_suffix(suffix)
            return (free(beside) if window.keeper.second else beside).name
        job = window.desk.job
        name = called or f"{job.card.name} {job.title or job.draft.title}"
        return _as_name(name) + suffix

    # Opening

    def ask_open(self) -> None:
        """Open another order."""
        self.ask("files.open", SUFFIX, self.open)

    def open(self, path: Path) -> bool:
        """Open an order; what was on the table is kept first."""
        window = self._window
        window.take_typed()
        if window.keeper.holds(path):
            # It is on the table, with all that can be undone.
            return True
        # Seen while it is worked, which may take a moment.
        window.point(say("files.opening", manner=window.settings.manner))
        window.pointed.repaint()
        try:
            window.keeper.open(path)
        except SkirtwrightError as trouble:
            # That the work on the table cannot be kept is told already.
            if trouble is not window.keeper.trouble:
                self._tell_trouble("open", trouble, {"files.other": self.ask_open})
            window.point("")
            return False
        window.line.done("open")
        window.table.fit_all()
        self.tell_left()
        return True

    def resume(self, kept: autosave.Kept) -> bool:
        """Bring back work that was not saved."""
        try:
            self._window.keeper.resume(kept)
        except SkirtwrightError as trouble:
            if trouble is not self._window.keeper.trouble:
                self._tell_trouble("open", trouble)
            return False
        self._window.table.fit_all()
        return True

    # Saving

    def save(self) -> bool:
        """Save; where that cannot be, another place is offered."""
        window = self._window
        window.take_typed()
        keeper = window.keeper
        if keeper.is_in_book or (keeper.path is None and self._has_client()):
            return self.keep_in_book()
        if not keeper.may_write:
            self.ask_save_as()
            return False
        try:
            keeper.save()
        except FileTrouble as trouble:
            self._tell_not_saved(trouble)
            return False
        window.line.done("save")
        return True

    def _has_client(self) -> bool:
        """Whether the order is somebody's, who can stand in the client book."""
        job = self._window.desk.job
        return bool(job.card.name.strip()) and not job.sample

    def keep_in_book(self) -> bool:
        """Keep the order in the client book, and go on with it there."""
        window, manner = self._window, self._window.settings.manner
        window.take_typed()
        keeper, book = window.keeper, window.bookkeeping
        before = keeper.path
        known = in_book(before) if before is not None else None
        number = known[1] if known and not keeper.second else None
        try:
            keeper.keep_in_book(known[0] if known else book.path, number)
        except SkirtwrightError as trouble:
            self._tell_not_saved(trouble)
            return False
        window.line.done("save")
        self.keep_picture()
        if known and keeper.path != before:
            window.line.tell("save", say("book.kept_anew", manner=manner))
        elif not known:
            window.point(say("book.kept", {"name": window.desk.job.card.name}, manner))
        self._offer_to_learn()
        return True

    def _offer_to_learn(self) -> None:
        """What a fitting changed on the card is offered as hers, never kept unasked."""
        from skirtwright.workroom.book_entries import learn, to_learn

        window, manner = self._window, self._window.settings.manner
        job, path = window.desk.job, window.keeper.path
        known = in_book(path) if path is not None else None
        if known is None or job.card == self._asked:
            return
        number = known[1]

        def keep() -> None:
            try:
                window.bookkeeping.write(lambda book: learn(book, number, job, today()))
            except SkirtwrightError as trouble:
                self._tell_trouble("learn", trouble)

        try:
            if not to_learn(window.bookkeeping.book, number, job):
                return
        except SkirtwrightError:
            # An offer less: the order itself is kept.
            return
        self._asked = job.card
        words = say("book.to_learn", {"name": job.card.name}, manner)
        ways = {"book.learn": keep, "book.learn_not": nothing}
        window.line.tell("learn", words, ways)

    def back_to_saved(self) -> None:
        """What the file holds again; undo leads back to what was not saved."""
        history = self._window.desk.history
        clean = max(history.cleanIndex(), 0)
        history.setIndex(clean)
        if history.cleanIndex() < 0:
            history.setClean()
        self._window.line.done("recovered")

    def ask_save_as(self) -> None:
        """Save in another place."""
        self._window.take_typed()
        self.ask("files.save_as", SUFFIX, self.save_as, save=True)

    def save_as(self, path: Path) -> bool:
        """Save in another file and go on with that one."""
        if path.suffix != SUFFIX:
            path = path.with_name(path.name + SUFFIX)
        try:
            self._window.keeper.save_as(path)
        except FileTrouble as trouble:
            self._tell_not_saved(trouble)
            return False
        self._window.line.done("save")
        return True

    # Exporting

    def ask_export(self) -> None:
        """Export the pieces; a drawing with a stop in it is not for cutting."""
        window = self._window
        window.take_typed()
        refusals = window.desk.look.report.refusals
        waits = window.desk.waits
        if refusals or waits is not None:
            manner = window.settings.manner
            problem = waits if waits is not None else refusals[0]
            values = {"why": in_two_sentences(problem, manner)}
            window.line.tell("export", say("files.cannot_export", values, manner))
            return
        first, *others = WRITERS
        self.ask("files.export", first, self.export, *others, save=True)

    def export(self, path: Path) -> bool:
        """Write the pieces at true size, as the command line does."""
        window = self._window
        if path.suffix.lower() not in WRITERS:
            path = path.with_name(path.name + next(iter(WRITERS)))
        manner = window.settings.manner
        look = window.desk.look
        client = look.job.card.name
        size = client if look.job.sample else ""
        pieces = Pieces(look.report, client, size, today(), manner)
        try:
            data = WRITERS[path.suffix.lower()](pieces)
            save_whole(path, data)
            window.desk.note_print(look, "drawing", look.report.to_cut.shown)
        except SkirtwrightError as trouble:
            elsewhere = {"files.elsewhere": self.ask_export}
            self._tell_trouble("export", trouble, elsewhere)
            return False
        told = say("files.exported", {"file": path.name}, manner)
        window.line.tell("export", told, passes=True)
        return True

    # Recent orders

    def keep_picture(self) -> None:
        """Keep how the order looks beside its name among the recent ones."""
        window = self._window
        path = window.keeper.path
        figure = window.table.figure.small(window.colours)
        if path is None or figure is None or not window.desk.saved:
            return
        keep_picture(path, figure, window.settings.recent())
        known = in_book(path)
        if known is not None:
            with suppress(SkirtwrightError):  # The list of orders does without.
                picture = figure.pictures[0]
                window.bookkeeping.keep_picture(known[1], picture)

    # Telling

    def _tell_trouble(
        self, code: str, trouble: SkirtwrightError, ways: Ways | None = None
    ) -> None:
        words = in_two_sentences(trouble.problem, self._window.settings.manner)
        self._window.line.tell(code, words, {**(ways or {}), **CLOSE})

    def _tell_not_saved(self, trouble: SkirtwrightError) -> None:
        """Which file, why, that the work is safe, and another place."""
        window, manner = self._window, self._window.settings.manner
        why = in_two_sentences(trouble.problem, manner)
        window.keeper.keep_now()
        is_safe = window.desk.saved and window.keeper.has_saved
        code = "files.not_copied" if is_safe else "files.not_saved"
        words = say(code, {"why": why}, manner)
        damaged = trouble.problem.code in DAMAGED
        mend = {"orders.mend": self.mend_wanted.emit} if damaged else {}
        again = {"files.again": self.save}
        window.line.tell("save", words, {**mend, **self._elsewhere, **again, **CLOSE})

    def tell_not_kept(self, *, closing: bool = False) -> None:
        """Unsaved work is not kept just now: why, and a place that works."""
        window, manner = self._window, self._window.settings.manner
        trouble = window.keeper.trouble
        if trouble is None:
            return
        ways = self._elsewhere
        place = place_that_works(self._folders(), self._suggested(SUFFIX))
        if place is not None:
            words = say("files.save_in", {"folder": str(place.parent)}, manner)
            ways = {words: partial(self.save_as, place), **ways}
        last = {"files.lose": self._lose} if closing else CLOSE
        told = say("files.not_kept", {"why": says(trouble.problem, manner)}, manner)
        window.line.tell("not_kept", told, {**ways, **last})

    @property
    def _elsewhere(self) -> Ways:
        return {"files.elsewhere": self.ask_save_as}

    def _folders(self) -> list[Path]:
        """Where an order might go, the likeliest first."""
        path = self._window.keeper.file
        standard = QtCore.QStandardPaths.StandardLocation
        places = (standard.DocumentsLocation, standard.DesktopLocation)
        named = [
            Path(QtCore.QStandardPaths.writableLocation(place)) for place in places
        ]
        beside = [path.parent] if path else []
        return [*beside, _home(), *named, Path(tempfile.gettempdir())]

    def _lose(self) -> None:
        self.loss_allowed = True
        self._window.close()

    def tell_left(self) -> None:
        """What lay on the table before was not saved: it is kept, and where."""
        if self._window.keeper.left_unsaved:
            words = say("files.kept", manner=self._window.settings.manner)
            self._window.line.tell("kept", words, passes=True)

    def tell_put_aside(self, trouble: SkirtwrightError) -> None:
        """Kept work that cannot be used, and where it lies."""
        self._tell_trouble("put_aside", trouble)

    def tell_places(self) -> None:
        """At the start: where nothing can be kept on this machine, she is told so."""
        for folder in (state_folder(), settings_folder()):
            try:
                check_folder(folder, make=True)
            except FileTrouble as trouble:
                manner = self._window.settings.manner
                why = says(trouble.problem, manner)
                told = say("files.nothing_kept", {"why": why}, manner)
                self._window.line.tell("places", told, {**self._elsewhere, **CLOSE})
                return

    def tell_state(self) -> None:
        """A second window on the file, or work that was brought back."""
        window, manner = self._window, self._window.settings.manner
        keeper = window.keeper
        window.line.done("second")
        window.line.done("recovered")
        if keeper.second and keeper.is_in_book:
            window.line.tell("second", say("book.second", manner=manner))
        elif keeper.second and keeper.path is not None:
            words = say("files.second", {"file": keeper.path.name}, manner)
            window.line.tell("second", words, {**self._elsewhere, **CLOSE})
        elif keeper.brought_back is not None:
            kept = keeper.brought_back
            when = datetime.fromtimestamp(kept.at)  # noqa: DTZ006 - hers
            day = shown_day(f"{when:%Y-%m-%d}", manner.language)
            name = kept.source.name if kept.source else ""
            values = {"when": f"{when:%H:%M}", "day": day, "file": name}
            words = say(self._brought_back(kept), values, manner)
            # Where her file or book stands otherwise, it waits until she has read it.
            passes = keeper.stands == "before" or kept.source is None
            window.line.tell("recovered", words, self._ways_on(), passes=passes)

    def _ways_on(self) -> Ways:
        """What may be done with work brought back; the first keeps it."""
        keeper = self._window.keeper
        over = keeper.stands == "newer" and not keeper.is_in_book
        keep = self._elsewhere if over else {"files.keep": self.save}
        back = {"files.back": self.back_to_saved} if keeper.has_saved else {}
        return {**keep, **back, **CLOSE}

    def _brought_back(self, kept: autosave.Kept) -> str:
        """What is said of work brought back, by how its file or book stands to it."""
        stands = self._window.keeper.stands
        if kept.source is None:
            return "files.brought_back.never"
        known = in_book(kept.source)
        if known is None or stands == "before":
            return f"files.brought_back.{stands}"
        if stands == "gone" and not known[0].exists():
            return "book.brought_back.moved"
        return f"book.brought_back.{stands}"


def _as_name(text: str) -> str:
    """A text as the name of a file, on every system."""
    kept = "".join(c if c.isalnum() or c in " -_" else " " for c in text)
    return " ".join(kept.split())[:_LETTERS]


def _home() -> Path:
    own = Path.home() / "Skirtwright"
    return own if own.is_dir() else Path.home()

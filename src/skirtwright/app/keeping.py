"""Her work kept: saved when she says so, and beside the file all the while."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import Literal

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication

from skirtwright.app.desk import Desk
from skirtwright.app.guard import report
from skirtwright.budget import STOPPED
from skirtwright.draft import styles
from skirtwright.job import autosave, file, in_book, own_files
from skirtwright.job.edits import Edited
from skirtwright.job.job import Job, new_job
from skirtwright.job.prints import today
from skirtwright.problems import FileTrouble, SkirtwrightError
from skirtwright.words import say, translate

_WAIT_SECONDS = 0.1
"""For another window that writes in the book: she waits no longer."""

AFTER_MS = 1000
"""From an edit to its being kept beside the file."""

Stands = Literal["before", "newer", "gone", "unread"]
"""A file beside work kept on it: older, saved since, not there, or of no use."""


class Keeper(QObject):
    """The file of the order in hand, or its place in the client book.

    Attributes:
        path: where it is saved; None for an order without a name yet. Of an order in
            the book see `job.in_book`.
        brought_back: the kept work this order was brought back from, or None.
        stands: how its file stood to that work.
        trouble: what stopped the last keeping, or None.
        second: True when another window has the same file open.
        left_unsaved: the order that lay on the table before was not saved, and is kept.

    Signals:
        moved: another file, or none.
        leaving: another order is to come on the table.
        cannot_keep: keeping beside the file failed; the FileTrouble.
        kept_again: it works once more.
        put_aside: kept work cannot be used; the SkirtwrightError that says so.
    """

    moved = Signal()
    leaving = Signal()
    cannot_keep = Signal(object)
    kept_again = Signal()
    put_aside = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self.path: Path | None = None
        self.brought_back: autosave.Kept | None = None
        self.stands: Stands = "before"
        self.trouble: FileTrouble | None = None
        self.second = False
        self.left_unsaved = False
        self._session: autosave.Session | None = None
        self._on_disk: bytes | None = None
        self._back: tuple[Job, str] | None = None
        self._begun_from = ""
        self._keeping = False
        self._moving = False
        self._timer = QTimer(self, singleShot=True, interval=AFTER_MS)
        self._timer.timeout.connect(self.keep_now)
        desk.changed.connect(self._wait)
        desk.noted.connect(self._save_note)
        program = QGuiApplication.instance()
        if isinstance(program, QGuiApplication):
            program.applicationStateChanged.connect(self._left)

    # Opening

    def begin_new(self, job: Job) -> None:
        """An order without a name.

        Raises:
            SkirtwrightError: it cannot be worked, or what is on the table not be kept.
        """
        self._lay(job)
        self._hold(None, autosave.Session())

    def open(self, path: Path) -> None:
        """An order from its file, with what was not saved of it brought back.

        Raises:
            SkirtwrightError: it cannot be read or worked, was stopped, or what is on
                the table cannot be kept; what was open stays.
        """
        content = in_book.load_bytes(path)
        with self._desk.stopping.offered():
            job = file.opened(content, self._called(path))
        self._foresee(path)
        self._lay(job, may_stop=True)
        # Before it is looked for: it may be this very file that is open here.
        self._let_go()
        kept = autosave.kept_for(path)
        self._hold(path, autosave.Session(path))
        self._holds_now(content)
        self._remember(path)
        if kept is not None and not self.second:
            self._bring_back(kept, path)

    def _foresee(self, path: Path) -> None:
        """Work what will be brought back with a file while it may still be stopped.

        Raises:
            SkirtwrightError: it was stopped; what is of no use is told later.
        """
        kept = autosave.kept_for(path)
        if kept is None:
            return
        try:
            self._desk.check(kept.job())
        except SkirtwrightError as trouble:
            if trouble.problem.code == STOPPED:
                raise

    def resume(self, kept: autosave.Kept) -> None:
        """Work left behind by a session that ended.

        Raises:
            SkirtwrightError: it cannot be used, and was set aside; or was stopped.
        """
        source, stands = kept.source, self.stands
        if source is not None:
            try:
                self.open(source)
            except FileTrouble:
                source, stands = self._file_of(source), "gone"
            except SkirtwrightError as trouble:
                if trouble.problem.code == STOPPED:
                    raise
                # Never saved over, since it may be whole for a newer program.
                source, stands = None, "unread"
            else:
                return
        job = self._job_of(kept)
        self._lay(new_job(styles.style(styles.first())))
        nameless = kept.key if kept.source is None else None
        self._hold(source, autosave.Session(source, nameless))
        if self.second:
            return
        self._put_back(kept, job, stands)
        # Kept elsewhere from now on, where its file is not its own any more.
        if source != kept.source and self.keep_now():
            autosave.let_go(kept)

    def _bring_back(self, kept: autosave.Kept, path: Path) -> None:
        """Put unsaved work on the file just opened on the table, if it is usable."""
        try:
            job = self._job_of(kept)
        except SkirtwrightError as trouble:
            self.put_aside.emit(trouble)
            return
        if job == self._desk.job:
            autosave.let_go(kept)
            return
        if kept.begun_from:
            saved_since = kept.begun_from != self._begun_from
        else:
            saved_since = path.is_file() and path.stat().st_mtime > kept.at
        if saved_since:
            self._back = job, kept.begun_from
        self._put_back(kept, job, "newer" if saved_since else "before")

    def _job_of(self, kept: autosave.Kept) -> Job:
        """The kept work, known to be of use here.

        Raises:
            SkirtwrightError: it is of none, and was set aside; or was stopped.
        """
        try:
            job = kept.job()
            self._desk.check(job)
        except SkirtwrightError as trouble:
            if trouble.problem.code == STOPPED:
                raise
            raise autosave.set_aside(kept, trouble) from trouble
        return job

    def _put_back(self, kept: autosave.Kept, job: Job, stands: Stands) -> None:
        """Kept work as one step, so that undo leads to what the file holds."""
        self._desk.change(Edited(job, "edit.brought_back", {}))
        self.left_unsaved = False
        self.brought_back, self.stands = kept, stands
        self.moved.emit()

    def _lay(self, job: Job, *, may_stop: bool = False) -> None:
        """Another order on the table; what was there is kept first.

        Raises:
            SkirtwrightError: it cannot be worked, was stopped, or what was there
                cannot be kept.
        """
        self.leaving.emit()
        if not self.keep_now() and self.trouble is not None:
            raise self.trouble
        was_unsaved = not self._desk.saved
        self._moving = True
        QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            self._desk.begin(job, may_stop=may_stop)
            self.left_unsaved = was_unsaved
        finally:
            QGuiApplication.restoreOverrideCursor()
            self._moving = False

    def _hold(self, path: Path | None, session: autosave.Session) -> None:
        self._let_go()
        self.path, self._session = path, session
        self.second = not session.holds
        self.brought_back = None
        self._holds_now(None)
        self.moved.emit()

    def _holds_now(self, content: bytes | None) -> None:
        """What the file holds, from which the work on the table goes on."""
        self._on_disk, self._back = content, None
        self._begun_from = autosave.sum_of(content)

    # Saving

    def holds(self, path: Path) -> bool:
        """Whether a file is on the table, and on disk still what it was."""
        if path != self.path or self.second:
            return False
        with suppress(SkirtwrightError):
            return autosave.sum_of(in_book.load_bytes(path)) == self._begun_from
        return False

    @property
    def has_saved(self) -> bool:
        """Whether there is something saved that she can go back to."""
        lost = self.brought_back is not None and self.stands in ("gone", "unread")
        return self.path is not None and not lost

    @property
    def on_disk(self) -> bytes | None:
        """What the file holds, as it was read or saved; None while the order differs.

        None, too, for an order without a name, and in a second window on its file.
        """
        return self._on_disk if self._desk.saved and not self.second else None

    @property
    def file(self) -> Path | None:
        """The order's file; None for one in the book, or without a name."""
        return self._file_of(self.path)

    @property
    def is_in_book(self) -> bool:
        """Whether the order lies in the client book."""
        return self.path is not None and in_book.in_book(self.path) is not None

    def _file_of(self, path: Path | None) -> Path | None:
        return None if path is None or in_book.in_book(path) else path

    @property
    def may_write(self) -> bool:
        """True when Save writes this file; else it asks for another place."""
        return self.path is not None and not self.second

    def save(self) -> None:
        """Save the order in its file.

        Raises:
            FileTrouble: it cannot be written, or another program wrote it; what was
                there stays.
        """
        if self.path is None or self._session is None:
            return
        known = in_book.in_book(self.path)
        if known is not None:
            self.keep_in_book(*known)
            return
        if self._on_disk is not None and self._changed_by_others(self.path):
            raise FileTrouble(
                "file.changed_meanwhile",
                str(self.path),
                file=self.path.name,
                folder=str(self.path.parent),
            )
        file.save(self._desk.job, self.path)
        self._saved(self.path)

    def keep_in_book(self, book: Path, number: int | None = None) -> None:
        """Keep the order in a client book, and go on with it there.

        Args:
            book: where it lies.
            number: of the order there; None, or one that another window wrote since,
                makes another order of it.

        Raises:
            SkirtwrightError: it cannot be kept; what was there stays.
        """
        from skirtwright.workroom.book import Book
        from skirtwright.workroom.book_entries import keep_order

        if self.is_in_book and not book.is_file():
            values = {"file": book.name, "folder": str(book.parent)}
            raise FileTrouble("book.moved", str(book), **values)
        job = self._desk.job
        # Work begun before the book had this does not take its place.
        goes_on = self._begun_from == autosave.sum_of(self._on_disk)
        before = self._on_disk.decode() if self._on_disk and goes_on else None
        with Book(book, make=number is None, wait=_WAIT_SECONDS) as opened:
            kept = keep_order(opened, job, number, before, today())
        path = in_book.path_of(book, kept.number)
        if path != self.path or self.second:
            session = autosave.Session(path)
            self._forget()
            self._hold(path, session)
        self._saved(path)

    def _save_note(self, was_saved: bool) -> None:
        """A print noted in an order that was saved is saved with it.

        She changed nothing, so nothing is hers to save. Where it cannot be written the
        order stands as not saved, and Save tells her why.
        """
        if self.path is None or not (was_saved and self.may_write):
            return
        if not self._changed_by_others(self.path):
            with suppress(SkirtwrightError):
                self.save()

    def save_as(self, path: Path) -> None:
        """Save the order in another file, and go on with that one.

        Raises:
            FileTrouble: it cannot be written, or another window has it open.
        """
        if self._is_open_file(path):
            self._holds_now(None)
            self.save()
            return
        session = autosave.Session(path)
        if not session.holds:
            session.close()
            raise FileTrouble(
                "file.open_elsewhere",
                str(path),
                file=path.name,
                folder=str(path.parent),
            )
        try:
            file.save(self._desk.job, path)
        except FileTrouble:
            session.close()
            raise
        # The place left behind needs nothing kept: its work has gone elsewhere.
        self._forget()
        self._hold(path, session)
        self._saved(path)

    def _is_open_file(self, path: Path) -> bool:
        if self.path is None or self.second:
            return False
        return path.resolve() == self.path.resolve()

    def _changed_by_others(self, path: Path) -> bool:
        try:
            return in_book.load_bytes(path) != self._on_disk
        except FileTrouble:
            # It is gone: saving puts it back.
            return False

    def _saved(self, path: Path) -> None:
        content = file.written(self._desk.job).encode()
        self._holds_now(content)
        own_files.note(content)
        self.brought_back = None
        self._forget()
        self._desk.history.setClean()
        self._remember(path)
        self.moved.emit()

    def _remember(self, path: Path) -> None:
        """Put it first among the recent orders; names in the book stay there."""
        called = "" if in_book.in_book(path) else self._client_and_style()
        self._desk.settings.remember(path.absolute(), called)

    # Keeping

    def _wait(self) -> None:
        if self._moving:
            return
        if self._desk.saved:
            self._timer.stop()
            self._forget()
            self._begun_from = autosave.sum_of(self._on_disk)
        elif not self._timer.isActive():
            # Not begun again by the next edit: who never rests is kept all the same.
            self._timer.start()
        if self._back is not None and self._desk.job == self._back[0]:
            # Brought back or redone: begun before the file held what it holds now.
            self._begun_from = self._back[1]

    def _left(self, state: Qt.ApplicationState) -> None:
        if state != Qt.ApplicationState.ApplicationActive:
            self.keep_now()

    def keep_now(self) -> bool:
        """Keep unsaved work beside the file at once; never raises anything.

        Returns:
            False when it is not kept; `trouble` says why.
        """
        self._timer.stop()
        if self._session is None or self._desk.saved:
            return True
        if self._keeping:
            # A fault in keeping itself, on its way to being told.
            return False
        self._keeping = True
        try:
            self._session.keep(self._desk.job, self._begun_from)
        except FileTrouble as trouble:
            return self._not_kept(trouble)
        except Exception as fault:  # noqa: BLE001 - told as a fault of ours, and as loss
            report(fault)
            return self._not_kept(FileTrouble("file.fault", file=self.called))
        finally:
            self._keeping = False
        if self.trouble is not None:
            self.trouble = None
            self.kept_again.emit()
        return True

    def _not_kept(self, trouble: FileTrouble) -> bool:
        self.trouble = trouble
        self.cannot_keep.emit(trouble)
        return False

    @property
    def called(self) -> str:
        """What she knows the order's place by."""
        return self._called(self.path)

    def _called(self, path: Path | None) -> str:
        """What she knows a file by; an order in the book by that."""
        if path is None:
            return self._desk.job.draft.title
        known = in_book.in_book(path)
        words = say("book.called", manner=self._desk.manner)
        return words if known else path.name

    def _client_and_style(self) -> str:
        job = self._desk.job
        title = job.title or translate(job.draft.title, self._desk.manner)
        return f"{job.card.name}, {title}" if job.card.name else title

    def _forget(self) -> None:
        if self._session is not None:
            self._session.forget()

    def close(self) -> bool:
        """Keep what is not saved and let go of the file.

        Returns:
            False when unsaved work could not be kept anywhere.
        """
        if not self.keep_now():
            return False
        self.let_go()
        return True

    def drop(self) -> None:
        """Let the order go from the table with what was kept of it, for good."""
        self._forget()
        self._moving = True
        try:
            self._desk.begin(new_job(styles.style(styles.first())))
        finally:
            self._moving = False
        self._hold(None, autosave.Session())

    def let_go(self) -> None:
        """Let go of the file as it is."""
        self._timer.stop()
        self._let_go()

    def _let_go(self) -> None:
        if self._session is not None:
            self._session.close()
            self._session = None

    def others_left(self) -> tuple[autosave.Kept, ...]:
        """Unsaved work of other sessions that have ended."""
        return autosave.left_behind()

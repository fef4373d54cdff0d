"""What each action does: one short method for each row of the table of actions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from skirtwright import __version__
from skirtwright.app.actions import Finder
from skirtwright.app.fields import NumberLine
from skirtwright.app.files import Files
from skirtwright.app.making_up import MakingUp
from skirtwright.app.paper import Paper
from skirtwright.app.piecework import Piecework
from skirtwright.app.settings import SettingsForm
from skirtwright.app.window_frame import Frame
from skirtwright.job import autosave
from skirtwright.job.job import Job
from skirtwright.measures.card import Card
from skirtwright.problems import FileTrouble, Problem
from skirtwright.words import in_one_sentence, say, translate

if TYPE_CHECKING:
    from skirtwright.app.panels.bank_card import BankCard
    from skirtwright.app.panels.styles import StylesChooser

_ZOOM = 1.25


class Commands(QObject):
    """Everything the menus, keys and the searchable list can ask for."""

    def __init__(
        self,
        window: Frame,
        files: Files,
        paper: Paper,
        making: MakingUp,
        piecework: Piecework,
    ) -> None:
        super().__init__(window)
        self._window = window
        self._files = files
        self._paper = paper
        self._making = making
        self._piecework = piecework
        self.finder: Finder | None = None
        self.form: SettingsForm | None = None
        self.chooser: StylesChooser | None = None
        self.card: BankCard | None = None

    def table(self) -> Mapping[str, Callable[..., object]]:
        """Each row's name with what does it."""
        window, table = self._window, self._window.table
        files = self._files
        history = window.desk.history
        return {
            "new_client": self.new_client,
            "open": files.ask_open,
            "recent": self.fill_recent,
            "unsaved": self.fill_unsaved,
            "save": files.save,
            "save_as": files.ask_save_as,
            "back_to_saved": files.back_to_saved,
            "print": self._paper.open,
            "export": files.ask_export,
            "close": window.close,
            "undo": partial(self._go, "undone", history.undoText, history.undo),
            "redo": partial(self._go, "redone", history.redoText, history.redo),
            "set_back": self.set_back,
            "set_back_all": self.set_back_all,
            "settings": self.settings,
            "everything": table.fit_all,
            "draft": table.fit_draft,
            "pieces": table.fit_pieces,
            "true_size": table.true_size,
            "bank_card": self.bank_card,
            "nearer": lambda: table.zoom_by(_ZOOM),
            "farther": lambda: table.zoom_by(1 / _ZOOM),
            "card": lambda on: window.show_strip("card", on),
            "measures": lambda on: window.show_strip("measures", on),
            "checks": lambda on: window.show_strip("checks", on),
            "parts": lambda on: window.show_strip("parts", on),
            "steps": lambda on: window.show_strip("steps", on),
            "making": self._making.show,
            "table_only": self.table_only,
            "next_strip": lambda: self.go_round(1),
            "last_strip": lambda: self.go_round(-1),
            "styles": self.styles,
            "next_check": self.next_check,
            "walk": self.fill_walk,
            "notch": self._piecework.add_notch,
            "why": self.why,
            "find": self.find,
            "welcome": window.welcome.begin,
            "about": self.about,
        }

    # Orders

    def new_client(self) -> None:
        """An empty measurement sheet with the style that is on the table."""
        window = self._window
        window.take_typed()
        was_unsaved = not window.desk.saved
        unit = window.settings.manner.unit
        job = Job(
            card=Card(name="", measurements={}, unit=unit),
            draft=window.desk.job.draft,
            unit=unit,
        )
        try:
            window.keeper.begin_new(job)
        except FileTrouble:
            # Told already: what is on the table cannot be kept, and stays.
            return
        if was_unsaved:
            manner = window.settings.manner
            close = (say("notice.close", manner=manner), lambda: None)
            window.notice.tell("kept", say("files.kept", manner=manner), [close])
        self.unfold("card")
        window.card.client.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _go(
        self,
        message: str,
        name: Callable[[], str],
        step: Callable[[], None],
        *_: object,
    ) -> None:
        """Undo or redo, say what, and have what changed in sight."""
        window = self._window
        before, what = window.desk.job, name()
        step()
        words = say(message, {"what": what}, window.settings.manner)
        window.pointed.setText(words)
        window.show_changes(before, window.desk.job)
        self._piecework.show_changes(before, window.desk.job)

    def set_back(self) -> None:
        """The measure in hand back to its default."""
        window = self._window
        row = window.measures.row_in_hand()
        handle = window.table.points.active() if window.table.hasFocus() else None
        held = window.focusWidget()
        if row is not None:
            row.set_back()
        elif isinstance(held, NumberLine):
            held.restore()
            held.set_back.emit()
        elif handle is not None:
            window.desk.set_amounts({handle.amount: None})

    def set_back_all(self) -> None:
        """Every measure back to its default, as one step."""
        desk = self._window.desk
        stated = desk.look.worked.stated.amounts
        desk.set_amounts({name: None for name, s in stated.items() if s.given})

    # Menus that fill themselves

    def fill_recent(self) -> None:
        """Files opened or saved lately."""
        window = self._window
        paths = [path for path in window.settings.recent() if path.is_file()]
        entries: list[tuple[str, Callable[[], object]]] = [
            (f"{path.name}  —  {path.parent}", partial(self._files.open, path))
            for path in paths
        ]
        self._fill("recent", entries, "files.no_recent")

    def fill_unsaved(self) -> None:
        """Work that was not saved when its window closed."""
        window = self._window
        entries: list[tuple[str, Callable[[], object]]] = [
            (self._kept_name(kept), partial(self._files.resume, kept))
            for kept in window.keeper.others_left()
        ]
        self._fill("unsaved", entries, "files.no_unsaved")

    def _kept_name(self, kept: autosave.Kept) -> str:
        when = datetime.fromtimestamp(kept.at)  # noqa: DTZ006 - her own clock
        manner = self._window.settings.manner
        name = kept.source.name if kept.source else say("files.unnamed", manner=manner)
        return f"{name}  —  {when:%d.%m.%Y %H:%M}"

    def fill_walk(self) -> None:
        """The seams of the order."""
        window = self._window
        names = [w.seam.name for w in window.desk.drawing.report.cut.seams]
        entries: list[tuple[str, Callable[[], object]]] = [
            (self._seam(name), partial(window.table.walk_seam, name)) for name in names
        ]
        self._fill("walk", entries, "seams.none")

    def _seam(self, name: str) -> str:
        desk = self._window.desk
        known = next((s for s in desk.job.draft.seams if s.name == name), None)
        return translate(known.title, desk.manner) if known and known.title else name

    def _fill(
        self, name: str, entries: list[tuple[str, Callable[[], object]]], none: str
    ) -> None:
        menu: QMenu = self._window.acts.menus[name]
        menu.clear()
        for number, (label, does) in enumerate(entries, 1):
            safe = label.replace("&", "&&")
            key = f"&{number} " if number < 10 else ""
            action = QAction(f"{key}{safe}", menu)
            action.triggered.connect(partial(_run, does))
            menu.addAction(action)
        if not entries:
            empty = menu.addAction(say(none, manner=self._window.settings.manner))
            empty.setEnabled(False)

    # Strips and the table

    def unfold(self, name: str) -> None:
        """Have a strip in sight."""
        self._window.acts.by_name[name].setChecked(True)

    def table_only(self, on: bool) -> None:
        """All strips folded away, and back as they were."""
        window = self._window
        if on:
            names = ("card", "measures", "checks", "parts", "steps", "making")
            self._were = [n for n in names if window.acts.by_name[n].isChecked()]
            for name in self._were:
                window.acts.by_name[name].setChecked(False)
            window.table.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            for name in self._were:
                window.acts.by_name[name].setChecked(True)

    _were: list[str] = []

    def go_round(self, way: int) -> None:
        """The next strip, or the table, takes the keyboard."""
        window = self._window
        places: list[QWidget] = [
            window.card.client,
            self._first_measure(),
            window.table,
            window.checks.list,
            window.pieces.sets.box,
            window.steps.all,
        ]
        beside = (self._making.place, self._paper.place)
        places += [place for place in beside if place is not None]
        places = [place for place in places if place.isVisible()]
        held = window.focusWidget()
        here = next((i for i, p in enumerate(places) if self._holds(p, held)), -1)
        places[(here + way) % len(places)].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _holds(self, place: QWidget, held: QWidget | None) -> bool:
        if held is None or place is held:
            return place is held
        window = self._window
        pieces = window.pieces
        strips = [window.card, window.measures, pieces, window.steps]
        beside = (self._making.strip, self._paper.strip)
        strips += [strip for strip in beside if strip is not None]
        return any(s.isAncestorOf(place) and s.isAncestorOf(held) for s in strips)

    def _first_measure(self) -> QWidget:
        rows = self._window.measures.amounts.values()
        shown = [row.line for row in rows if not row.isHidden()]
        return shown[0] if shown else self._window.measures

    def ask_why(self, name: str) -> None:
        """The chain behind a place, in the strip of steps."""
        self._window.steps.ask(name)
        self.unfold("steps")

    def why(self) -> None:
        """Why what is in hand is as it is."""
        window = self._window
        row = window.measures.row_in_hand()
        handle = window.table.points.active()
        if row is not None:
            self.ask_why(row.amount.name)
        elif handle is not None:
            self.ask_why(handle.place)
        else:
            self.unfold("steps")

    def show_check(self, problem: Problem) -> None:
        """Where a check lies, on the table or in its field."""
        window = self._window
        window.table.show_problem(problem)
        window.pointed.setText(in_one_sentence(problem, window.settings.manner))
        if window.desk.job.draft.amount(problem.where):
            self.unfold("measures")
            window.measures.bring(problem.where)

    def next_check(self) -> None:
        """The next thing to look at."""
        window = self._window
        problems = window.checks.problems
        if not problems:
            return
        self.unfold("checks")
        row = (window.checks.list.currentRow() + 1) % len(problems)
        window.checks.list.setCurrentRow(row)
        window.checks.list.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.show_check(problems[row])

    # Dialogs; none of them holds up the window

    def find(self) -> None:
        """The list of everything she can do."""
        window = self._window
        self.finder = Finder(window.acts, window.settings.manner, window)
        self.finder.finished.connect(self.finder.deleteLater)
        self.finder.open()

    def settings(self) -> None:
        """Her preferences; every change shows at once."""
        self.form = SettingsForm(self._window.settings, self._window)
        self.form.finished.connect(self.form.deleteLater)
        self.form.show()

    def bank_card(self) -> None:
        """How large a millimetre is on this screen."""
        from skirtwright.app.panels.bank_card import BankCard

        window = self._window
        now = window.settings.true_scale or window.physicalDpiX() / 25.4
        dialog = BankCard(now, window.colours, window.settings.manner, window)
        dialog.measured.connect(self._measured)
        dialog.finished.connect(dialog.deleteLater)
        self.card = dialog
        dialog.open()

    def _measured(self, pixels_per_mm: float) -> None:
        self._window.settings.true_scale = pixels_per_mm
        self._window.table.eyes.true_scale = pixels_per_mm

    def styles(self) -> None:
        """Styles by their pictures, for the client at hand."""
        from skirtwright.app.panels.styles import StylesChooser

        window = self._window
        window.take_typed()
        self.chooser = StylesChooser(window.desk, window.colours, window)
        self.chooser.finished.connect(self.chooser.deleteLater)
        self.chooser.open()

    def about(self) -> None:
        """Which Skirtwright this is."""
        manner = self._window.settings.manner
        words = say("about.words", {"version": __version__}, manner)
        close = (say("notice.close", manner=manner), lambda: None)
        self._window.notice.tell("about", words, [close])


def _run(does: Callable[[], object], *_: object) -> None:
    """Do it, whatever the signal gives."""
    does()

"""What each action does: one short method for each row of the table of actions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from skirtwright import __version__
from skirtwright.app.client_commands import ClientCommands
from skirtwright.app.due_day import shown_day
from skirtwright.app.fields import NumberLine
from skirtwright.app.files import Files
from skirtwright.app.line import Ways
from skirtwright.app.offered_lengths import names_for
from skirtwright.app.own_styles import OwnStyles
from skirtwright.app.piecework import Piecework
from skirtwright.app.recent_pictures import picture_of
from skirtwright.app.settings import SettingsForm
from skirtwright.app.since_print import SincePrint
from skirtwright.app.slip_holder import SLIPS
from skirtwright.app.window_frame import Frame
from skirtwright.figure.found_on_her import ABOUT_THE_BODY
from skirtwright.job import autosave
from skirtwright.job.edits import begun_like
from skirtwright.job.in_book import in_book, is_there
from skirtwright.measures.card import Card
from skirtwright.problems import FileTrouble, Problem, SkirtwrightError
from skirtwright.remembered import Remembered
from skirtwright.words import in_one_sentence, say, translate

if TYPE_CHECKING:
    from skirtwright.app.finder import Finder
    from skirtwright.app.slips.bank_card import BankCard
    from skirtwright.app.slips.check import CheckRow
    from skirtwright.app.slips.rows import AmountRow
    from skirtwright.app.style_chooser import StylesChooser, WornStyles

_ZOOM = 1.25
_STYLE = "style"
_Entry = tuple[str, Callable[[], object]]


class Commands(QObject):
    """Everything the menus, keys and the searchable list can ask for."""

    def __init__(
        self,
        window: Frame,
        files: Files,
        piecework: Piecework,
        clients: ClientCommands,
    ) -> None:
        super().__init__(window)
        self._window = window
        self._files = files
        self._piecework = piecework
        self.clients = clients
        self.own_styles = OwnStyles(window, files)
        self._since_print = SincePrint(window)
        self.finder: Finder | None = None
        self.form: SettingsForm | None = None
        self.chooser: StylesChooser | None = None
        self._worn_styles: WornStyles | None = None
        self.card: BankCard | None = None
        self._held: QWidget | None = None

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
            "figure": table.show_figure,
            "lay": lambda: table.show_cloths(on=not table.on_cloths),
            "bank_card": self.bank_card,
            "since_print": self._since_print.show,
            "nearer": lambda: table.zoom_by(_ZOOM),
            "farther": lambda: table.zoom_by(1 / _ZOOM),
            **{name: partial(self.show_slip, name) for name in SLIPS},
            "table_only": window.show_bare,
            "next_place": lambda: self.cycle_focus(1),
            "last_place": lambda: self.cycle_focus(-1),
            "styles": self.styles,
            "apart": self.apart,
            "next_check": self.next_check,
            "length": self.fill_length,
            "walk": self.fill_walk,
            "notch": self._piecework.add_notch,
            "why": self.why,
            **self.clients.table(),
            **self.own_styles.table(),
            "find": self.find,
            "welcome": window.welcome.begin,
            "about": self.about,
        }

    # Orders

    def new_client(self) -> None:
        """An empty measurement sheet with the style and choices on the table."""
        window = self._window
        window.take_typed()
        unit = window.settings.own_unit
        card = Card(name="", measurements={}, unit=unit)
        job = begun_like(window.desk.job, card, unit)
        try:
            window.keeper.begin_new(job)
        except FileTrouble:
            # Told already: what is on the table cannot be kept, and stays.
            return
        self.client()
        self._files.tell_left()

    def client(self) -> None:
        """Her name, in the slip of measurements."""
        self.unfold("measure")
        field = self._window.slips.measure.client
        field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        field.selectAll()

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
        window.point(words)
        window.show_changes(before, window.desk.job)
        self._piecework.show_changes(before, window.desk.job)

    def set_back(self) -> None:
        """The measure in hand back to its default."""
        window = self._window
        row = self._row_in_hand()
        handle = window.table.points.active() if window.table.hasFocus() else None
        held = window.focusWidget()
        if row is not None:
            row.set_back()
        elif isinstance(held, NumberLine):
            held.restore()
            held.set_back.emit()
        elif handle is not None:
            window.desk.set_amounts({handle.amount: None})

    def apart(self) -> None:
        """The measurement in hand for left and right apart, or as one again."""
        slips, manner = self._window.slips, self._window.settings.manner
        if slips.open_name != "measure":
            self.unfold("measure")
        if not slips.measure.part_in_hand():
            self._window.point(say("card.none_apart", manner=manner))

    def set_back_all(self) -> None:
        """Every measure back to its default, as one step."""
        desk = self._window.desk
        stated = desk.look.worked.stated.amounts
        desk.set_amounts({name: None for name, s in stated.items() if s.given})

    # Menus that fill themselves

    def fill_recent(self) -> None:
        """Orders opened or saved lately, by client, style and day."""
        window = self._window
        paths = [path for path in window.settings.recent() if is_there(path)]
        entries: list[_Entry] = [
            (self._recent_name(path), partial(self._files.open, path)) for path in paths
        ]
        self._fill("recent", entries, "files.no_recent")
        menu = self._window.acts.menus["recent"]
        for action, path in zip(menu.actions(), paths, strict=False):
            action.setIcon(picture_of(path))
            action.setIconVisibleInMenu(True)

    def _recent_name(self, path: Path) -> str:
        known = in_book(path)
        if known is not None:
            return self._window.bookkeeping.called(known[1])
        when = datetime.fromtimestamp(path.stat().st_mtime)  # noqa: DTZ006 - her own clock
        name = self._window.settings.called(path) or path.stem
        language = self._window.settings.manner.language
        return f"{name}  —  {shown_day(f'{when:%Y-%m-%d}', language)}"

    def fill_unsaved(self) -> None:
        """Work that was not saved when its window closed."""
        window = self._window
        entries: list[_Entry] = [
            (self._kept_name(kept), partial(self._files.resume, kept))
            for kept in window.keeper.others_left()
        ]
        self._fill("unsaved", entries, "files.no_unsaved")

    def _kept_name(self, kept: autosave.Kept) -> str:
        when = datetime.fromtimestamp(kept.at)  # noqa: DTZ006 - her own clock
        manner = self._window.settings.manner
        name = kept.source.name if kept.source else say("files.unnamed", manner=manner)
        if kept.source is None or in_book(kept.source) is not None:
            name = self._called(kept) or name
        day = shown_day(f"{when:%Y-%m-%d}", manner.language)
        return f"{name}  —  {day}, {when:%H:%M}"

    def _called(self, kept: autosave.Kept) -> str:
        """Work by client and style as it is kept, not as it was saved."""
        try:
            job = kept.job()
        except SkirtwrightError:
            # Why is told when she asks for it.
            known = in_book(kept.source) if kept.source else None
            return self._window.bookkeeping.called(known[1]) if known else ""
        title = job.title or translate(job.draft.title, self._window.settings.manner)
        return ", ".join(filter(None, (job.card.name, title)))

    def fill_length(self) -> None:
        """The named lengths of the skirt, as long as they are on her."""
        desk = self._window.desk
        entries: list[_Entry] = [
            (
                f"{translate(state.amount.label, desk.manner)}: {offered.told}",
                partial(desk.set_amounts, {state.amount.name: offered.working}),
            )
            for state in desk.look.worked.stated.amounts.values()
            if state.applies
            for offered in names_for(desk, state)
        ]
        self._fill("length", entries, "lengths.no_order")

    def fill_walk(self) -> None:
        """The seams of the order."""
        window = self._window
        seams = () if window.desk.waits else window.desk.drawing.report.cut.seams
        names = [walked.seam.name for walked in seams]
        entries: list[_Entry] = [
            (self._seam(name), partial(window.table.walk_seam, name)) for name in names
        ]
        self._fill("walk", entries, "seams.none")

    def _seam(self, name: str) -> str:
        desk = self._window.desk
        known = next((s for s in desk.job.draft.seams if s.name == name), None)
        return translate(known.title, desk.manner) if known and known.title else name

    def _fill(self, name: str, entries: list[_Entry], none: str) -> None:
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

    # Slips and the table

    def show_slip(self, name: str, on: bool) -> None:
        """Lay a slip over the table's edge, or put it away."""
        window = self._window
        if on and window.slips.open_name != name:
            window.take_typed()
        if on and name == "paper":
            window.table.stop_walking()
        window.slips.show(name, on)

    def unfold(self, name: str) -> None:
        """Have a slip in sight."""
        self._window.acts.by_name[name].setChecked(True)

    def cycle_focus(self, way: int) -> None:
        """The slip, the table or the sentence under it takes the keyboard."""
        window = self._window
        slip = window.slips.now
        places: list[QWidget] = [window.table, *window.line.buttons[:1]]
        if slip is not None:
            last = slip.last_place()
            places = [slip.first_place(), *([last] if last else []), *places]
        held = window.focusWidget()
        inside = slip is not None and held is not None and slip.isAncestorOf(held)
        here = next((i for i, p in enumerate(places) if p is held), 0 if inside else -1)
        places[(here + way) % len(places)].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _row_in_hand(self) -> AmountRow | None:
        slips = self._window.slips
        return slips.shape.row_in_hand() if slips.open_name == "shape" else None

    def ask_why(self, name: str) -> None:
        """The chain behind a place, in the slip of steps."""
        self.unfold("steps")
        self._window.slips.steps.ask(name)

    def why(self) -> None:
        """Why what is in hand is as it is."""
        row = self._row_in_hand()
        handle = self._window.table.points.active()
        if row is not None:
            self.ask_why(row.amount.name)
        elif handle is not None:
            self.ask_why(handle.place)
        else:
            self.unfold("steps")

    def show_check(self, problem: Problem) -> None:
        """Where a check lies, on the table or in its field."""
        window = self._window
        if problem in window.desk.lay_problems:
            self.unfold("cloth")
            material = problem.values.get("material", problem.where)
            window.slips.cloth.choose(str(material))
            return
        window.table.show_problem(problem)
        if problem.code in ABOUT_THE_BODY:
            # It is told there; a sentence over her feet would hide it.
            window.table.show_figure(large=True)
        else:
            window.point(in_one_sentence(problem, window.settings.manner))
        if window.desk.job.draft.amount(problem.where):
            self._bring_amount(problem.where)

    def show_step(self, path: str, told: str) -> None:
        """Where on the table what a step draws lies."""
        self._window.table.show_problem(Problem("step", "note", path, says=told))

    def next_check(self) -> None:
        """The next thing to look at."""
        self.unfold("check")
        found = self._window.slips.check.found
        if not found:
            return
        held = next((n for n, row in enumerate(found) if row is self._checked), -1)
        self._checked = found[(held + 1) % len(found)]
        self._checked.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if self._checked.problem is not None:
            self.show_check(self._checked.problem)

    _checked: CheckRow | None = None

    # Dialogs; none of them holds up the window

    def find(self) -> None:
        """The list of everything she can do."""
        from skirtwright.app.finder import Finder, entries_by_name

        window = self._window
        manner = window.settings.manner
        bring = {
            "style": lambda name: self.styles(name=name),
            "measurement": self._bring_measurement,
            "amount": self._bring_amount,
        }
        more = entries_by_name(window.desk, bring)
        self.finder = Finder(window.acts, more, manner, window)
        self.finder.finished.connect(self.finder.deleteLater)
        self.finder.show()

    def _bring_measurement(self, name: str) -> None:
        self.unfold("measure")
        self._window.slips.measure.bring(name)

    def _bring_amount(self, name: str) -> None:
        self.unfold("shape")
        self._window.slips.shape.bring(name)

    def settings(self) -> None:
        """Her preferences; every change shows at once."""
        self.form = SettingsForm(self._window.settings, self._window)
        self.form.finished.connect(self.form.deleteLater)
        self.form.show()

    def bank_card(self) -> None:
        """How large a millimetre is on this screen."""
        from skirtwright.app.slips.bank_card import BankCard

        window = self._window
        now = window.settings.true_scale or window.physicalDpiX() / 25.4
        dialog = BankCard(now, window.colours, window.settings.manner, window)
        dialog.measured.connect(self._measured)
        dialog.finished.connect(dialog.deleteLater)
        self.card = dialog
        dialog.open()

    def _measured(self, pixels_per_mm: float) -> None:
        self._window.settings.true_scale = pixels_per_mm
        self._window.table.camera.true_scale = pixels_per_mm

    def styles(self, *_: object, name: str = "") -> None:
        """Styles by their pictures, for the client at hand; one of them in hand."""
        from skirtwright.app.style_chooser import StylesChooser, worn

        window = self._window
        if window.over is not None:
            return
        window.take_typed()
        self._held = window.focusWidget()
        kept = self._worn_styles = self._worn_styles or Remembered(worn)
        chooser = self.chooser = StylesChooser(window.desk, window.inside, kept)
        chooser.pointed.connect(self._tell_style)
        chooser.leaves_out.connect(self._offer_style)
        chooser.taken.connect(self.own_styles.tell_lacking)
        chooser.finished.connect(self._styles_done)
        self._tell_style(chooser.words())
        window.lay_over(chooser)
        if name:
            chooser.put_in_hand(name)
        chooser.list.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _tell_style(self, words: str) -> None:
        """What is in hand among the styles, and the way to take it."""
        chooser = self.chooser
        draft = chooser.in_hand() if chooser is not None else None
        if chooser is not None and draft is not None:
            ways = {"styles.take": chooser.take, "styles.leave": chooser.reject}
            self._window.line.tell(_STYLE, words, ways, chooser.every_words())

    def _offer_style(self, lines: list[str]) -> None:
        """A style without a place for what was altered can be taken all the same."""
        chooser, manner = self.chooser, self._window.settings.manner
        draft = chooser.in_hand() if chooser is not None else None
        if chooser is not None and draft is not None:
            take = partial(chooser.take, leaving_out=True)
            leave = chooser.reject
            ways: Ways = {"styles.take_without": take, "styles.leave": leave}
            listed = "; ".join(line.strip(" .") for line in lines)
            title = translate(draft.title, manner)
            values = {"style": title, "lines": listed}
            words = say("styles.no_place", values, manner)
            self._window.line.tell(_STYLE, words, ways)

    def _styles_done(self) -> None:
        window = self._window
        window.line.done(_STYLE)
        window.lay_over(None)
        held = self._held if self._held is not None else window.table
        held.setFocus(Qt.FocusReason.OtherFocusReason)

    def about(self) -> None:
        """Which Skirtwright this is."""
        manner = self._window.settings.manner
        words = say("about.words", {"version": __version__}, manner)
        self._window.line.tell("about", words)


def _run(does: Callable[[], object], *_: object) -> None:
    """Do it, whatever the signal gives."""
    does()

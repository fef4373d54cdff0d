"""The window: the frame, what works above it, and what they tell each other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import (
    QCloseEvent,
    QGuiApplication,
    QImage,
    QKeyEvent,
)
from PySide6.QtWidgets import QApplication

from skirtwright.app.first_picture import keep_first_picture
from skirtwright.app.guard import guarded
from skirtwright.app.look import box_palette, colours_for, letters, palette, stylesheet
from skirtwright.app.settings import Settings
from skirtwright.app.window_frame import Frame
from skirtwright.words import in_one_sentence, say, translate

if TYPE_CHECKING:
    from skirtwright.job.worktable import Look
    from skirtwright.lay.lay import Lay
    from skirtwright.problems import Problem

_REST_MS = 300

_ASK_MS = 100
"""How often a closing window asks whether a file is written, ms."""


class Window(Frame):
    """One order on one table."""

    def __init__(self, settings: Settings, first: QImage | None = None) -> None:
        super().__init__(settings, first)
        from skirtwright.app.actions import Actions
        from skirtwright.app.band import Band
        from skirtwright.app.client_commands import ClientCommands
        from skirtwright.app.commands import Commands
        from skirtwright.app.files import Files
        from skirtwright.app.finding_notices import FindingNotices
        from skirtwright.app.piecework import Piecework

        self.piecework = Piecework(self)
        self.files = Files(self)
        clients = ClientCommands(self, self.files)
        self.commands = Commands(self, self.files, self.piecework, clients)
        self.acts = Actions(self, self.commands.table())
        self.acts.fill()
        self.band = Band(self.desk, self.keeper, self.acts, self.inside)
        self.band.fill_menu()
        self.finding_notices = FindingNotices(self)
        self._connect()
        self.dress()

    # Making

    def _connect(self) -> None:
        desk, table = self.desk, self.table
        desk.looked.connect(self._looked)
        desk.changed.connect(self._named)
        desk.changed.connect(self.line.drop_passing)
        self.keeper.moved.connect(self._named)
        self.keeper.moved.connect(self.line.drop_passing)
        self.keeper.leaving.connect(self._end_printing)
        self.keeper.moved.connect(self.files.tell_state)
        self.slips.changed.connect(self.line.drop_passing)
        self._picture = QTimer(self, singleShot=True)
        self._picture.timeout.connect(self.files.keep_picture)
        # Once the window rests: nobody waits for it.
        self.keeper.moved.connect(lambda: self._picture.start(_REST_MS))
        self.keeper.cannot_keep.connect(lambda _: self.files.tell_not_kept())
        self.keeper.put_aside.connect(self.files.tell_put_aside)
        self.keeper.kept_again.connect(lambda: self.line.done("not_kept"))
        table.pulling.connect(desk.pull)
        table.pulled.connect(desk.settle)
        table.dropped.connect(desk.drop)
        table.pointed.connect(self.point)
        table.asked_why.connect(self.commands.ask_why)
        table.walking.connect(self._walking)
        table.set_allowance = self.piecework.desk.set_allowance
        table.set_texts = desk.set_amounts
        table.camera.true_scale = self.settings.true_scale
        self.slips.fresh.connect(self._made)
        self.mending.found.connect(self.slips.say_again)
        self.mending.is_cut = lambda: self.bookkeeping.is_cut(self.keeper.path)
        self.bookkeeping.changed.connect(self.finding_notices.say_again)
        work = self.cloth_work
        work.told.connect(self._cloth_told)
        self.table.hand_moved.connect(work.follow.put_off)
        table.laid_by_hand.connect(self._laid_by_hand)
        table.refused.connect(self._refused)
        work.laid.connect(self._laid)
        self.band.client_asked.connect(self.commands.client)
        self.band.style_asked.connect(self.commands.styles)
        self.band.slip_clicked.connect(self.slips.take_nothing_in_hand)
        self.welcome.left.connect(self.settings.welcome_done)
        self.settings.changed.connect(self._preferred)
        self._closing = QTimer(self, interval=_ASK_MS)
        self._closing.timeout.connect(self.close)
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._desktop_changed)

    def _cloth_told(self) -> None:
        """Another lay, or an estimate: what it takes, and where the pieces lie.

        In a pull as much of it as is in sight; after it all is told again.
        """
        work, table = self.cloth_work, self.table
        if table.pull is None or table.stack():
            table.tell_cloth(work.lines())
        if table.pull is not None and not table.on_cloths:
            return
        lays = work.seen
        names = (lay.cloth.material for lay in lays)
        sure = frozenset(name for name in names if work.is_known(name))
        table.show_lays(lays, sure, work.share)

    def _laid_by_hand(self, lay: Lay, name: str) -> None:
        """A piece lies elsewhere: one step, kept with the order."""
        desk, material = self.desk, lay.cloth.material
        from skirtwright.job.cloth_edits import set_hand_lay
        from skirtwright.lay.by_hand import hand_lay

        kept = hand_lay(lay, desk.look.report.to_cut)
        desk.change(set_hand_lay(desk.job, material, kept, name))

    def _refused(self, problem: Problem) -> None:
        self.point(in_one_sentence(problem, self.settings.manner))

    def _laid(self) -> None:
        """What the lay takes is on the making-up sheet, what it lacks is a finding."""
        if self.slips.open_name in ("check", "sew") and self.slips.now is not None:
            self.slips.now.show_look(self.desk.look)

    def _made(self, name: str, slip: Any) -> None:
        """A slip was made: what it tells is heard."""
        slip.grown.connect(self._fit_slip)
        if name == "paper":
            slip.tiling_changed.connect(self.table.show_sheets)
        elif name == "check":
            slip.asked.connect(self.commands.show_check)
        elif name == "steps":
            slip.chosen.connect(self.commands.show_step)
        elif name == "cut":
            self.piecework.connect_slip(slip)
        elif name == "orders":
            commands = self.commands
            commands.clients.connect_slip(slip, commands.new_client)

    def _looked(self, look: Look) -> None:
        self.pointed.tell("")
        if self.desk.waits is None and look.job.choices != self.desk.look.job.choices:
            # A remedy pointed at: the table lies as it lay.
            self.table.show_ghost(look)
        elif self.desk.waits is None:
            self.table.show_look(look)
        else:
            self.table.show_paper(self.desk.job.inputs().measurements)

    def _end_printing(self) -> None:
        """A print that is being written is noted in its order before that is left."""
        paper = self.slips.__dict__.get("paper")
        if paper is not None:
            paper.wait()

    def _walking(self, begins: bool) -> None:
        """Seams are walked on the table, not on sheets."""
        if begins:
            self.slips.show("paper", on=False)

    # Words and looks

    def dress(self) -> None:
        """Letters, colours and words as she prefers them."""
        self.colours = colours_for(self.settings.theme)
        program = QApplication.instance()
        if isinstance(program, QApplication):
            program.setFont(letters(self.settings.text_size))
            program.setPalette(palette(self.colours))
            boxes = box_palette(self.colours)
            # Qt takes the name as text, whatever its stubs say.
            program.setPalette(boxes, "QCheckBox")  # type: ignore[arg-type]
            sheet = stylesheet(self.colours, self.settings.text_size)
            if program.styleSheet() != sheet:
                program.setStyleSheet(sheet)
        self.table.set_colours(self.colours)
        self.table.set_text_size(self.settings.text_size)
        self.band.dress()
        self.say_again()

    def say_again(self) -> None:
        """Everything in her manner."""
        manner = self.settings.manner
        self.acts.say_again(manner)
        self.table.set_manner(manner)
        self.pointed.setAccessibleName(say("pointed.name", manner=manner))
        self.point("")
        self.band.refresh()
        if hasattr(self.desk, "look"):
            self.desk.again()
            self.slips.say_again()
            self.finding_notices.say_again()
            self.welcome.refresh()
        self.arrange()

    def _preferred(self, name: str) -> None:
        if name in ("theme", "text_size"):
            self.dress()
        else:
            self.say_again()

    def _desktop_changed(self) -> None:
        if self.settings.theme == "system":
            self.dress()

    def _named(self) -> None:
        """Title, undo and redo by name, and what can be done just now."""
        if not hasattr(self.desk, "job"):
            return
        manner, job = self.settings.manner, self.desk.job
        values = {
            "style": job.title or translate(job.draft.title, manner),
            "client": job.card.name,
        }
        message = "window.title" if job.card.name else "window.title_nobody"
        saved = "" if self.desk.saved else f" ({say('window.unsaved', manner=manner)})"
        self.setWindowTitle(say(message, {**values, "saved": saved}, manner))
        history = self.desk.history
        for name, able, what in (
            ("undo", history.canUndo(), history.undoText()),
            ("redo", history.canRedo(), history.redoText()),
        ):
            action = self.acts.by_name[name]
            action.setEnabled(able)
            words = f"action.{name}_what" if able else f"action.{name}"
            short = action.iconText()
            action.setText(say(words, {"what": what}, manner))
            action.setIconText(short)
        back = self.acts.by_name["back_to_saved"]
        back.setEnabled(self.keeper.has_saved and not self.desk.saved)
        given = any(s.given for s in self.desk.look.worked.stated.amounts.values())
        self.acts.by_name["set_back_all"].setEnabled(given)

    # Keeping

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape puts the slip away, else the welcome; or brings the band back."""
        if event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.bare:
            self.acts.by_name["table_only"].setChecked(False)
        elif self.slips.open_name:
            self.slips.put_away()
        elif self.table.on_cloths:
            self.table.show_cloths(on=False)
        elif self.welcome.step:
            self.welcome.end()

    def _has_unfinished_writing(self) -> bool:
        """Whether something is being written, which is told, and can be stopped."""
        over, paper = self.commands.clients.over, self.slips.__dict__.get("paper")
        if over is not None and over.printing:
            over.reject()
            return True
        if paper is None or not paper.is_writing():
            self._closing.stop()
            return False
        if not self._closing.isActive():
            manner = self.settings.manner
            words, stop = say("window.writing", manner=manner), paper.stop_writing
            self.line.tell("writing", words, {"many.stop": stop})
            self._closing.start()
        return True

    @guarded()
    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep what is not saved; ask nothing.

        While a file is written the window stays until it is, and can be told to stop;
        printing many at once is ended, and how to go on with it is told.

        Only when it cannot be kept does the window stay, say why and offer a place:
        work goes when she says that it may.
        """
        # Until the work is kept: a fault on the way there must not close the window.
        event.ignore()
        if not self.files.loss_allowed and self._has_unfinished_writing():
            return
        self.take_typed()
        if not (self.keeper.close() or self.files.loss_allowed):
            self.files.tell_not_kept(closing=True)
            return
        event.accept()
        if self.commands.clients.over is not None:
            self.commands.clients.over.reject()
        self.settings.open_slip = self.slips.open_name
        self.slips.put_away()
        self.slips.wait()
        self.mending.wait()
        self.cloth_work.wait()
        self.bookkeeping.wait()
        self.bookkeeping.close()
        self.keeper.let_go()
        self.desk.close()
        self.settings.keep_layout("window", self.saveGeometry())
        self.settings.write_now()
        desk = self.desk
        whole = desk.waits is None and desk.look.drawn
        # The next start shows it in its own unit.
        whole = whole and desk.manner.unit == desk.job.unit
        order = self.keeper.on_disk if whole else None
        keep_first_picture(order, self.settings, self.at_rest)

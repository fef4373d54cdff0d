"""The whole job by keys alone, from a new client to a fitting and all the way back.

Nothing is called: what the window shows is read, and keys are pressed.
"""

from __future__ import annotations

import pymupdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from skirtwright.app.beside import Beside
from skirtwright.app.slips.check import RemedyButton

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEY = Qt.Key
MOST_TABS = 150

pytestmark = pytest.mark.usefixtures("mends")


class Hands:
    """Her hands: they press keys and look."""

    def __init__(self, window, keys, qtbot) -> None:
        self.window, self.keys, self.qtbot = window, keys, qtbot

    @property
    def job(self):
        return self.window.desk.job

    def tab_to(self, wanted, kind=None) -> None:
        """Tab until the keyboard is on it, or on one of a kind in it."""
        for _ in range(MOST_TABS):
            held = QApplication.focusWidget()
            if held is wanted and kind is None:
                return
            if kind and isinstance(held, kind) and wanted.isAncestorOf(held):
                return
            self.keys(KEY.Key_Tab)
        pytest.fail(f"no Tab leads to {wanted.accessibleName()}")

    def type_in(self, line, text) -> None:
        """Go to a field, write over what stands there, and Enter."""
        self.tab_to(line)
        self.keys(KEY.Key_A, mods=CTRL)
        self.keys(text, KEY.Key_Return)

    def choose(self, box, wanted) -> None:
        """Go to a list and down it, or up, to what is wanted."""
        self.tab_to(box)
        self.keys(KEY.Key_Home)
        for _ in range(box.count()):
            if wanted(box.currentText()):
                return
            self.keys(KEY.Key_Down)
        pytest.fail("it is not in the list")

    def wait(self, until) -> None:
        self.qtbot.waitUntil(until, timeout=60_000)


@pytest.fixture
def hands(window, keys, qtbot):
    return Hands(window, keys, qtbot)


def test_a_whole_job_by_keys_alone(hands, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    jobs = [a_new_client(hands)]
    for does in (
        another_style,
        a_detail,
        a_pull,
        too_long_and_a_remedy,
        an_allowance_and_a_notch,
        a_narrower_cloth,
    ):
        does(hands)
        jobs.append(hands.job)
    prints_it(hands, tmp_path / "clara.pdf")
    reads_how_it_is_sewn(hands)
    a_fitting(hands)
    prints_what_changed(hands, tmp_path / "changed.pdf")
    everything_undone(hands, jobs)


def test_the_rest_of_the_day_by_keys_alone(hands, tmp_path, monkeypatch):
    """Kept in the book, quoted, backed up, and in the end deleted."""

    def ask(beside, known_as, work, *values):
        beside.answered.emit(known_as, work(*values))

    monkeypatch.setattr(Beside, "ask", ask)
    a_new_client(hands)
    keeps_her_in_the_book(hands)
    quotes(hands, tmp_path / "quote.pdf")
    backs_up(hands, tmp_path / "backup.book")
    deletes_her(hands)


def a_new_client(hands):
    hands.keys(KEY.Key_N, mods=CTRL)
    hands.keys("Clara Winterbourne", KEY.Key_Tab)
    for text in ("73", "104,5", "21 cm", "595mm"):
        hands.keys(text, KEY.Key_Tab)
    assert hands.window.desk.waits is None
    return hands.job


def another_style(hands):
    hands.keys(KEY.Key_T, mods=CTRL)
    chooser = hands.window.commands.chooser
    hands.keys(KEY.Key_Home)
    for _ in range(40):
        if chooser.in_hand().id == "straight":
            break
        hands.keys(KEY.Key_Right)
    hands.keys(KEY.Key_Return)
    assert hands.job.draft.id == "straight"
    assert hands.job.card.name == "Clara Winterbourne"


def a_detail(hands):
    hands.keys(KEY.Key_F3)
    row = hands.window.slips.shape.choices["waist_shape"]
    hands.choose(row.box, lambda words: "elastic" in words)
    assert hands.job.choices["waist_shape"] == "side_elastic"


def a_pull(hands):
    """From the slip to the table, on to a pull point, and an arrow key."""
    table, before = hands.window.table, hands.job
    hands.keys(KEY.Key_Escape)
    hands.wait(table.hasFocus)
    for _ in range(MOST_TABS):
        point = table.scene.point_of(table.points.focused)
        if point is not None and point.amount == "length":
            break
        hands.keys(KEY.Key_Tab)
    hands.keys(KEY.Key_Down)
    assert hands.job.amounts["length"] != before.amounts.get("length")


def too_long_and_a_remedy(hands):
    hands.keys(KEY.Key_F3)
    hands.type_in(hands.window.slips.shape.row_of("length").line, "92")
    assert hands.job.amounts["length"] == "92"
    hands.keys(KEY.Key_F4)
    check = hands.window.slips.check
    hands.wait(lambda: any(row.buttons for row in check.found))
    row = next(row for row in check.found if row.buttons)
    told = (row.problem.code, row.problem.where)
    hands.tab_to(row, RemedyButton)
    before = hands.job
    hands.keys(KEY.Key_Space)
    assert hands.job != before
    assert told not in {(p.code, p.where) for p in hands.window.desk.problems}


def an_allowance_and_a_notch(hands):
    hands.keys(KEY.Key_F12)
    rows = hands.window.slips.cut.seams
    row = next(r for r in rows.values() if ("back", "side") in r.keys)
    hands.type_in(row.first_field().line, "3")
    assert hands.job.piece("back").allowances
    hands.keys(KEY.Key_M, mods=CTRL)
    assert len(row.marks) == 1
    assert QApplication.focusWidget() is row.marks[0].line


def a_narrower_cloth(hands):
    hands.keys(KEY.Key_F10)
    made = hands.window.slips.cloth
    hands.type_in(made.fields["width"].line, "140")
    assert hands.job.cloth("shell").width == 1400


def prints_it(hands, path):
    hands.keys(KEY.Key_P, mods=CTRL)
    paper = hands.window.slips.paper
    hands.wait(lambda: paper.counted is not None)
    sheets = paper.counted.laid.sheets
    hands.tab_to(paper.save_button)
    hands.keys(KEY.Key_Space)
    names_the_file(hands, paper, path)
    with pymupdf.open(path) as document:
        assert document.page_count == sheets + 1
        assert "Winterbourne" in document[0].get_text()
    assert [one.how for one in hands.job.prints] == ["sheets"]


def names_the_file(hands, asked, path):
    hands.wait(lambda: asked.dialog is not None and asked.dialog.isActiveWindow())
    line = asked.dialog.findChild(QLineEdit, "fileNameEdit")
    # Its list of names would be a window of its own, which offscreen cannot give keys.
    line.setCompleter(None)
    QTest.keyClick(line, KEY.Key_A, CTRL)
    QTest.keyClicks(line, str(path))
    QTest.keyClick(line, KEY.Key_Return)
    hands.wait(path.exists)
    comes_back(hands)


def comes_back(hands):
    """A desktop gives the window back by itself; offscreen there is none."""
    hands.window.activateWindow()
    hands.wait(hands.window.isActiveWindow)


def does(hands, words):
    """Anything without a key of its own is found by its words."""
    hands.keys(KEY.Key_K, mods=CTRL)
    hands.keys(words, KEY.Key_Return)


def prints_what_changed(hands, path):
    hands.keys(KEY.Key_P, mods=CTRL)
    paper = hands.window.slips.paper
    hands.wait(paper.choices.changed_only.isVisible)
    hands.tab_to(paper.choices.changed_only)
    hands.keys(KEY.Key_Space)
    hands.wait(lambda: paper.counted is not None)
    hands.tab_to(paper.save_button)
    paper.dialog = None
    hands.keys(KEY.Key_Space)
    names_the_file(hands, paper, path)
    hands.wait(lambda: len(hands.job.prints) == 2)


def keeps_her_in_the_book(hands):
    hands.keys(KEY.Key_S, mods=CTRL)
    assert hands.window.keeper.is_in_book
    hands.keys(KEY.Key_B, mods=CTRL)
    (row,) = (r for r in hands.window.slips.orders.order_rows if r.isVisible())
    hands.type_in(row.due, "12 Dec")
    assert row.order.due.endswith("-12-12")


def quotes(hands, path):
    does(hands, "quote")
    form = hands.window.commands.clients.form
    hands.wait(form.isActiveWindow)
    for line, text in ((form.prices["shell"], "18"), (form.fields["hours"], "6")):
        hands.tab_to(line)
        hands.keys(text)
    hands.tab_to(form.ask)
    hands.keys(KEY.Key_Space)
    hands.tab_to(form.on)
    hands.keys(KEY.Key_Space)
    names_the_file(hands, hands.window.files, path)
    with pymupdf.open(path) as document:
        assert "Clara Winterbourne" in document[0].get_text()


def backs_up(hands, path):
    does(hands, "back up")
    names_the_file(hands, hands.window.files, path)
    assert path.read_bytes().startswith(b"SQLite")


def deletes_her(hands):
    line, book = hands.window.line, hands.window.bookkeeping
    does(hands, "delete the client")
    comes_back(hands)
    hands.wait(lambda: "Nothing can bring her back" in line.words.text())
    for _ in range(MOST_TABS):
        if QApplication.focusWidget() in line.buttons:
            break
        hands.keys(KEY.Key_F6)
    hands.tab_to(line.buttons[1])
    hands.keys(KEY.Key_Space)
    hands.wait(lambda: "is deleted" in line.words.text())
    assert not book.book.clients()
    assert hands.job.card.name != "Clara Winterbourne"


def reads_how_it_is_sewn(hands):
    hands.keys(KEY.Key_F7)
    sew = hands.window.slips.sew
    hands.wait(lambda: sew.making is not None)
    hands.wait(lambda: "Clara Winterbourne" in sew.browser.toPlainText())
    hands.tab_to(sew.save_button)


def a_fitting(hands):
    hands.keys(KEY.Key_F2, mods=SHIFT)
    fit = hands.window.slips.fit
    before = hands.window.desk.look.report.finished["hip"]
    hands.choose(fit.what, lambda words: words == "Side seams")
    hands.choose(fit.way, lambda words: words == "take in")
    hands.tab_to(fit.by)
    hands.keys("0.5")
    hands.choose(fit.last, lambda words: "hem" in words)
    hands.tab_to(fit.do)
    hands.keys(KEY.Key_Space)
    assert fit.said.text() == ""
    assert len(fit.back) == 1
    assert hands.window.desk.look.report.finished["hip"] < before - 15


def everything_undone(hands, jobs):
    """Back through all of it, past each state on the way; what was printed stays."""
    left, prints = list(jobs), hands.job.prints
    for _ in range(40):
        if not left:
            break
        bare = hands.job.replace(prints=())
        if bare == left[-1]:
            left.pop()
            continue
        hands.keys(KEY.Key_Z, mods=CTRL)
    assert not left
    assert hands.job.prints == prints

"""Canaries of what Qt does, and the guard over every override."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import subprocess
import sys

from PySide6.QtCore import QObject, QSize
from PySide6.QtGui import QAccessibleInterface, QImage, QPainter, QPainterPath
from PySide6.QtWidgets import QLabel, QWidget

import skirtwright.app
from skirtwright.app.guard import GUARDED, guarded, report


def app_classes():
    for info in pkgutil.walk_packages(skirtwright.app.__path__, "skirtwright.app."):
        module = importlib.import_module(info.name)
        for _, kind in inspect.getmembers(module, inspect.isclass):
            if kind.__module__ == info.name:
                yield kind


def overrides(kind: type) -> list[str]:
    """Methods of a class of ours that Qt knows by the same name."""
    above = [k for k in kind.__mro__[1:] if k.__module__.startswith("PySide6")]
    return [
        name
        for name, member in vars(kind).items()
        if inspect.isfunction(member)
        and not name.startswith("__")
        and any(name in vars(base) for base in above)
    ]


def test_every_override_stands_behind_the_guard():
    bare = [
        f"{kind.__module__}.{kind.__qualname__}.{name}"
        for kind in app_classes()
        for name in overrides(kind)
        if not getattr(vars(kind)[name], GUARDED, False)
    ]
    assert bare == []


def test_the_guard_finds_overrides_at_all():
    from skirtwright.app.canvas.accessible import PullInterface
    from skirtwright.app.canvas.table import Table

    assert "mousePressEvent" in overrides(Table)
    assert "role" in overrides(PullInterface)


def test_a_guarded_method_gives_its_stand_in_and_tells(monkeypatch):
    told = []
    monkeypatch.setattr(sys, "excepthook", lambda *what: told.append(what))

    class Thing:
        @guarded(list)
        def many(self):
            raise RuntimeError("many")

        @guarded(7)
        def one(self):
            raise ValueError("one")

        @guarded()
        def fine(self, value, *, more):
            return value + more

    thing = Thing()
    assert thing.many() == []
    assert thing.one() == 7
    assert thing.fine(1, more=2) == 3
    assert [kind for kind, _, _ in told] == [RuntimeError, ValueError]


def test_a_hook_that_fails_is_told_too(monkeypatch, capsys):
    def fails(*_):
        raise OSError("no hook")

    monkeypatch.setattr(sys, "excepthook", fails)
    report(ValueError("first"))
    said = capsys.readouterr().err
    assert "first" in said
    assert "no hook" in said


RAISING = """
import sys
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from skirtwright.app.canvas.table import Table
from skirtwright.app.look import LIGHT
from skirtwright.draft.styles import style
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
told = []
sys.excepthook = lambda kind, trouble, where: told.append(kind.__name__)
app = QApplication([])
look = Worktable().look(new_job(style("mermaid")))
class Broken:
    def __getattr__(self, name):
        raise RuntimeError(name)
def break_it(attribute):
    table = Table(LIGHT)
    table.show_look(look)
    table.show()
    app.processEvents()
    assert not told, told
    whole = getattr(table, attribute)
    setattr(table, attribute, Broken())
    table.repaint()
    table.sizeHint()
    QTest.keyClick(table, Qt.Key.Key_Right)
    QTest.mouseClick(table, Qt.MouseButton.LeftButton)
    QTest.keyClick(table, Qt.Key.Key_Tab)
    QAccessible.setActive(True)
    tree = QAccessible.queryAccessibleInterface(table)
    for number in range(tree.childCount()):
        child = tree.child(number)
        if child:
            child.role(), child.text(QAccessible.Text.Value)
            child.rect(), child.state()
    table.resize(300, 300)
    app.processEvents()
    assert "RuntimeError" in told, (attribute, told)
    setattr(table, attribute, whole)
    table.close()
    app.processEvents()
    told.clear()
for attribute in ("scene", "brushes", "_hands", "points", "signs"):
    print("alive without", attribute, flush=True)
    break_it(attribute)
"""


def test_the_program_lives_when_its_insides_break():
    done = subprocess.run(
        [sys.executable, "-X", "faulthandler", "-c", RAISING],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0, done.stdout + done.stderr[-2000:]
    assert done.stdout.count("alive") == 5


def test_a_raising_size_hint_behind_the_guard(qtbot, monkeypatch):
    told = []
    monkeypatch.setattr(sys, "excepthook", lambda *what: told.append(what))

    class Odd(QWidget):
        @guarded(lambda: QSize(1, 1))
        def sizeHint(self):
            raise RuntimeError

        @guarded()
        def paintEvent(self, _):
            with QPainter(self) as painter:
                painter.drawLine(0, 0, 1, 1)
                raise RuntimeError

    odd = Odd()
    qtbot.addWidget(odd)
    odd.show()
    qtbot.waitExposed(odd)
    odd.repaint()
    assert QWidget.sizeHint(odd) is not None
    assert odd.sizeHint() == QSize(1, 1)
    assert len(told) >= 2


def falls(call) -> int:
    """By how much the count of references to None falls over 200 calls."""
    before = sys.getrefcount(None)
    for _ in range(200):
        call()
    return before - sys.getrefcount(None)


def test_none_keeps_its_references(qtbot):
    """PySide6 6.12.0 on Python 3.11 loses one with nearly every call, and aborts."""
    label = QLabel()
    qtbot.addWidget(label)
    assert falls(lambda: label.setText("x")) <= 50
    image = QImage(50, 50, QImage.Format.Format_RGB32)
    path = QPainterPath()
    assert falls(lambda: path.lineTo(3, 4)) <= 50
    assert falls(lambda: path.cubicTo(1, 2, 3, 4, 5, 6)) <= 50
    with QPainter(image) as painter:
        assert falls(lambda: painter.drawPath(path)) <= 50
        assert falls(lambda: painter.setPen("red")) <= 50
    assert falls(label.update) <= 50


def test_twenty_thousand_texts(qtbot):
    label = QLabel()
    qtbot.addWidget(label)
    for number in range(20_000):
        label.setText(str(number % 7))
    assert label.text() == str(19_999 % 7)
    assert isinstance(label, QObject)
    assert QAccessibleInterface is not None

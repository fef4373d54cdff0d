"""Widgets under one another, or beside one another."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QBoxLayout,
    QGridLayout,
    QHBoxLayout,
    QLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

Part = (
    QWidget
    | QLayout
    | int
    | tuple[QWidget, int]
    | tuple[QWidget, int, Qt.AlignmentFlag]
)
"""A widget, with its stretch and where it lies in its room; a layout; or, as a number,
the stretch of empty room."""

_Box = TypeVar("_Box", bound=QBoxLayout)


def in_column(
    *parts: Part,
    on: QWidget | None = None,
    spacing: int = -1,
    margins: tuple[int, int, int, int] | None = (0, 0, 0, 0),
) -> QVBoxLayout:
    """Parts under one another.

    Args:
        on: the widget they lie in; None where the layout goes into another.
        spacing: between them, px; -1 for what the style has.
        margins: left, top, right and bottom, px; None for what the style has.
    """
    box = QVBoxLayout() if on is None else QVBoxLayout(on)
    return _filled(box, parts, spacing, margins)


def in_row(
    *parts: Part,
    on: QWidget | None = None,
    spacing: int = -1,
    margins: tuple[int, int, int, int] | None = (0, 0, 0, 0),
) -> QHBoxLayout:
    """Parts beside one another; as `in_column`."""
    box = QHBoxLayout() if on is None else QHBoxLayout(on)
    return _filled(box, parts, spacing, margins)


def in_grid(
    on: QWidget, margins: tuple[int, int, int, int], across: int = -1, down: int = -1
) -> QGridLayout:
    """An empty grid, with room between its columns and its rows; as `in_column`."""
    grid = QGridLayout(on)
    grid.setContentsMargins(*margins)
    grid.setHorizontalSpacing(across)
    grid.setVerticalSpacing(down)
    return grid


def _filled(
    box: _Box,
    parts: tuple[Part, ...],
    spacing: int,
    margins: tuple[int, int, int, int] | None,
) -> _Box:
    if margins is not None:
        box.setContentsMargins(*margins)
    box.setSpacing(spacing)
    for part in parts:
        if isinstance(part, int):
            box.addStretch(part)
        elif isinstance(part, QLayout):
            box.addLayout(part)
        elif isinstance(part, tuple):
            box.addWidget(*part)
        else:
            box.addWidget(part)
    return box


def reading_order(layout: QLayout | None) -> Iterator[QWidget]:
    """What takes the keyboard, as it lies: in a grid as it was put there."""
    items = map(layout.itemAt, range(layout.count())) if layout is not None else ()
    for item in filter(None, items):
        widget = item.widget()
        if isinstance(widget, QScrollArea):
            widget = widget.widget()
        if widget is None:
            yield from reading_order(item.layout())
            continue
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            yield widget
        yield from reading_order(widget.layout())


def tab_as_read(on: QWidget) -> None:
    """Tab goes as she reads, whatever was made last."""
    for one, other in pairwise(reading_order(on.layout())):
        QWidget.setTabOrder(one, other)

"""Contrast of colours: WCAG 2.2, relative luminance."""

from __future__ import annotations

from PySide6.QtGui import QColor


def linear(colour: QColor) -> list[float]:
    parts = (colour.redF(), colour.greenF(), colour.blueF())
    return [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]


def contrast(first: str | int, second: str | int) -> float:
    weights = (0.2126, 0.7152, 0.0722)
    dark, light = sorted(
        (sum(w * c for w, c in zip(weights, linear(QColor(n)), strict=True)) + 0.05)
        for n in (first, second)
    )
    return light / dark

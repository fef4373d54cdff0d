"""A day as she types it, and as it is shown: by the calendar of her language."""

from __future__ import annotations

from PySide6.QtCore import QDate, QLocale, Qt

from skirtwright.problems import BadInput

_SHOWN = "d MMM yyyy"
_BRITISH = ("d/M/yyyy", "d/M/yy", "d/M")
_AMERICAN = ("M/d/yyyy", "M/d/yy", "M/d", "MMM d yyyy", "MMMM d yyyy", "MMM d")
_ANYWHERE = (
    "yyyy-MM-dd",
    "d.M.yyyy",
    "d.M.yy",
    "d.M.",
    "d.M",
    "d MMM yyyy",
    "d MMMM yyyy",
    "d MMM",
    "d MMMM",
)
_CENTURY = 2000


def shown_day(day: str, language: str) -> str:
    """A day, YYYY-MM-DD, in words; nothing for nothing."""
    date = QDate.fromString(day, Qt.DateFormat.ISODate)
    return QLocale(language).toString(date, _SHOWN) if date.isValid() else day


def typed_day(text: str, language: str, today: str) -> str:
    """A day as typed, as YYYY-MM-DD; nothing for nothing.

    One without a year is the next of that name.

    Raises:
        BadInput: it is no day.
    """
    plain = " ".join(text.replace(",", " ").split())
    if not plain:
        return ""
    locale = QLocale(language)
    slashed = _AMERICAN if language == "en_US" else _BRITISH
    now = QDate.fromString(today, Qt.DateFormat.ISODate)
    for form in (*_ANYWHERE, *slashed):
        if "y" in form:
            date = locale.toDate(plain, form, _CENTURY)
        else:
            date = locale.toDate(f"{plain} {now.year()}", f"{form} yyyy")
            if date.isValid() and date < now:
                date = locale.toDate(f"{plain} {now.year() + 1}", f"{form} yyyy")
        if date.isValid():
            return str(date.toString(Qt.DateFormat.ISODate))
    raise BadInput("field.not_a_day", text, text=text)

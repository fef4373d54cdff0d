"""Every word a person reads: message ids and values into sentences.

The catalogues are ordinary gettext ones in resources/words. A message id says what it
is for: `problem.<code>` what happened, `remedy.<code>` what would do, `label.…`,
`step.…`, `kind.…`. Text from a style's own data is its own id, in British English.

A sentence names its values in braces with how each is shown:
    {depth:length}    mm, shown in her unit, with the unit
    {opening:length.2}  the same with up to two decimals (not in inches)
    {by:fine}         a length as finely as it is entered: to a tenth of a millimetre or
                      a sixteenth of an inch
    {mm30:length}     30 mm, a length the sentence itself says
    {most:at_most}    the same rounded down, to a millimetre or the fraction of an inch
    {miss:difference}   by how much two lengths differ, without a sign; a sentence with
                        one of under half a millimetre is not worth saying
    {up:difference(over,below,level with)}  the same with a word for its sign behind
                        it, or the third word alone: "2 cm below", "level with"
    {turn:angle}      degrees
    {count:count}     a whole number
    {share:number}    a plain number, up to two decimals
    {share:percent}   a share as a percentage
    {found:word}      a message id, said
    {label:text}      text of a style or a table, translated
    {says:within}     the same within another sentence: its first letter is small
    {options:list}    several, with commas
    {nearest:near}    the known name it is like, in half a sentence; nothing for none
    {name}            as it is

Signs that move a terminal's cursor or turn text round never reach a sentence, and no
text that a problem quotes is longer than 80 characters.
"""

from __future__ import annotations

import gettext
import math
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from string import Formatter
from typing import Any, Self

from skirtwright import shelf
from skirtwright.budget import LONGEST_QUOTED
from skirtwright.measures.units import MM_PER, Unit, show_length, show_number
from skirtwright.problems import FileTrouble, Problem

BRITISH = "en_GB"

_MOST_DECIMALS = 6

_FINE = 16
"""Of an inch: so fine is what is pinned."""

ALIKE = 0.5
"""Lengths that differ by less, mm, are alike: nobody is told of it."""

_DIFFERENCE = re.compile(
    r"difference(?:\.(?P<digits>\d))?"
    r"(?:\((?P<more>[^,()]*),(?P<less>[^,()]*),(?P<alike>[^,()]*)\))?"
)

_WRITTEN = re.compile(r"mm([0-9]{1,4})")

_JOINERS = "\u200c\u200d\u00ad"
"""Signs inside words, which some scripts cannot be written without."""

_WHOLE = frozenset({"folder", "known", "path"})
"""Values of a problem that are told whole."""

_MOST_NAMED = 20
"""Of several names in one sentence."""


@dataclass(frozen=True)
class Manner:
    """How she is spoken to.

    Attributes:
        unit: the unit lengths are shown in.
        fraction: the denominator inches are rounded to.
        language: a catalogue's name; words it lacks are said in British English.
    """

    unit: Unit = "cm"
    fraction: int = 8
    language: str = BRITISH


class Sayable:
    """What is put into words only when it is known to whom; see `said`."""

    def said(self, manner: Manner) -> str:
        """It in her language and unit."""
        raise NotImplementedError


@dataclass(frozen=True)
class Phrase(Sayable):
    """Part of a sentence: a message id and its values, not in any language yet."""

    message: str
    values: Mapping[str, Any] = field(default_factory=dict)

    def said(self, manner: Manner) -> str:
        """The phrase in her language and unit."""
        return say(self.message, self.values, manner)


@dataclass(frozen=True)
class Several(Sayable):
    """Phrases one after another: the last after an "and", or with semicolons between.

    Semicolons are used where one of the parts has a comma or an "and" of its own.
    """

    parts: tuple[Sayable, ...]

    def said(self, manner: Manner) -> str:
        """All of them, each once."""
        parts = list(dict.fromkeys(part.said(manner) for part in self.parts))
        if len(parts) < 2:
            return "".join(parts)
        joined = _look_up("words.and", manner.language)
        if any("," in part or f" {joined} " in part for part in parts):
            return "; ".join(parts)
        return f"{', '.join(parts[:-1])} {joined} {parts[-1]}"


@dataclass(frozen=True)
class Left(Sayable):
    """What is left of a length when another is taken from it, so that figures add up.

    Both are rounded as they are told before the one is taken from the other.

    Attributes:
        whole, taken: mm.
    """

    whole: float
    taken: float

    def said(self, manner: Manner) -> str:
        """The length in her unit."""
        told = [_as_told(length, manner) for length in (self.whole, self.taken)]
        return _Sentences(manner).format_field(told[0] - told[1], "length")


@dataclass(frozen=True)
class BothSides:
    """A value that the left and the right half of the skirt have each their own of.

    It is shown as the sentence shows the one, twice; once where that comes out alike.
    """

    left: Any
    right: Any


class Composed(str, Sayable):
    """A title made of a message and its values.

    As text it is British, like a style's own titles; `translate` and every sentence
    that names it say it in her language.
    """

    __slots__ = ("phrase",)

    phrase: Phrase

    def __new__(cls, message: str, values: Mapping[str, Any]) -> Self:
        """The title of a message id and its values."""
        made = super().__new__(cls, say(message, values))
        made.phrase = Phrase(message, values)
        return made

    def said(self, manner: Manner) -> str:
        """The title in her language and unit."""
        return self.phrase.said(manner)

    def is_of(self, *messages: str) -> bool:
        """Whether it is made of one of some messages."""
        return self.phrase.message in messages


def say(
    message_id: str,
    values: Mapping[str, Any] | None = None,
    manner: Manner = Manner(),
) -> str:
    """The sentence of a message id with its values put in.

    An id without a sentence gives the id and the values: never nothing. Tests see to
    it that every id in use has one.
    """
    known = values or {}
    sentence = _look_up(message_id, manner.language)
    if sentence == message_id:
        listed = ", ".join(f"{name} {value}" for name, value in known.items())
        return f"{message_id} ({listed})" if listed else message_id
    return _Sentences(manner).vformat(sentence, (), known)


def translate(text: str, manner: Manner = Manner()) -> str:
    """Text of a style's data in her language; as it is when there is no other."""
    if isinstance(text, Sayable):
        return text.said(manner)
    return _look_up(text, manner.language)


def fill(
    text: str,
    values: Mapping[str, Any],
    manner: Manner = Manner(),
) -> str:
    """A style's own sentence translated, with its values put in.

    Where its braces cannot be read it is said as it stands.
    """
    sentence = plain(translate(text, manner))
    try:
        return _Sentences(manner).vformat(sentence, (), values)
    except ValueError:
        return sentence


def says(problem: Problem, manner: Manner = Manner()) -> str:
    """What happened: the problem's own sentence, or the catalogue's.

    Where its values say `of` what it is, such as an amount, that stands before it.
    """
    values = _quoted(problem)
    if problem.says is not None:
        return fill(problem.says, values, manner)
    said = say(f"problem.{problem.code}", values, manner)
    if "of" in values:
        begun = {"of": values["of"], "said": within(said)}
        return say("words.of", begun, manner)
    return said


def remedy(problem: Problem, manner: Manner = Manner()) -> str:
    """What would do; empty when nothing needs doing."""
    values = _quoted(problem)
    if problem.remedy is not None:
        return fill(problem.remedy, values, manner)
    if problem.says is not None or not has_message(f"remedy.{problem.code}"):
        return ""
    return say(f"remedy.{problem.code}", values, manner)


def is_noticeable(problem: Problem) -> bool:
    """False for a note or caution about a difference nobody would see."""
    if problem.severity == "wrong":
        return True
    if problem.says is not None:
        sentence = translate(problem.says, Manner())
    else:
        sentence = _look_up(f"problem.{problem.code}", BRITISH)
    return not any(
        _is_bare_difference(how) and _is_alike(problem.values.get(name))
        for name, how in _braces(sentence)
    )


def _braces(sentence: str) -> list[tuple[str, str | None]]:
    """What a sentence names and how; nothing where a stranger's cannot be read."""
    try:
        return [(n, how) for _, n, how, _ in Formatter().parse(sentence) if n]
    except ValueError:
        return []


def _is_alike(value: Any) -> bool:
    return isinstance(value, int | float) and abs(value) < ALIKE


def _is_bare_difference(how: str | None) -> bool:
    found = _DIFFERENCE.fullmatch(how or "")
    return found is not None and found["more"] is None


def _quoted(problem: Problem) -> dict[str, Any]:
    """The values of its sentences, no text longer than is quoted; a path is whole."""
    values = {"where": _plain(problem.where), **problem.values}
    return {
        name: _cut(value) if isinstance(value, str) and name not in _WHOLE else value
        for name, value in values.items()
    }


def _cut(text: str) -> str:
    if len(text) <= LONGEST_QUOTED:
        return text
    return f"{text[: LONGEST_QUOTED - 1]}…"


def plain(text: str) -> str:
    """A text without signs that move a cursor, end a line or turn text round."""
    if text.isascii() and text.isprintable():
        return text
    for letter in set(text):  # Of a long text by far the most are alike.
        if _is_sign(letter):
            text = text.replace(letter, "\ufffd")
    return text


def _is_sign(letter: str) -> bool:
    """A control, half a letter, a line's end, or a sign of the direction of text."""
    sort = unicodedata.category(letter)
    if sort in ("Cc", "Cs", "Zl", "Zp"):
        return True
    return sort == "Cf" and letter not in _JOINERS


def _plain(where: str) -> str:
    """A place in a draft as a person reads it: the last of its path, in words."""
    return where.rstrip("/").rpartition("/")[2].replace("_", " ")


def in_two_sentences(problem: Problem, manner: Manner = Manner()) -> str:
    """What happened and what would do, one after the other."""
    return " ".join(filter(None, (says(problem, manner), remedy(problem, manner))))


def in_one_sentence(
    problem: Problem,
    manner: Manner = Manner(),
) -> str:
    """What happened and what would do, joined: for one line of a terminal."""
    happened, would_do = says(problem, manner), remedy(problem, manner)
    if not would_do:
        return happened
    return f"{happened.rstrip('.')}; {within(would_do)}"


def within(sentence: str) -> str:
    """A sentence that goes on after a colon or a semicolon: not one of capitals."""
    is_word = sentence[1:2].islower() or sentence[1:2] == " "
    return sentence[:1].lower() + sentence[1:] if is_word else sentence


def languages() -> tuple[str, ...]:
    """The names of the catalogues there are, the one that has every sentence first."""
    return tuple(sorted(shelf.names("words", ".po"), key=lambda name: name != BRITISH))


def has_message(message_id: str) -> bool:
    """Whether the British catalogue, which has every sentence, has this one."""
    return _look_up(message_id, BRITISH) != message_id


def _look_up(text: str, language: str) -> str:
    # The empty id is where a catalogue keeps its own heading.
    return _catalogue(language).gettext(text) if text else ""


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    folder = shelf.path("words")
    try:
        british = gettext.translation("skirtwright", folder, [BRITISH])
    except FileNotFoundError as missing:
        raise FileTrouble(
            "words.catalogue_missing", str(folder), folder=str(folder)
        ) from missing
    if language == BRITISH:
        return british
    spoken = gettext.translation("skirtwright", folder, [language], fallback=True)
    spoken.add_fallback(british)
    return spoken


def _as_told(length: float, manner: Manner) -> float:
    """A length rounded as sentences tell it, mm."""
    if manner.unit == "in":
        step = MM_PER["in"] / manner.fraction
        return math.floor(length / step + 0.5) * step
    return float(show_length(length, manner.unit)) * MM_PER[manner.unit]


def _decimals(digits: str) -> int | None:
    """How many decimals a sentence asks for, which may be a stranger's."""
    return min(int(digits[:2]), _MOST_DECIMALS) if digits.isdecimal() else None


class _Sentences(Formatter):
    """Braces filled in her manner; plain names only, and nothing is ever missing."""

    def __init__(self, manner: Manner) -> None:
        self.manner = manner

    def get_field(
        self, field_name: str, _: Sequence[Any], kwargs: Mapping[str, Any]
    ) -> tuple[Any, str]:
        # No attributes, no items: a style's text may come from a stranger.
        if field_name in kwargs:
            return kwargs[field_name], field_name
        written = _WRITTEN.fullmatch(field_name)
        return float(written[1]) if written else "?", field_name

    def check_unused_args(self, *_: Any) -> None:
        """A sentence need not use every value."""

    def convert_field(self, value: Any, _: str | None) -> Any:
        return value

    def format_field(self, value: Any, format_spec: str) -> str:
        how, _, digits = format_spec.partition(".")
        if isinstance(value, Sayable):
            return value.said(self.manner)
        if isinstance(value, BothSides):
            return self._both(value, format_spec)
        if how == "list" and not isinstance(value, str):
            return self._list(list(value))
        if how == "near":
            return say("words.near", {"name": value}, self.manner) if value else ""
        if how == "word":
            return say(str(value), {}, self.manner)
        if how in ("text", "within"):
            told = plain(translate(str(value), self.manner))
            return told if how == "text" else within(told)
        if isinstance(value, bool) or not isinstance(value, int | float):
            return plain(str(value))
        if not math.isfinite(value):
            return "?"
        if difference := _DIFFERENCE.fullmatch(format_spec):
            return self._difference(value, difference)
        return self._number(value, how, _decimals(digits))

    def _both(self, value: BothSides, format_spec: str) -> str:
        left = self.format_field(value.left, format_spec)
        right = self.format_field(value.right, format_spec)
        if left == right:
            return left
        message = "words.both" if isinstance(value.left, str) else "words.both_sides"
        return say(message, {"left": left, "right": right}, self.manner)

    def _difference(self, value: float, how: re.Match[str]) -> str:
        by = self._number(abs(value), "length", _decimals(how["digits"] or ""))
        if how["more"] is None:
            return by
        if abs(value) < ALIKE:
            return how["alike"]
        return f"{by} {how['more' if value > 0 else 'less']}".rstrip()

    def _list(self, values: list[Any]) -> str:
        more = ["…"] if len(values) > _MOST_NAMED else []
        return ", ".join(
            [*(self.format_field(each, "") for each in values[:_MOST_NAMED]), *more]
        )

    def _number(self, value: float, how: str, digits: int | None) -> str:
        if how in ("length", "at_most", "fine"):
            unit = self.manner.unit
            if how == "at_most":
                step = 25.4 / self.manner.fraction if unit == "in" else 1.0
                value = math.floor(value / step + ALIKE / 100) * step
            fraction = self.manner.fraction if unit == "in" else None
            if how == "fine":
                digits, fraction = 2, fraction and max(fraction, _FINE)
            return show_length(value, unit, fraction, digits=digits, with_unit=True)
        if how == "angle":
            return f"{show_number(value, 1 if digits is None else digits)}°"
        if how == "count":
            return show_number(value, 0)
        if how == "percent":
            return f"{show_number(value * 100, digits or 0)} %"
        return show_number(value, 2 if digits is None else digits)

"""Sentences: every problem has one, and values are shown in her manner."""

from __future__ import annotations

import ast
import json
import re
import runpy
import unicodedata
from functools import cache
from pathlib import Path
from string import Formatter
from types import SimpleNamespace

import pytest
from babel.messages.pofile import read_po

from skirtwright import words
from skirtwright.export.true_size import WRITERS
from skirtwright.problems import Problem

ROOT = Path(__file__).parents[1]
CATALOGUE = ROOT / "resources/words/en_GB.po"
FAMILY = {"BadInput", "Refused", "NotFound", "FileTrouble", "Problem"}
CODE = re.compile(r"[a-z]+(?:_[a-z]+)*\.[a-z0-9]+(?:_[a-z0-9]+)*")
FILE_ENDINGS = re.compile(r"\.(json|toml|py|po|mo|svg|pdf|dxf|skirt|ttf|lark)$")
INCHES = words.Manner(unit="in")
AMERICAN = words.Manner(language="en_US")


@cache
def catalogue() -> dict[str, str]:
    with CATALOGUE.open("rb") as text:
        return {str(m.id): str(m.string) for m in read_po(text) if m.id}


def constants_of(call: ast.Call) -> list[str]:
    given = [*call.args, *(word.value for word in call.keywords)]
    found = [node.value for node in given if isinstance(node, ast.Constant)]
    return [text for text in found if isinstance(text, str)]


def family_code(node: ast.AST) -> str | None:
    """The code where a member of the error family, or a Problem, is made."""
    if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
        return None
    texts = constants_of(node)
    if node.func.id not in FAMILY or not texts or not CODE.fullmatch(texts[0]):
        return None
    return texts[0]


def loose_code(node: ast.AST) -> str | None:
    """A string that looks like a code and is not a message id of its own."""
    if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
        return None
    text = node.value
    if not CODE.fullmatch(text) or FILE_ENDINGS.search(text) or text in catalogue():
        return None
    return text


@cache
def parsed() -> tuple[ast.AST, ...]:
    """What is called and written in src: read once, for all that look through it."""
    telling = (ast.BinOp, ast.Call, ast.Constant, ast.JoinedStr)
    return tuple(
        node
        for path in sorted((ROOT / "src").rglob("*.py"))
        if path.name != "_workings_parser.py"
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, telling)
    )


def codes_in_source() -> tuple[frozenset[str], frozenset[str]]:
    """Every problem code in src, and those that are only ever notes.

    Codes are handed through small helpers too, so every string with the same first
    word as a code counts as one.
    """
    direct, loose, notes, graver = set(), set(), set(), set()
    for node in parsed():
        loose.add(loose_code(node))
        code = family_code(node)
        if code:
            direct.add(code)
            (notes if "note" in constants_of(node) else graver).add(code)
    subjects = {code.split(".")[0] for code in direct}
    codes = {code for code in loose - {None} if code.split(".")[0] in subjects}
    return frozenset(codes | direct), frozenset(notes - graver)


def test_every_code_has_its_sentence_and_its_remedy() -> None:
    """What happened, and (but for notes) what would do."""
    codes, notes = codes_in_source()
    assert len(codes) > 50
    wanted = {f"problem.{code}" for code in codes}
    wanted |= {f"remedy.{code}" for code in codes - notes}
    wanted |= {f"files.kind{suffix}" for suffix in WRITERS}
    missing = sorted(wanted - set(catalogue()))
    assert not missing, "not in resources/words/en_GB.po: " + ", ".join(missing)


@pytest.mark.parametrize("name", words.languages())
def test_catalogues_are_sorted_and_say_nothing_twice(name: str) -> None:
    text = (CATALOGUE.parent / f"{name}.po").read_text("utf-8")
    ids = re.findall(r'^msgid "(.+)"$', text, re.MULTILINE)
    assert ids == sorted(set(ids))


def test_sentences_are_sentences() -> None:
    """Ended, not blaming, with formats that exist."""
    shown = {
        "",
        "length",
        "fine",
        "at_most",
        "angle",
        "count",
        "number",
        "percent",
        "difference",
        "word",
        "text",
        "list",
        "near",
        "within",
    }
    for message_id, sentence in catalogue().items():
        for _, name, how, _ in Formatter().parse(sentence):
            assert name is None or name.isidentifier(), message_id
            assert not how or re.split("[.(]", how)[0] in shown, message_id
        if message_id.startswith(("problem.", "remedy.")):
            assert sentence.endswith("."), message_id
        assert not re.search(r"(?i)\b(please|invalid|illegal|error)\b", sentence)


def test_values_are_shown_in_her_manner() -> None:
    problem = Problem(
        "draft.sample",
        where="front",
        values={
            "largest": 74.0,
            "turn": 14.66,
            "n": 2.0,
            "share": 1 / 3,
            "a": ["b", 1],
        },
        says="{where}: {largest:length}, {turn:angle}, {n:count}, {share:number}, "
        "{share:percent}, {a:list}, {lost:length}",
        remedy="At most {largest:length}.",
    )
    assert words.says(problem) == "front: 7.4 cm, 14.7°, 2, 0.33, 33 %, b, 1, ?"
    assert words.remedy(problem, INCHES) == "At most 2 7/8 in."
    assert words.in_one_sentence(problem).endswith("?; at most 7.4 cm.")


def test_lengths_with_more_digits_and_without_sense() -> None:
    problem = Problem("x.y", values={"a": 3.14159, "b": float("inf")})
    template = "{a:length.2} {b:length}"
    assert words.fill(template, problem.values) == "0.31 cm ?"


def test_templates_cannot_reach_into_values() -> None:
    assert words.fill("{a.__class__} {a[0]} {a!r}", {"a": "abc"}) == "? ? abc"


def test_an_unknown_id_is_said_clearly() -> None:
    assert words.say("problem.no.such", {"depth": 3}) == "problem.no.such (depth 3)"
    assert not words.has_message("problem.no.such")
    assert words.translate("") == ""


def test_american_words_fall_back_on_british() -> None:
    assert words.translate("Upper hip") == "Upper hip"
    assert words.translate("Upper hip", AMERICAN) == "High hip"
    assert words.say("kind.length", manner=AMERICAN) == "a length"
    assert words.say("kind.length", manner=words.Manner(language="xx")) == "a length"


@pytest.mark.parametrize("sign", ["\n", "\t", "\u202e", "\ud800"])
def test_a_long_text_is_made_plain_at_once(sign):
    """A letter is looked at once, however often it stands there."""
    looked: list[str] = []

    def category(letter: str) -> str:
        looked.append(letter)
        return unicodedata.category(letter)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(words, "unicodedata", SimpleNamespace(category=category))
        assert words.plain(sign * 100_000 + "é") == "\ufffd" * 100_000 + "é"
    assert sorted(looked) == sorted([sign, "é"])


def test_a_length_a_sentence_says_itself_is_in_her_unit():
    """No sentence says centimetres to someone who reads inches."""
    assert words.say("remedy.check.waist_close") == (
        "Between 1 cm and 3 cm of waist ease is usual."
    )
    assert words.say("remedy.check.waist_close", manner=INCHES) == (
        "Between 3/8 in and 1 1/8 in of waist ease is usual."
    )
    written = re.compile(r"[0-9] cm\b")
    fixed = [text for text in catalogue().values() if written.search(text)]
    assert [text for text in fixed if " in" not in text and "1/8" not in text] == []
    said = re.compile(rf'"(?:says|remedy)": "[^"]*{written.pattern}')
    parts = [*(ROOT / "resources").rglob("*.json")]
    assert [p.name for p in parts if said.search(p.read_text("utf-8"))] == []


def american():
    """The tool that writes American entries, as a module."""
    return SimpleNamespace(**runpy.run_path(str(ROOT / "packaging/american_words.py")))


def test_no_american_text_has_a_british_word() -> None:
    """In the catalogue and in every style, finishing, alteration and measurement.

    An entry of its own says what would not be made of the British text.
    """
    tool = american()
    british = dict(tool.texts(ROOT))
    assert len(british) > 1500
    ids = {name: json.loads(f'"{name}"') for name in british}
    read = {name: words.translate(known, AMERICAN) for name, known in ids.items()}
    assert [name for name, text in read.items() if tool.is_british(text)] == []
    own = tool.entries(ROOT / "resources" / "words" / "en_US.po")
    assert [n for n in own if n and own[n] == tool.in_american(british[n])] == []


def test_british_words_are_found_and_exchanged_outside_braces() -> None:
    tool = american()
    assert tool.is_british("Centre back, zips and Toiles")
    assert tool.in_american("Centre back, cloth and zips: {zip:length}") == (
        "Center back, fabric and zippers: {zip:length}"
    )
    assert not tool.is_british("Draw an arc round {centre}; attach the zipper.")
    assert words.translate("Centre back", AMERICAN) == "Center back"


def _messages_named() -> tuple[set[str], re.Pattern[str]]:
    """Strings that may name a message, in code and data, and those put together."""
    whole: set[str] = set()
    begun = []
    for node in parsed():
        match node:
            case ast.Constant(value=str(text)):
                whole.add(text)
            case ast.JoinedStr(values=[ast.Constant(value=str(text)), *_]):
                begun.append(text)
            case ast.BinOp(left=ast.Constant(value=str(text))):
                begun.append(text)
    for path in (ROOT / "resources").rglob("*.json"):
        if path.parent.name != "schemas":
            whole |= set(re.findall(r'"([^"]+)"', path.read_text("utf-8")))
    begun = [text for text in begun if re.fullmatch(r"[a-z_]+\.[a-z_.]*", text)]
    return whole, re.compile("|".join(map(re.escape, begun)))


def test_every_message_is_said_somewhere() -> None:
    """No sentence is kept, and put into other languages, that nothing says."""
    whole, begun = _messages_named()
    whole |= {f"check.{name}" for name in whole}
    unsaid = []
    for message in catalogue():
        code = re.sub(r"^(problem|remedy)\.|\.(one|many)$", "", message)
        names = {message, code, re.sub(r"_[a-z]+$", "", message)}
        is_id = re.fullmatch(r"[a-z0-9_]+(\.[A-Za-z0-9_]+)+", message)
        if is_id and not names & whole and not any(map(begun.match, names)):
            unsaid.append(message)
    assert unsaid == []

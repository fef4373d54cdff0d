"""Hostile input made by chance, and what must hold of every answer to it.

Each try hangs on the name of a reader or verb and a number alone, so that one that
fails can be repeated: `python tests/bench/bench_fuzz.py --only order --seed 123`.
"""

from __future__ import annotations

import contextlib
import copy
import io
import json
import random
import unicodedata
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import bombs
from skirtwright.cli import main
from skirtwright.draft import styles
from skirtwright.draft.kinds import ALL
from skirtwright.export import printing
from skirtwright.export.correction import put_right
from skirtwright.export.print_job import PrintJob
from skirtwright.export.report_json import as_json
from skirtwright.job import allowance_sets, edits, file, habits
from skirtwright.job.changed import changed_since
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.card import read_card, values_of
from skirtwright.measures.measurements import read_measurement
from skirtwright.measures.records import fields_of
from skirtwright.measures.sizes import charts, read_size
from skirtwright.measures.units import read_length, read_number
from skirtwright.measures.working_parsing import (
    parse_condition,
    parse_place,
    parse_working,
)
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, in_one_sentence

Chance = random.Random

LONGEST_SENTENCE = 2_500
"""A sentence about hostile input is cut; a list in it is at most of twenty names."""

NASTY: tuple[Any, ...] = (
    None,
    True,
    False,
    [],
    {},
    [[]],
    {"a": {}},
    "",
    " ",
    "x",
    0,
    -1,
    3,
    1e300,
    -0.0,
    10**14,
    "0",
    "-1",
    "0.0001",
    "1e9",
    "99999",
    "1/0",
    "nan",
    "n" * 300,
    "n" * 30_000,
    "\u202e\x1b[2J",
    "\ud800",
    "{",
    "{0}",
    "{v:length.999999999}",
    "%s",
    "../../x",
    "panel",
    "panel.side",
    "panel.side at share 1/2",
    "panel.hem at mark hip",
    "panel.dart[1].tip",
    "a",
    "hip / 4",
    "hip * hip",
    "waist - hip",
    "1 < 2",
    "i",
    "pi",
    "centre",
    "side",
    "hem",
    ["panel.side"],
    [["panel.side"], []],
    {"side": "0"},
)
"""What stands where something else belongs."""


# Chance


def mutated(value: Any, chance: Chance, times: int) -> Any:
    """A JSON value with so many things in it changed."""
    made = copy.deepcopy(value)
    for _ in range(times):
        holder, key = chance.choice(_places(made))
        _change(made, holder, key, chance)
    return made


def _places(value: Any) -> list[tuple[Any, Any]]:
    found: list[tuple[Any, Any]] = []
    waiting = [value]
    while waiting:
        here = waiting.pop()
        keys = here if isinstance(here, dict) else range(len(here))
        for key in list(keys):
            found.append((here, key))
            if isinstance(here[key], dict | list):
                waiting.append(here[key])
    return found or [([None], 0)]


def _change(whole: Any, holder: Any, key: Any, chance: Chance) -> None:
    way = chance.randrange(8)
    if way == 0:
        del holder[key]
    elif way == 1 and isinstance(holder, dict):
        holder[chance.choice(("x", "", "kind", "n" * 300, str(key)[::-1]))] = holder[
            key
        ]
    elif way == 2 and isinstance(holder, list):
        holder.insert(key, copy.deepcopy(holder[chance.randrange(len(holder))]))
    elif way == 3 and isinstance(holder[key], str):
        holder[key] = scrambled(holder[key], chance)
    elif way == 4:
        other, its_key = chance.choice(_places(whole))
        holder[key] = copy.deepcopy(other[its_key])
    elif way == 5 and isinstance(holder, list):
        holder.insert(key, step_by_chance(chance))
    elif way == 6:
        holder[key] = chance.choice(([holder[key]], {"x": holder[key]}))
    else:
        holder[key] = copy.deepcopy(chance.choice(NASTY))


def scrambled(text: str, chance: Chance) -> str:
    """A text with some of its letters changed, taken out or doubled."""
    letters = list(text)
    for _ in range(chance.randint(1, 3)):
        place = chance.randrange(len(letters) + 1)
        sign = chance.choice("0123456789.,-+*/()[]{} abix_:=<>\"'\\½°\x00\u202e\t\n")
        letters[place : place + chance.randint(0, 2)] = [sign] * chance.randint(0, 3)
    return "".join(letters)


def bytes_by_chance(data: bytes, chance: Chance) -> bytes:
    """Some bytes with a few of them changed, cut off or put in."""
    made = bytearray(data)
    for _ in range(chance.randint(1, 6)):
        place = chance.randrange(len(made) + 1)
        fresh = bytes(chance.randrange(256) for _ in range(chance.randint(0, 4)))
        made[place : place + chance.randint(0, 4)] = fresh
    return bytes(made[: chance.choice((None, None, chance.randrange(len(made) + 1)))])


def step_by_chance(chance: Chance) -> dict[str, Any]:
    """A step of any kind with something in each of its fields."""
    word = chance.choice(sorted(ALL))
    made: dict[str, Any] = {"step": chance.choice(("n", "panel", "a")), "kind": word}
    for name, field in fields_of(ALL[word]).items():
        if name in made or (not field.is_required() and chance.random() < 0.5):
            continue
        made[name] = _field_by_chance(str(field.annotation), chance)
    return made


_FITTING = {
    "Panel": ("panel",),
    "place": ("a", "b", "c", "panel.side middle", "panel.hem at 5", "panel.waist end"),
    "line": ("top", "side", "bottom", "fold", "panel.side", "panel.hem"),
    "text": ("side", "hem", "waist", "centre", "start", "end", "x", "dart[1]", "5"),
    "sum": (
        "0",
        "1",
        "5",
        "-3",
        "0.001",
        "60",
        "hip / 4",
        "walk(panel.side)",
        "90 deg",
    ),
}


def _field_by_chance(annotation: str, chance: Chance) -> Any:
    text = chance.choice([word for words in _FITTING.values() for word in words])
    if "dict" in annotation:
        return {chance.choice(_FITTING["text"]): text}
    if "list[list" in annotation:
        return [[text, chance.choice(_FITTING["place"])]]
    if "list" in annotation:
        return [chance.choice(_FITTING["place"]) for _ in range(chance.randint(0, 3))]
    return text


# Readers


@cache
def orders() -> tuple[Any, ...]:
    """Orders to change: two small ones and two of the shelf."""
    seam = {"name": "side", "sides": [["panel.side"], ["panel.side"]]}
    darts = {
        "step": "darts",
        "kind": "insert_darts",
        "panel": "panel",
        "edge": "waist",
        "count": "1",
        "at": ["10"],
        "width": "2",
        "lengths": ["9"],
    }
    repeat = {"group": "t", "repeat": "2", "steps": [bombs.number("n", "i * 2 cm")]}
    small = bombs.order(more=[darts, repeat], seams=[seam])
    old = {**bombs.order(), "format": 1, "pieces": []}
    shelf = (new_job(styles.style(name)) for name in ("bias-slip", "straight-block"))
    return (
        small,
        small,
        old,
        _printed(small),
        *(json.loads(file.written(job)) for job in shelf),
    )


def _printed(raw: Any) -> Any:
    """An order that was printed on sheets."""
    job = file.read(json.dumps(raw), "order.skirt")
    look, how = Worktable().look(job), printing.Printing()
    tiling = PrintJob(look.report, "", "", how, Manner()).tiling()
    laid = printing.laid_of(tiling, how)
    return json.loads(
        file.written(job.printed("2026-11-28", "sheets", look.pieces, laid))
    )


def _written(value: Any, chance: Chance) -> bytes:
    data = json.dumps(value).encode()
    return bytes_by_chance(data, chance) if chance.random() < 0.1 else data


def try_order(chance: Chance) -> None:
    """An order is read, worked and reported, and written again as it was read."""
    raw = mutated(chance.choice(orders()), chance, chance.choice((1, 1, 1, 2, 4)))
    job = file.read(_written(raw, chance), "order.skirt")
    again = file.written(job)
    assert file.written(file.read(again, "order.skirt")) == again
    look = Worktable().look(job)
    for problem in look.problems:
        _check_sentence(in_one_sentence(problem, Manner(unit="in")))
    json.dumps(as_json(look.report), allow_nan=False)
    for one in job.prints:
        _check_print(job, one, look)


def _check_print(job: Any, one: Any, look: Any) -> None:
    """What changed since a print is told, and can be printed."""
    then = job.as_printed(one)
    if then is None or one.laid is None or not look.drawn:
        return
    before = Worktable().look(then)
    for phrase in changed_since(one, before, look).phrases():
        _check_sentence(phrase.said(Manner(unit="in")))
    as_laid = printing.PrintBefore(before.report, one.laid, one.drawn, one.on)
    how = printing.Printing()
    PrintJob(look.report, "", "", how, Manner(), as_laid).tiling()


def try_style(chance: Chance) -> None:
    """A style file is read."""
    raw = mutated(chance.choice(orders())["draft"], chance, chance.choice((1, 1, 3)))
    styles.read_draft(json.dumps(raw), "style.json")


_CARD = {
    "name": "Ilse Farrow",
    "unit": "cm",
    "notes": "",
    "measurements": {"waist": "74", "hip": 101, "waist_to_hip_left": "8 1/4 in"},
}


def try_card(chance: Chance) -> None:
    """A card is read, and what was measured."""
    raw = mutated(_CARD, chance, chance.choice((1, 1, 3)))
    values_of(read_card(_written(raw, chance), "card.json"))


def try_printers(chance: Chance) -> None:
    """What her printers need is read, and one put right."""
    raw = mutated(
        {"den": {"across": 1.01, "along": 0.99}, "attic": {"across": 1, "along": 1}},
        chance,
        chance.choice((0, 1, 1, 3)),
    )
    read = chance.choice((None, 0.0, -1.0, 99.0, 101.5, 1e300, float("nan")))
    put_right(_written(raw, chance).decode("utf-8", "replace"), "den", read, None)


def try_allowances(chance: Chance) -> None:
    """The file of her sets of allowances is read."""
    raw = {"format": 1, "sets": [{"title": "Hers", "widths": {"hem": "3 cm"}}]}
    place = habits.place("allowances.json")
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(_written(mutated(raw, chance, chance.choice((1, 1, 3))), chance))
    allowance_sets.kept()


def try_size(chance: Chance) -> None:
    """A size of a published chart is looked for."""
    one = chance.choice(charts())
    text = f"{one.id}:{chance.choice(one.names)}"
    read_size(scrambled(text, chance) if chance.random() < 0.8 else text)


_TEXTS = (
    "29 1/8 in",
    "74,5 cm",
    "3/8",
    "24⅜",
    "12 deg",
    "hip / 4 + 1 cm",
    "least(waist, hip) * 2 - 3 1/2",
    "walk(panel.side) if flare is slashed else 0",
    "(waist < hip) and not (1 cm > 2 cm)",
    "panel.hem at share 1/3",
    "tier[i - 1].bottom start",
)


def try_text(chance: Chance) -> None:
    """Lengths, numbers, angles, sums, conditions and places are read."""
    readers: tuple[Callable[[str], Any], ...] = (
        read_length,
        read_number,
        parse_working,
        parse_condition,
        parse_place,
        lambda text: read_measurement("waist", text),
        lambda text: read_measurement(text, "74"),
    )
    text = chance.choice(_TEXTS)
    for _ in range(chance.randint(0, 3)):
        text = scrambled(text, chance)
    chance.choice(readers)(text)


def try_edit(chance: Chance) -> None:
    """An order of the shelf is changed by what is typed, and worked."""
    job = new_job(styles.style(chance.choice(("bias-slip", "straight-block"))))
    amount = chance.choice(job.draft.amounts).name
    text = chance.choice(
        (scrambled(chance.choice(_TEXTS), chance), *map(str, NASTY[15:40]))
    )
    if chance.random() < 0.5:
        job = edits.set_amount(job, amount, text).job
    else:
        name = chance.choice((*job.card.measurements, "waist_left", "n" * 300))
        job = edits.set_measurement(job, name, text).job
    look = Worktable().look(job)
    for problem in look.problems:
        _check_sentence(in_one_sentence(problem))


READERS: dict[str, Callable[[Chance], None]] = {
    "order": try_order,
    "style": try_style,
    "card": try_card,
    "printers": try_printers,
    "allowances": try_allowances,
    "size": try_size,
    "text": try_text,
    "edit": try_edit,
}
"""Each reader with a try of it."""


# Verbs

_OUTPUTS = {
    "draft": "o.skirt",
    "check": "",
    "export": "o.svg",
    "print": "o.pdf",
    "plot": "o.plt",
    "worksheet": "o.pdf",
    "figure": "o.svg",
    "quote": "o.pdf",
    "lay": "o.pdf",
    "fit": "o.skirt",
}
_OPTIONS = (
    ("--measure", "waist=74"),
    ("--measure", "hip=101cm"),
    ("--amount", "hip_ease=5"),
    ("--amount", "length=60"),
    ("--choose", "waist_shape=darted"),
    ("--card", "card.json"),
    ("--size", "uk-women:12"),
    ("--variant", "proportional"),
    ("--report", "r.json"),
    ("--why", "front.hem"),
    ("--only", "front"),
    ("--lines", "stitching"),
    ("--scale", "fifth"),
    ("--toile",),
    ("--roll", "914mm"),
    ("--paper", "a4"),
    ("--portrait",),
    ("--overlap", "10mm"),
    ("--margin", "5mm"),
    ("--full-size",),
    ("--projector",),
    ("--flat",),
    ("--read-across", "100mm"),
    ("--printer", "den"),
    ("--plotter", "pen"),
    ("--unit", "in"),
    ("-o", "o.skirt"),
    ("--json",),
)
_OWN_OPTIONS = {
    "quote": (
        ("--hours", "6"),
        ("--rate", "25.50"),
        ("--notions", "8,5"),
        ("--currency", "£"),
    ),
    "lay": (
        ("--cloth-width", "140"),
        ("--open",),
        ("--folded",),
        ("--one-way",),
        ("--on-hand", "2 m"),
        ("--join", "front"),
        ("--join", "front=30,60"),
        ("--largest", "length"),
    ),
    "fit": (
        ("--alter", "side_seams=-8 mm"),
        ("--alter", "side_seams=1; left; waist to hip"),
        ("--alter", "waist_back=-1/2"),
        ("--alter", "level_hem=" + "; ".join(["61", "60", "60,5", "61"] * 2)),
        ("--take-back", "1"),
    ),
}
"""Of one verb alone."""


def _arguments(verb: str, chance: Chance) -> list[str]:
    source = chance.choice(("bias-slip", "straight-block", "order.skirt", "card.json"))
    arguments = [verb, source]
    if _OUTPUTS.get(verb) and chance.random() < 0.9:
        arguments += ["-o", _OUTPUTS[verb]]
    own = _OWN_OPTIONS.get(verb, _OPTIONS)
    for _ in range(chance.choice((0, 1, 1, 2, 3))):
        arguments.extend(chance.choice(chance.choice((own, _OPTIONS))))
    if chance.random() < 0.4:
        place = chance.randrange(1, len(arguments))
        nasty = str(chance.choice(NASTY))
        arguments[place] = chance.choice((scrambled(arguments[place], chance), nasty))
    return arguments


def try_verb(verb: str, chance: Chance) -> None:
    """A verb is run with options by chance over files by chance, in this folder."""
    raw = mutated(chance.choice(orders()), chance, chance.choice((0, 1, 1)))
    Path("order.skirt").write_bytes(_written(raw, chance))
    card = mutated(_CARD, chance, chance.choice((0, 0, 1)))
    Path("card.json").write_bytes(_written(card, chance))
    arguments = _arguments(verb, chance)
    before = set(Path().iterdir())
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(arguments)
    said = err.getvalue()
    assert code in (0, 1, 2), (arguments, code, said)
    if code == 2:
        assert said.endswith("\n"), arguments
        _check_sentence(said[:-1])
        assert set(Path().iterdir()) == before, (arguments, "left something behind")
    else:
        assert said == "", (arguments, said)
        for line in out.getvalue().splitlines():
            assert _is_plain(line), (arguments, line)
    for left in set(Path().iterdir()) - {Path("order.skirt"), Path("card.json")}:
        if left.is_file():
            left.unlink()


VERBS = (*_OUTPUTS, "styles")
"""Each verb that is tried."""


def _check_sentence(sentence: str) -> None:
    assert sentence, "nothing was said"
    assert _is_plain(sentence), repr(sentence)
    assert len(sentence) <= LONGEST_SENTENCE, sentence
    for foreign in (
        "Traceback",
        "Input should",
        'is ""',
        "_pair",
        "<class",
        "object at",
    ):
        assert foreign not in sentence, sentence


def _is_plain(text: str) -> bool:
    return not any(
        unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") for sign in text
    )


def chance_of(name: str, seed: int) -> Chance:
    """The chance of one try, the same each time."""
    return random.Random(f"{name} {seed}")


def tried(name: str, seed: int) -> bool:
    """One try of a reader or a verb; False where it was refused in a sentence."""
    chance = chance_of(name, seed)
    if name in VERBS:
        try_verb(name, chance)
        return True
    try:
        READERS[name](chance)
    except SkirtwrightError as refused:
        _check_sentence(in_one_sentence(refused.problem))
        return False
    return True

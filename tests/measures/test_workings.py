"""Workings read, bound and worked; whatever is typed, only the family comes out."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from skirtwright.measures.working_binding import bind, bind_place
from skirtwright.measures.working_kinds import (
    ANGLE,
    LENGTH,
    NUMBER,
    TRUTH,
    BoundPlace,
    Kind,
    Values,
)
from skirtwright.measures.working_parsing import (
    parse_condition,
    parse_place,
    parse_working,
)
from skirtwright.measures.working_trees import Name, Place
from skirtwright.problems import BadInput, NotFound, SkirtwrightError

VALUES = {
    "waist": 720.0,
    "hip": 980.0,
    "n": 3.0,
    "turn": 30.0,
    "shape": "darted",
    "nothing": 0.0,
    "tier[1]": 11.0,
    "tier[3]": 33.0,
    "given:n": True,
}
KINDS = {"n": NUMBER, "turn": ANGLE}


class DraftScope:
    """A scope with a few names, one panel, and `i` standing at 2 of 3."""

    unit = "cm"

    def index(self, name: str) -> int:
        return 2

    def last(self, prefix: str) -> int:
        return 3

    def called(self, word: str) -> str:
        return word

    def find(self, path: str) -> tuple[str, str]:
        for base in (*VALUES, "front"):
            if path == base or path.startswith(f"{base}."):
                return base, path[len(base) + 1 :]
        raise NotFound("workings.unknown_name", name=path)

    def kind_of(self, base: str) -> Kind:
        if base in ("front", "shape"):
            raise BadInput("workings.not_a_number", name=base)
        return KINDS.get(base, LENGTH)

    def options_of(self, choice: str) -> tuple[str, ...]:
        return ("darted", "side_elastic") if choice == "shape" else ()

    def drawn(self) -> tuple[str, ...]:
        return ("front",)

    def measure(
        self, function: str, places: tuple[BoundPlace, ...]
    ) -> Callable[[Values], float]:
        length = {"walk": 100.0, "apart": 50.0, "girth": 1020.0}[function]
        return lambda values: length * len(places)

    def given(self, name: str) -> str:
        return f"given:{name}"


class InchScope(DraftScope):
    """The same draft in inches."""

    unit = "in"


def worked(text: str, wanted: Kind | None = None, scope: DraftScope | None = None):
    return bind(parse_working(text), scope or DraftScope(), wanted).work(VALUES)


LENGTHS = [
    ("waist/4", 180.0),
    ("waist / 4 + 1", 190.0),
    ("1 + waist/4", 190.0),
    ("waist/4 + 1,5", 195.0),
    ("waist/4 + (1,5)", 195.0),
    ("waist/4 + 2 * 3", 240.0),
    ("2 * (waist/4)", 360.0),
    ("(1 + 2) * waist", 2160.0),
    ("waist/4 + 29 1/8 in", 180 + 29.125 * 25.4),
    ('waist - 3/8"', 720 - 0.375 * 25.4),
    ("24⅜ in", 24.375 * 25.4),
    ("12/4 cm", 30.0),
    ("5 mm", 5.0),
    ("2", 20.0),
    ("-2", -20.0),
    ("--2", 20.0),
    ("- waist + hip", 260.0),
    ("10 1/2", 105.0),
    ("hip - waist - 1", 250.0),
    ("waist / n / 2", 120.0),
    ("least(waist, hip, 3)", 30.0),
    ("greatest(1.5, waist/4)", 180.0),
    ("root(waist * waist)", 720.0),
    ("waist + 0", 720.0),
    ("round_up(waist/7, 1/2)", 105.0),
    ("round_down(waist/7, 1)", 100.0),
    ("round_up(1.1, 0.1)", 11.0),
    ("tier[i - 1]", 11.0),
    ("tier[last]", 33.0),
    ("tier[1]", 11.0),
    ("i * 1 cm", 20.0),
    ("waist if shape is darted else hip", 720.0),
    ("waist if shape is not darted else hip", 980.0),
    ("1 if shape is side_elastic else waist if n > 2 else hip", 720.0),
    ("(2 if shape is darted else 3) + waist", 740.0),
    ("(1 if n > 5 else 2) if shape is darted else 3", 20.0),
    ("walk(front.side)", 100.0),
    ("apart(front.hip, front.side at 12 cm) / 2", 50.0),
    ("girth(hip) + girth(front.hip)", 2040.0),
    ("waist / (2 * pi)", 720 / (2 * math.pi)),
    ("nothing", 0.0),
]
NUMBERS = [
    ("sin(30)", 0.5),
    ("sin(30 deg)", 0.5),
    ("sin(turn)", 0.5),
    ("sin(90 / n)", 0.5),
    ("cos(60°)", 0.5),
    ("tan(45)", 1.0),
    ("hip / waist", 98 / 72),
    ("6 cm / 4 cm", 1.5),
    ("1/3", 1 / 3),
    ("2 1/2/5", 0.5),
    ("n * 2 - 1", 5.0),
    ("round_up(n / 2, 1)", 2.0),
    ("i", 2.0),
]
TRUTHS = [
    ("shape is darted", True),
    ("shape is not darted", False),
    ("not shape is darted", False),
    ("waist < hip", True),
    ("waist > 71", True),
    ("waist >= 28 1/2 in", False),
    ("n == 3", True),
    ("n <= 2", False),
    ("(waist + 1) > (hip)", False),
    ("(waist > hip or n > 2) and not (n > 5)", True),
    ("given(n)", True),
    ("not given(waist) and n > 1", True),
    ("waist * waist > 0", True),
    ("sin(30) < 0.6", True),
]


@pytest.mark.parametrize(("text", "mm"), LENGTHS)
def test_lengths(text: str, mm: float) -> None:
    assert worked(text, LENGTH) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(("text", "value"), NUMBERS)
def test_numbers(text: str, value: float) -> None:
    assert worked(text, NUMBER) == pytest.approx(value, abs=1e-12)


@pytest.mark.parametrize(("text", "value"), TRUTHS)
def test_conditions(text: str, value: bool) -> None:
    bound = bind(parse_condition(text), DraftScope(), TRUTH)
    assert bound.work(VALUES) is value


def test_angles_are_degrees() -> None:
    assert worked("asin(0.5)", ANGLE) == pytest.approx(30)
    assert worked("turn + 10", ANGLE) == 40
    assert worked("12", ANGLE) == 12


def test_bare_numbers_take_the_drafts_unit() -> None:
    inches = InchScope()
    assert worked("2", LENGTH, inches) == 2 * 25.4
    assert worked("waist + 1 1/2", LENGTH, inches) == 720 + 1.5 * 25.4
    assert worked("2 * waist", LENGTH, inches) == 1440
    assert worked("waist + 1 cm", LENGTH, inches) == 730


WRONG_KINDS = [
    ("waist + turn", None, "workings.kinds_differ"),
    ("waist + n", None, "workings.kinds_differ"),
    ("waist + pi", None, "workings.kinds_differ"),
    ("waist * hip", LENGTH, "workings.wrong_kind"),
    ("waist * hip + 1", None, "workings.wrong_kind"),
    ("n", LENGTH, "workings.wrong_kind"),
    ("waist", NUMBER, "workings.wrong_kind"),
    ("sin(waist)", None, "workings.wrong_kind"),
    ("asin(waist)", None, "workings.wrong_kind"),
    ("least(waist, turn)", None, "workings.kinds_differ"),
    ("waist if n > 1 else turn", None, "workings.kinds_differ"),
    ("1 if waist > turn else 2", None, "workings.kinds_differ"),
    ("front", None, "workings.not_a_number"),
    ("front.side", None, "workings.not_a_number"),
    ("1 if shape is darts else 2", None, "workings.unknown_option"),
    ("tier[i - 5]", None, "workings.index_below_zero"),
    ("wast", None, "workings.unknown_name"),
]


SAID_OF_IT = {
    "waist * hip": {"wanted": "kind.length", "found": "kind.area"},
    "1 if shape is darts else 2": {"name": "darts", "nearest": "darted"},
}


@pytest.mark.parametrize(("text", "wanted", "code"), WRONG_KINDS)
def test_kinds_that_do_not_go_together(text: str, wanted: Kind, code: str) -> None:
    with pytest.raises(SkirtwrightError) as caught:
        bind(parse_working(text), DraftScope(), wanted)
    assert caught.value.problem.code == code
    if text in SAID_OF_IT:
        assert SAID_OF_IT[text].items() <= caught.value.problem.values.items()


TAKES_ONE = ("walk", "girth", "root", "sin", "cos", "tan", "asin", "given")
TAKES_TWO = ("apart", "round_up", "round_down")


@pytest.mark.parametrize("name", [*TAKES_ONE, *TAKES_TWO])
def test_a_function_takes_as_many_arguments_as_are_told(name: str) -> None:
    """As listed in resources/schemas/README.md."""
    takes = 1 if name in TAKES_ONE else 2
    part = "front.side" if name in ("walk", "girth", "apart") else "waist"
    said = "1 if {} else 2" if name == "given" else "{}"

    def call(count: int) -> str:
        return said.format(f"{name}({', '.join([part] * count)})")

    assert parse_working(call(takes))
    for wrong in {takes - 1, takes + 1} - {0}:
        with pytest.raises(SkirtwrightError) as caught:
            parse_working(call(wrong))
        assert caught.value.problem.code == "workings.wrong_count", wrong


NOT_FINITE = [
    ("waist / 0", "workings.divided_by_zero"),
    ("1 / nothing", "workings.divided_by_zero"),
    ("root(waist - hip)", "workings.root_of_negative"),
    ("asin(2)", "workings.asin_out_of_range"),
    ("round_up(waist, 0 * waist)", "workings.step_not_positive"),
    (" * ".join(["999999999999"] * 30), "workings.not_finite"),
]


@pytest.mark.parametrize(("text", "code"), NOT_FINITE)
def test_results_must_be_finite(text: str, code: str) -> None:
    """It binds, so the step keeps its settings; the work refuses."""
    bound = bind(parse_working(text), DraftScope())
    with pytest.raises(SkirtwrightError) as caught:
        bound.work(VALUES)
    assert caught.value.problem.code == code


NOT_READ = [
    ("", "workings.empty", None),
    ("   ", "workings.empty", None),
    ("waist +", "workings.unfinished", 8),
    ("(waist", "workings.unfinished", 7),
    ("waist hip", "workings.not_understood", 7),
    ("9**9**9", "workings.not_understood", 3),
    ("waist; hip", "workings.not_understood", 6),
    ("waist\n+ 1", "workings.not_understood", 6),
    ("1_000", "workings.not_understood", 2),
    ("1e9", "workings.not_understood", 2),
    ("5 kg", "workings.not_understood", 3),
    ("waist.__class__(1)", "workings.not_understood", 16),
    ("'waist'", "workings.not_understood", 1),
    ("lambda: 1", "workings.not_understood", 7),
    ("least(2,5, waist)", None, None),
    ("least((2,5), waist)", "workings.not_understood", 9),
    ("waist - 29-1/8", "workings.hyphen_in_fraction", 9),
    ("29 9/8", "units.not_a_fraction", None),
    ("9999999999999", "workings.number_too_large", 1),
    ("1" * 60, "workings.number_too_large", None),
    ("1." + "1" * 60, "units.too_long", None),
    ("1" * 501, "workings.too_long", None),
    ("(" * 31 + "1" + ")" * 31, "workings.too_deep", None),
    ("-" * 31 + "1", "workings.too_deep", None),
    ("+".join(["1"] * 120), "workings.too_many_parts", None),
    ("frob(1)", "workings.unknown_function", 1),
    ("round_up(1)", "workings.wrong_count", 1),
    ("walk(1)", "workings.wants_place", 6),
    ("girth(waist + 1)", "workings.wants_name", 7),
    ("sin(front.side start)", "workings.place_for_number", 5),
    ("waist > 1", "workings.condition_for_number", 1),
    ("1 + (waist > 1)", "workings.condition_for_number", 6),
    ("1 if waist else 2", "workings.number_for_condition", 6),
    ("1 if 2 is darted else 2", "workings.is_needs_choice", 6),
    ("tier[hip]", "workings.index_name", 6),
    ("tier[9999]", "workings.index_too_large", 6),
]


@pytest.mark.parametrize(("text", "code", "column"), NOT_READ)
def test_what_cannot_be_read(text: str, code: str | None, column: int | None) -> None:
    if code is None:
        parse_working(text)  # three arguments: 2, 5 and waist
        return
    with pytest.raises(BadInput) as caught:
        parse_working(text)
    assert caught.value.problem.code == code
    if column is not None:
        values = caught.value.problem.values
        assert values["column"] == column
        # What it was read as lies from there on.
        assert text[column - 1 :].startswith(values.get("near", ""))


def test_the_limits_let_ordinary_work_by() -> None:
    parse_working("(" * 29 + "1" + ")" * 29)
    parse_working("+".join(["1"] * 90))


def test_leans_on_names_each_once_in_order() -> None:
    bound = bind(parse_working("hip + waist + hip * n"), DraftScope())
    assert bound.leans_on == ("hip", "waist", "n")
    arms = bind(parse_working("1 if shape is darted else hip"), DraftScope())
    assert arms.leans_on == ("shape", "hip")
    measured = bind(parse_working("girth(hip)"), DraftScope())
    assert measured.leans_on == ("front",)


PLACES = [
    ("front.side", None, ""),
    ("front.side start", "start", ""),
    ("front.side end", "end", ""),
    ("front.side middle", "middle", ""),
    ("front.side at 12 cm", "distance", 120.0),
    ("front.side at waist/4 + 1", "distance", 190.0),
    ("front.side at share 1/3", "share", 1 / 3),
    ("front.side at mark hip", "mark", "hip"),
    ("front.side at mark dart[i - 1].tip", "mark", "dart[1].tip"),
]


@pytest.mark.parametrize(("text", "how", "what"), PLACES)
def test_places(text: str, how: str | None, what: object) -> None:
    place = bind_place(parse_place(text), DraftScope())
    assert (place.base, place.rest, place.how) == ("front", "side", how)
    if isinstance(what, float):
        assert place.argument is not None
        assert place.argument.work(VALUES) == pytest.approx(what)
    else:
        assert place.mark == what


def test_place_leans_on_its_argument_too() -> None:
    place = bind_place(parse_place("front.side at waist / n"), DraftScope())
    assert place.leans_on == ("front", "waist", "n")


def test_edges_may_bear_the_words_of_places() -> None:
    place = parse_place("front.start end")
    assert place == Place(Name((("front", None), ("start", None))), "end")


def test_a_value_that_is_missing_is_said() -> None:
    bound = bind(parse_working("waist + 1"), DraftScope())
    with pytest.raises(NotFound) as caught:
        bound.work({})
    assert caught.value.problem.values["name"] == "waist"


VOCABULARY = """
    waist hip n turn shape darted front.side tier[i] tier[last] 1 2,5 29 1/8 in cm deg
    + - * / ( ) [ ] , . if else is not and or at share mark start end < == pi i ½
    walk( apart( girth( least( root( sin( asin( given( round_up(
"""
WORDS = st.sampled_from(VOCABULARY.split())


@settings(max_examples=150)
@given(st.lists(WORDS, max_size=14).map(" ".join) | st.text(max_size=40))
def test_only_the_family_comes_out(text: str) -> None:
    """Reading raises BadInput only; binding and working only the family."""
    for parse in (parse_working, parse_condition):
        with contextlib.suppress(BadInput):
            tree = parse(text)
            with contextlib.suppress(SkirtwrightError):
                assert math.isfinite(bind(tree, DraftScope()).work(VALUES))
    with contextlib.suppress(BadInput):
        place = parse_place(text)
        with contextlib.suppress(SkirtwrightError):
            bind_place(place, DraftScope())

"""Units, languages, names and days on the command line, and its lines of help."""

from __future__ import annotations

import io
import json
import re
import time
from pathlib import Path

import pikepdf
import pytest

from command_line import run
from skirtwright.cli import VERBS
from skirtwright.cli.options import Parser
from skirtwright.draft import styles
from skirtwright.export.print_job import PrintJob
from skirtwright.job import file
from skirtwright.job.job import new_job

CARD = {
    "name": "Ottoline Brack",
    "unit": "in",
    "measurements": {
        "waist": "29 1/8",
        "hip": "38 1/2",
        "waist_to_hip": "8",
        "waist_to_knee": "23",
    },
}
ENDINGS = {
    "fit": ".skirt",
    "draft": ".skirt",
    "export": ".svg",
    "plot": ".plt",
    "figure": ".svg",
}
FRONT = ("--only", "front")
"""One piece on paper is enough where what is read does not lean on the others."""
ON_PAPER = ("lay", "plot", "print", "worksheet")
"""Verbs that take a second; they read their unit as the others do."""
METRIC = re.compile(r"\d cm\b")


@pytest.fixture(autouse=True)
def with_a_card(elsewhere, drafted_once, laid_in_few_tries):
    Path("c.json").write_text(json.dumps(CARD), encoding="utf-8")


def output(verb):
    more = {"plot": ("--roll", "1200mm", *FRONT), "print": FRONT}.get(verb, ())
    return more if verb == "check" else ("-o", f"a{ENDINGS.get(verb, '.pdf')}", *more)


@pytest.mark.usefixtures("packed_in_few_tries")
@pytest.mark.parametrize(
    "verb", sorted(set(VERBS) - {"styles", "batch", "book", "card"})
)
def test_an_inch_card_gives_inches_and_a_unit_that_is_asked_for_comes_first(
    capsys, verb
):
    asked = (verb, "bias-slip", "--card", "c.json", *output(verb), "--report", "r.json")
    code, out, _ = run(capsys, *asked)
    said = json.loads(Path("r.json").read_text("utf-8"))["problems"]
    assert code in (0, 1)
    assert " in\n" in out
    assert not METRIC.search(out + json.dumps(said))
    if verb not in ON_PAPER:
        _, out, _ = run(capsys, *asked, "--unit", "cm")
        assert METRIC.search(out)
        assert not re.search(r"\d in\b", out)


def test_a_refusal_is_in_her_unit_too(capsys):
    asked = ("check", "straight", "--card", "c.json", "--amount", "hip_ease=900 in")
    code, _, err = run(capsys, *asked)
    assert code == 2
    assert "196 7/8 in" in err  # 5000 mm
    assert "500 cm" in run(capsys, *asked, "--unit", "cm")[2]


@pytest.mark.parametrize(
    "options",
    [
        ("print", "--overlap", "900mm"),
        ("print", "--margin", "-1"),
        ("plot", "--roll", "1"),
        ("print", "--full-size", "--roll", "1"),
        ("lay", "--cloth-width", "18", "-o", "a.pdf"),
        ("lay", "--join", "front=400"),
    ],
)
def test_what_would_do_is_told_in_inches_too(capsys, options):
    verb, *more = options
    ends = () if "-o" in more else ("-o", f"a{ENDINGS.get(verb, '.pdf')}")
    code, out, err = run(capsys, verb, "straight", "--card", "c.json", *more, *ends)
    assert code in (1, 2)
    assert re.search(r"\d in\b", out + err)
    assert not re.search(r"\d (?:mm|cm)\b", out + err)


def test_what_is_drawn_is_in_inches(capsys):
    run(capsys, "export", "bias-slip", "--card", "c.json", "-o", "a.svg")
    run(capsys, "export", "bias-slip", "--card", "c.json", "-o", "b.svg", *CENTI)
    inches, centimetres = (Path(p).read_text("utf-8") for p in ("a.svg", "b.svg"))
    assert not METRIC.search(inches)
    assert METRIC.search(centimetres)


CENTI = ("--unit", "cm")


def test_words_are_british_unless_asked_for(capsys):
    """A pleat's cloth is said as each of the two says it."""
    british = run(capsys, "styles")[1]
    american = run(capsys, "styles", "--language", "en_US")[1]
    assert british.count("\n") == american.count("\n") == len(styles.names())
    code, _, err = run(capsys, "styles", "--language", "de")
    assert code == 2
    assert "en_GB, en_US" in err
    for verb in ("check", "draft", "plot"):
        asked = (verb, "bias-slip", *output(verb), "--language", "en_US")
        assert run(capsys, *asked)[0] in (0, 1)


def told(place):
    with pikepdf.open(io.BytesIO(Path(place).read_bytes())) as pdf:
        kept = {str(key): str(value) for key, value in pdf.docinfo.items()}
        with pdf.open_metadata(update_docinfo=False) as metadata:
            return {**kept, **{str(key): str(value) for key, value in metadata.items()}}


def test_the_file_for_a_copy_shop_names_her_only_if_asked(capsys):
    order = ("print", "bias-slip", "--card", "c.json", "-o", "a.pdf", *FRONT)
    asked = (*order, "--full-size")
    run(capsys, *asked)
    assert "Ottoline" not in json.dumps(told("a.pdf"))
    run(capsys, *asked, "--name-client")
    assert "Ottoline" in json.dumps(told("a.pdf"))
    for way in ((), ("--projector",)):
        code, _, err = run(capsys, *asked[:-1], *way, "--name-client")
        assert (code, "--full-size" in err) == (2, True)


@pytest.mark.parametrize(
    "asked",
    [
        ("print", *FRONT),
        ("print", "--projector", *FRONT),
        ("worksheet",),
    ],
)
def test_a_file_says_the_day_it_was_written(capsys, asked):
    before = time.strftime("%Y%m%d")
    run(capsys, asked[0], "bias-slip", "-o", "a.pdf", *asked[1:])
    days = {f"D:{before}", f"D:{time.strftime('%Y%m%d')}"}
    said = told("a.pdf")
    assert said["/CreationDate"] in days
    assert said["/ModDate"] in days
    assert "2000" not in said.get("{http://ns.adobe.com/xap/1.0/}CreateDate", "")


@pytest.mark.parametrize("verb", [None, *VERBS])
def test_every_option_has_a_line_of_help(capsys, monkeypatch, verb):
    met = []
    explain = Parser.explain

    def explained(parser):
        explain(parser)
        met.extend((parser.prog, action) for action in parser._actions)

    monkeypatch.setattr(Parser, "explain", explained)
    code, out, err = run(capsys, *([verb] if verb else []), "--help")
    assert (code, err) == (0, "")
    assert "cli." not in out
    for prog, action in met:
        if action.dest != "verb" and action.nargs != "A...":
            assert action.help, (prog, action.dest)
            assert not action.help.startswith("cli."), (prog, action.dest)


@pytest.mark.parametrize("word", ["chekc", "x", "Draft"])
def test_an_unknown_verb_gets_a_sentence_of_ours(capsys, word):
    code, out, err = run(capsys, word, "straight")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f'There is no command called "{word}"')
    assert "styles, draft, check" in err


def test_an_order_of_hers_keeps_its_card_s_unit(capsys):
    asked = ("draft", "bias-slip", "--card", "c.json", "-o", "m.skirt")
    run(capsys, *asked)
    assert file.load(Path("m.skirt")).unit == "in"
    assert " in\n" in run(capsys, "check", "m.skirt")[1]
    file.save(new_job(styles.style("bias-slip")), Path("s.skirt"))
    assert " cm\n" in run(capsys, "check", "s.skirt")[1]


@pytest.mark.parametrize(
    ("unit", "kept"), [((), "2"), (("--unit", "in"), "2"), (CENTI, "2 cm")]
)
def test_a_bare_amount_means_the_same_the_first_time_and_the_second(capsys, unit, kept):
    """It is read in the unit she is shown, whether the order is new or kept."""
    amount = ("--amount", "hip_ease=2", *unit)
    new = ("draft", "straight", "--card", "c.json", *amount, "-o", "n.skirt")
    assert run(capsys, *new)[0] in (0, 1)
    assert file.load(Path("n.skirt")).amounts == {"hip_ease": kept}
    again = ("draft", "n.skirt", *amount, "-o", "a.skirt")
    assert run(capsys, *again)[0] in (0, 1)
    assert file.load(Path("a.skirt")) == file.load(Path("n.skirt"))


def test_a_bare_measurement_is_read_in_the_unit_she_is_shown(capsys):
    asked = ("draft", "straight", "--card", "c.json", "-o", "n.skirt")
    run(capsys, *asked, "--measure", "waist=74,5", *CENTI)
    assert file.load(Path("n.skirt")).card.measurements["waist"] == "74,5 cm"
    run(capsys, *asked, "--measure", "waist=29-1/4", "--unit", "in")
    assert file.load(Path("n.skirt")).card.measurements["waist"] == "29-1/4"


def test_lengths_of_paper_are_read_in_the_unit_she_is_shown(capsys, monkeypatch):
    asked_for = []

    def counted(job):
        asked_for.append(job.printing)
        return tiling(job)

    tiling = PrintJob.tiling
    monkeypatch.setattr(PrintJob, "tiling", counted)
    monkeypatch.setattr(PrintJob, "pdf", lambda *_: b"")
    asked = ("print", "straight", "--card", "c.json", "-o", "a.pdf")
    lengths = ("--margin", "1/4", "--overlap", "1/2", "--read-across", "4")
    assert run(capsys, *asked, *lengths)[0] in (0, 1)
    assert run(capsys, *asked, "--overlap", "2", *CENTI)[0] in (0, 1)
    inches, centimetres = asked_for[0], asked_for[-1]
    assert (inches.margin, inches.overlap) == (25.4 / 4, 25.4 / 2)
    assert inches.correction.across == pytest.approx(100 / 101.6)
    assert centimetres.overlap == 20


@pytest.mark.usefixtures("packed_in_few_tries")
def test_a_bare_width_of_a_roll_is_in_the_unit_she_is_shown(capsys):
    written = []
    for roll in ("36", "36 in"):
        asked = ("plot", "straight", "--card", "c.json", "-o", "a.plt", *FRONT)
        assert run(capsys, *asked, "--roll", roll)[0] in (0, 1)
        written.append(Path("a.plt").read_bytes())
    assert written[0] == written[1]
    assert run(capsys, *asked, "--roll", "36", *CENTI)[0] in (0, 1)
    assert Path("a.plt").read_bytes() != written[0]


def test_the_styles_list_takes_no_unit(capsys):
    code, out, err = run(capsys, "styles", "--json", "--unit", "in")
    assert (code, out) == (2, "")
    assert "--unit" in err


def test_a_printer_nobody_kept_is_refused_with_the_nearest(capsys):
    asked = ("print", "straight", "-o", "a.pdf", *FRONT, "--printer")
    code, _, err = run(capsys, *asked, "attik")
    assert (code, err.count("\n"), Path("a.pdf").exists()) == (2, 1, False)
    # One that prints true is kept too.
    assert run(capsys, *asked, "attic", "--read-across", "10")[0] in (0, 1)
    assert '"attic"' in run(capsys, *asked, "attik")[2]
    assert run(capsys, *asked, "attic")[0] in (0, 1)


def test_a_worksheet_is_on_the_papers_its_help_names(capsys):
    asked = ("worksheet", "straight", "-o", "a.pdf", "--paper")
    code, _, err = run(capsys, *asked, "a3")
    assert code == 2
    assert "a4, letter" in err
    assert run(capsys, *asked, "A4")[0] in (0, 1)

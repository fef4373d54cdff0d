"""The quote: what it adds up to, on one page, by the program and by the command."""

from __future__ import annotations

import pypdfium2
import pytest

from drafting import look_of, reported
from skirtwright.cli import main
from skirtwright.draft import styles
from skirtwright.export.quote import Terms, needed, quote_of, quote_pdf
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.job import new_job
from skirtwright.job.worktable import laid
from skirtwright.problems import BadInput, Refused
from skirtwright.words import Manner

TERMS = Terms(hours=6.5, rate=24, notions=12.25, currency="£")


@pytest.fixture(scope="module")
def report():
    """The straight block with cloth at 18 a metre."""
    job = new_job(styles.style("straight-block"))
    job = set_cloth(job, "shell", price="18").job
    return laid(look_of(job), 20).report


def quoted(report, terms, manner):
    return quote_of(needed(report, manner), terms, manner)


def text_of(data):
    document = pypdfium2.PdfDocument(data)
    assert len(document) == 1
    return document[0].get_textpage().get_text_bounded()


def test_it_adds_up(report):
    """Cloth as the shop cuts it, to the next 10 cm, at the price of a metre."""
    quote = quoted(report, TERMS, Manner())
    (cloth,) = [row for row in quote.rows if row.what == "Main cloth"]
    (shell,) = [one for one in report.lays if one.cloth.material == "shell"]
    metres = -(-round(shell.bought, 3) // 100) / 10
    assert cloth.cost == pytest.approx(metres * 18)
    costs = [row.cost for row in quote.rows if row.cost is not None]
    assert quote.total == pytest.approx(metres * 18 + 12.25 + 6.5 * 24)
    assert sum(costs) == pytest.approx(quote.total)
    words = text_of(quote_pdf(report, "Ann Bird", "2026-11-29", TERMS, Manner()))
    assert "Quote for Ann Bird" in words
    assert f"£{quote.total:.2f}" in words


@pytest.mark.parametrize(
    ("hours", "rate", "cost"),
    [(7.5, 31.35, 235.13), (0.5, 2.01, 1.01), (1.15, 1.9, 2.19), (3.0, 1.414, 4.24)],
)
def test_half_a_hundredth_is_a_whole_one(report, hours, rate, cost):
    """7.5 times 31.35 is 235.125; the total is of what stands on the page."""
    quote = quoted(report, Terms(hours=hours, rate=rate, notions=0.125), Manner())
    told = {row.what: row.cost for row in quote.rows}
    assert (told["Work"], told["Notions"]) == (cost, 0.13)
    assert quote.total == pytest.approx(told["Main cloth"] + cost + 0.13, abs=1e-9)


def test_what_is_left_open_is_not_on_the_page(report):
    quote = quoted(report, Terms(hours=6), Manner())
    assert [row.cost for row in quote.rows if row.what in ("Work", "Notions")] == [
        None,
        None,
    ]
    assert quote.without[-2:] == ("Notions", "Work")
    bare = quoted(report, Terms(), Manner())
    assert "Work" not in [row.what for row in bare.rows]


@pytest.mark.parametrize("style", ["knife-pleat", "half-circle-yoke", "mermaid-gored"])
def test_every_quote_is_one_page(style):
    report = reported(style)
    words = text_of(quote_pdf(report, "x" * 150, "2026-11-29", TERMS, Manner("in")))
    assert "Total" in words


def test_what_leaves_something_out_is_not_called_the_total(report):
    terms = Terms(hours=6, rate=25, currency="EUR")
    words = text_of(quote_pdf(report, "Ann Bird", "2026-11-29", terms, Manner()))
    assert "Total" not in words
    assert "Without a price" not in words, "that is not for the client"
    assert "Sum EUR " in " ".join(words.split())
    assert terms.money(212) == "EUR 212.00"
    told = quoted(report, terms, Manner()).summed_up(terms, Manner())
    assert told[0].startswith("Sum: EUR ")
    assert told[1].startswith("Without a price: ")
    assert told[1].endswith("Notions.")
    assert Terms(currency="£").money(212) == "£212.00"


@pytest.mark.parametrize("amount", [-1.0, 1e7])
def test_what_nobody_asks_is_refused(amount):
    with pytest.raises(BadInput) as refused:
        Terms(rate=amount)
    assert refused.value.problem.code == "quote.amount"


def test_without_a_piece_there_is_no_quote(report):
    from dataclasses import replace

    bare = replace(report, cut=replace(report.cut, pieces=()))
    with pytest.raises(Refused):
        needed(bare, Manner())


def test_by_the_command(tmp_path, capsys):
    place = tmp_path / "q.pdf"
    asked = ["quote", "straight-block", "-o", str(place), "--hours", "6"]
    assert main([*asked, "--rate", "25", "--currency", "€"]) == 0
    assert "€150.00" in text_of(place.read_bytes())
    capsys.readouterr()
    assert main([*asked, "--rate", "a lot"]) == 2
    assert "a lot" in capsys.readouterr().err
    capsys.readouterr()
    assert main([*asked[:-2], "--rate", "25"]) == 2
    assert "--hours" in capsys.readouterr().err
    assert main([*asked, "--rate", "25", "--currency", "£" * 110]) == 2
    assert "at most 5 letters" in capsys.readouterr().err

"""Half letters are refused at every door; what is read is written again the same."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from skirtwright.draft import styles
from skirtwright.export.correction import AS_IT_IS, correction_for, with_correction
from skirtwright.job import allowance_sets, edits, file, habits, piece_edits
from skirtwright.job.job import new_job
from skirtwright.measures.card import read_card
from skirtwright.problems import BadInput
from skirtwright.words import says

JOB = new_job(styles.style(styles.first()))
WHOLE = file.written(JOB)
CARD = json.dumps(JOB.card.model_dump())
STYLE = json.dumps(json.loads(WHOLE)["draft"])
SETS = json.dumps({"format": 1, "sets": [{"title": "Mine", "widths": {"hem": "2 cm"}}]})
PRINTERS = json.dumps({"Inky": {"across": 1.01, "along": 1.0}})

# The half as JSON names it, in either case, first and last half.
HALVES = ("\\ud800", "\\uDBFF", "\\udc00", "\\uDFFF")
STRINGS = re.compile(r'"(?:[^"\\]|\\.)*"')


def read_sets(text: str, _: str) -> object:
    habits.keep("allowances.json", text)
    return allowance_sets.kept()


def read_printers(text: str, _: str) -> object:
    return correction_for(text, "Inky")


READERS = {
    "order": (file.read, WHOLE),
    "card": (read_card, CARD),
    "style": (styles.read_draft, STYLE),
    "allowances": (read_sets, SETS),
    "printers": (read_printers, PRINTERS),
}


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))


@pytest.mark.parametrize("name", READERS)
def test_half_a_letter_is_refused_in_every_text(name):
    """In about 8 of the document's texts, keys and values alike."""
    read, whole = READERS[name]
    read(whole, name)
    found = list(STRINGS.finditer(whole))
    for number, match in enumerate(found[:: 1 + len(found) // 8]):
        half = HALVES[number % len(HALVES)]
        broken = whole[: match.end() - 1] + half + whole[match.end() - 1 :]
        with pytest.raises(BadInput) as refused:
            read(broken, name)
        code = refused.value.problem.code
        assert code in ("text.half_letter", "print.corrections_unread"), match[0]
        says(refused.value.problem).encode()


def test_both_halves_are_a_letter_and_a_backslash_is_none():
    client = json.dumps(JOB.card.name)
    read = file.read(WHOLE.replace(client, '"\\ud83d\\ude00 \\\\ud800"', 1), "o")
    assert read.card.name == "\N{GRINNING FACE} \\ud800"
    assert file.read(file.written(read), "o") == read


TEXTS = st.text(st.characters() | st.sampled_from("\ud800\udfff"), max_size=40)


@settings(max_examples=10)
@given(client=TEXTS, title=TEXTS, piece=TEXTS)
def test_what_is_typed_is_read_back_or_refused(client, title, piece):
    """Any text at all, half letters among them."""
    try:
        job = edits.set_client(JOB, client).job
        job = edits.set_title(job, title).job
        job = piece_edits.rename_piece(job, "front", piece).job
    except BadInput as refused:
        assert refused.problem.code == "text.half_letter"  # noqa: PT017
        with pytest.raises(UnicodeEncodeError):
            f"{client}{title}{piece}".encode()
        return
    content = file.written(job).encode()
    read = file.read(content, "o")
    assert read == job
    assert file.written(read).encode() == content


def test_a_name_that_no_file_can_hold_is_refused():
    for named in (allowance_sets.named, lambda n: with_correction("", n, AS_IT_IS)):
        with pytest.raises(BadInput) as refused:
            named("School \ud83d")
        assert says(refused.value.problem) == (
            "The name holds \\ud83d, half of a letter that takes two."
        )

"""Nothing on a pattern is in English by itself: a pretend language replaces it all."""

from __future__ import annotations

import re
from string import Formatter

import pytest

from sampling import some_of
from skirtwright import words
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.pattern import cover_facts, pattern_of
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import report
from skirtwright.words import Manner

PRETEND = Manner(language="pretend")
WOMAN = {"waist": 740, "hip": 990, "waist_to_hip": 205, "waist_to_knee": 590}
LATIN = re.compile("[A-Za-z]")


class Pretend:
    """A catalogue in which every letter outside braces is a Cyrillic one."""

    def __init__(self, british):
        self.british = british

    def gettext(self, text):
        said = []
        for words_before, name, shown, _ in Formatter().parse(self.british(text)):
            said.append(LATIN.sub("Ж", words_before))
            if name is not None:
                said.append(f"{{{name}:{shown}}}" if shown else f"{{{name}}}")
        return "".join(said)


@pytest.fixture
def pretend(monkeypatch):
    real = words._catalogue
    made = Pretend(real(words.BRITISH).gettext)
    monkeypatch.setattr(
        words,
        "_catalogue",
        lambda language: made if language == "pretend" else real(language),
    )


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), 1))
def test_no_english_is_left_on_a_pattern(pretend, style):
    draft = styles.style(style)
    worked = Reworking().work(draft, Inputs(WOMAN))
    told = report(worked, Cutting().cut(worked, {}), style)
    sheet = pattern_of(told, "Ж", PRETEND, date="3. 5. 2025")
    texts = [
        line
        for group in sheet.groups
        for label in group.labels
        for lines in label.versions
        for line in lines
    ]
    assert len(texts) > 10
    assert [text for text in texts if LATIN.search(text)] == []
    assert [g.name for g in sheet.groups if LATIN.search(g.name)] == []
    facts = cover_facts(told, "Ж", "", PRETEND)
    for _, title, how in facts.cut_list:
        assert not LATIN.search(title + how)

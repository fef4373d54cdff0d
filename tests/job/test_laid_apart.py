"""Lays from a process of their own are the same lays."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import threading
from types import SimpleNamespace

import pytest

from drafting import OneWorktable, look_of
from lay_referee import faults as referee
from skirtwright.draft import styles
from skirtwright.geometry import Point
from skirtwright.job import file, laid_apart, on_hand
from skirtwright.job.cloth_edits import set_cloth, set_hand_lay
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job
from skirtwright.job.laid_apart import laid_again
from skirtwright.job.worktable import laid
from skirtwright.lay.all_cloths import materials
from skirtwright.lay.by_hand import hand_lay, moved, spots_of
from skirtwright.lay.lay import lay

CHILD = (sys.executable, "-m", "skirtwright.job.laid_apart")


def request(job, asked):
    """What a child is asked: one line."""
    asks = {"number": 1, "asked": asked, "order": file.written(job)}
    return json.dumps(asks).encode() + b"\n"


def child(job, *asked):
    """What a child tells, line by line, until it is done."""
    with subprocess.Popen(
        CHILD, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=dict(os.environ)
    ) as kept:
        kept.stdin.write(request(job, asked))
        kept.stdin.flush()
        news = [json.loads(kept.stdout.readline())]
        while not news[-1].get("done"):
            news.append(json.loads(kept.stdout.readline()))
        kept.stdin.close()
    return news[:-1]


class Heard(io.StringIO):
    """What is told, and whether all of it is."""

    def __init__(self):
        super().__init__()
        self.over = threading.Event()

    def flush(self):
        if '"done": true' in self.getvalue():
            self.over.set()


@pytest.fixture
def told(monkeypatch):
    """What a child would tell, by the same `main` in this process."""
    monkeypatch.setattr(laid_apart, "Worktable", OneWorktable)

    def told(job, *asked):
        heard = Heard()

        def asks():
            yield request(job, asked)
            heard.over.wait()

        monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=asks()))
        monkeypatch.setattr(sys, "stdout", heard)
        try:
            assert laid_apart.main() == 0
        finally:
            heard.over.set()
        return [json.loads(line) for line in heard.getvalue().splitlines()[:-1]]

    return told


def places(lays):
    return [
        (spot.piece, spot.number, spot.mirrored, spot.rotation_deg, spot.locked)
        for one in lays
        for spot in spots_of(one)
    ]


def corners(lays):
    return [
        (round(spot.x, 6), round(spot.y, 6)) for one in lays for spot in spots_of(one)
    ]


def test_the_child_lays_as_we_do():
    job = new_job(styles.style("bias-slip"))
    look = look_of(job)
    news = child(job, "lay", "5", "20", "/", *materials(look.report.cut))
    shares = [line["share"] for line in news if "share" in line]
    assert shares == sorted(shares)
    assert 0 < shares[0] < shares[-1] <= 1
    lines = [line for line in news if "lays" in line]
    assert len(lines) == 2
    for line, tries in zip(lines, (5, 20), strict=True):
        ours, theirs = laid(look, tries).report.laid, laid_again(look, line)
        assert places(theirs.lays) == places(ours.lays)
        assert corners(theirs.lays) == corners(ours.lays)
        assert theirs.refused == ours.refused


def test_the_rest_is_laid_round_what_is_locked(told):
    job = new_job(styles.style("straight"))
    cut = look_of(job).report.cut
    laid_first = lay(cut, job.cloth("shell"), 20)
    one = next(p for p in laid_first.placed if not p.copy.on_fold)
    hand = hand_lay(moved(laid_first, one, Point(0, 700)), cut)
    job = set_hand_lay(job, "shell", hand, "edit.cloth").job
    last = told(job, "rest", "shell", "5", "40")[-1]
    look = look_of(job)
    (found,) = laid_again(look, last).lays
    assert found.faults == () == tuple(referee(found, look.report.cut))
    held = {spot.piece: spot for spot in hand.spots}[one.copy.piece.name]
    there = {spot.piece: spot for spot in spots_of(found)}[one.copy.piece.name]
    assert (there.x, there.y) == pytest.approx((held.x, held.y))
    assert there.locked
    assert sum(spot.locked for spot in spots_of(found)) == 1


def test_what_is_bought_in_other_widths_and_what_cloth_on_hand_gives(told, monkeypatch):
    monkeypatch.setattr(on_hand, "TRIES", 60)
    monkeypatch.setattr(on_hand, "QUICK", 20)
    monkeypatch.setattr(laid_apart, "QUICK", 20)
    job = new_job(styles.style("straight-block"))
    manner = json.dumps({"unit": "cm", "fraction": 8, "language": "en_GB"})
    widths = told(job, "widths", "shell", manner, "10")
    assert [line["width"]["width"] for line in widths] == [900, 1150, 1400, 1500]
    bought = [line["width"]["bought"] for line in widths]
    assert bought == sorted(bought, reverse=True)
    job = set_cloth(job, "shell", on_hand="75 cm").job
    last = told(job, "largest", "shell", manner, "length")[-1]
    assert last["said"] == [f"The cloth gives Length {value(last)} cm."]
    job = set_amount(job, "length", last["amounts"]["length"]).job
    (shell,) = laid_again(look_of(job), last).lays
    assert shell.bought <= 750.0
    job = set_cloth(job, "shell", on_hand="20 cm").job
    (last,) = told(job, "largest", "shell", manner, "hip_ease")
    assert "amounts" not in last
    assert "there is 20 cm" in last["said"][0]


def value(news):
    return float(news["amounts"]["length"].removesuffix(" mm")) / 10


@pytest.mark.parametrize(
    "news",
    [
        {},
        {"lays": 7},
        {"lays": [{}], "refused": []},
        {"lays": [{"material": "shell", "fold": "single", "spots": [{"x": 1}]}]},
        {"lays": [], "refused": [{"kode": 1}]},
    ],
)
def test_other_news_is_none_of_ours(news):
    look = look_of(new_job(styles.style("straight")))
    with pytest.raises(ValueError, match="no lays of this order"):
        laid_again(look, news)


def test_a_kept_child_leaves_what_it_does_for_what_is_asked_next():
    job = new_job(styles.style("straight"))
    names = materials(look_of(job).report.cut)
    asked = (["lay", "100000", "/", *names], [], ["lay", "5", "/", *names])
    lines = [
        {"number": n, "asked": one, "order": file.written(job) if one else ""}
        for n, one in enumerate(asked)
    ]
    with subprocess.Popen(
        CHILD, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=dict(os.environ)
    ) as kept:
        for line in lines:
            kept.stdin.write(json.dumps(line).encode() + b"\n")
        kept.stdin.flush()
        news = [json.loads(kept.stdout.readline())]
        while not (news[-1]["number"] == 2 and news[-1].get("done")):
            news.append(json.loads(kept.stdout.readline()))
        # Once nobody can ask any more it goes.
        kept.stdin.close()
        assert kept.wait(60) == 0
    assert [line["number"] for line in news if "lays" in line] == [2]
    assert not any(line["number"] == 0 and line.get("done") for line in news)

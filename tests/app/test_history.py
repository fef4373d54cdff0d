"""A step of the history is small, and leads back to the very same order."""

from __future__ import annotations

import gc
import itertools
import random
import tracemalloc

import pytest

from skirtwright.app.history import History, difference, turned
from skirtwright.draft import styles
from skirtwright.job import edits, file, piece_edits
from skirtwright.job.job import new_job

STEPS = 150
MOST = 1024
"""Bytes a step may hold on to."""


def changed(job, chance: random.Random):
    """An order after one more change, any of those a hand can make."""
    amount = chance.choice([a.name for a in job.draft.amounts])
    choice = chance.choice(job.draft.choices)
    option = chance.choice(list(choice.options))
    text = f"{chance.uniform(10, 99):.2f} mm"
    number = str(chance.randrange(100))
    makers = [
        lambda: edits.set_amount(job, amount, text),
        lambda: edits.set_amount(job, amount, None),
        lambda: edits.set_choice(job, choice.name, option),
        lambda: edits.set_measurement(job, "waist", number),
        lambda: edits.set_client(job, number),
        lambda: edits.set_title(job, number),
        lambda: piece_edits.rename_piece(job, "front", number),
        lambda: edits.set_style(job, styles.style(chance.choice(styles.names()))),
        lambda: edits.set_unit(job, chance.choice(["cm", "in"])),
    ]
    weights = [9, 3, 3, 1, 1, 1, 1, 1, 1]
    return chance.choices(makers, weights)[0]().job


@pytest.mark.parametrize("seed", range(2))
def test_a_difference_leads_to_and_fro(seed):
    """Byte for byte, the order of the entries too."""
    chance = random.Random(seed)
    jobs = [new_job(styles.style(styles.first()))]
    for _ in range(14):
        jobs.append(changed(jobs[-1], chance))
    texts = [file.written(job) for job in jobs]
    steps = [difference(a, b) for a, b in itertools.pairwise(jobs)]
    job = jobs[0]
    for step, text in zip(steps, texts[1:], strict=True):
        job = turned(job, step, back=False)
        assert file.written(job) == text
    for step, text in zip(reversed(steps), reversed(texts[:-1]), strict=True):
        job = turned(job, step, back=True)
        assert file.written(job) == text


@pytest.mark.parametrize("of", ["amounts", "measurements"])
def test_a_step_is_small(qtbot, of):
    """At most 1 kB for each step of undo, with twelve amounts set or a card full."""
    chance = random.Random(0)
    history, held = History(), [new_job(styles.style(styles.first()))]
    names = [amount.name for amount in held[0].draft.amounts][:12]

    def step():
        text = f"{chance.uniform(10, 99):.2f} mm"
        if of == "amounts":
            edited = edits.set_amount(held[0], chance.choice(names), text)
        else:
            edited = edits.set_measurement(held[0], "waist", text)
        history.do("Change of hip ease", held[0], edited.job, put)

    def put(job):
        held[0] = job

    for _ in range(60):
        step()
    # What other tests hold is not looked through as well.
    gc.freeze()
    tracemalloc.start()
    try:
        before = tracemalloc.get_traced_memory()[0]
        for _ in range(STEPS):
            step()
        gc.collect()
        each = (tracemalloc.get_traced_memory()[0] - before) / STEPS
    finally:
        tracemalloc.stop()
    assert history.count() > STEPS
    assert each < MOST
    last = held[0]
    history.setIndex(0)
    assert held[0] == new_job(styles.style(styles.first()))
    history.setIndex(history.count())
    assert file.written(held[0]) == file.written(last)

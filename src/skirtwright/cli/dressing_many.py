"""One style for many people."""

from __future__ import annotations

import json
import os
import re
from dataclasses import asdict
from functools import partial
from typing import Any

from skirtwright import __version__
from skirtwright.cli.done import DONE, WRONG, Done, Options, report_saved
from skirtwright.cli.verbs import with_style_options
from skirtwright.export.print_media import paper_named
from skirtwright.job import edits, opening
from skirtwright.job.job import Job
from skirtwright.job.prints import today
from skirtwright.job.reading import load_bytes
from skirtwright.measures.card import Card
from skirtwright.measures.measurements import measurements
from skirtwright.problems import BadInput
from skirtwright.words import say
from skirtwright.workroom.batch import TABLE, Outcome, check_columns, said, state
from skirtwright.workroom.batch import dress as dress_all
from skirtwright.workroom.book_entries import check_day
from skirtwright.workroom.one_person import Request
from skirtwright.workroom.people import read_people

MOST_WORKERS = 64
"""Processes of one batch; more than any machine beside a cutting table has."""


def dress(options: Options) -> Done:
    """A folder for each person of a table, and one table of them all."""
    workers, day = _workers(options), _day(options)
    style = opening.open_source(options.source)
    what = options.people.name
    people = read_people(load_bytes(options.people), what, options.unit or "cm")
    check_columns(_required_measurements(style), people, what)
    wanted = Request(
        paper=paper_named(options.paper).name,
        sheet_paper="letter" if options.paper in ("letter", "legal") else "a4",
        day=day,
        language=options.language,
    )
    order = partial(_order, style, options)
    order(style.card)  # What nobody could have is refused before anything is made.

    def tell(outcome: Outcome, done: int, whole: int) -> None:
        options.progress(said(outcome, done, whole, options.manner))

    ended = dress_all(
        order,
        people,
        wanted,
        options.folder,
        workers=workers,
        scheduler=options.scheduler or "",
        told=tell,
    )
    return Done(
        tuple(_lines(ended, options)),
        report_saved(options, json.dumps(_report(ended), ensure_ascii=False)),
        saved=(options.folder / TABLE,),
        code=WRONG if any(one.wrong or one.refused for one in ended) else DONE,
    )


def _order(style: Job, options: Options, card: Card) -> Job:
    begins = style.sample and not style.amounts
    job = edits.set_card(style, card).job
    unit = options.unit or card.unit
    return with_style_options(job, options, unit, begins=begins)


def _required_measurements(style: Job) -> list[str]:
    known = measurements()
    return [name for name in style.draft.measurements if known[name].estimate is None]


def _workers(options: Options) -> int:
    """Processes asked for; as many as this process may use processors when none are."""
    text: str | None = options.workers
    if text is None:
        if hasattr(os, "sched_getaffinity"):
            return min(len(os.sched_getaffinity(0)), MOST_WORKERS)
        return min(os.cpu_count() or 1, MOST_WORKERS)
    if not re.fullmatch(r"[0-9]{1,4}", text) or not 1 <= int(text) <= MOST_WORKERS:
        raise BadInput("cli.not_workers", text, text=text, most=MOST_WORKERS)
    return int(text)


def _day(options: Options) -> str:
    text: str | None = options.date
    return today() if text is None else check_day(text)


def _report(ended: tuple[Outcome, ...]) -> dict[str, Any]:
    """All of it as JSON; lengths in mm."""
    people = [{**asdict(one), "state": state(one)} for one in ended]
    return {"skirtwright": __version__, "people": people}


def _lines(ended: tuple[Outcome, ...], options: Options) -> list[str]:
    """How many are done, and who needs a look."""
    looks = [one for one in ended if one.needs_a_look]
    made = sum(not one.refused for one in ended)
    values = {"made": made, "all": len(ended), "looks": len(looks)}
    lines = [say("batch.ended", values, options.manner)]
    for one in looks:
        told = {"name": one.called, "why": one.needs_a_look}
        lines.append("  " + say("batch.needs_a_look", told, options.manner))
    return lines

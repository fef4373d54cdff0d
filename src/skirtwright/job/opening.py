"""An order from what is asked for: a style or a file, a card, measures and amounts."""

from __future__ import annotations

import os
from pathlib import Path

from skirtwright.draft import styles
from skirtwright.job import edits, file, varying
from skirtwright.job.job import Job, new_job
from skirtwright.job.reading import load_bytes
from skirtwright.measures.card import Card, read_card
from skirtwright.measures.sizes import read_size
from skirtwright.measures.strict_json import read_strict


def open_source(source: str) -> Job:
    """An order from a style's id, a .skirt file, or a style file of hers.

    Raises:
        SkirtwrightError: there is no such style or file, or it cannot be read.
    """
    path = Path(source)
    if path.suffix == file.SUFFIX:
        return file.load(path)
    if source in styles.names() or not os.path.lexists(source):
        return new_job(styles.style(source))
    text = load_bytes(path)
    raw = read_strict(text, path.name)
    if isinstance(raw, dict) and "steps" in raw:
        return new_job(styles.read_draft(text, path.name))
    return file.read(text, path.name)


def with_card_file(job: Job, path: Path) -> Job:
    """The order for the client of a card file.

    Raises:
        SkirtwrightError: the card cannot be read.
    """
    card = read_card(load_bytes(path), path.name)
    return edits.set_card(job, card).job


def with_size(job: Job, text: str) -> Job:
    """The order for a size of a published chart, written `CHART:SIZE`.

    Raises:
        BadInput, NotFound: it cannot be read, or there is no such chart or size.
    """
    return edits.set_card(job, read_size(text)).job


def with_variant(job: Job, name: str) -> Job:
    """The order laid off in a ready way of sharing.

    Raises:
        NotFound: there is no such variant.
    """
    return varying.set_variant(job, name).job


def without_card(job: Job) -> Job:
    """The order with an empty card, for measures given one by one."""
    return edits.set_card(job, Card(name="", measurements={})).job

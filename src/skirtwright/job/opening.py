"""An order from what is asked for: a style or a file, a card, measures and amounts."""

from __future__ import annotations

import os
from pathlib import Path

from skirtwright.draft import styles
from skirtwright.job import file
from skirtwright.job.job import Job, new_job
from skirtwright.job.reading import load_bytes
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

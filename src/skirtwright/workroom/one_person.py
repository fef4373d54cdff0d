"""What one person gets: her order, her pattern and her making-up sheet.

A text in and bytes out, so that it can be done in another process.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from threading import Lock

from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import paper_named
from skirtwright.export.printing import Printing
from skirtwright.job import file
from skirtwright.job.worktable import Look, Worktable, laid
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, in_one_sentence, says

ORDER, PATTERN, SHEET = "order.skirt", "pattern.pdf", "making-up.pdf"


@dataclass(frozen=True)
class Request:
    """What everyone gets, and how it is said.

    Attributes:
        paper: the name of the sheets the pattern is printed on.
        sheet_paper: of the making-up sheet: a4 or letter.
        day: printed on both, as YYYY-MM-DD.
    """

    paper: str
    sheet_paper: str
    day: str
    language: str


@dataclass(frozen=True)
class PersonFiles:
    """One person's files, and what there is to say of them.

    Attributes:
        files: the content of each, by name.
        wrong, cautions: the sentences of the findings.
        finished: finished measures, mm; None where the style has none.
        refused: why nothing could be drafted; empty when it was.
    """

    files: Mapping[str, bytes]
    wrong: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    finished: Mapping[str, float | None] = field(default_factory=dict)
    refused: str = ""


def make(text: str, wanted: Request) -> PersonFiles:
    """Work one order and write its papers.

    Args:
        text: of a .skirt file.

    Raises:
        BadInput: the text is no order.
    """
    job = file.read(text, ORDER)
    manner = Manner(job.card.unit, language=wanted.language)
    order = {ORDER: text.encode()}
    try:
        look = laid(Worktable().look(job).unrefused())
        papers = _papers(look, wanted, manner)
    except SkirtwrightError as refused:
        return PersonFiles(order, refused=in_one_sentence(refused.problem, manner))
    said: dict[str, list[str]] = {"wrong": [], "caution": [], "note": []}
    for problem in look.problems:
        said[problem.severity].append(says(problem, manner))
    finished = dict(look.report.finished)
    wrong, cautions = tuple(said["wrong"]), tuple(said["caution"])
    return PersonFiles({**order, **papers}, wrong, cautions, finished)


_ALONE = Lock()


def make_alone(text: str, wanted: Request) -> PersonFiles:
    """The same, one at a time in a process: workers of others may run threads."""
    with _ALONE:
        return make(text, wanted)


def _papers(look: Look, wanted: Request, manner: Manner) -> Mapping[str, bytes]:
    from skirtwright.export.sewing.worksheet import worksheet_pdf

    order = (look.report, look.job.card.name, wanted.day)
    return {
        PATTERN: PrintJob(*order, Printing(paper=wanted.paper), manner).pdf(),
        SHEET: worksheet_pdf(*order, paper_named(wanted.sheet_paper), manner),
    }

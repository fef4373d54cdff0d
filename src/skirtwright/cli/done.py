"""What came of a verb: what is said, what is saved, and how the process ends."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from skirtwright.export.report_json import as_json
from skirtwright.job.saving import save_whole
from skirtwright.job.worktable import Look
from skirtwright.measures.measurements import known_measurement, measurements
from skirtwright.problems import BadInput, Problem
from skirtwright.words import Manner, in_two_sentences, say, translate

DONE, WRONG = 0, 1

Options = argparse.Namespace


@dataclass(frozen=True)
class Done:
    """A verb's work, not told and not saved yet.

    Attributes:
        lines: what there is to say.
        saves: each saves one file, or keeps something for this user.
        saved: the files she is told of.
        code: how the process ends.
    """

    lines: tuple[str, ...]
    saves: tuple[Callable[[], None], ...] = ()
    saved: tuple[Path, ...] = ()
    code: int = DONE


def wants_suffix(path: Path, known: tuple[str, ...]) -> None:
    """Refuse a file whose name does not end as its kind does."""
    if path.suffix.lower() not in known:
        raise BadInput("cli.wrong_suffix", str(path), file=path.name, known=known)


def only_with(option: str, suffix: str) -> BadInput:
    """That an option is of no use to the file asked for."""
    return BadInput("cli.only_with_suffix", option, option=option, suffix=suffix)


def output_saved(options: Options, data: bytes) -> Callable[[], None]:
    """What saves the verb's own output."""
    return partial(save_whole, options.output, data)


def report_saved(options: Options, text: str) -> tuple[Callable[[], None], ...]:
    """What saves the report, where one is asked for."""
    if not options.report:
        return ()
    return (partial(save_whole, options.report, text.encode()),)


def done(
    options: Options,
    look: Look,
    told: tuple[str, ...] = (),
    *saves: Callable[[], None],
) -> Done:
    """What there is to say of an order, what was asked for besides, and what to save.

    Args:
        saves: the first saves the verb's own output.
    """
    text = json.dumps(
        as_json(look.report, options.manner), ensure_ascii=False, allow_nan=False
    )
    return Done(
        (*_figures(look, options.manner), *told),
        (*saves, *report_saved(options, text)),
        _saved(options) if saves else (),
        WRONG if look.report.has_wrong else DONE,
    )


def _saved(options: Options) -> tuple[Path, ...]:
    """What she is told was saved."""
    record = getattr(options, "record", None)
    return (options.output,) if record is None else (options.output, record)


def translated_label(name: str, manner: Manner) -> str:
    """What a measurement is called."""
    return translate(known_measurement(name).label, manner)


def _figures(look: Look, manner: Manner) -> list[str]:
    lines = [look.report.title]
    for name, value in look.report.finished.items():
        if value is not None:
            label = say(f"finished.{name}", manner=manner)
            shown = say("finished.length_shown", {"value": value}, manner)
            lines.append(f"  {label}: {shown}")
    if look.report.unused:
        names = [measurements()[name].label for name in look.report.unused]
        said = [translate(name, manner) for name in names]
        lines.append(say("cli.measurements_unused", {"names": said}, manner))
    return lines + [problem_line(problem, manner) for problem in look.problems]


def problem_line(problem: Problem, manner: Manner) -> str:
    """A finding with how grave it is, in one line."""
    severity = say(f"severity.{problem.severity}", manner=manner)
    return f"{severity}: {in_two_sentences(problem, manner)}"

"""The same work without a window: `skirtwright VERB SOURCE [INPUT]`."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any, NoReturn

from skirtwright import __version__
from skirtwright.draft import styles
from skirtwright.export import printing
from skirtwright.export.correction import put_right
from skirtwright.export.papers import paper_named
from skirtwright.export.pattern import svg_of
from skirtwright.job import edits, file, opening, printers
from skirtwright.job.job import Job
from skirtwright.job.saving import check_place, save_whole
from skirtwright.job.worktable import Look, Worktable
from skirtwright.measures.measurements import measurements
from skirtwright.measures.units import read_length
from skirtwright.problems import BadInput, Problem, SkirtwrightError
from skirtwright.report import as_json
from skirtwright.telling.sentences import why
from skirtwright.words import Manner, in_one_sentence, remedy, say, says

DONE, WRONG, BAD = 0, 1, 2


def main(argv: Sequence[str] | None = None) -> int:
    """Run one verb.

    Returns:
        0 done; 1 done with a `wrong` finding; 2 bad input, said in one sentence.
    """
    try:
        options = _parser().parse_args(argv)
        for place in (getattr(options, "output", None), options.report):
            if place is not None:
                check_place(place)
        run: Callable[[argparse.Namespace], int] = options.run
        return run(options)
    except SkirtwrightError as error:
        print(in_one_sentence(error.problem, Manner()), file=sys.stderr)
        return BAD
    except BrokenPipeError:
        # Whoever read the output has gone; there is nobody to tell.
        sys.stderr.close()
        return DONE


class _Parser(argparse.ArgumentParser):
    """A parser whose refusals are our own."""

    def error(self, message: str) -> NoReturn:
        """Refuse in one sentence."""
        raise BadInput("cli.not_understood", self.prog, reason=message, verb=self.prog)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="skirtwright", description=say("cli.about"))
    parser.add_argument("--version", action="version", version=__version__)
    verbs = parser.add_subparsers(metavar="VERB", required=True, parser_class=_Parser)
    for name, add in VERBS.items():
        verb = verbs.add_parser(name, help=say(f"cli.{name}"), allow_abbrev=False)
        verb.add_argument("--report", metavar="F.json", type=Path)
        add(verb)
    return parser


def _takes_source(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("source", metavar="SOURCE", help=say("cli.source"))
    whose = verb.add_mutually_exclusive_group()
    whose.add_argument("--card", metavar="F.json", type=Path)
    whose.add_argument("--size", metavar="CHART:SIZE")
    verb.add_argument("--variant", metavar="NAME", help=say("cli.variant"))
    for option in ("--measure", "--amount", "--choose"):
        verb.add_argument(
            option, metavar="NAME=VALUE", action="append", default=[], type=_pair
        )


def _pair(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip():
        raise BadInput("cli.not_a_pair", text, text=text)
    return name.strip(), value.strip()


# Verbs


def _add_styles(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("--json", action="store_true")
    verb.set_defaults(run=_styles)


def _styles(options: argparse.Namespace) -> int:
    listed = [_style_entry(name) for name in styles.names()]
    if options.json:
        print(json.dumps(listed, ensure_ascii=False, indent=1))
    else:
        for entry in listed:
            print(f"{entry['id']:<16} {entry['name']}")
    if options.report:
        save_whole(options.report, json.dumps(listed, ensure_ascii=False).encode())
    return DONE


def _style_entry(name: str) -> dict[str, Any]:
    draft = styles.style(name)
    return {
        "id": draft.id,
        "name": draft.title,
        "measurements": list(draft.measurements),
        "amounts": {
            amount.name: {
                "kind": amount.kind,
                "default": amount.default,
                "least": amount.least,
                "most": amount.most,
                "label": amount.label,
            }
            for amount in draft.amounts
        },
        "choices": {
            choice.name: {"options": list(choice.options), "default": choice.default}
            for choice in draft.choices
        },
    }


def _add_draft(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.add_argument("-o", dest="output", metavar="F.skirt", type=Path)
    verb.add_argument("--why", metavar="PLACE")
    verb.set_defaults(run=_draft)


def _draft(options: argparse.Namespace) -> int:
    look = _look(options)
    chain = why(look.worked, options.why) if options.why else ()
    if options.output:
        _wants_suffix(options.output, (file.SUFFIX,))
        file.save(look.job, options.output)
    _tell(look)
    for said in chain:
        print(say(said.message, said.values))
    if options.output:
        print(say("cli.saved", {"file": str(options.output)}))
    return _finish(options, look)


def _add_check(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.set_defaults(run=_check)


def _check(options: argparse.Namespace) -> int:
    look = _look(options)
    _tell(look)
    return _finish(options, look)


def _add_export(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.add_argument("-o", dest="output", metavar="F.svg", type=Path, required=True)
    verb.set_defaults(run=_export)


def _export(options: argparse.Namespace) -> int:
    _wants_suffix(options.output, (".svg",))
    look = _look(options)
    text = svg_of(look.report, look.job.card.name, Manner())
    save_whole(options.output, text.encode())
    return _saved(options, look)


def _takes_printing(verb: argparse.ArgumentParser, metavar: str) -> None:
    _takes_source(verb)
    verb.add_argument("-o", dest="output", metavar=metavar, type=Path, required=True)
    verb.add_argument("--only", metavar="PIECE", action="append", default=[])
    verb.add_argument("--lines", choices=("both", "stitching", "cutting"))
    verb.add_argument("--scale", choices=("full", "half", "quarter", "fifth"))
    verb.add_argument("--toile", action="store_true", help=say("cli.toile"))
    verb.add_argument("--roll", metavar="WIDTH")


def _add_print(verb: argparse.ArgumentParser) -> None:
    _takes_printing(verb, "F.pdf")
    verb.add_argument("--paper", metavar="a4|letter|a3|legal|tabloid")
    sides = verb.add_mutually_exclusive_group()
    for side in ("portrait", "landscape"):
        sides.add_argument(f"--{side}", dest="side", action="store_const", const=side)
    verb.add_argument("--overlap", metavar="LENGTH", type=read_length)
    verb.add_argument("--margin", metavar="LENGTH", type=read_length)
    kind = verb.add_mutually_exclusive_group()
    kind.add_argument("--full-size", action="store_true", help=say("cli.full_size"))
    kind.add_argument("--projector", action="store_true", help=say("cli.projector"))
    verb.add_argument("--flat", action="store_true", help=say("cli.flat"))
    for way in ("across", "along"):
        verb.add_argument(
            f"--read-{way}", metavar="LENGTH", type=read_length, help=say("cli.read")
        )
    verb.add_argument("--printer", metavar="NAME", default="")
    verb.set_defaults(run=_print)


def _printing(options: argparse.Namespace) -> printing.Printing:
    """The printing options given; the rest are the defaults."""
    given = {
        "paper": getattr(options, "paper", None),
        "orientation": getattr(options, "side", None),
        "overlap": getattr(options, "overlap", None),
        "margin": getattr(options, "margin", None),
        "lines": options.lines,
        "scale": options.scale,
    }
    return printing.Printing(
        only=tuple(options.only),
        toile=options.toile,
        layered=not getattr(options, "flat", False),
        **{name: value for name, value in given.items() if value is not None},
    )


def _print(options: argparse.Namespace) -> int:
    _wants_suffix(options.output, (".pdf",))
    if options.roll and not options.full_size:
        raise BadInput("cli.roll_without_full_size", options.roll)
    wanted = _printing(options)
    readings = (options.read_across, options.read_along)
    if options.printer or any(readings):
        correction, kept = put_right(printers.kept(), options.printer, *readings)
        wanted = replace(wanted, correction=correction, printer=options.printer)
        if options.printer and any(readings):
            printers.keep(kept)
    look = _look(options)
    order = (look.report, look.job.card.name, _today(), wanted)
    if options.full_size:
        data = printing.full_size_pdf(*order, options.roll or "914mm", Manner())
    elif options.projector:
        data = printing.projector_pdf(*order, Manner())
    else:
        data = printing.tiled_pdf(*order, Manner())
    save_whole(options.output, data)
    return _saved(options, look)


def _add_plot(verb: argparse.ArgumentParser) -> None:
    _takes_printing(verb, "F.plt")
    verb.add_argument("--plotter", metavar="NAME", default="pen")
    verb.set_defaults(run=_plot)


def _plot(options: argparse.Namespace) -> int:
    _wants_suffix(options.output, (".plt", ".hpgl"))
    look = _look(options)
    data = printing.plotter_file(
        look.report,
        look.job.card.name,
        _today(),
        _printing(options),
        options.plotter,
        options.roll,
        Manner(),
    )
    save_whole(options.output, data)
    return _saved(options, look)


def _add_worksheet(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.add_argument("-o", dest="output", metavar="F.pdf", type=Path, required=True)
    verb.add_argument("--paper", metavar="a4|letter", default="a4")
    verb.add_argument("--unit", choices=("cm", "in"), help=say("cli.unit"))
    verb.set_defaults(run=_worksheet)


def _worksheet(options: argparse.Namespace) -> int:
    from skirtwright.export.sewing.worksheet import worksheet_pdf

    _wants_suffix(options.output, (".pdf",))
    paper = paper_named(options.paper)
    look = _look(options)
    manner = Manner(unit=options.unit or look.job.card.unit)
    data = worksheet_pdf(look.report, look.job.card.name, _today(), paper, manner)
    save_whole(options.output, data)
    return _saved(options, look)


def _today() -> str:
    return datetime.now().astimezone().date().isoformat()


def _saved(options: argparse.Namespace, look: Look) -> int:
    _tell(look)
    print(say("cli.saved", {"file": str(options.output)}))
    return _finish(options, look)


VERBS: dict[str, Callable[[argparse.ArgumentParser], None]] = {
    "styles": _add_styles,
    "draft": _add_draft,
    "check": _add_check,
    "export": _add_export,
    "print": _add_print,
    "plot": _add_plot,
    "worksheet": _add_worksheet,
}
"""Each verb with what it takes."""


# Shared


def _look(options: argparse.Namespace) -> Look:
    """The order the options ask for, worked; a refusal is bad input.

    Raises:
        SkirtwrightError: naming what is wrong and what would do.
    """
    job = _job(options)
    look = Worktable().look(job)
    if look.report.refusals:
        raise SkirtwrightError.of(look.report.refusals[0])
    return look


def _job(options: argparse.Namespace) -> Job:
    job = opening.open_source(options.source)
    if options.card:
        job = opening.with_card_file(job, options.card)
    elif options.size:
        job = opening.with_size(job, options.size)
    elif options.measure and job.sample:
        job = opening.without_card(job)
    for name, text in options.measure:
        job = edits.set_measurement(job, name, text).job
    if options.variant:
        job = opening.with_variant(job, options.variant)
    for name, text in options.amount:
        job = edits.set_amount(job, name, text).job
    for name, option in options.choose:
        job = edits.set_choice(job, name, option).job
    return job


def _wants_suffix(path: Path, known: tuple[str, ...]) -> None:
    if path.suffix.lower() not in known:
        raise BadInput(
            "cli.wrong_suffix", str(path), file=path.name, known=" ".join(known)
        )


def _finish(options: argparse.Namespace, look: Look) -> int:
    if options.report:
        text = json.dumps(as_json(look.report), ensure_ascii=False, allow_nan=False)
        save_whole(options.report, text.encode())
    return WRONG if look.report.has_wrong else DONE


def _tell(look: Look) -> None:
    """The finished figures and the checks, in words."""
    print(look.report.title)
    for name, value in look.report.finished.items():
        if value is not None:
            label = say(f"finished.{name}")
            print(f"  {label}: {say('finished.length_shown', {'value': value})}")
    if look.report.unused:
        names = [measurements()[name].label for name in look.report.unused]
        print(say("cli.measurements_unused", {"names": ", ".join(names)}))
    for problem in look.problems:
        print(_line(problem))


def _line(problem: Problem) -> str:
    manner = Manner()
    words = [says(problem, manner), remedy(problem, manner)]
    return f"{say(f'severity.{problem.severity}')}: {' '.join(w for w in words if w)}"

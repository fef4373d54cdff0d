"""The options of each verb, and our own words where one is not understood."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any, NoReturn

from skirtwright import __version__
from skirtwright.cli import (
    client_book,
    dressing_many,
    fitting_verb,
    lay_verb,
    quote_verb,
    verbs,
)
from skirtwright.export.tiles import LAYINGS
from skirtwright.export.true_size import WRITERS
from skirtwright.figure.drawn_figure import VIEWS
from skirtwright.measures.letters import check_letters
from skirtwright.measures.units import read_length
from skirtwright.problems import BadInput, nearest
from skirtwright.words import BRITISH, Manner, languages, say

_OF_SHEETS = (
    "--paper",
    "--portrait",
    "--landscape",
    "--overlap",
    "--margin",
    "--laying",
    "--sheets",
    "--printer",
    "--read-across",
    "--read-along",
)

_FEWER_SHEETS = ("--lining-on-shell", "--as-sizes")

_AS_BEFORE = ("--scale", "--toile", "--lines", *_FEWER_SHEETS)
"""With `--changed` they are as they were printed, and so are the sheets."""

_APART = (
    ("--full-size", _OF_SHEETS),
    ("--projector", _OF_SHEETS),
    ("--changed", (*_OF_SHEETS, "--full-size", "--projector", *_AS_BEFORE)),
    ("--projector", _FEWER_SHEETS),
)
"""An option, and those that have no effect beside it."""


class _Once(argparse.Action):
    """An option that holds one value: given twice, it must be the same."""

    given: object = None

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: object,
        option_string: str | None = None,
    ) -> None:
        """Keep the value.

        Raises:
            BadInput: another was given before.
        """
        if self.given not in (None, values):
            told = {"option": _named(self), "first": str(self.given)}
            raise BadInput("cli.given_twice", _named(self), **told, second=str(values))
        self.given = values
        setattr(namespace, self.dest, values)


class Parser(argparse.ArgumentParser):
    """A parser whose refusals are our own."""

    def __init__(self, **named: Any) -> None:
        super().__init__(**named)
        self.register("action", None, _Once)

    def error(self, message: str) -> NoReturn:
        """Refuse in one sentence, in our words where they are known."""
        for pattern, code in _SAID.items():
            found = re.fullmatch(pattern, message, re.DOTALL)
            if found:
                raise BadInput(code, self.prog, **found.groupdict())
        raise BadInput("cli.not_understood", self.prog, reason=message)

    def explain(self) -> None:
        """Give every option its line of help, and the list of them its heading."""
        self._positionals.title = say("cli.what_it_takes")
        self._optionals.title = say("cli.options")
        for action in self._actions:
            name = (action.option_strings or [action.dest])[-1].strip("-")
            if not isinstance(action, argparse._SubParsersAction):  # noqa: SLF001 - ours
                action.help = say(f"cli.option.{name.replace('-', '_')}")

    def _get_value(self, action: argparse.Action, arg_string: str) -> Any:
        """The value of an option; what its reader refuses it refuses in its words."""
        if action.nargs == argparse.PARSER:
            return arg_string  # The verb's own parser reads what stands behind it.
        text = check_letters(arg_string, _named(action))
        if not text.strip():
            code = "cli.lacks_value" if action.option_strings else "cli.required"
            raise BadInput(code, text, option=_named(action), names=_named(action))
        read = action.type
        if not callable(read):
            return text
        try:
            return read(text)
        except BadInput as refused:
            if refused.problem.code == "cli.not_a_pair":
                raise
            values = {"option": _named(action), "text": text}
            raise BadInput("cli.unread_value", text, **values) from refused

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is None or value in action.choices:
            return
        known = list(action.choices)
        near = nearest(str(value), set(known).difference(client_book.DELETING))
        if action.nargs == argparse.PARSER:
            values = {"text": value, "nearest": near}
            raise BadInput("cli.no_verb", str(value), **values, known=known)
        values = {"option": _named(action), "text": value, "nearest": near}
        raise BadInput("cli.no_choice", str(value), **values, known=known)


def _named(action: argparse.Action) -> str:
    return "/".join(action.option_strings) or str(action.metavar or action.dest)


_SAID = {
    r"unrecognized arguments: (?P<text>.*)": "cli.unknown_option",
    r"the following arguments are required: (?P<names>.*)": "cli.required",
    r"argument (?P<first>.*): not allowed with argument (?P<second>.*)": (
        "cli.not_together"
    ),
    r"argument (?P<option>.*): expected .*": "cli.lacks_value",
    r"argument (?P<option>.*): ignored explicit argument (?P<text>.*)": (
        "cli.takes_nothing"
    ),
}
"""What argparse says in English, with the code of our sentence for it."""


def _check_together(options: argparse.Namespace) -> None:
    """Refuse an option that has no effect beside another, or without it.

    Raises:
        BadInput: naming the two.
    """
    given = set(_given(options))
    for way, others in _APART:
        for option in others:
            if {way, option} <= given:
                raise BadInput("cli.not_together", option, first=option, second=way)
    if hasattr(options, "projector") and options.roll and not options.full_size:
        raise BadInput("cli.roll_without_full_size", options.roll)
    _check_projector(options, given)
    named = getattr(options, "name_client", False)
    if hasattr(options, "full_size") and named > options.full_size:
        raise BadInput("cli.named_without_full_size", "--name-client")


def _check_projector(options: argparse.Namespace, given: set[str]) -> None:
    if hasattr(options, "projector") and not options.projector:
        for option in _OF_PROJECTOR:
            if option in given:
                raise BadInput("cli.without_projector", option, option=option)


_OF_PROJECTOR = ("--dark", "--open-out", "--mirrored")


def _given(options: argparse.Namespace) -> Iterable[str]:
    for name, value in vars(options).items():
        if value is not None and value is not False and value != []:
            said = value if name == "side" else name.replace("_", "-")
            yield f"--{said}"


def asked(argv: Sequence[str] | None) -> argparse.Namespace:
    """The options asked for, none of which is without effect.

    Raises:
        BadInput: what is not understood, or has no effect.
    """
    options = _parser().parse_args(argv)
    options.manner = Manner(options.unit or "cm", language=options.language)
    _check_together(options)
    return options


def _parser() -> argparse.ArgumentParser:
    made = Parser(prog="skirtwright", description=say("cli.about"), allow_abbrev=False)
    made.add_argument("--version", action="version", version=__version__)
    known = made.add_subparsers(metavar="VERB", required=True, parser_class=Parser)
    for name, add in VERBS.items():
        verb = known.add_parser(name, help=say(f"cli.{name}"), allow_abbrev=False)
        add(verb)
        verb.add_argument("--report", metavar="F.json", type=Path)
        if name == "styles":  # It writes no lengths but the styles' own workings.
            verb.set_defaults(unit=None)
        else:
            verb.add_argument("--unit", choices=("cm", "in"))
        verb.add_argument("--language", choices=languages(), default=BRITISH)
        verb.explain()
    made.explain()
    return made


def _takes_source(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("source", metavar="SOURCE")
    client = verb.add_mutually_exclusive_group()
    client.add_argument("--card", metavar="F.json", type=Path)
    client.add_argument("--size", metavar="CHART:SIZE")
    client.add_argument("--client", metavar="NAME")
    verb.add_argument("--book", metavar="FILE", type=Path)
    _takes_pairs(verb, "--measure")
    _takes_style_options(verb)


def _takes_style_options(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("--variant", metavar="NAME")
    _takes_pairs(verb, "--amount", "--choose")


def _takes_pairs(verb: argparse.ArgumentParser, *options: str) -> None:
    for option in options:
        verb.add_argument(
            option, metavar="NAME=VALUE", action="append", default=[], type=_pair
        )


def _pair(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip():
        raise BadInput("cli.not_a_pair", text, text=text)
    return name.strip(), value.strip()


def _length(text: str) -> str:
    """A length as typed; its unit is known once the order is."""
    read_length(text)
    return text


def _whole(text: str) -> int:
    """The number of something that is listed."""
    if not text.isascii() or not text.isdigit():
        raise BadInput("cli.unread_value", text)
    return int(text[:6])


def _add_styles(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("--json", action="store_true")
    verb.set_defaults(run=verbs.list_styles)


def _add_draft(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.add_argument("-o", dest="output", metavar="F.skirt|F.json", type=Path)
    verb.add_argument("--title", metavar="TITLE")
    verb.add_argument("--why", metavar="PLACE")
    verb.set_defaults(run=verbs.draft)


def _add_check(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.set_defaults(run=verbs.check)


def _takes_output(verb: argparse.ArgumentParser, metavar: str) -> None:
    _takes_source(verb)
    verb.add_argument("-o", dest="output", metavar=metavar, type=Path, required=True)


def _takes_record(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("--record", metavar="F.skirt", type=Path)


def _add_export(verb: argparse.ArgumentParser) -> None:
    _takes_output(verb, "|".join(f"F{suffix}" for suffix in WRITERS))
    verb.add_argument("--on-fold", action="store_true")
    verb.add_argument("--name-client", action="store_true")
    _takes_record(verb)
    verb.set_defaults(run=verbs.export)


def _takes_printing(verb: argparse.ArgumentParser, metavar: str) -> None:
    _takes_output(verb, metavar)
    verb.add_argument("--only", metavar="PIECE", action="append", default=[])
    verb.add_argument("--lines", choices=("both", "stitching", "cutting"))
    verb.add_argument("--scale", choices=("full", "half", "quarter", "fifth"))
    verb.add_argument("--toile", action="store_true")
    verb.add_argument("--roll", metavar="WIDTH")
    _takes_record(verb)


def _add_print(verb: argparse.ArgumentParser) -> None:
    _takes_printing(verb, "F.pdf")
    verb.add_argument("--paper", metavar="a4|letter|a3|legal|tabloid")
    sides = verb.add_mutually_exclusive_group()
    for side in ("portrait", "landscape"):
        sides.add_argument(f"--{side}", dest="side", action="store_const", const=side)
    verb.add_argument("--overlap", metavar="LENGTH", type=_length)
    verb.add_argument("--margin", metavar="LENGTH", type=_length)
    verb.add_argument("--laying", choices=LAYINGS)
    verb.add_argument("--sheets", metavar="NUMBERS")
    kind = verb.add_mutually_exclusive_group()
    kind.add_argument("--full-size", action="store_true")
    kind.add_argument("--projector", action="store_true")
    verb.add_argument("--changed", action="store_true")
    verb.add_argument("--dark", action="store_true")
    verb.add_argument("--open-out", action="store_true")
    verb.add_argument("--mirrored", action="store_true")
    verb.add_argument("--flat", action="store_true")
    for way in ("across", "along"):
        verb.add_argument(f"--read-{way}", metavar="LENGTH", type=_length)
    verb.add_argument("--printer", metavar="NAME")
    verb.add_argument("--name-client", action="store_true")
    for fewer in _FEWER_SHEETS:
        verb.add_argument(fewer, action="store_true")
    _takes_sizes(verb)
    verb.set_defaults(run=verbs.print_paper)


def _takes_sizes(verb: argparse.ArgumentParser) -> None:
    """Sizes drawn over one another, besides `--size CHART:A-B`."""
    verb.add_argument(
        "--with-card", metavar="F.json", type=Path, action="append", default=[]
    )
    verb.add_argument("--nest-on", metavar="EDGE start|EDGE end|MARK")


def _add_plot(verb: argparse.ArgumentParser) -> None:
    _takes_printing(verb, "F.plt")
    verb.add_argument("--plotter", metavar="NAME", default="pen")
    verb.add_argument("--solid", action="store_true")
    _takes_sizes(verb)
    verb.set_defaults(run=verbs.plot)


def _takes_paper(verb: argparse.ArgumentParser) -> None:
    """The paper of a page that is no pattern."""
    papers = ("a4", "letter")
    verb.add_argument("--paper", choices=papers, default="a4", type=str.casefold)


def _add_worksheet(verb: argparse.ArgumentParser) -> None:
    _takes_output(verb, "F.pdf")
    _takes_paper(verb)
    verb.set_defaults(run=verbs.worksheet)


def _add_quote(verb: argparse.ArgumentParser) -> None:
    _takes_output(verb, "F.pdf")
    for option in ("--hours", "--rate", "--notions"):
        verb.add_argument(option, metavar="N")
    verb.add_argument("--currency", metavar="SIGN")
    _takes_paper(verb)
    verb.set_defaults(run=quote_verb.quote)


def _add_card(verb: argparse.ArgumentParser) -> None:
    client = verb.add_mutually_exclusive_group()
    client.add_argument("--card", metavar="F.json", type=Path)
    client.add_argument("--client", metavar="NAME")
    verb.add_argument("--book", metavar="FILE", type=Path)
    verb.add_argument("-o", dest="output", metavar="F.pdf", type=Path, required=True)
    _takes_paper(verb)
    verb.set_defaults(run=verbs.card)


def _add_lay(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    verb.add_argument("--cloth-width", metavar="LENGTH", type=_length)
    how = verb.add_mutually_exclusive_group()
    for name, fold in (("--folded", "lengthwise"), ("--open", "single")):
        how.add_argument(name, dest="fold", action="store_const", const=fold)
    verb.add_argument("--one-way", action="store_true")
    verb.add_argument("--on-hand", metavar="LENGTH", type=_length)
    verb.add_argument(
        "--join", metavar="PIECE[=LENGTH[,LENGTH]]", action="append", default=[]
    )
    verb.add_argument("--largest", metavar="AMOUNT[,AMOUNT]")
    verb.add_argument("-o", dest="output", metavar="F.pdf|F.skirt", type=Path)
    verb.set_defaults(run=lay_verb.lay)


def _add_fit(verb: argparse.ArgumentParser) -> None:
    _takes_source(verb)
    _takes_pairs(verb, "--alter")
    verb.add_argument(
        "--take-back", metavar="NUMBER", action="append", default=[], type=_whole
    )
    verb.add_argument("-o", dest="output", metavar="F.skirt", type=Path)
    verb.set_defaults(run=fitting_verb.fit)


def _add_figure(verb: argparse.ArgumentParser) -> None:
    _takes_output(verb, "F.svg|F.png")
    verb.add_argument("--view", choices=VIEWS, default="front")
    verb.set_defaults(run=verbs.figure)


def _add_batch(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("people", metavar="PEOPLE.csv", type=Path)
    verb.add_argument("source", metavar="STYLE")
    verb.add_argument(
        "-o", "--folder", dest="folder", metavar="FOLDER", type=Path, required=True
    )
    _takes_style_options(verb)
    verb.add_argument("--paper", metavar="a4|letter|a3|legal|tabloid", default="a4")
    where = verb.add_mutually_exclusive_group()
    where.add_argument("--workers", metavar="N")
    where.add_argument("--scheduler", metavar="ADDRESS")
    verb.add_argument("--date", metavar="YYYY-MM-DD")
    verb.set_defaults(run=dressing_many.dress)


def _add_book(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("what", choices=tuple(client_book.ACTIONS))
    verb.add_argument("subject", metavar="FILE|NAME", nargs="?")
    verb.add_argument("-o", dest="output", metavar="F.json|F.age", type=Path)
    verb.add_argument("--book", metavar="FILE", type=Path)
    verb.add_argument("--passphrase", action="store_true")
    verb.set_defaults(run=client_book.run)


VERBS: dict[str, Callable[[argparse.ArgumentParser], None]] = {
    "styles": _add_styles,
    "draft": _add_draft,
    "check": _add_check,
    "export": _add_export,
    "print": _add_print,
    "plot": _add_plot,
    "worksheet": _add_worksheet,
    "figure": _add_figure,
    "lay": _add_lay,
    "fit": _add_fit,
    "quote": _add_quote,
    "card": _add_card,
    "batch": _add_batch,
    "book": _add_book,
}
"""Each verb with what it takes."""

"""The one door of the command line: however a verb ends, it ends in a sentence.

What is said is said before anything is saved, so that a verb that cannot be heard
writes nothing; only that a file was saved is said after it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Sequence
from contextlib import suppress

from skirtwright.cli.done import DONE, Done, Options, wants_suffix
from skirtwright.cli.inputs_and_outputs import (
    check_folder_apart,
    check_places,
    inputs_of,
    outputs_of,
)
from skirtwright.cli.options import asked
from skirtwright.job.faults import note_fault
from skirtwright.problems import FileTrouble, SkirtwrightError
from skirtwright.words import Manner, in_one_sentence, plain, say

BAD, FAULT, INTERRUPTED = 2, 70, 130
"""Bad input; a fault of ours (EX_SOFTWARE of BSD's sysexits.h); stopped by SIGINT."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one verb.

    Returns:
        0 done; 1 done with a `wrong` finding; 2 bad input; 70 a fault of ours; 130
        stopped by her. All but the first two are told in one line on stderr.
    """
    options: Options | None = None
    try:
        options = asked(argv)
        return _run(options)
    except SystemExit as ended:  # --help and --version
        return ended.code if isinstance(ended.code, int) else BAD
    except SkirtwrightError as error:
        manner = options.manner if options else Manner()
        return _tell_aside(in_one_sentence(error.problem, manner), BAD)
    except KeyboardInterrupt:
        return _tell_aside(say("cli.interrupted"), INTERRUPTED)
    except Exception as fault:  # noqa: BLE001 - nobody is shown a traceback
        return _tell_aside(_told_of(fault), FAULT)


def _run(options: Options) -> int:
    outputs = outputs_of(options)
    check_folder_apart(options)
    check_places(inputs_of(options), outputs)
    if options.report:
        wants_suffix(options.report, (".json",))
    options.progress = lambda line: _tell_aside(line, DONE)
    done: Done = options.run(options)
    _tell(done.lines)
    for save in done.saves:
        save()
    with suppress(FileTrouble):  # It is saved, and nobody can be told so.
        _tell(
            say("cli.saved", {"file": str(path)}, options.manner) for path in done.saved
        )
    return done.code


def _tell(lines: Iterable[str]) -> None:
    """Lines on stdout, in letters it takes.

    Raises:
        FileTrouble: it cannot be written.
    """
    out = sys.stdout
    if out is None:
        return
    try:
        for line in lines:
            out.write(_in_letters_of(out.encoding, line) + "\n")
        out.flush()
    except BrokenPipeError:
        # Whoever read it has gone; the work is done all the same.
        _close_output()
    except (OSError, ValueError) as trouble:
        _close_output()
        reason = getattr(trouble, "strerror", None) or str(trouble)
        raise FileTrouble("cli.cannot_be_told", "stdout", reason=reason) from trouble


def _in_letters_of(encoding: str | None, text: str) -> str:
    code = encoding or "utf-8"
    return plain(text).encode(code, "replace").decode(code)


def _close_output() -> None:
    """Nothing more is written: not by Python either, when it ends."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())


def _tell_aside(sentence: str, code: int) -> int:
    """One line on stderr; where there is none, the code must do."""
    if sys.stderr is not None:
        with suppress(OSError, ValueError):
            sys.stderr.write(_in_letters_of(sys.stderr.encoding, sentence) + "\n")
            sys.stderr.flush()
    return code


def _told_of(fault: Exception) -> str:
    """That a fault of ours came up, and where the note of it lies."""
    note = note_fault(fault)
    if note is None:
        return say("cli.fault_without_note", {"fault": repr(fault)})
    return say("cli.fault", {"file": str(note)})

"""What each verb does: from its options to what is said and what is saved."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from skirtwright.cli.done import (
    Done,
    Options,
    done,
    only_with,
    output_saved,
    problem_line,
    report_saved,
    wants_suffix,
)
from skirtwright.cli.nesting import cards_asked
from skirtwright.cli.print_record import on_sheets, recorded, recorded_said
from skirtwright.draft import styles
from skirtwright.export import printing
from skirtwright.export.correction import check_kept, put_right
from skirtwright.export.nested import Nest
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import paper_named
from skirtwright.export.true_size import WRITERS, Pieces
from skirtwright.figure.views import dressed
from skirtwright.figure.worn_skirt import Worn
from skirtwright.job import edits, file, habits, opening
from skirtwright.job.folders import client_book
from skirtwright.job.habits import PRINTERS
from skirtwright.job.job import Job
from skirtwright.job.kept_style import style_of
from skirtwright.job.prints import How, today
from skirtwright.job.reading import load_bytes
from skirtwright.job.worktable import Look, Worktable, laid
from skirtwright.measures.card import Card, read_card, values_of
from skirtwright.measures.measurements import measurements
from skirtwright.measures.sizes import read_size
from skirtwright.measures.unit_marking import with_units
from skirtwright.measures.units import Unit, read_length, read_number
from skirtwright.problems import (
    BadInput,
    Refused,
    SkirtwrightError,
    told_of,
)
from skirtwright.telling.sentences import why
from skirtwright.words import Manner, say, translate
from skirtwright.workroom.book import Book


def list_styles(options: Options) -> Done:
    """The styles on the shelf, in words or as JSON."""
    listed = [_style_entry(name, options.manner) for name in styles.names()]
    lines = [f"{entry['id']:<16} {entry['name']}" for entry in listed]
    if options.json:
        # Without letters that a terminal may not have.
        lines = json.dumps(listed, indent=1).splitlines()
    text = json.dumps(listed, ensure_ascii=False)
    return Done(tuple(lines), report_saved(options, text))


def _style_entry(name: str, manner: Manner) -> dict[str, Any]:
    draft = styles.style(name)
    return {
        "id": draft.id,
        "name": translate(draft.title, manner),
        "measurements": list(draft.measurements),
        "amounts": {
            amount.name: {
                "kind": amount.kind,
                "default": amount.working("default"),
                "least": amount.working("least"),
                "most": amount.working("most"),
                "label": translate(amount.label, manner),
            }
            for amount in draft.amounts
        },
        "choices": {
            choice.name: {
                "options": list(choice.offered),
                "default": choice.default,
                "when": choice.when,
            }
            for choice in draft.choices
            if len(choice.offered) > 1
        },
    }


def draft(options: Options) -> Done:
    """A style drafted for a client, and kept."""
    if options.output:
        wants_suffix(options.output, (file.SUFFIX, file.STYLE_SUFFIX))
    as_style = options.output and options.output.suffix.lower() == file.STYLE_SUFFIX
    if options.title is not None and not as_style:
        raise only_with("--title", file.STYLE_SUFFIX)
    look = look_at(options)
    chain = why(look.worked, options.why) if options.why is not None else ()
    told = tuple(say(said.message, said.values, options.manner) for said in chain)
    if not options.output:
        return done(options, look, told)
    if as_style:
        title = options.title or look.job.title or look.job.draft.title
        kept = style_of(look.job, look.worked.stated, title)
        return done(options, look, told, partial(file.save_style, kept, options.output))
    return done(options, look, told, partial(file.save, look.job, options.output))


def check(options: Options) -> Done:
    """The findings of a style or an order."""
    return done(options, look_at(options))


def export(options: Options) -> Done:
    """The pieces at true size."""
    wants_suffix(options.output, tuple(WRITERS))
    suffix = options.output.suffix.lower()
    for option in ("on_fold", "name_client"):
        if getattr(options, option) and suffix != ".dxf":
            raise only_with(f"--{option.replace('_', '-')}", ".dxf")
    look = look_at(options)
    client, manner = look.job.card.name, options.manner
    named = options.name_client or options.size is not None or look.job.sample
    size = client if named else ""
    pieces = Pieces(look.report, client, size, today(), manner, options.on_fold)
    data = WRITERS[suffix](pieces)
    told = (say("cli.dxf_in_mm", {}, manner),) if suffix == ".dxf" else ()
    return _printed(options, look, "drawing", printing.Printing(), data, told)


def print_paper(options: Options) -> Done:
    """The pieces on paper, or for a projector."""
    wants_suffix(options.output, (".pdf",))
    if options.record and options.sheets:
        raise BadInput("print.part_not_kept", "--record")
    look, wanted, others = looks_nested(options)
    keep: tuple[Callable[[], None], ...] = ()
    readings = [_length(options, f"read_{way}") for way in ("across", "along")]
    if options.printer or readings != [None, None]:
        name = options.printer or ""
        if readings == [None, None]:
            check_kept(habits.kept(PRINTERS), name)
        correction, kept = put_right(habits.kept(PRINTERS), name, *readings)
        wanted = replace(wanted, correction=correction, printer=name)
        if name and readings != [None, None]:
            keep = (partial(habits.keep, PRINTERS, kept),)
    job = PrintJob(look.report, look.job.card.name, today(), wanted, options.manner)
    if options.full_size:
        data = job.roll_pdf(job.on_roll(options.roll or "914mm"))
        return _printed(options, look, "roll", wanted, data, others)
    if options.projector:
        data = job.projector_pdf()
        return _printed(options, look, "projector", wanted, data)
    sheets = on_sheets(look, wanted, today(), options.manner, changed=options.changed)
    record = recorded(options.record, look.job, today(), "sheets", *sheets.record)
    saves = (output_saved(options, sheets.data), *record, *keep)
    said = recorded_said(options.record, sheets.record[1], options.manner)
    return done(options, look, (*others, *sheets.told, *said), *saves)


def _printed(
    options: Options,
    look: Look,
    how: How,
    wanted: printing.Printing,
    data: bytes,
    told: tuple[str, ...] = (),
) -> Done:
    """A print that is not on sheets, with its record where that is asked for."""
    pieces = printing.pieces_printed(look.report, wanted)
    record = recorded(options.record, look.job, today(), how, pieces)
    told = (*told, *recorded_said(options.record, None, options.manner))
    return done(options, look, told, output_saved(options, data), *record)


def plot(options: Options) -> Done:
    """The pieces for a plotter or cutter."""
    wants_suffix(options.output, (".plt", ".hpgl"))
    look, wanted, others = looks_nested(options)
    job = PrintJob(look.report, look.job.card.name, today(), wanted, options.manner)
    data = job.plotter_file(job.plot(options.plotter, options.roll))
    return _printed(options, look, "plotter", wanted, data, others)


def worksheet(options: Options) -> Done:
    """The making-up sheet."""
    from skirtwright.export.sewing.worksheet import worksheet_pdf

    wants_suffix(options.output, (".pdf",))
    paper = paper_named(options.paper)
    look = laid(look_at(options))
    order = (look.report, look.job.card.name, today(), paper)
    data = worksheet_pdf(*order, options.manner)
    return done(options, look, (), output_saved(options, data))


def card(options: Options) -> Done:
    """The measurement card on paper, blank or filled in."""
    from skirtwright.export.card_page import card_pdf

    wants_suffix(options.output, (".pdf",))
    card = _card_asked(options)
    if options.unit is None and card:
        options.manner = replace(options.manner, unit=card.unit)
    data = card_pdf(card, today(), options.manner, options.paper)
    figures = values_of(card) if card else {}
    said = {"client": card.name if card else "", "measurements": figures}
    saves = output_saved(options, data), *report_saved(options, json.dumps(said))
    return Done((), saves, (options.output,))


def figure(options: Options) -> Done:
    """The skirt on her, from the front, the side or the back."""
    from skirtwright.export.figure_picture import figure_png, figure_svg

    wants_suffix(options.output, (".svg", ".png"))
    look = look_at(options)
    skirt = look.report.worn()
    if skirt is None:
        raise Refused("figure.nothing_hangs")
    picture = dressed(skirt, options.view)
    if options.output.suffix.lower() == ".png":
        data = figure_png(picture)
    else:
        data = figure_svg(picture, look.report.title).encode()
    told = _told_of(skirt, options.manner)
    return done(options, look, told, output_saved(options, data))


def _told_of(skirt: Worn, manner: Manner) -> tuple[str, ...]:
    """What of the figure is guessed, and where the skirt is tighter than she is."""
    told = []
    guessed = skirt.body.not_taken
    if guessed:
        names = [measurements()[name].label for name in guessed]
        told.append(say("figure.guessed", {"names": names}, manner))
    tightest = max(skirt.levels, key=lambda level: level.tight)
    if tightest.tight:
        values = {"short": tightest.tight, "down": tightest.down}
        told.append(say("figure.tight", values, manner))
    return tuple(told)


# Shared


def _printing(options: Options) -> printing.Printing:
    """The printing options given; the rest are the defaults."""
    given = {
        "paper": getattr(options, "paper", None),
        "orientation": getattr(options, "side", None),
        "overlap": _length(options, "overlap"),
        "margin": _length(options, "margin"),
        "laying": getattr(options, "laying", None),
        "sheets": getattr(options, "sheets", None),
        "lines": options.lines,
        "scale": options.scale,
    }
    return printing.Printing(
        only=tuple(options.only),
        toile=options.toile,
        layered=not getattr(options, "flat", False),
        named=getattr(options, "name_client", False),
        ground="dark" if getattr(options, "dark", False) else "light",
        open_out=getattr(options, "open_out", False),
        mirrored=getattr(options, "mirrored", False),
        solid=getattr(options, "solid", False),
        lining_on_shell=getattr(options, "lining_on_shell", False),
        as_sizes=getattr(options, "as_sizes", False),
        **{name: value for name, value in given.items() if value is not None},
    )


def looks_nested(
    options: Options,
) -> tuple[Look, printing.Printing, tuple[str, ...]]:
    """The order asked for, or the smallest size, with how it is printed.

    In which unit its lengths are meant is known once the order is.

    Returns:
        It, the printing, and what is wrong with other sizes, in words.

    Raises:
        SkirtwrightError: a size cannot be worked, or does not go with an option.
    """
    asked = cards_asked(options)
    if not asked:
        return look_at(options), _printing(options), ()
    looks = []
    for name, one in asked:
        try:
            looks.append((name, look_at(one)))
        except SkirtwrightError as error:
            raise told_of(error, name) from error
        options.manner = one.manner
    told = tuple(
        f"{name}: {problem_line(problem, options.manner)}"
        for name, look in looks[1:]
        for problem in look.problems
        if problem.severity == "wrong"
    )
    named = [(name or look.job.card.name, look.report) for name, look in looks]
    nest = Nest(tuple(named), options.nest_on or "").checked()
    return looks[0][1], replace(_printing(options), nest=nest), told


def _length(options: Options, name: str) -> float | None:
    """A length of an option, mm, typed in the unit she is shown; None if not given."""
    text = getattr(options, name, None)
    return None if text is None else read_length(text, options.manner.unit)


def look_at(options: Options, *, whole: bool = True) -> Look:
    """The order the options ask for, worked; a refusal is bad input.

    Args:
        whole: unless what stops its draft is what the verb is to take away.

    Raises:
        SkirtwrightError: naming what is wrong and what would do.
    """
    record = getattr(options, "record", None)
    if record is not None:
        wants_suffix(record, (file.SUFFIX,))
    job = _job(options)
    look = Worktable().look(job)
    return look.unrefused() if whole else look


def _card_asked(options: Options) -> Card | None:
    """The card of a file, or a client's latest in the book."""
    if options.card:
        return read_card(load_bytes(options.card), options.card.name)
    if options.client is None:
        return None
    with Book(options.book or client_book(), make=False) as book:
        return book.card_of(options.client)


def _job(options: Options) -> Job:
    job = opening.open_source(options.source)
    begins = job.sample and not job.amounts
    card = _card_asked(options)
    if card is None and options.size is not None:
        card = read_size(options.size)
    elif card is None and options.measure and job.sample:
        card = Card(name="", measurements={})  # For measures given one by one.
    if card is not None:
        job = edits.set_card(job, card).job
    unit = options.unit or job.card.unit
    options.manner = replace(options.manner, unit=unit)
    for name, text in options.measure:
        job = edits.set_measurement(job, name, _measured(job, text, unit)).job
    return with_style_options(job, options, unit, begins=begins)


def with_style_options(job: Job, options: Options, unit: Unit, *, begins: bool) -> Job:
    """The order with the variant, amounts and choices asked for.

    Args:
        unit: of lengths typed without one.
        begins: whether the order is a new one.

    Raises:
        SkirtwrightError: one cannot be used.
    """
    if options.variant is not None:
        job = edits.set_variant(job, options.variant).job
    if begins:
        # A new order begins in the unit of its client's card, and keeps it.
        job = edits.begun_in(job, job.card.unit)
    for name, text in options.amount:
        job = edits.set_amount(job, name, _as_length(job, name, text, unit)).job
    for name, option in options.choose:
        job = edits.set_choice(job, name, option).job
    return job


def _measured(job: Job, text: str, unit: Unit) -> str:
    """A measurement typed in the unit she is shown, as her card keeps it."""
    if unit == job.card.unit:
        return text
    try:
        read_number(text)
    except BadInput:  # It has a unit, or is refused where it is read.
        return text
    return f"{text} {unit}"


def _as_length(job: Job, name: str, text: str, unit: Unit) -> str:
    """An amount typed in the unit she is shown, as the order keeps it."""
    amount = job.draft.amount(name)
    is_length = amount is not None and amount.kind == "length"
    return with_units(text, unit) if is_length and unit != job.unit else text

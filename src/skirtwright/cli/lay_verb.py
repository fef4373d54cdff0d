"""The verb `lay`: the pieces on the cloth, how much it takes and what it will give."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from skirtwright.cli.verbs import (
    Done,
    Options,
    done,
    look_at,
    output_saved,
    wants_suffix,
)
from skirtwright.draft.draft import Amount
from skirtwright.export.lay_words import lay_sentences, width_sentences
from skirtwright.job.on_hand import NothingGoes, largest
from skirtwright.job.prints import today
from skirtwright.job.worktable import Look
from skirtwright.lay.all_cloths import Lays, lay_all, materials
from skirtwright.lay.cloth_to_cut import Cloth, checked
from skirtwright.lay.lay import TRIES
from skirtwright.measures.units import read_length
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, say, translate

MAIN = "shell"


def lay(options: Options) -> Done:
    """The pieces laid on each cloth, and the lays as a PDF."""
    from skirtwright.export.lay_page import lays_pdf

    if options.output:
        wants_suffix(options.output, (".pdf",))
    look = look_at(options)
    given: tuple[str, ...] = ()
    if options.largest is not None:
        look, given = _largest(look, options)
    cloths = cloths_of(look, options)
    lays = lay_all(look.report.cut, cloths, TRIES)
    told = [*given, *_told(lays, look, options)]
    looked = replace(look, report=look.report.with_lays(lays))
    if not options.output:
        return done(options, looked, tuple(told))
    if not lays.lays:
        raise SkirtwrightError.of(lays.problems[0])
    data = lays_pdf(looked.report, look.job.card.name, today(), options.manner)
    return done(options, looked, tuple(told), output_saved(options, data))


def _largest(look: Look, options: Options) -> tuple[Look, tuple[str, ...]]:
    """The order with amounts as large as the cloth on hand gives, and what that is."""
    names = [name.strip() for name in options.largest.split(",") if name.strip()]
    known = {cloth.material: cloth for cloth in cloths_of(look, options)}
    manner = options.manner
    cloth = known.get(MAIN) or next(iter(known.values()))
    found = largest(look.job, names, cloth, manner.unit)
    draft = look.job.draft
    labels = [translate(a.label, manner) for a in draft.amounts if a.name in names]
    values = {"label": ", ".join(labels), "length": cloth.on_hand}
    if isinstance(found, NothingGoes):
        wide = "" if found.needed is not None else "_wide"
        said = {**values, "needed": found.needed}
        told = [say(f"lay.gives_nothing{wide}", said, manner)]
        return look, (*told, *(would.said(manner) for would in found.would))
    told = [
        say(
            "lay.gives_most" if found.most else "lay.gives",
            {
                "label": translate(amount.label, manner),
                "value": _shown(amount, found.values[amount.name], manner),
            },
            manner,
        )
        for amount in draft.amounts
        if amount.name in found.values
    ]
    return found.look, tuple(told)


def _shown(amount: Amount, value: float, manner: Manner) -> str:
    kind = amount.kind if amount.kind in ("length", "angle") else "number"
    return say(f"making.amount_{kind}", {"value": value}, manner)


def _told(lays: Lays, look: Look, options: Options) -> Iterable[str]:
    cut, manner = look.report.cut, options.manner
    for laid in lays.lays:
        yield from lay_sentences(laid, cut, manner)
    main = [laid.asked for laid in lays.lays if laid.asked.material == MAIN]
    for cloth in main:
        yield from width_sentences(cut, cloth, manner)


def cloths_of(look: Look, options: Options) -> list[Cloth]:
    """The cloths of the order, with what the options change of them.

    Raises:
        BadInput: one is no cloth.
    """
    return [
        checked(_changed(look.job.cloth(name), options))
        for name in materials(look.report.cut)
    ]


def _changed(cloth: Cloth, options: Options) -> Cloth:
    unit = options.manner.unit
    if options.fold:
        cloth = replace(cloth, fold=options.fold)
    if cloth.material != MAIN:
        return cloth
    if options.one_way:
        cloth = replace(cloth, one_way=True)
    if options.cloth_width is not None:
        cloth = replace(cloth, width=read_length(options.cloth_width, unit))
    if options.on_hand is not None:
        cloth = replace(cloth, on_hand=read_length(options.on_hand, unit))
    return cloth

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
from skirtwright.export.lay_words import lay_sentences, width_sentences
from skirtwright.job.prints import today
from skirtwright.job.worktable import Look
from skirtwright.lay.all_cloths import Lays, lay_all, materials
from skirtwright.lay.cloth_to_cut import Cloth, checked
from skirtwright.lay.lay import TRIES
from skirtwright.measures.units import read_length
from skirtwright.problems import SkirtwrightError

MAIN = "shell"


def lay(options: Options) -> Done:
    """The pieces laid on each cloth, and the lays as a PDF."""
    from skirtwright.export.lay_page import lays_pdf

    if options.output:
        wants_suffix(options.output, (".pdf",))
    look = look_at(options)
    cloths = cloths_of(look, options)
    lays = lay_all(look.report.cut, cloths, TRIES)
    told = list(_told(lays, look, options))
    looked = replace(look, report=look.report.with_lays(lays))
    if not options.output:
        return done(options, looked, tuple(told))
    if not lays.lays:
        raise SkirtwrightError.of(lays.problems[0])
    data = lays_pdf(looked.report, look.job.card.name, today(), options.manner)
    return done(options, looked, tuple(told), output_saved(options, data))


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

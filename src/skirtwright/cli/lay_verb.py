"""The verb `lay`: the pieces on the cloth, how much it takes and what it will give."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from skirtwright.cli.done import Done, Options, done, output_saved, wants_suffix
from skirtwright.cli.verbs import look_at
from skirtwright.export.lay_words import lay_sentences, width_sentences
from skirtwright.job import file
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.joining import offers
from skirtwright.job.on_hand import Given, NothingFits, given_sentences, largest
from skirtwright.job.piece_edits import set_joins
from skirtwright.job.prints import today
from skirtwright.job.worktable import Look, Worktable
from skirtwright.lay.all_cloths import Lays, lay_all, materials
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.lay.lay import TRIES
from skirtwright.measures.unit_marking import length_with_unit
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput, SkirtwrightError, nearest

MAIN = "shell"


def lay(options: Options) -> Done:
    """The pieces laid on each cloth; the lays as a PDF, or the order they are of."""
    from skirtwright.export.lay_page import lays_pdf

    opens = options.largest is not None or bool(options.join)
    if options.output:
        wants_suffix(options.output, (".pdf", file.SUFFIX))
        if options.output.suffix.casefold() == file.SUFFIX and not opens:
            raise BadInput("lay.nothing_to_keep", str(options.output))
    look = _with_joins(_with_cloths(look_at(options), options), options)
    given: tuple[str, ...] = ()
    found: Given | NothingFits | None = None
    if options.largest is not None:
        found, given = _largest(look, options)
        look = found.look if isinstance(found, Given) else look
    lays = lay_all(look.report.to_cut, _cloths(look), TRIES, by_hand=look.job.hand_lays)
    told = (*given, *_told(lays, look, options))
    looked = replace(look, report=look.report.with_lays(lays))
    if not options.output:
        return done(options, looked, told)
    if options.output.suffix.casefold() == file.SUFFIX:
        if isinstance(found, NothingFits):
            raise BadInput("lay.nothing_opened", options.largest)
        return done(options, looked, told, partial(file.save, look.job, options.output))
    if not lays.lays:
        raise SkirtwrightError.of(lays.problems[0])
    data = lays_pdf(looked.report, look.job.card.name, today(), options.manner)
    return done(options, looked, told, output_saved(options, data))


def _largest(
    look: Look, options: Options
) -> tuple[Given | NothingFits, tuple[str, ...]]:
    """The order with amounts as large as the cloth on hand gives, and what that is."""
    names = [name.strip() for name in options.largest.split(",") if name.strip()]
    known = {cloth.material: cloth for cloth in _cloths(look)}
    cloth = known.get(MAIN) or next(iter(known.values()))
    found = largest(look.job, names, cloth, options.manner.unit)
    return found, tuple(given_sentences(found, look.job, names, cloth, options.manner))


def _told(lays: Lays, look: Look, options: Options) -> Iterable[str]:
    cut, manner = look.report.to_cut, options.manner
    for laid in lays.lays:
        yield from lay_sentences(laid, cut, manner)
    main = [laid.asked for laid in lays.lays if laid.asked.material == MAIN]
    for cloth in main:
        yield from width_sentences(cut, cloth, manner, TRIES)


def _cloths(look: Look) -> list[Cloth]:
    return [look.job.cloth(name) for name in materials(look.report.to_cut)]


def _with_cloths(look: Look, options: Options) -> Look:
    """The order with what the options change of its cloths.

    Raises:
        BadInput: one is no cloth.
    """
    job = look.job
    for name in materials(look.report.to_cut):
        typed = _typed(name, options, job.unit)
        if typed:
            job = set_cloth(job, name, **typed).job
    return replace(look, job=job)


def _with_joins(look: Look, options: Options) -> Look:
    """The order with pieces joined as the options say, or where it shows least.

    Raises:
        BadInput: there is no such piece, or it goes on its cloth as it is.
    """
    kept, unit = look.job.unit, options.manner.unit
    for name, _, typed in (text.partition("=") for text in options.join):
        cut = look.report.cut.whole
        known = {piece.name: piece for piece in cut.pieces}
        if name not in known:
            near, names = nearest(name, known, 0.0), ", ".join(known)
            raise BadInput("join.no_piece", name, name=name, nearest=near, known=names)
        at: Sequence[str] = [text for text in typed.split(",") if text.strip()]
        if not at:
            at = _offered(look, name, known[name].spec.material)
        elif unit != kept:
            at = [length_with_unit(text, unit) for text in at]
        look = Worktable().look(set_joins(look.job, {name: at}).job)
        for problem in look.problems:
            if problem.code.startswith("join.") and problem.where == name:
                raise SkirtwrightError.of(problem)
    return look


def _offered(look: Look, name: str, material: str) -> Sequence[str]:
    """Where a piece is joined so that it shows least.

    Raises:
        BadInput: it goes on its cloth as it is, or no join helps.
    """
    for offer in offers(look, look.job.cloth(material)):
        if name in offer.joins:
            return offer.joins[name]
    title = next(p.spec.title for p in look.report.cut.whole.pieces if p.name == name)
    raise BadInput("join.not_needed", name, piece=title)


def _typed(material: str, options: Options, kept: Unit) -> dict[str, Any]:
    """What the options say of a cloth; all but how it is folded of the main one."""
    typed: dict[str, Any] = {"fold": options.fold} if options.fold else {}
    if material != MAIN:
        return typed
    if options.one_way:
        typed["one_way"] = True
    unit = options.manner.unit
    for field, text in (("width", options.cloth_width), ("on_hand", options.on_hand)):
        if text is not None:
            typed[field] = text if unit == kept else length_with_unit(text, unit)
    return typed

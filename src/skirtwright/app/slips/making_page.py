"""The making-up sheet as one page to read on screen: the same contents as its PDF."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from html import escape

from skirtwright.app.look import Colours
from skirtwright.export.sewing.making_up_sheet import CUT_NOTES, Making
from skirtwright.words import Manner, say

PICTURE = "pieces"
"""The name under which the page shows the picture of the pieces."""


def page(
    making: Making, manner: Manner, colours: Colours, drawn: Collection[int] = ()
) -> str:
    """The sheet as rich text; its pictures are resources of the document.

    Args:
        drawn: the steps of sewing that have a drawing, from 0.
    """
    style = f"<style>{_style(colours)}</style>"
    return style + "".join(_parts(making, manner, drawn))


def step_name(number: int) -> str:
    """The name under which the page shows the drawing of a step."""
    return f"step-{number}"


def _style(colours: Colours) -> str:
    line = colours.strip_line
    return (
        f"h1 {{ font-size: x-large; margin-bottom: 2px; }}"
        f"h2 {{ font-size: large; margin-top: 18px; margin-bottom: 4px; }}"
        f"h3 {{ font-size: medium; margin-top: 10px; margin-bottom: 2px; }}"
        f"p {{ margin-top: 0px; margin-bottom: 6px; }}"
        f".faint {{ color: {colours.faint}; }}"
        f"table {{ border-collapse: collapse; margin-bottom: 6px; }}"
        f"th {{ text-align: left; color: {colours.faint}; font-weight: normal; }}"
        f"th, td {{ border-bottom: 1px solid {line}; padding: 3px 8px 3px 0px; }}"
        f".plain td {{ border-bottom: 0px; }}"
    )


def _parts(making: Making, manner: Manner, drawn: Collection[int]) -> Iterator[str]:
    facts = " · ".join(part for part in (making.date, making.lengths) if part)
    yield f"<h1>{escape(making.title)}</h1>"
    yield _paragraph(facts, "faint")
    for section, lines in (("altered", making.altered), ("look", making.look)):
        if lines:
            yield _heading(section, manner)
            yield from map(_paragraph, lines)
    yield _heading("cut", manner)
    yield from _cut_list(making, manner)
    yield _heading("notions", manner)
    yield from map(_paragraph, making.notions)
    yield _heading("measures", manner)
    yield _measures(making, manner)
    yield _heading("pieces", manner)
    yield _paragraph(say("making.one_scale", manner=manner), "faint")
    yield f'<p><img src="{PICTURE}"></p>'
    yield _heading("order", manner)
    yield _paragraph(say("making.order_intro", manner=manner), "faint")
    yield _order(making, drawn)
    if making.cautions:
        yield _heading("cautions", manner)
        yield from map(_paragraph, making.cautions)
    yield _heading("draft", manner)
    yield from _draft(making, manner)


def _cut_list(making: Making, manner: Manner) -> Iterator[str]:
    """A piece a paragraph: beside the table there is no room for four columns."""
    (head,) = map(escape, _heads(("allowances",), manner))
    for cut in making.cut:
        yield f"<h3>{escape(cut.needs)}</h3>"
        for row in cut.rows:
            told = (
                f"<b>{row.number}  {escape(row.piece)}</b><br>"
                f"{escape(row.cut)} · {escape(row.size)}"
            )
            allowed = f'<span class="faint">{head}: {escape(row.allowances)}</span>'
            yield f"<p>{told}<br>{allowed}</p>"
    for note in CUT_NOTES:
        yield _paragraph(say(note, manner=manner), "faint")


def _measures(making: Making, manner: Manner) -> str:
    heads = _heads(("measure", "body", "ease", "finished"), manner)
    rows = [(m.name, m.body, m.ease, m.finished) for m in making.measures]
    return _table(heads, rows, (40, 20, 18, 22))


def _draft(making: Making, manner: Manner) -> Iterator[str]:
    for name, pairs in (("taken", making.taken), ("set", making.set)):
        yield f"<h3>{escape(say(f'making.{name}', manner=manner))}</h3>"
        yield _table((), pairs, (60, 40))
    yield from map(_paragraph, making.noted)
    yield _paragraph(say("making.draft_intro", manner=manner), "faint")
    if making.halved:
        yield _paragraph(say("making.halves", manner=manner), "faint")
    number = 1
    for part in making.drafting:
        yield f"<h3>{escape(part.heading)}</h3>"
        yield _numbered(part.sentences, number)
        number += len(part.sentences)


def _heads(names: Sequence[str], manner: Manner) -> tuple[str, ...]:
    return tuple(say(f"making.column.{name}", manner=manner) for name in names)


def _heading(section: str, manner: Manner) -> str:
    return f"<h2>{escape(say(f'making.section.{section}', manner=manner))}</h2>"


def _paragraph(words: str, kind: str = "") -> str:
    return f'<p class="{kind}">{escape(words)}</p>'


def _table(
    heads: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[int]
) -> str:
    """Rows under their heads, if any; widths in hundredths of the page."""
    lines = [_row("th", heads, widths)] if heads else []
    lines += [_row("td", row, widths) for row in rows]
    return f'<table width="100%">{"".join(lines)}</table>'


def _row(tag: str, cells: Sequence[str], widths: Sequence[int]) -> str:
    made = (
        f'<{tag} width="{width}%">{escape(cell)}</{tag}>'
        for cell, width in zip(cells, widths, strict=True)
    )
    return f"<tr>{''.join(made)}</tr>"


def _order(making: Making, drawn: Collection[int]) -> str:
    """Each step: what it is, how it is done, and what it joins."""
    rows = []
    for number, step in enumerate(making.order):
        picture = f'<p><img src="{step_name(number)}"></p>' if number in drawn else ""
        told = f"<b>{escape(step.title)}</b><br>{escape(step.words)}{picture}"
        rows.append(f"<tr><td><b>{number + 1}</b></td><td>{told}</td></tr>")
    return f'<table class="plain" width="100%">{"".join(rows)}</table>'


def _numbered(sentences: Sequence[str], first: int = 1) -> str:
    """Sentences with their numbers, in a table so that long ones hang beside them."""
    rows = "".join(
        f"<tr><td><b>{number}</b></td><td>{escape(words)}</td></tr>"
        for number, words in enumerate(sentences, first)
    )
    return f'<table class="plain" width="100%">{rows}</table>'

"""The verb `quote`: what an order comes to, on one page for the client."""

from __future__ import annotations

from skirtwright.cli.done import Done, Options, done, output_saved, wants_suffix
from skirtwright.cli.verbs import look_at
from skirtwright.job.prints import today
from skirtwright.job.worktable import laid
from skirtwright.measures.units import read_number
from skirtwright.problems import BadInput


def quote(options: Options) -> Done:
    """The quote as a PDF."""
    from skirtwright.export.quote import Terms, needed, quote_of, quote_pdf

    wants_suffix(options.output, (".pdf",))
    asked = {
        name: None if (text := getattr(options, name)) is None else read_number(text)
        for name in ("hours", "rate", "notions")
    }
    if options.rate is not None and options.hours is None:
        raise BadInput("cli.required", "--rate", names="--hours")
    terms = Terms(**asked, currency=options.currency or "")
    look = laid(look_at(options))
    order = (look.report, look.job.card.name, today())
    data = quote_pdf(*order, terms, options.manner, options.paper)
    summed = quote_of(needed(look.report, options.manner), terms, options.manner)
    lines = summed.listed(terms, options.manner)
    lines += filter(None, summed.summed_up(terms, options.manner))
    return done(options, look, tuple(lines), output_saved(options, data))

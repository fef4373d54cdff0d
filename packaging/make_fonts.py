"""Makes the two lettering fonts in resources/fonts from the variable Noto Sans.

Run by hand when the source font changes:

    python packaging/make_fonts.py

Source: the PyPI package fontpkg-noto-sans (Noto Sans 2.015, OFL 1.1, no reserved
name, embedding allowed). Each weight is pinned, given its own names (two files with
one PostScript name are taken for the same font by PDF writers), and cut down to the
letters a European, African or Vietnamese name needs, with the features that put
accents in place.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

WEIGHTS = {"Regular": 400, "Bold": 700}

KEPT = [
    (0x0020, 0x007E),  # ASCII
    (0x00A0, 0x024F),  # Latin 1, Extended A and B
    (0x0250, 0x02AF),  # hooked letters, Hausa
    (0x02B0, 0x036F),  # modifier letters, combining accents
    (0x0370, 0x03FF),  # Greek
    (0x0400, 0x052F),  # Cyrillic
    (0x1AB0, 0x1ABE),  # more combining accents
    (0x1E00, 0x1EFF),  # Vietnamese, dotted letters
    (0x2000, 0x206F),  # dashes, quotation marks, primes, fraction slash
    (0x2070, 0x209C),  # raised and lowered figures
    (0x20A0, 0x20C0),  # currencies
    (0x2116, 0x2122),  # numero, trade mark
    (0x2150, 0x215F),  # thirds, eighths
    (0x2212, 0x2212),  # minus
    (0xFFFD, 0xFFFD),  # stands for a letter that is not here
]
FEATURES = ["ccmp", "mark", "mkmk", "kern", "locl"]


def make(source: Path, style: str, target: Path) -> None:
    """One static, smaller font of the named weight."""
    font = TTFont(source)
    font = instancer.instantiateVariableFont(
        font, {"wght": WEIGHTS[style], "wdth": 100}, updateFontNames=True
    )
    options = subset.Options()
    options.layout_features = FEATURES
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.notdef_outline = True
    options.hinting = False
    cut = subset.Subsetter(options)
    cut.populate(unicodes=[c for low, high in KEPT for c in range(low, high + 1)])
    cut.subset(font)
    font["head"].modified = font["head"].created  # the same bytes on every run
    font.recalcTimestamp = False
    font.save(target)


def main() -> None:
    """Make both weights and copy the licence."""
    import fontpkg_noto_sans

    folder = Path(fontpkg_noto_sans.__file__).parent
    target = Path(__file__).parent.parent / "resources" / "fonts"
    target.mkdir(parents=True, exist_ok=True)
    for style in WEIGHTS:
        made = target / f"NotoSans-{style}.ttf"
        make(folder / "files" / "NotoSans[wdth,wght].ttf", style, made)
        print(made.name, made.stat().st_size)
    shutil.copyfile(folder / "LICENSE", target / "OFL.txt")


if __name__ == "__main__":
    main()

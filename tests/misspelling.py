"""One name of a style misspelt, drawn at random: for tests and the bench.

It knows nothing of how names are looked for: it takes any word of any text that is not
meant to be read by a person, and puts a letter in, doubles, changes, drops or swaps
one, or writes another word. Left out are words where something is only called so and
nothing else speaks of it: a step that draws its panel anew, a group that is not
repeated, a seam.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import dataclass
from functools import cache, reduce
from operator import getitem
from typing import Any

from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.draft.every_name import check_names, without_unused
from skirtwright.draft.unused_names import places
from skirtwright.problems import SkirtwrightError

WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
READ_BY_HER = {
    "title",
    "label",
    "help",
    "says",
    "remedy",
    "unit",
    "id",
    "format",
    "below_zero",
}
KEYS_ARE_NAMES = {
    "edges",
    "others",
    "allowances",
    "roles",
    "corners",
    "finished",
    "checks",
    "sewing",
    "options",
    "values",
}
CALLED = {"step", "group", "name", "first", "second"}
UNITS = {"cm", "mm", "in", "deg"}


@dataclass(frozen=True)
class Key:
    """A key of an object that is a name itself."""

    name: str


def references(value: Any, path: tuple = ()):
    """Every text that is not read by a person, with where it stands."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in READ_BY_HER:
                continue
            if path and path[-1] in KEYS_ARE_NAMES:
                yield (*path, Key(key)), key
            yield from references(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from references(inner, (*path, number))
    elif isinstance(value, str) and "options" not in path[-2:]:
        yield path, value


def changed(value: Any, path: tuple, new: str) -> Any:
    """The value with another text at a path."""
    first, *rest = path
    if isinstance(first, Key):
        return {new if k == first.name else k: v for k, v in value.items()}
    copied = value.copy()
    copied[first] = changed(value[first], tuple(rest), new) if rest else new
    return copied


def misspelt(word: str, rng, *, another: bool = True) -> str:
    """A word with a slip of the pen in it, or another in its place."""
    at = rng.randrange(len(word))
    letter = rng.choice("abcdefghijklmnopqrstuvwxyz")
    begun, after = word[:at], word[at + 1 :]
    slips = [
        begun + letter + word[at:],
        begun + word[at] + word[at:],
        begun + letter + after,
        begun + after,
        begun + after[:1] + word[at] + after[1:],
    ]
    if another:
        slips.append("".join(rng.choice("bdfghjkqvwxz") for _ in range(6)))
    return rng.choice(slips)


@dataclass(frozen=True)
class Misspelling:
    """A style or finishing with one name misspelt."""

    raw: Any
    path: tuple
    right: str
    wrong: str

    def __repr__(self) -> str:
        return f"{self.path}: {self.right} -> {self.wrong}"

    @classmethod
    def of(cls, raw: Any, rng) -> Misspelling:
        """One drawn at random."""
        words = Counter(WORD.findall(json.dumps(raw)))
        sites = list(references(raw))
        while True:
            path, text = rng.choice(sites)
            found = [m for m in WORD.finditer(text) if m[0] not in UNITS]
            if not found:
                continue
            match = rng.choice(found)
            right = match[0]
            told_at = text.find(" at ")
            if (
                "sewing" in path[:1]
                and 0 <= told_at < match.start()
                and "." not in text
            ):
                # Only tells apart what is told twice.
                continue
            only_called = path[-1] in CALLED or "others" in path
            if (only_called or "options" in path) and not _spoken_of(raw, path, right):
                continue
            # A word of her own is the name of another cloth: a slip is none.
            wrong = misspelt(right, rng, another=path[-1] != "material")
            if WORD.fullmatch(wrong) and wrong not in words and wrong not in UNITS:
                text = text[: match.start()] + wrong + text[match.end() :]
                return cls(changed(raw, path, text), path, right, wrong)

    def is_refused(self) -> bool:
        """Whether reading the style says what is wrong."""
        try:
            styles.read_draft(json.dumps(self.raw), "my.json")
        except SkirtwrightError:
            return True
        return False

    def is_refused_in(self, name: str) -> bool:
        """Whether a style that takes the finishing in says what is wrong.

        Args:
            name: as a `from` names it; styles that take in one that takes it in are
                tried, too. What each has of its own instead is tried as brought.
        """
        try:
            made = styles.with_origins(Draft.model_validate(self.raw), styles.origin)
        except SkirtwrightError:
            return True
        except ValueError:
            # Not one of the words a field may hold.
            return True

        def find(origin: str) -> Draft:
            if origin == name or name not in taken_in(origin):
                return made if origin == name else styles.origin(origin)
            return styles.with_origins(Draft.model_validate(_raw(origin)), find)

        drafts = []
        for host in (n for n in styles.names() if name in taken_in(n)):
            try:
                draft = styles.with_origins(Draft.model_validate(_raw(host)), find)
                check_names(draft, host)
                styles.check_additions(draft, find, host)
            except SkirtwrightError:
                return True
            if unused(draft) - _unused_of(host):
                return True
            drafts.append(draft)
        return all(_refused(with_all_of(draft, made)) for draft in drafts)


def _refused(draft: Draft) -> bool:
    try:
        check_names(draft, draft.id)
    except SkirtwrightError:
        return True
    return False


def unused(draft: Draft) -> frozenset[str]:
    """The places of steps that draw what nothing asks for."""
    steps = frozenset(places(draft.steps, "steps."))
    return steps - frozenset(places(without_unused(draft).steps, "steps."))


@cache
def _unused_of(style: str) -> frozenset[str]:
    return unused(styles.style(style))


def with_all_of(draft: Draft, finishing: Draft) -> Draft:
    """A draft where what the finishing brings stands even where it has its own."""

    def both(part: str) -> tuple[Any, ...]:
        brought = getattr(finishing, part)
        names = {item.name for item in brought}
        # A piece may be cut in several ways, a seam be sewn so.
        return (*(i for i in getattr(draft, part) if i.name not in names), *brought)

    parts = ("amounts", "seams", "pieces")
    return draft.replace(**{part: both(part) for part in parts})


@cache
def _raw(origin: str) -> Any:
    """A style, finishing or addition as its file has it."""
    folder, _, name = origin.rpartition("/")
    return shelf.read_json(f"{folder + 's' if folder else 'styles'}/{name}.json")


@cache
def taken_in(origin: str) -> frozenset[str]:
    """What an origin grows from, and what that grows from."""
    froms = re.findall(r'"from": "([^"]*)"', json.dumps(_raw(origin)))
    return frozenset(froms).union(*map(taken_in, froms))


def _spoken_of(raw: Any, path: tuple, word: str) -> bool:
    """Whether a working or place elsewhere in the file speaks of what is called so."""
    if path[-1] == "step" and reduce(getitem, path[:-1], raw)["kind"] == "check":
        return False
    if path[-1] == "group":
        # Only what is repeated is spoken of, with its turn.
        return f"{word}[" in json.dumps(raw)
    if "options" in path:
        choice = raw["choices"][path[path.index("choices") + 1]]
        asked = f"{choice['name']} is {word}"
        return choice["default"] == word or asked in json.dumps(raw)
    if path[0] in ("pieces", "seams"):
        if [item["name"] for item in raw[path[0]]].count(word) > 1:
            # Cut one way or another; the sheet shows what each is called.
            return False
        # Panels may be called as pieces are; what is told of a piece names it.
        said = (*raw.get("checks", ()), *raw.get("sewing", ()))
        return any(word in key.partition(" at ")[2] for key in said)
    return any(
        p != path and p[-1] not in ("step", "group", "name") and word in WORD.findall(t)
        for p, t in references(raw)
    )

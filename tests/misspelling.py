"""One name of a style misspelt, drawn at random: for tests and the bench.

It knows nothing of how names are looked for: it takes any word of any text that is not
meant to be read by a person, and puts a letter in or doubles one. Left out are words
where something is only called so and nothing else speaks of it: a step that draws its
panel anew, a group that is not repeated, a seam.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import dataclass
from typing import Any

from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.draft.every_name import check_names
from skirtwright.problems import SkirtwrightError

WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
READ_BY_HER = {"title", "label", "help", "says", "remedy", "unit", "id", "format"}
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
            only_called = path[-1] in CALLED or "others" in path
            if (only_called or "options" in path) and not _spoken_of(raw, path, right):
                continue
            at = rng.randrange(len(right))
            wrong = right[:at] + rng.choice(("q", right[at])) + right[at:]
            if wrong not in words:
                text = text[: match.start()] + wrong + text[match.end() :]
                return cls(changed(raw, path, text), path, right, wrong)

    def is_refused(self) -> bool:
        """Whether reading the style says what is wrong."""
        try:
            styles.read_draft(json.dumps(self.raw), "my.json")
        except SkirtwrightError:
            return True
        return False

    def is_refused_in(self, name: str, *hosts: str) -> bool:
        """Whether a style that takes the finishing in says what is wrong."""
        try:
            made = styles.with_origins(Draft.model_validate(self.raw), styles.origin)
        except SkirtwrightError:
            return True
        except ValueError:
            # Not one of the words a field may hold.
            return True

        def find(origin: str) -> Draft:
            return made if origin == name else styles.origin(origin)

        for host in hosts:
            draft = Draft.model_validate(shelf.read_json(f"styles/{host}.json"))
            try:
                check_names(styles.with_origins(draft, find), host)
            except SkirtwrightError:
                return True
        return not hosts


def _spoken_of(raw: Any, path: tuple, word: str) -> bool:
    """Whether a working or place elsewhere in the file speaks of what is called so.

    Made twice, under two conditions, it may be lost in one of them unseen: left out.
    """
    if path[-1] == "group":
        # Only what is repeated is spoken of, with its turn.
        return f"{word}[" in json.dumps(raw)
    if path[0] in ("pieces", "seams"):
        # Panels may be called as pieces are; what is told of a piece names it.
        said = (*raw.get("checks", ()), *raw.get("sewing", ()))
        return any(word in key.partition(" at ")[2] for key in said)
    texts = [(p, text) for p, text in references(raw) if p != path]
    called = [
        p for p, text in texts if p[-1] in ("step", "group", "name") and text == word
    ]
    spoken = [p for p, text in texts if p not in called and word in WORD.findall(text)]
    return bool(spoken) and not called

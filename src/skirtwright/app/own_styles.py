"""Styles of hers in the window: kept from the order on the table, and taken again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from skirtwright.job.edits import choices_gone, set_style
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say, translate

if TYPE_CHECKING:
    from skirtwright.app.files import Files
    from skirtwright.app.window_frame import Frame
    from skirtwright.job.job import Job

_SUFFIX = ".style.json"


class OwnStyles:
    """Keeps an order's style as a file of hers, and lays one on the table again."""

    def __init__(self, window: Frame, files: Files) -> None:
        self._window = window
        self._files = files

    def table(self) -> Mapping[str, Callable[..., object]]:
        """Each row's name with what does it."""
        return {"keep_style": self.ask_keep, "own_style": self.ask_take}

    def ask_keep(self) -> None:
        """Keep the style with what she chose and set, under a name of hers."""
        self._window.take_typed()
        job = self._window.desk.job
        called = job.title or job.draft.title
        self._files.ask(
            "files.keep_style", _SUFFIX, self.keep, save=True, called=called
        )

    def keep(self, path: Path) -> bool:
        """Keep the style; the file's name is its title."""
        from skirtwright.job.file import save_style
        from skirtwright.job.kept_style import style_of

        if not path.name.endswith(_SUFFIX):
            path = path.with_name(path.name.removesuffix(".json") + _SUFFIX)
        desk = self._window.desk
        try:
            title = path.name.removesuffix(_SUFFIX)
            save_style(style_of(desk.job, desk.look.worked.stated, title), path)
        except SkirtwrightError as trouble:
            return self._tell_trouble(trouble)
        self._tell("files.style_kept", {"title": title, "file": path.name})
        return True

    def ask_take(self) -> None:
        """Take a style of hers for the client on the table."""
        self._window.take_typed()
        self._files.ask("files.own_style", _SUFFIX, self.take, ".json")

    def take(self, path: Path) -> bool:
        """The style from a file comes on the table, for the client at hand."""
        from skirtwright.draft.styles import read_draft
        from skirtwright.job.reading import load_bytes

        desk = self._window.desk
        before = desk.job
        try:
            desk.change(set_style(desk.job, read_draft(load_bytes(path), path.name)))
        except SkirtwrightError as trouble:
            return self._tell_trouble(trouble)
        self._window.line.done("own_style")
        self.tell_lacking(before)
        self._window.table.fit_all()
        return True

    def tell_lacking(self, before: Job) -> None:
        """Say what had been chosen and the style on the table has no place for."""
        after, manner = self._window.desk.job, self._window.settings.manner
        gone = [
            f"{translate(choice.label, manner)}: "
            f"{translate(choice.options[before.choices[choice.name]], manner)}"
            for choice in choices_gone(before, after)
        ]
        if gone:
            title = translate(after.draft.title, manner)
            values = {"style": title, "lines": "; ".join(gone)}
            words = say("styles.lacks", values, manner)
            self._window.line.tell("lacks", words, passes=True)

    def _tell(self, message: str, values: Mapping[str, object]) -> None:
        manner = self._window.settings.manner
        self._window.line.tell("own_style", say(message, values, manner))

    def _tell_trouble(self, trouble: SkirtwrightError) -> bool:
        why = in_one_sentence(trouble.problem, self._window.settings.manner)
        self._tell("files.style_trouble", {"why": why})
        return False

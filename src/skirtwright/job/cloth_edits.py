"""Changes to the cloths of an order, and to how she laid pieces on them."""

from __future__ import annotations

from typing import Any

from skirtwright.job.cloths import ChosenCloth
from skirtwright.job.edits import Edited
from skirtwright.job.job import Job
from skirtwright.lay.by_hand import HandLay
from skirtwright.words import has_message


def set_cloth(job: Job, material: str, **typed: Any) -> Edited:
    """A cloth with other values, as typed; what is empty is as it commonly comes.

    Args:
        typed: fields of `ChosenCloth`.

    Raises:
        BadInput: a text cannot be read, or it would be no cloth.
    """
    chosen = job.chosen_cloth(material).replace(**typed)
    chosen.cloth(job.unit)
    return Edited(_with_cloth(job, chosen), "edit.cloth", _named(material))


def set_hand_lay(job: Job, material: str, laid: HandLay | None, name: str) -> Edited:
    """How pieces of a cloth lie by hand; None to have them laid for her.

    Args:
        name: the message of what was done; it may name the `cloth`.
    """
    # Laid by hand as it was opened for her, it stays open.
    held = {"laid": laid, "fold": laid.fold} if laid else {"laid": None}
    chosen = job.chosen_cloth(material).replace(**held)
    return Edited(_with_cloth(job, chosen), name, _named(material))


def _named(material: str) -> dict[str, str]:
    known = f"label.material.{material}"
    return {"cloth": known if has_message(known) else material}


def _with_cloth(job: Job, chosen: ChosenCloth) -> Job:
    """The order with a cloth; one that says nothing is not kept."""
    others = tuple(own for own in job.cloths if own.material != chosen.material)
    if chosen == ChosenCloth(material=chosen.material):
        return job.replace(cloths=others)
    kept = [chosen if o.material == chosen.material else o for o in job.cloths]
    if len(kept) == len(others):
        kept.append(chosen)
    return job.replace(cloths=tuple(kept))

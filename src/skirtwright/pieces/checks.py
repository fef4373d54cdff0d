"""Checks of a cut draft against thresholds kept as data (resources/checks.json)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from skirtwright import shelf
from skirtwright.draft.recompute import Worked
from skirtwright.geometry.ring import crossing
from skirtwright.measures.measurements import unlikely
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Problem


@cache
def limits() -> Mapping[str, Any]:
    """The thresholds, mm."""
    found: Mapping[str, Any] = shelf.read_json("checks.json")
    return found


def checks(
    worked: Worked, cut: Cut, finished: Mapping[str, float | None]
) -> tuple[Problem, ...]:
    """What is to be said of a worked and cut draft."""
    measured = worked.inputs.measurements
    return (
        *unlikely(measured),
        *_outlines(cut),
        *_seams(cut),
        *_hip(worked, finished.get("hip")),
        *_step(finished.get("step_allowed")),
        *_clearance(worked, finished.get("length")),
    )


def _outlines(cut: Cut) -> Iterator[Problem]:
    for piece in cut.pieces:
        if crossing(piece.panel.ring(0.5)):
            yield Problem(
                "check.outline_crosses", where=piece.name, values={"piece": piece.name}
            )


def _seams(cut: Cut) -> Iterator[Problem]:
    for walked in cut.seams:
        if abs(walked.difference) > limits()["seam"]["wrong"]:
            yield Problem(
                "check.seam_uneven",
                where=walked.seam.name,
                values={
                    "seam": walked.seam.name.replace("_", " "),
                    "difference": abs(walked.difference),
                },
            )


def _hip(worked: Worked, hip: float | None) -> Iterator[Problem]:
    """Hip ease in woven cloth on the straight."""
    body = worked.stated.measurements.get("hip")
    if hip is None or body is None:
        return
    ease = hip - body
    limit = limits()["hip_ease"]
    values = {"ease": ease, "hip": hip}
    if ease < limit["wrong"]:
        yield Problem("check.hip_under_body", "caution", "hip", values)
    elif ease < limit["caution"]:
        yield Problem("check.hip_tight", "caution", "hip", values)
    elif ease < limit["note"] - 1e-6:
        yield Problem("check.hip_close", "note", "hip", values)


def _step(step: float | None) -> Iterator[Problem]:
    if step is None:
        return
    limit = limits()["step"]
    values = {"step": step, "free": limit["note"]}
    if step < limit["strong"]:
        yield Problem("check.step_very_short", "caution", "step_allowed", values)
    elif step < limit["caution"]:
        yield Problem("check.step_short", "caution", "step_allowed", values)
    elif step < limit["note"]:
        yield Problem("check.step_less_than_free", "note", "step_allowed", values)


def _clearance(worked: Worked, length: float | None) -> Iterator[Problem]:
    """How far the hem clears the floor at the side, in the shoes worn."""
    floor = worked.stated.measurements.get("waist_to_floor_side")
    if length is None or floor is None:
        return
    clear = floor - length
    limit = limits()["clearance"]
    values = {"clear": max(clear, 0.0), "over": max(-clear, 0.0)}
    if clear <= limit["floor"]:
        yield Problem("check.hem_on_floor", "caution", "length", values)
    elif clear < limit["caution"]:
        yield Problem("check.hem_near_floor", "caution", "length", values)
    elif clear < limit["note"]:
        yield Problem("check.hem_low", "note", "length", values)

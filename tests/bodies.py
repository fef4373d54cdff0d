"""Bodies and inputs that several tests share; all are invented. Lengths in mm."""

from __future__ import annotations

from hypothesis import strategies as st

HOUSE = {"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0, "waist_to_knee": 580.0}
"""The four measures of the house client."""

SAMPLE = {
    **HOUSE,
    "top_hip": 890.0,
    "height": 1650.0,
    "waist_to_floor_side": 1040.0,
    "waist_to_floor_front": 1035.0,
    "waist_to_floor_back": 1040.0,
    "thigh": 570.0,
    "knee": 360.0,
    "calf": 355.0,
}
"""The house client whole."""

FIVE = {
    "60/97": {"waist": 600.0, "hip": 970.0, "waist_to_hip": 210.0},
    "76/100": {"waist": 760.0, "hip": 1000.0, "waist_to_hip": 200.0},
    "101.5/128.3": {"waist": 1015.0, "hip": 1283.0, "waist_to_hip": 230.0},
    "72/98": {"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0},
    "83/88.1": {"waist": 830.0, "hip": 881.0, "waist_to_hip": 210.0},
}
"""Five bodies, from slight to full."""

CLIENTS = {
    "narrow": {
        "waist": 612.0,
        "hip": 871.0,
        "waist_to_hip": 188.0,
        "waist_to_knee": 552.0,
    },
    "tall": {
        "waist": 805.0,
        "hip": 1043.0,
        "waist_to_hip": 227.0,
        "waist_to_knee": 634.0,
    },
    "full": {
        "waist": 1120.0,
        "hip": 1335.0,
        "waist_to_hip": 236.0,
        "waist_to_knee": 607.0,
    },
    "curved": {
        "waist": 640.0,
        "hip": 1010.0,
        "waist_to_hip": 214.0,
        "waist_to_knee": 590.0,
    },
    "straight": {
        "waist": 900.0,
        "hip": 955.0,
        "waist_to_hip": 205.0,
        "waist_to_knee": 571.0,
    },
}
"""Five invented clients that appear in no table of the trade pages."""


def _tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in whole tenths of a millimetre, given in cm."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 10)


def bodies(**limits: tuple[float, float]) -> st.SearchStrategy[dict[str, float]]:
    """Bodies within ordinary ranges, in mm."""
    ranges = {
        "waist": (50, 140),
        "hip": (70, 170),
        "waist_to_hip": (14, 30),
        "waist_to_knee": (40, 75),
        **limits,
    }
    return st.fixed_dictionaries({n: _tenths(*r) for n, r in ranges.items()})


LENGTH_AMOUNTS = {
    "length": (10, 160),
    "waist_ease": (-5, 15),
    "hip_ease": (-15, 20),
    "back_share": (-6, 6),
    "knee_lift": (-10, 40),
    "knee_shaping": (-2, 20),
    "knee_curve": (-1, 40),
    "front_spread": (-1, 40),
    "back_spread": (-1, 40),
    "hem_drop": (-10, 10),
    "dart_intake_front": (-1, 15),
    "dart_intake_back": (-1, 20),
    "dart_place_front": (-1, 30),
    "dart_place_back": (-1, 30),
    "dart_above_hip_front": (-5, 30),
    "dart_above_hip_back": (-5, 30),
    "side_rise": (-5, 10),
    "waist_drop_front": (-5, 8),
    "waist_drop_back": (-5, 8),
    "zip_length": (0, 60),
    "zip_allowance": (-1, 8),
}
"""Amounts with ranges in and out of what the style asks for, in cm."""


def amounts() -> st.SearchStrategy[dict[str, float]]:
    """A few amounts set, in mm."""
    return st.fixed_dictionaries(
        {}, optional={n: _tenths(*r) for n, r in LENGTH_AMOUNTS.items()}
    ).filter(lambda made: len(made) <= 6)


def choices() -> st.SearchStrategy[dict[str, str]]:
    """Choices made or left."""
    return st.fixed_dictionaries(
        {},
        optional={
            "waist_shape": st.sampled_from(["darted", "side_elastic"]),
            "closing": st.sampled_from(["zip_centre_back", "none"]),
            "hem_shape": st.sampled_from(["one_curve", "even_from_knee"]),
            "dart_ends": st.sampled_from(["by_depth", "above_hip"]),
        },
    )

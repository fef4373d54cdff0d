"""The one tolerance.

All in millimetres. Distances are compared with distances, angles with angles.
"""

from __future__ import annotations

from typing import Final

SAME: Final = 1e-6
"""Two places nearer than this are one place."""

FLAT: Final = 0.02
"""How far a flattened curve may lie from the true one in a cutting line."""

OUTLINE: Final = 0.05
"""How far a flattened curve may lie from the true one in the report."""

SAME_DEG: Final = 1e-7
"""Two directions nearer than this, in degrees, are one direction."""

"""What no tape says of a body: the proportions of resources/figure.json."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from skirtwright import shelf


@cache
def proportions() -> Mapping[str, Any]:
    """The proportions; where each is from stands beside them in the file."""
    return MappingProxyType(shelf.read_json("figure.json"))

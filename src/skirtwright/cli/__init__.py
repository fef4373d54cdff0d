"""The same work without a window: `skirtwright VERB SOURCE [INPUT]`."""

from skirtwright.cli.door import main
from skirtwright.cli.options import VERBS

__all__ = ["VERBS", "main"]

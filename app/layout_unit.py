"""What a process beside the window sends back of a layout (`app.layout_job`). No Qt here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class LayoutUnit:
    """What came of the work that was asked for under a number."""

    unit: int
    found: Any

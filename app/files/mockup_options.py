"""How mock-up templates are printed, and the bolts that their holes are for."""

from __future__ import annotations

from dataclasses import dataclass

from app.files.paper import USUAL_OVERLAP
from app.files.print_check import PrintCheck

BOLTS = {"M5": 5.3, "M6": 6.4, "M8": 8.4, "M10": 10.5, '1/4"': 6.53, '5/16"': 8.20, '3/8"': 9.80}
"""Bolt → diameter of its hole, mm: metric ones ISO 273:1979, fine series; inch ones letter drills F, P and W, the close
fit of the usual drill tables. All from memory."""


@dataclass(frozen=True, slots=True)
class MockupOptions:
    """How templates are printed.

    paper : a name of `PAPERS`.     overlap : mm that tiles share.     hole : diameter of the holes, mm.
    measured : what the 100 mm bar of an earlier print measured, mm.
    """

    paper: str = "A4"
    overlap: float = USUAL_OVERLAP
    hole: float = BOLTS["M6"]
    measured: float = 100.0

    @property
    def check(self) -> PrintCheck:
        """The same for both sides of the sheet."""
        return PrintCheck(self.measured, self.measured)

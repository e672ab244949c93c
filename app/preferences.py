"""What a builder may set for the whole program, as one frozen value. No Qt here.

None of it touches a project's figures: it says how lengths are told and typed, how far a key nudges, what a new want
begins with, and which sheet the window has. Reports, pictures and the command line keep the defaults.
"""

from __future__ import annotations

from dataclasses import dataclass

from app.lengths import FRACTIONS, LengthStyle
from kinematics.errors import HingewrightError

__all__ = ["DECIMALS", "SHEETS", "SIGNS", "UNITS", "Preferences"]

UNITS = ("mm", "in")
DECIMALS = (0, 1, 2, 3)
SIGNS = ("system", "point", "comma")
SHEETS = ("system", "light", "dark")
LARGEST_NUDGE = 1000.0  # mm
LARGEST_WANT = 10000.0  # mm


@dataclass(frozen=True, slots=True)
class Preferences:
    """All of them, each with what it is at first.

    units : of hinges begun from now on.     fraction : finest part of an inch.     decimals : of a mm.
    sign : between whole and decimals: "point", "comma", or "system" as the desktop has it.
    nudge, fine_nudge : mm that an arrow key moves, without and with Shift.
    clearance : mm, what a new want asks of a pair in travel.     shut_gap : mm, about what it asks of one when shut.
    sheet : "light", "dark" or "system".     corner : mm, how far a corner that is newly watched may go.

    Clearance, shut gap (3/16 in) and corner: common practice on bodies built one at a time, no source.
    """

    units: str = "mm"
    fraction: int = 64
    decimals: int = 1
    sign: str = "system"
    nudge: float = 1.0
    fine_nudge: float = 0.1
    clearance: float = 5.0
    shut_gap: float = 4.7625
    sheet: str = "system"
    corner: float = 2.0

    def __post_init__(self) -> None:
        _among(self.units, UNITS, "Units")
        _among(self.fraction, FRACTIONS, "Fractions")
        _among(self.decimals, DECIMALS, "Decimals")
        _among(self.sign, SIGNS, "Decimal sign")
        _among(self.sheet, SHEETS, "Sheet")
        for name, value in (("Nudge", self.nudge), ("Fine nudge", self.fine_nudge)):
            if not 0.0 < value <= LARGEST_NUDGE:
                raise HingewrightError(
                    "an arrow key can't move a thing by that", name, f"Above 0, up to {LARGEST_NUDGE:g} mm, will do."
                )
        wants = (("Clearance in travel", self.clearance), ("Shut gap", self.shut_gap), ("Corner", self.corner))
        for name, value in wants:
            if not 0.0 <= value <= LARGEST_WANT:
                raise HingewrightError("that is no gap to want", name, f"From 0 up to {LARGEST_WANT:g} mm will do.")

    def habits(self, system_comma: bool) -> LengthStyle:
        """How lengths are told; `system_comma`: whether the desktop writes decimals behind a comma."""
        comma = system_comma if self.sign == "system" else self.sign == "comma"
        return LengthStyle(self.units, self.fraction, self.decimals, comma)


def _among(value: object, allowed: tuple[object, ...], name: str) -> None:
    if value not in allowed or isinstance(value, bool):
        raise HingewrightError(
            f"“{value}” isn't among {', '.join(str(each) for each in allowed)}", name, "Choose one of them."
        )

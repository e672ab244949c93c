"""Bolts by their threads: nominal diameter, clearance hole, tap drill, from the tables (`kinematics.hardware`)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.hardware import Hardware

WASHER = 2.0
"""Outside diameter of a washer over the bolt's, about (ISO 7089: 16 for M8)."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A bolt: its thread, nominal diameter, clearance hole (medium), tap drill with its name; known: in the tables."""

    name: str
    diameter: float
    clearance: float
    drill: float
    drill_name: str
    known: bool

    @property
    def washer(self) -> float:
        """Half of its washer's outside diameter, about."""
        return 0.5 * WASHER * self.diameter


def thread_of(name: str, hardware: Hardware) -> Thread:
    """A bolt by its thread ("M8", "5/16-18"); plain figures of M8 where no table has it."""
    drill = hardware.drill(name) or next((row for row in hardware.drills if row.thread.split("-")[0] == name), None)
    hole = hardware.clearance(name) or hardware.clearance(name.split("-", maxsplit=1)[0])
    if hole is None or drill is None:
        return Thread(name, 8.0, 9.0, 6.8, "6.8", False)
    return Thread(name, hole.diameter, hole.medium, drill.drill, drill.name, True)


def threads(hardware: Hardware) -> tuple[str, ...]:
    """The threads that a mount may be bolted with."""
    return tuple(row.thread for row in hardware.drills if hardware.clearance(row.thread.split("-")[0]) is not None)

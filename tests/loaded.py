"""The demo with something to lift: its weight, a handle at the front edge, two struts; and a four-bar that ends at a
dead point.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from kinematics import analyse
from kinematics.project import Attachment, Device, Handle, LiftWants, Loads, Mass, PinFriction, Travel
from tests.specimens import demo_six_bar, four_bar_a1

if TYPE_CHECKING:
    from kinematics import Analysis
    from kinematics.project import Project

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id
STRUT = Device(
    "strut", "gas strut", 2, Attachment(FIXED, (470.0, -28.0)), Attachment(PANEL, (204.0, 233.0)),
    extended=638.0, stroke=280.0, force=170.0, ratio=1.3,
)  # fmt: skip
WEIGHT = Mass(PANEL, 18.0, (620.0, 285.0))
GRIP = Handle(PANEL, (1180.0, 255.0))
WANTS = LiftWants(shut_at_most=60.0, at_most=80.0, rests_until_deg=20.0)
RUB = PinFriction(4.0, 0.15)


def hatch(opens: float = 75.0, **loads: object) -> Project:
    """The demo's six-bar with loads; each may be another."""
    there = Loads((WEIGHT,), GRIP, 2, (STRUT,), wants=WANTS)
    return replace(demo_six_bar, loads=replace(there, **loads), travel=Travel("anticlockwise", opens))


@cache
def lifted() -> Analysis:
    """With two struts: it rises by itself from 57° on."""
    return analyse(hatch())


@cache
def heavy() -> Analysis:
    """By its weight alone, to 120°: it tips over at 88°, and balances there."""
    return analyse(hatch(120.0, devices=()))


@cache
def rubbing() -> Analysis:
    """With friction in its pins and struts."""
    return analyse(hatch(devices=(replace(STRUT, friction=25.0),), pin_friction=RUB))


@cache
def dead_ended() -> Analysis:
    """A four-bar whose panel comes to its dead point, where the handle stands still."""
    panel = four_bar_a1.panel.id
    loads = Loads((Mass(panel, 10.0, (150.0, 60.0)),), Handle(panel, (180.0, 80.0)))
    return analyse(replace(four_bar_a1, travel=Travel("anticlockwise", 75.0), loads=loads))

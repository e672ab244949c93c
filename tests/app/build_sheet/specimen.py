"""A hinge with all that a build may have: plates, bracket, base on a wall off square, stop, prop, latch, strut."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.build_sheet.facts import Facts
from app.making.plan import cuts_of
from kinematics.build_parts import Plates
from kinematics.fittings import Latch, Prop, Stop
from kinematics.mount_parts import Base, Bracket, Mount, StopPart
from kinematics.parts import Attachment, Device, Handle
from kinematics.wall_parts import HandWall, Wall
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project

LOADS = demo_six_bar.loads
assert LOADS is not None
STRUT = Device(
    "strut", "gas strut", 2, Attachment("bulkhead", (400.0, 150.0)), Attachment("hatch", (151.0, 205.0)),
    extended=395.0, stroke=150.0, force=450.0, ratio=1.32,
)  # fmt: skip
built = replace(
    demo_six_bar,
    plates=Plates(thickness=5.0, radius=16.0),
    mount=Mount(base=Base(), bracket=Bracket(at=(70.0, 332.0), skin_deg=0.0), stop_part=StopPart()),
    wall=Wall(right=HandWall(9.5), level=100.0),
    loads=replace(
        LOADS,
        handle=Handle("hatch", (1190.0, 262.0)),
        devices=(STRUT,),
        spacing=1150.0,
        stop=Stop(("bulkhead", "arm"), 75.0, 40.0),
        prop_rod=Prop(Attachment("bulkhead", (500.0, 150.0)), Attachment("hatch", (600.0, 280.0)), 70.0),
        latch=Latch("hatch", (1150.0, 250.0)),
    ),
)


def facts_of(project: Project) -> Facts:
    """What its sheet draws upon, in the project's units."""
    return Facts(project, project.display_units, cuts_of(project)[0])

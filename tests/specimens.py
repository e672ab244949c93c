"""Named projects: every kind of linkage the tests speak of, every kind of half-drawn sheet among them.

They are values, so tests may share them; `ALL` holds each by its name. Lengths mm. Where a layout is one of a book or
of a theorem, what stands beside it says which; numbers to compare with are typed in the tests, never taken from here.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics.project import (
    Anchor,
    AsMade,
    Attachment,
    Base,
    Bracket,
    Bushing,
    Device,
    FoundAt,
    FrontEdge,
    GapWant,
    Handle,
    HandMade,
    HandWall,
    JointStrength,
    Limit,
    Link,
    Loads,
    MadeDistance,
    MadeSheet,
    Mark,
    Mass,
    Measure,
    Metal,
    Mount,
    OnPin,
    Outline,
    Pivot,
    Plates,
    Project,
    Room,
    ShutWant,
    StopPart,
    Strength,
    Sureness,
    Travel,
    Turned,
    Wall,
    Zone,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.project import Point


def hinge(
    names: str, pivots: Mapping[str, tuple[complex, str]], opens: str = "anticlockwise", wanted_deg: float = 75.0
) -> Project:
    """Write a linkage down in short: the links' names ("frame panel arm", the fixed one and the panel first).

    pivots : by id, place (complex, mm) and the names of the links that it joins ("frame arm").
    """
    fixed, panel, *others = names.split()
    links = (Link(fixed, "fixed"), Link(panel, "panel"), *(Link(name) for name in others))
    pins = tuple(Pivot(pin, xy(at), tuple(joins.split())) for pin, (at, joins) in pivots.items())
    return Project(links=links, pivots=pins, travel=Travel(opens, wanted_deg))


def xy(z: complex) -> Point:
    """A complex number as a point."""
    return z.real, z.imag


def crossing(one: complex, radius: float, other: complex, other_radius: float) -> complex:
    """Where two circles meet, to the left of the way from one centre to the other."""
    apart = abs(other - one)
    along = (apart**2 + radius**2 - other_radius**2) / (2 * apart)
    return one + (other - one) / apart * complex(along, math.sqrt(radius**2 - along**2))


# A lid on one pin, a wall close behind its rear edge.
single_pivot = replace(
    hinge("body lid", {"A": (0j, "body lid")}, wanted_deg=80.0),
    title="Lid on one pin",
    outlines=(
        Outline("wall", "body", ((-52.0, -100.0), (-52.0, 100.0))),
        Outline("lid skin", "lid", ((-30.0, -40.0), (-30.0, 0.0), (400.0, 0.0))),
    ),
    marks=(Mark("front edge", "lid", (400.0, 0.0)),),
)

# R. L. Norton, Design of Machinery, ch. 4, Example 4-1 (from memory): ground 100, crank 40, coupler 120, rocker 80, the
# crank at 40 degrees, open circuit. The rocker is the panel.
_crank = cmath.rect(40.0, math.radians(40.0))
four_bar_a1 = hinge(
    "ground rocker crank coupler",
    {
        "O2": (0j, "ground crank"),
        "A": (_crank, "crank coupler"),
        "B": (crossing(_crank, 120.0, 100.0 + 0j, 80.0), "coupler rocker"),
        "O4": (100.0 + 0j, "ground rocker"),
    },
    wanted_deg=70.0,
)

# 50, 100, 50, 100: the panel (the coupler) never turns.
parallelogram = hinge(
    "ground panel front rear",
    {
        "O1": (0j, "ground front"),
        "P1": (cmath.rect(50.0, math.radians(60.0)), "front panel"),
        "P2": (100.0 + cmath.rect(50.0, math.radians(60.0)), "rear panel"),
        "O2": (100.0 + 0j, "ground rear"),
    },
)

# The same lengths with a crank for a panel: after 60 degrees all four pins lie on a line, where two branches cross.
change_point = hinge(
    "ground panel crank coupler",
    {
        "O1": (0j, "ground crank"),
        "A": (cmath.rect(50.0, math.radians(60.0)), "crank coupler"),
        "B": (100.0 + cmath.rect(50.0, math.radians(60.0)), "panel coupler"),
        "O2": (100.0 + 0j, "ground panel"),
    },
    opens="clockwise",
)

locked_triangle = hinge(
    "ground panel stay",
    {"A": (0j, "ground panel"), "B": (120.0 + 90.0j, "panel stay"), "C": (150.0 - 10.0j, "stay ground")},
)

# The launch's engine hatch, a six-bar on seven pins.
demo_six_bar = Project(
    title="Engine hatch of a work launch",
    links=(
        Link("bulkhead", "fixed"),
        Link("arm", "link", 28.0),
        Link("cross link", "link", 28.0),
        Link("short link", "link", 28.0),
        Link("lift link", "link", 28.0),
        Link("hatch", "panel"),
    ),
    pivots=(
        Pivot("O1", (141.0, 257.0), ("bulkhead", "arm")),
        Pivot("O2", (32.0, 179.0), ("bulkhead", "short link")),
        Pivot("X", (125.0, 213.0), ("arm", "cross link")),
        Pivot("B", (77.0, 94.0), ("cross link", "short link")),
        Pivot("Q", (258.0, 227.0), ("cross link", "lift link")),
        Pivot("P1", (25.0, 255.0), ("arm", "hatch")),
        Pivot("P2", (116.0, 290.0), ("lift link", "hatch")),
    ),
    outlines=(
        Outline(
            "screen and sill",
            "bulkhead",
            ((-160.0, 560.0), (-40.0, 310.0), (-40.0, 250.0), (0.0, 250.0), (0.0, 298.0), (6.0, 298.0), (6.0, -200.0)),
        ),
        Outline("hatch skin", "hatch", ((-28.0, 267.0), (-28.0, 312.0), (600.0, 297.0), (1190.0, 262.0))),
    ),
    marks=(Mark("rear corner", "hatch", (-28.0, 312.0)),),
    limits=(Limit("rear corner", dx_at_least=-4.0),),
    travel=Travel("anticlockwise", 75.0),
    gaps=(GapWant(("screen and sill", "hatch skin"), 10.0),),
    loads=Loads(masses=(Mass("hatch", 18.0, (620.0, 285.0)),)),
)

# A six-bar of the Watt chain in which every number is ugly; G is a point of the panel.
watt_a21 = replace(
    hinge(
        "ground panel crank lever yoke strap",
        {
            "P1": (0j, "ground crank"),
            "P2": (70.0 - 20.0j, "ground lever"),
            "P3": (20.0 + 60.0j, "crank yoke"),
            "P4": (90.0 + 40.0j, "lever yoke"),
            "P5": (60.0 + 110.0j, "yoke strap"),
            "P6": (130.0 + 70.0j, "lever panel"),
            "P7": (120.0 + 130.0j, "strap panel"),
        },
        opens="clockwise",
        wanted_deg=15.0,
    ),
    marks=(Mark("G", "panel", (250.0, 140.0)),),
)


def _three_cranks(third: complex) -> Project:
    return hinge(
        "ground panel first second third",
        {
            "O1": (0j, "ground first"),
            "O2": (100.0 + 0j, "ground second"),
            "O3": (third, "ground third"),
            "P1": (50.0j, "first panel"),
            "P2": (100.0 + 50.0j, "second panel"),
            "P3": (third.real + 50.0j, "third panel"),
        },
    )


# Counts no freedom (5 links, 6 pins) and moves all the same.
three_parallel_cranks = _three_cranks(60.0 + 0j)

# The third ground pin 1 mm higher: the same rank at shut, yet locked.
shaky_cranks = _three_cranks(60.0 + 1.0j)


def _peaucellier() -> Project:
    """Peaucellier and Lipkin's exact straight line: long arms 100, rhombus 60, a crank of 30 through the pole O.

    The crank is the panel; while it turns from +60 to −60 degrees the outer pin D keeps to a line across.
    """
    inner = 30.0 + cmath.rect(30.0, math.radians(60.0))
    outer = (100.0**2 - 60.0**2) / inner.conjugate()
    upper, lower = crossing(0j, 100.0, inner, 60.0), crossing(inner, 60.0, 0j, 100.0)
    return hinge(
        "ground crank armU armL inU inL outU outL",
        {
            "O": (0j, "ground armU armL"),
            "K": (30.0 + 0j, "ground crank"),
            "U": (upper, "armU inU outU"),
            "L": (lower, "armL inL outL"),
            "I": (inner, "inU inL crank"),
            "D": (outer, "outU outL"),
        },
        opens="clockwise",
        wanted_deg=120.0,
    )


peaucellier = _peaucellier()


def _stephenson_iii() -> Project:
    """A Stephenson III whose four-bar (ground 100, 120, 40, 40) has six assemblies with its dyad.

    The panel is the dyad's crank.
    """
    driver = cmath.rect(120.0, math.radians(11.582437783))
    coupler_point = 31.69330178 + 29.33973049j
    along = (coupler_point - driver) / complex(-50.0, -70.0)
    return hinge(
        "ground panel driver coupler rocker bar",
        {
            "O2": (0j, "ground driver"),
            "A": (driver, "driver coupler"),
            "B": (driver + 40.0 * along / abs(along), "coupler rocker"),
            "O4": (100.0 + 0j, "ground rocker"),
            "C": (coupler_point, "coupler bar"),
            "D": (80.0 + 80.0j, "bar panel"),
            "O6": (140.0 + 140.0j, "ground panel"),
        },
        wanted_deg=60.0,
    )


stephenson_iii = _stephenson_iii()

# Pin X joins three links and counts twice: 6 links, 7 joints, one freedom.
ternary_pin = hinge(
    "ground panel arm bar rocker stay",
    {
        "O1": (0j, "ground arm"),
        "O2": (140.0 + 10.0j, "ground rocker"),
        "W": (220.0 + 60.0j, "ground panel"),
        "X": (30.0 + 90.0j, "arm bar stay"),
        "Y": (130.0 + 100.0j, "bar rocker"),
        "Z": (160.0 + 150.0j, "stay panel"),
    },
    wanted_deg=20.0,
)

# A second rear arm, as long and as steep as the first: 5 links, 6 pins, redundant.
twin_arms = replace(
    parallelogram,
    links=(*parallelogram.links, Link("twin")),
    pivots=(
        *parallelogram.pivots,
        Pivot("O3", (100.0, -20.0), ("ground", "twin")),
        Pivot("P3", xy(100.0 - 20.0j + cmath.rect(50.0, math.radians(60.0))), ("twin", "panel")),
    ),
)

# A working four-bar with a link that dangles from the panel.
hanging_link = replace(
    four_bar_a1,
    links=(*four_bar_a1.links, Link("stay")),
    pivots=(*four_bar_a1.pivots, Pivot("S", (130.0, 40.0), ("rocker", "stay"))),
)

# The four-bar is there, but the panel is joined to nothing.
unjoined_panel = replace(
    four_bar_a1,
    links=(*(Link("rocker") if link.id == "rocker" else link for link in four_bar_a1.links), Link("hatch", "panel")),
)

# Two free pins between the fixed link and the panel: its turn doesn't say where it is.
loose_chain = hinge("ground panel arm", {"A": (0j, "ground arm"), "B": (80.0 + 30.0j, "arm panel")})

# A sheet at an early stage: outlines, a link that nobody has joined, a pin that dangles.
half_drawn = Project(
    title="Locker lid",
    links=(Link("body", "fixed"), Link("lid", "panel"), Link("arm", "link", 25.0), Link("loose", "link", 20.0)),
    pivots=(Pivot("A", (20.0, -30.0), ("body", "arm")),),
    outlines=(
        Outline("coaming", "body", ((0.0, -80.0), (0.0, -12.0), (-150.0, -12.0))),
        Outline("lid skin", "lid", ((-3.0, -40.0), (-3.0, 0.0), (500.0, 0.0), (500.0, -40.0)), half_width=1.5),
    ),
    gaps=(GapWant(("coaming", "lid skin"), 3.0),),
    travel=Travel("anticlockwise", 90.0),
)

empty = Project(links=(Link("body", "fixed"), Link("lid", "panel")), travel=Travel("anticlockwise", 75.0))

# Every key of the file format, the reserved and some unknown ones too. As a mechanism it is the demo's.
with_everything = replace(
    demo_six_bar,
    title="Everything “at once” – ½″",
    notes="two lines,\nand a tab\there",
    display_units="in",
    links=(*demo_six_bar.links, Link("spare", "link", 12.5, unknown={"colour of paint": "sea green"})),
    outlines=(
        *demo_six_bar.outlines,
        Outline(
            "seal",
            "bulkhead",
            ((1150.0, 240.0), (1210.0, 240.0), (1210.0, 200.0)),
            closed=True,
            half_width=2.5,
            station="centreline",
            uncertain=0.75,
            unknown={"traced": [2019, {"by": None}]},
        ),
    ),
    limits=(Limit("rear corner", -4.0, 900.0, -1e-3, 1200.5, 0.5, {"why": "paint"}),),
    gaps=(
        GapWant(("screen and sill", "hatch skin"), 10.0, 0.1, ShutWant(3.175, 6.35, {"paint": 0.2})),
        GapWant(("seal", "hatch skin"), 0.0, 2.0, unknown={"soft": True}),
        GapWant(("arm", "lift link"), 1.0),
    ),
    zones=(Zone("bulkhead", ((0.0, 0.0), (180.0, 0.0), (180.0, 300.0), (0.0, 300.0)), {"name": "bracket"}),),
    loads=Loads(
        masses=(Mass("hatch", 18.0, (620.0, 285.0)), Mass("arm", 0.9, (90.0, 240.0), unknown={"guess": True})),
        handle=Handle("hatch", (1180.0, 255.0), {"left": False}),
        hinges=2,
        devices=(
            Device(
                "strut",
                "gas strut",
                2,
                Attachment("bulkhead", (240.0, -80.0), {"ball": 10}),
                Attachment("arm", (40.0, 250.0)),
                extended=500.0,
                stroke=200.0,
                force=300.0,
                ratio=1.35,
            ),
            Device(
                "helper",
                "tension spring",
                1,
                Attachment("bulkhead", (60.0, 20.0)),
                Attachment("arm", (30.0, 250.0)),
                free=120.0,
                initial=20.0,
                rate=2.5,
                unknown={"wire": 2.8},
            ),
        ),
        unknown={"prop": {"at": [1.0, 2.0]}},
    ),
    pin_spacing=25.4,
    measures=(
        Measure("reach", "distance", (Anchor(pivot="X"), Anchor(outline="hatch skin", point=3, unknown={"edge": 1}))),
        Measure("knee", "angle", (Anchor(pivot="O1"), Anchor(pivot="P1"), Anchor(link="hatch", at=(1190.0, 262.0)))),
        Measure("corner's way", "path", (Anchor(mark="rear corner"),), {"for": "the paint"}),
        Measure("room", "clearance", (Anchor(link="arm"), Anchor(outline="screen and sill"))),
    ),
    room=Room(-640.0, 1560.5, FrontEdge("rear corner", 1800.0, {"who": "the cook"}), {"shed": "north"}),
    keep_clear=("seal", "wiper drive"),
    strength=Strength(
        diameter=8.0,
        inner=8.0,
        outer=5.0,
        pin_material=Metal("C45+C", 565.0, 210_000.0, 750.0, "typed in a test", {"batch": 7}),
        plate_material=Metal("S355J2", 355.0, 210_000.0),
        washer=1.6,
        bushing=Bushing("SAE 841", 10.0, 12.0, 13.8, 6.1, 1.75, unknown={"oil": "light"}),
        factor=3.0,
        joints=(JointStrength("O1", diameter=10.0, shear="single", outer_link="bulkhead", plain=True),),
        unknown={"laser": True},
    ),
    sureness=Sureness(0.25, 0.1, {"drilled": "by eye"}),
    pictures=({"id": "side", "on": "bulkhead", "media": "image/png", "sha256": "00", "data": "AA==", "place": [1, 0]},),
    trials=({"name": "first", "note": "", "project": {"links": []}},),
    plates=Plates(thickness=4.0),
    stack=[["arm", 1], ["cross link", 2]],
    mount=Mount(
        Bracket((640.0, 300.0), 2.5, bolt="M6", unknown={"paint": 2}), Base(webs=2), StopPart("second"), {"screws": 4}
    ),
    as_made=AsMade(
        (
            HandMade(
                "left",
                (MadeDistance("arm", ("O1", "X"), 46.85, {"by": "caliper"}),),
                (FoundAt("bulkhead", "O1", y=257.05, unknown={"chalk": 1}),),
                (MadeSheet("arm", 4.1, {"gauge": None}),),
                (OnPin("X", 1.6, 0.05, {"clip": "new"}),),
                (Turned("fore_aft", -0.05, {"turns": 1}),),
                {"who": "me"},
            ),
        ),
        shown=True,
        unknown={"on": "Monday"},
    ),
    wall=Wall(HandWall(9.5, -4.0, 575.0, {"chalked": True}), trued="shim", edge=300.0, unknown={"bevel_deg": 9.5}),
    unknown={"shop": {"bench": [1, 2.5, None, "x"]}, "": 0},
)

ALL: dict[str, Project] = {name: value for name, value in list(globals().items()) if isinstance(value, Project)}

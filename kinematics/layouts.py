"""Layouts: the linkages that a start can place, each with pins that were tried.

All were tried on one invented hatch, 1218 mm long, whose rear edge reaches 34 mm back over a wall with a screen above
it. Pins are u + iv in mm of the hinge frame (rear_edge.py): u ahead of the wall's face, v above the panel's underside.
On that hatch every layout but the single pin clears the body by 10 mm or more up to 75°, its rear corner goes back by
4 mm at most, no transmission angle is below 12°, and no dead point comes before 140°. The scissor hinge's pins are
those of the demo; those of the others come from a random search of our own for that body.

Names of pins: O on the fixed link, P on the panel, other letters between. Which family a layout belongs to is typed
here and tested against `families.family`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.values import Point

LENGTH = 1218.2
"""Length (mm) of the panel on which the layouts were tried."""
WIDTH = 28.0
"""Width (mm) of the links there."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A linkage to place.

    joins : each pin's links by role: "fixed", "panel", or one of `links`.   pins : places, u + iv, mm.
    """

    kind: str
    name: str
    family: str
    use: str
    links: tuple[str, ...]
    joins: dict[str, tuple[str, str]]
    pins: dict[str, complex]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line of a miniature: role "fixed", "panel" or "link"; a link of three pins is a closed triangle."""

    role: str
    points: tuple[Point, ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class Miniature:
    """A small picture of a layout, panel shut: x to the right, y up, all within `size` (width, height) from (0, 0).

    pins : where pins are.   fixed_pins : those of them that are on the fixed link.
    """

    strokes: tuple[Stroke, ...]
    pins: tuple[Point, ...]
    fixed_pins: tuple[Point, ...]
    size: Point


def miniature(layout: Layout) -> Miniature:
    """The picture of a layout, with the wall behind it and the rear part of the panel above."""
    low, high = complex(-48.0, -256.0), complex(352.0, 44.0)

    def put(*places: complex) -> tuple[Point, ...]:
        return tuple((z.real - low.real, z.imag - low.imag) for z in places)

    wall = (-40 + 40j, -14 + 10j, -14 - 30j, 0 - 30j, 0 - 250j)
    skin = (-34 - 28j, -34 + 6j, 346 + 2j)
    strokes = [Stroke("fixed", put(*wall), False), Stroke("panel", put(*skin), False)]
    for link in layout.links:
        pins = [layout.pins[pin] for pin, joins in layout.joins.items() if link in joins]
        strokes.append(Stroke("link", put(*pins), len(pins) > 2))
    on_panel = [layout.pins[pin] for pin, joins in layout.joins.items() if "panel" in joins]
    strokes += [Stroke("panel", put(at, complex(at.real, 4.0)), False) for at in on_panel]
    fixed = [layout.pins[pin] for pin, joins in layout.joins.items() if "fixed" in joins]
    size = high - low
    return Miniature(tuple(strokes), put(*layout.pins.values()), put(*fixed), (size.real, size.imag))


SINGLE = Layout(
    kind="single pivot",
    name="plain hinge: one pin",
    family="single pivot",
    use="Where nothing stands close behind the panel: every point of it swings on a circle about one pin.",
    links=(),
    joins={"A": ("fixed", "panel")},
    pins={"A": 30 - 24j},
)

FOUR_BAR = Layout(
    kind="four-bar",
    name="two arms: four bars",
    family="four-bar",
    use="Where the rear edge must rise or step ahead before it swings: the fewest parts that clear a wall.",
    links=("rear arm", "front arm"),
    joins={
        "O1": ("fixed", "rear arm"),
        "O2": ("fixed", "front arm"),
        "P1": ("rear arm", "panel"),
        "P2": ("front arm", "panel"),
    },
    pins={"O1": 128.86 - 107.93j, "O2": 238.49 - 17.48j, "P1": 18.75 - 81.38j, "P2": 102.52 - 25.04j},
)

SCISSOR = Layout(
    kind="Watt I",
    name="scissor hinge: six bars",
    family="Watt I",
    use="Where a long panel must clear what stands close behind it and open wide: arm and cross link share a pin.",
    links=("arm", "cross link", "short link", "lift link"),
    joins={
        "O1": ("fixed", "arm"),
        "O2": ("fixed", "short link"),
        "X": ("arm", "cross link"),
        "B": ("cross link", "short link"),
        "Q": ("cross link", "lift link"),
        "P1": ("arm", "panel"),
        "P2": ("lift link", "panel"),
    },
    pins={
        "O1": 134.61 - 48.64j,
        "O2": 25.94 - 127.09j,
        "X": 118.79 - 92.71j,
        "B": 71.28 - 211.90j,
        "Q": 251.74 - 78.16j,
        "P1": 18.62 - 51.12j,
        "P2": 109.48 - 15.75j,
    },
)

DRIVEN_ARMS = Layout(
    kind="Watt II",
    name="two arms and a drive: six bars",
    family="Watt II",
    use="Where a strut, spring or handle needs its own lever: two arms carry the panel, a crank and a rod turn one.",
    links=("main arm", "guide arm", "rod", "crank"),
    joins={
        "O1": ("fixed", "crank"),
        "O2": ("fixed", "main arm"),
        "O3": ("fixed", "guide arm"),
        "A": ("crank", "rod"),
        "B": ("rod", "main arm"),
        "P1": ("main arm", "panel"),
        "P2": ("guide arm", "panel"),
    },
    pins={
        "O1": 189.89 - 115.32j,
        "O2": 123.84 - 102.59j,
        "O3": 256.49 - 17.05j,
        "A": 69.22 - 196.82j,
        "B": 21.03 - 150.02j,
        "P1": 17.74 - 79.03j,
        "P2": 111.52 - 24.64j,
    },
)

COUPLED_ARMS = Layout(
    kind="Stephenson I",
    name="coupled arms: six bars",
    family="Stephenson I",
    use="Where only two mounts find room: a rod couples the two arms, one carries the panel and the other tilts it.",
    links=("tilt arm", "main arm", "coupling rod", "tilt link"),
    joins={
        "O1": ("fixed", "tilt arm"),
        "O2": ("fixed", "main arm"),
        "A": ("tilt arm", "coupling rod"),
        "B": ("main arm", "coupling rod"),
        "C": ("tilt arm", "tilt link"),
        "P1": ("main arm", "panel"),
        "P2": ("tilt link", "panel"),
    },
    pins={
        "O1": 19.48 - 17.50j,
        "O2": 181.85 - 107.83j,
        "A": 68.67 - 64.30j,
        "B": 50.97 - 136.37j,
        "C": 84.03 - 150.23j,
        "P1": 18.69 - 68.50j,
        "P2": 163.67 - 62.91j,
    },
)

STRAPPED_SCISSOR = Layout(
    kind="Stephenson II",
    name="strapped scissor: six bars",
    family="Stephenson II",
    use="Like the scissor hinge, where arm and cross link can't share a pin: a strap joins them, both carry the panel.",
    links=("arm", "cross link", "short link", "strap"),
    joins={
        "O1": ("fixed", "arm"),
        "O2": ("fixed", "short link"),
        "M": ("arm", "strap"),
        "N": ("cross link", "strap"),
        "B": ("cross link", "short link"),
        "P1": ("arm", "panel"),
        "P2": ("cross link", "panel"),
    },
    pins={
        "O1": 143.48 - 18.66j,
        "O2": 147.98 - 138.64j,
        "M": 78.91 - 122.92j,
        "N": 18.59 - 44.17j,
        "B": 20.98 - 139.16j,
        "P1": 47.50 - 24.05j,
        "P2": 130.75 - 82.71j,
    },
)

CARRIED = Layout(
    kind="Stephenson III",
    name="carrier and guide arm: six bars",
    family="Stephenson III",
    use="Where the best place for a pin can't hold one: crossed arms swing a carrier about it, a third tilts it.",
    links=("carrier", "lower arm", "upper arm", "guide arm"),
    joins={
        "O1": ("fixed", "lower arm"),
        "O2": ("fixed", "upper arm"),
        "O3": ("fixed", "guide arm"),
        "A": ("lower arm", "carrier"),
        "B": ("upper arm", "carrier"),
        "P1": ("carrier", "panel"),
        "P2": ("guide arm", "panel"),
    },
    pins={
        "O1": 116.79 - 92.96j,
        "O2": 109.96 - 133.99j,
        "O3": 239.49 - 17.45j,
        "A": 48.01 - 146.24j,
        "B": 89.65 - 57.07j,
        "P1": 17.75 - 81.36j,
        "P2": 97.50 - 20.04j,
    },
)

LAYOUTS = (SINGLE, FOUR_BAR, SCISSOR, DRIVEN_ARMS, COUPLED_ARMS, STRAPPED_SCISSOR, CARRIED)
"""All of them, the simplest first; the scissor hinge is the first with six bars."""

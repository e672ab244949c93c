"""The sentences on the templates for the drill: what each sheet says, step by step, and what is missing."""

from __future__ import annotations

from math import acos, degrees
from typing import TYPE_CHECKING

import numpy as np

from app.lengths import exact_length, format_angle, format_coordinate, format_length, style_of
from app.sheet_words import TRUST_FIGURES, print_bar

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from kinematics.marking_out import SkinMarks, WallMarks
    from kinematics.mounting import MountFault
    from kinematics.project import Project
    from kinematics.setting_out import Spot
    from kinematics.threads import Thread

TRUE = 0.05
"""Degrees below which a wall is told to be true."""
HAND_WORDS = {"left": "LEFT", "right": "RIGHT"}
ALONG_AND_SQUARE = (
    "“Along” is what a tape reads that lies level on the wall from the centreline; “square” is read by a tape held "
    "across the body, square to the centreline. They are two things on a wall that is off square: never mix them. “Up” "
    "is measured on the wall from the level line, “height” plumb over it. On the skin “ahead” counts from the panel's "
    "rear edge, “off web” from the outer side of the bracket's web."
)
BEFORE_DRILLING = (
    "Look behind wall and skin before you drill: pipes, cables, tanks. Goggles and ears; no gloves, no loose sleeves "
    "at the drill; clamp what can turn with it. Chips are sharp and hot."
)
DRILL_CAUTIONS = (
    BEFORE_DRILLING,
    "Hold or prop the panel by other means while its hinge is off, and nobody beneath it.",
    "Mark both hands, measure between them, then drill: a hole in the wrong place can't be taken back.",
)
MISSING = {
    "base": "No base at the wall is laid out, so the wall's templates are missing: begin it in the drawer Build, “Base "
    "at the wall”.",
    "bracket": "No bracket at the panel is laid out, so the skin's templates are missing: begin it in the drawer "
    "Build, “Bracket at the panel”.",
    "lies": "The wall lies rather than stands where the base is, so its templates are missing: name another place or "
    "way for the base.",
    "pins": "There are no pins on the {link} yet, so nothing can be laid out there.",
}
AS_SET = "Shims as they stand; bolts in the middle of their slots."


def side_words(right: float) -> str:
    """Which side it is on, for one who faces it."""
    return "right" if right > 0.0 else "left"


def coordinate(mm: float, units: Units) -> str:
    """A length to mark by, with its unit: 2 decimals of a mm, 3 of an inch."""
    unit = '"' if style_of(units).units == "in" else " mm"
    return f"{format_coordinate(mm, units)}{unit}"


TAP = "tap drill "
TAPPING = (
    "The wall is drilled clear. The backing plate's holes are cut for the tap ({tap}): tap it on the bench, square, "
    "with oil, half a turn back for each turn. Hold it behind the wall by two bolts while the others find their "
    "threads."
)
"""Cut and tapped before it is held there: what a hole in the wall is off, it has room for (common practice)."""


# ------------------------------------------------------------------------------------------------------- at each hole
def wall_drills(thread: Thread, backed: bool, units: Units) -> tuple[str, ...]:
    """Which drills a hole of the wall wants: through the wall, and of the tapped plate behind it, which is cut so."""
    through = f"clear {format_length(thread.clearance, units, fine=True)} ({thread.name})"
    behind = f"tap behind {tap_words(thread, units).removeprefix(TAP)}"  # as short: holes of narrow plates are near
    return (through, behind) if backed else (through,)


def tap_words(thread: Thread, units: Units) -> str:
    """Name the tap drill: "tap drill 6.8 mm", or with its own name "tap drill F, 0.257"."""
    told = format_length(thread.drill, units, fine=True)
    named = "" if thread.drill_name.replace(".", "", 1).isdigit() else f"{thread.drill_name}, "
    return f"{TAP}{named}{told}"


def wall_distances(marks: WallMarks, spot: Spot, units: Units) -> tuple[str, ...]:
    """Both distances and the height of a spot, a line each."""
    along, square, up = marks.out.taped(spot), spot.square, spot.up
    return (f"along {coordinate(along, units)}", f"square {coordinate(square, units)}", f"up {coordinate(up, units)}")


def skin_distances(marks: SkinMarks, place: complex, units: Units) -> tuple[str, ...]:
    """How far a bolt (to the right + i·up, seen) is ahead of the rear edge, and from the centreline."""
    ahead = () if marks.rear is None else (f"ahead {coordinate(place.imag - marks.rear, units)}",)
    if marks.from_centre is None:
        return (*ahead, f"from web {coordinate(abs(place.real), units)}")
    return (*ahead, f"square {coordinate(marks.square(place.real), units)}")


# ---------------------------------------------------------------------------------------------------------- each face
def wall_notes(marks: WallMarks, units: Units) -> tuple[str, ...]:
    """What is said of a wall's template beneath its title."""
    plane = marks.out.plane
    off, lean = (format_angle(abs(deg), units) for deg in (plane.off_deg, plane.lean_deg))
    runs = f"{off} off square, {'falling away' if plane.off_deg > 0.0 else 'coming nearer'} outboard"
    stands = f"its top {lean} {'away from' if plane.lean_deg > 0.0 else 'towards'} you"
    said = ("square" if abs(plane.off_deg) < TRUE else runs, "plumb" if abs(plane.lean_deg) < TRUE else stands)
    return ("true size in the plane of the wall", f"wall {', '.join(said)}")


def wall_cautions(project: Project, marks: WallMarks, over: float, units: Units) -> tuple[str, ...]:
    """What must be seen on a wall's template.   over : mm by which the plate reaches over the wall's upper edge."""
    part, thread, said = marks.out.base.part, marks.out.base.thread, []
    if project.walled.trued == "shim" and _drill_lean(marks)[0] > 0.05:
        said.append(drill_way(marks, units))
    if marks.out.from_middle:
        said.append("Nobody said how far apart the hinges are: along and square count from the base's middle.")
    if over > TRUE:
        said.append(f"✗ The base plate reaches {format_length(over, units)} over the wall's upper edge.")
    if part.up_down_at:
        said.append("Bolts in the middle of their slots, though the base is drawn off it.")
    return (*said, *_unknown(thread), *faulty("base", marks.out.base.faults))


def faulty(what: str, faults: Sequence[MountFault]) -> tuple[str, ...]:
    """Warn of a mount that can't be made as it is laid out."""
    grave = any(not fault.is_caution and fault.kind != "thread" for fault in faults)
    return (f"✗ The {what} has faults, told in the drawer Build: mend them before you drill.",) if grave else ()


def _unknown(thread: Thread) -> tuple[str, ...]:
    return () if thread.known else (f"No table has the thread “{thread.name}”: figures of M8 stand in.",)


def _drill_lean(marks: WallMarks) -> tuple[float, float]:
    """By how much bolts go in off the wall's square, deg, and whether their heads lean outboard (> 0)."""
    out = marks.out.base.seat.out
    way = np.array([out.real, out.imag, 0.0])
    plane = marks.out.plane
    return degrees(acos(min(abs(float(way @ plane.out)), 1.0))), float(way @ plane.along)


def drill_way(marks: WallMarks, units: Units) -> str:
    """How a hole is drilled where a tapered shim keeps the base square to its links."""
    lean, out = _drill_lean(marks)
    side = ", the drill's back end outboard" if out > 1e-6 else ", the drill's back end inboard" if out < -1e-6 else ""
    return f"Drill along the links, {format_angle(lean, units)} off square to the wall{side}."


def line_from_centre(along: float, square: float, units: Units) -> str:
    """Name a line of the wall by its distances from the centreline."""
    if along == 0.0:
        return "centreline"
    return f"{exact_length(along, units)} along the wall from the centreline ({coordinate(square, units)} square to it)"


def line_from_level(height: float, leans: bool, units: Units) -> str:
    """Name a level line by its height."""
    if height == 0.0:
        return "level line"
    side = "over" if height > 0.0 else "below"
    return f"level, {exact_length(abs(height), units)} {side} the level line{', plumb' if leans else ''}"


def skin_drills(thread: Thread, units: Units) -> tuple[str, ...]:
    """Which drill a hole of the skin wants."""
    return (f"clear {format_length(thread.clearance, units, fine=True)} ({thread.name})",)


def skin_notes(marks: SkinMarks, units: Units) -> tuple[str, ...]:
    """What is said of a skin's template beneath its title."""
    part = marks.made.part
    slots = [format_length(each, units) for each in (part.fore_aft, part.side)]
    return ("true size on the inner skin", f"slots: flange ±{slots[0]} fore and aft, doubler ±{slots[1]} to the side")


def skin_cautions(marks: SkinMarks) -> tuple[str, ...]:
    """What must be seen on a skin's template."""
    said = [f"Flange bent {marks.flange} of its web."]
    if marks.from_centre is None:
        said.append("How far off the centreline isn't known: measure it at the hinge.")
    return (*said, *_unknown(marks.made.thread), *faulty("bracket", marks.made.faults))


def ahead_words(ahead: float, units: Units) -> str:
    """Name a line across the panel by its distance from the rear edge."""
    return f"{exact_length(ahead, units)} ahead of the panel's rear edge, along the skin" if ahead else "rear edge"


def skin_centre_words(square: float, units: Units) -> str:
    """Name a line along the panel by its distance from the centreline."""
    return f"{exact_length(square, units)} from the panel's centreline, square to it" if square else "centreline"


# -------------------------------------------------------------------------------------------------------- first sheet
def steps(wall: WallMarks | None, skin: SkinMarks | None, overlap: float, units: Units) -> tuple[str, ...]:
    """What to do with the sheets, step by step.   wall, skin : of the left hand; None: missing."""
    told = [_print_step(overlap, units), WHOSE_LEFT]
    told += [] if wall is None else [_lay_step(wall), MEASURE_STEP, _drill_step(wall, units)]
    told += [] if skin is None else [_skin_step(skin)]
    return (*told, TRUST_FIGURES)


WHOSE_LEFT = "Left and right are those of one who looks from the panel's rear edge to its front."
MEASURE_STEP = "Measure from centreline and level line to holes 1 and 2, and the diagonals, before you use the punch."


def _print_step(overlap: float, units: Units) -> str:
    _, bar = print_bar(units)
    return (
        f"Print at 100 % (“actual size”), never “fit to page”. Measure the square of {bar} on this sheet both ways, "
        "and the bars on every sheet that you use: 0.5 mm (1/64 in) off at most. Else type what they measure where "
        f"the sheets are made, and print again. Lay sheets of one template {format_length(overlap, units)} over each "
        "other until crosses of one number lie on each other."
    )


def _lay_step(wall: WallMarks) -> str:
    hand = side_words(wall.right)
    return (
        "Strike the centreline and the level line on the wall, by laser, plumb and water level. As you face the wall, "
        f"from the side of the pins, the LEFT hinge is on your {hand}. Hold its sheet there, the level line on the "
        "laser's, the line from the centreline at its distance. The thin lines are so far below the wall's upper edge, "
        "to go by where that edge is true."
    )


def _drill_step(wall: WallMarks, units: Units) -> str:
    tap = tap_words(wall.out.base.thread, units)
    tapped = TAPPING.format(tap=tap)
    if wall.out.base.part.backing <= 0.0:
        tapped = f"No plate is behind the wall: use nuts with large washers, or tap the wall ({tap})."
    return (
        "Drill in the order of the numbers, a small drill first. 1 and 2 are farthest apart: hold the base by these "
        "two, look whether one straight bar goes through the same pin left and right, and only then drill the others "
        f"through it. {tapped}"
    )


def _skin_step(skin: SkinMarks) -> str:
    return (
        "The skin's sheets are seen from the hinge, against the panel's inner side, the front of the panel up on the "
        f"sheet. The flange is bent {skin.flange} of its web. Offer the hinge up with the panel shut on its packers, "
        "and see that the bracket lies where the sheet has it, before you drill the skin."
    )

"""What is said of the wall: its angles echoed, the wedge, scribe lines, the grinder's table, what happens without.

A builder knows his wall's angle in one of three ways (`GIVEN`): how far each half is off square, how far both together
are off one flat wall, or the angle included between the halves. All come to the same angle off square for each half.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from app.lengths import NOTHING, format_angle, format_length, parse_angle
from app.words import CAUTION, FAILS
from kinematics.errors import HingewrightError
from kinematics.wall_parts import HANDS, STEEPEST_OFF
from kinematics.walling import FLAT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.lengths import Units
    from kinematics.mounting import BaseMade
    from kinematics.untrued import Untrued
    from kinematics.wall_feet import Foot, Scribe
    from kinematics.wall_parts import Wall
    from kinematics.walling import WallPlane, Wedge

Told = TypeVar("Told")
EACH, TOGETHER, INCLUDED = "each", "together", "included"
GIVEN = ((EACH, "each half off square"), (TOGETHER, "both together off flat"), (INCLUDED, "included between halves"))
SIDES = {
    2: ("outboard side", "inboard side"),
    4: ("outer web, outboard side", "outer web, inboard side", "inner web, outboard side", "inner web, inboard side"),
}
"""The sides of the webs, by how many there are; outboard first."""
ASKEW = (
    "Bolts go through a tapered shim askew to the wall: drill the wall along them, square to the base plate. Put a "
    "wedge of the same angle behind the wall, so that the backing plate stands parallel to the base plate and its "
    "threads stand true."
)
MEETS = 0.5
"""Mm by which walls may miss each other at the centreline before it is told."""
GUSSETS = "Gussets are cut square: file them to the corner that is there, wider on one side than on the other."
AWAY, NEARER = "falls away outboard", "comes nearer outboard"
GRINDING_CAUTION = (
    "Grinding: goggles and ear muffs, a mask against dust; sparks are hot and fly far, so nothing near that burns. No "
    "gloves, loose sleeves or long hair near a running belt; keep the foot on the rest, fingers clear of the nip, and "
    "let the belt stop before you measure. Grind to the line, then try the base on the wall with a straight bar "
    "through both hinges' pins."
)
LIES = (
    f"{FAILS} The wall lies rather than stands, so it is off nothing as seen from above. Type its lean, or another "
    "way of the wall under the base."
)
NO_PINS = f"{FAILS} The body has no pins yet, so there is no base to set on the wall."
NO_BASE = "No base is laid out yet, so this is told of a usual one."
FAR = "Nobody said how far the hinges are apart, so nothing is told from the centreline. Type it here."


# --------------------------------------------------------------------------------------------------------------- angles
def each_of(text: str, given: str) -> float:
    """The angle off square of each half, deg, never negative, from what was typed.

    Raises HingewrightError, one sentence, for what is no such angle.
    """
    typed = parse_angle(text)
    if typed < 0.0:
        raise HingewrightError(
            f"{format_angle(typed)} has a sign", remedy="Type it without: the picture says which way."
        )
    each = {EACH: typed, TOGETHER: 0.5 * typed, INCLUDED: 0.5 * abs(180.0 - typed)}[given]
    if each > STEEPEST_OFF + 1e-9:
        what = f"{format_angle(typed)} makes each half {format_angle(each)} off square, and 45° is the most that can be"
        remedy = "Put the hinge on a wall that faces the panel more squarely."
        if given == INCLUDED:
            remedy = f"If both halves together are {format_angle(typed)} off flat, choose that above."
        elif abs(180.0 - typed) <= 2.0 * STEEPEST_OFF:
            remedy = f"If {format_angle(typed)} is the angle included between the halves, choose that above."
        raise HingewrightError(what, remedy=remedy)
    return each


def given_of(each: float, given: str) -> float:
    """The other way round: what would be typed for an angle off square (deg, its sign left aside)."""
    size = abs(each)
    return {EACH: size, TOGETHER: 2.0 * size, INCLUDED: 180.0 - 2.0 * size}[given]


def thick_words(off: float) -> str:
    """Which end of the wedge is thick."""
    return "thick end outboard" if off > FLAT else "thick end inboard" if off < -FLAT else "square, nothing to true"


def echo_words(wall: Wall, units: Units) -> str:
    """The walls angles said back: "9.5° each side, thick end outboard"."""
    left, right = (wall.side(hand).off_deg for hand in HANDS)
    if left == right:
        if abs(left) <= FLAT:
            return "Square on either side: nothing to true."
        return f"{format_angle(abs(left), units, fine=True)} each side, {thick_words(left)}."
    said = [
        f"{hand} {format_angle(abs(off), units, fine=True)}, {thick_words(off)}"
        if abs(off) > FLAT
        else f"{hand} square"
        for hand, off in (("left", left), ("right", right))
    ]
    return f"{said[0].capitalize()}; {said[1]}."


def edge_words(hand: str, end: str) -> str:
    """Which edge of a hinge an end is, for one who looks ahead: left or right."""
    return hand if end == "outboard" else {"left": "right", "right": "left"}[hand]


# -------------------------------------------------------------------------------------------------------------- results
def bevel_sentences(planes: Sequence[WallPlane], units: Units) -> list[str]:
    """The true bevel of each hand, with both angles where the wall leans."""
    said = []
    for who, plane in _whose(planes, lambda plane: (plane.off_deg, plane.lean_deg)):
        seen, true = (format_angle(abs(deg), units, fine=True) for deg in (plane.off_deg, plane.bevel_deg))
        if abs(plane.off_deg) <= FLAT:
            continue
        if abs(plane.lean_deg) < 0.05:
            said.append(f"{who}: true bevel {true}, as seen from above; the wall stands plumb.")
            continue
        lean, skew = format_angle(abs(plane.lean_deg), units), format_angle(abs(plane.skew_deg), units, fine=True)
        way = "away from the pins" if plane.lean_deg > 0.0 else "over the pins"
        side = "outboard" if plane.skew_deg > 0.0 else "inboard"
        said.append(
            f"{who}: {seen} off square seen from above and {lean} off plumb, its top {way}. Both together: true bevel "
            f"{true} about the foot's line, and that line runs {skew} off square on the wall, its top {side}."
        )
    return said


def wedge_sentences(wedges: Sequence[Wedge], base: BaseMade | None, units: Units) -> list[str]:
    """The wedge, which end is thick on which hand, and how it stands on the grinder."""
    said = []
    for who, made in _whose(wedges, lambda made: (made.angle_deg, made.thick_end)):
        if not made.thick_end:
            continue
        depth, rise, slope = (format_length(each, units, fine=True) for each in (made.depth, made.rise, made.slope))
        said.append(
            f"{who}: over {depth} across, the {made.thick_end} end is {rise} thicker; along the bevel it is {slope}."
        )
        if made.trued == "shim":
            thin, thick = (format_length(each, units, fine=True) for each in (made.thin, made.thick))
            size = NOTHING if base is None else _size(base, units)
            said.append(f"{who}: tapered shim {size}, {thin} at its thin end, {thick} at its thick one.")
    if any(made.trued == "shim" and made.thick_end for made in wedges):
        said.append(ASKEW)
    for made in wedges:
        if made.thick_end:
            edge, other = edge_words(made.hand, made.thick_end), edge_words(made.hand, _other(made.thick_end))
            belt, off = (format_angle(deg, units, fine=True) for deg in (made.to_belt_deg, made.angle_deg))
            work = "most comes off" if made.trued == "foot" else "most is planed off"
            said.append(
                f"{made.hand.capitalize()} hinge, looking ahead: its {edge} edge stays thick, {work} its {other} edge. "
                f"Table of the grinder at {belt} to the belt: {off} off square."
            )
    return said


def _size(base: BaseMade, units: Units) -> str:
    return f"{format_length(base.part.width, units, unit=False)} × {format_length(base.height, units)}"


def _other(end: str) -> str:
    return {"outboard": "inboard", "inboard": "outboard"}[end]


def foot_sentences(feet: Sequence[Foot], base: BaseMade, units: Units) -> list[str]:
    """What is left on the feet, and where the lines are scribed."""
    if not feet:
        return []
    lower = format_length(feet[0].lower, units, fine=True)
    said = [
        (
            f"The webs are cut {lower} longer at the foot for it, without tabs, as a foot that is ground keeps none; "
            "set them by the lines on the base plate, a bar through the pins' holes."
        )
    ]
    for who, foot in _whose(feet, lambda foot: foot.lines):
        least = min(min(line.low, line.high) for line in foot.lines)
        first, most = (format_length(each, units, fine=True) for each in (least, foot.most))
        said.append(f"{who}: scribe each side of the webs over its foot as cut, and grind down to the lines.")
        sides = SIDES[len(foot.lines)]
        said += [f"– {name}: {_heights(line, units)}" for name, line in zip(sides, foot.lines, strict=True)]
        said.append(f"{first} comes off at least, {most} at most.")
    return [*said, GUSSETS] if base.part.gussets else said


def _heights(line: Scribe, units: Units) -> str:
    low, high = (format_length(each, units, fine=True) for each in (line.low, line.high))
    return low if low == high else f"{low} at the foot's lower end, {high} at its upper"


def untrued_sentences(told: Sequence[Untrued], units: Units) -> list[str]:
    """What would happen without."""
    said = []
    for who, each in _whose(told, lambda each: (each.out_deg,)):
        if abs(each.out_deg) <= FLAT:
            continue
        way = "opening outboard" if each.out_deg > 0.0 else "opening inboard"
        moves = [
            f"the {name} edge of the panel {_sideways(mm, units)}"
            for name, mm in (("front", each.front), ("rear", each.rear))
            if mm is not None
        ]
        moves.append(f"pin {each.pin} up to {_sideways(each.pins, units)} at {format_angle(each.at_deg, units)}")
        out = format_angle(abs(each.out_deg), units, fine=True)
        said.append(f"{who} would stand {out} out of parallel, {way} ahead, and want to take {', '.join(moves)}.")
    if said:
        said.append("Both want it at once and the panel is stiff: how soon they bind is told under Parallel hinges.")
    return said


def _sideways(mm: float, units: Units) -> str:
    return f"{format_length(abs(mm), units)} {'outboard' if mm > 0.0 else 'inboard'}"


def lean_sentence(drawn: float, typed: float, trued: str, units: Units) -> str:
    """Say that the lean that was typed isn't the one that is drawn: feet take it up, a shim is told across alone."""
    if abs(typed - drawn) < 0.05:
        return ""
    leans = [format_angle(each, units, fine=True) for each in (drawn, typed)]
    said = (
        f"The wall is drawn leaning by {leans[0]}, and {leans[1]} was typed. The base is laid out on the wall as drawn"
    )
    if trued == "shim":
        by = format_angle(abs(typed - drawn), units, fine=True)
        return (
            f"{FAILS} {said}, so the shim would have to taper by {by} up and down as well, which isn't reckoned here. "
            "Draw the wall as it is, or type its way under the base."
        )
    return (
        f"{CAUTION} {said}, so its feet take up the rest in the side view as well. Draw the wall as it is, or type its "
        "way under the base."
    )


def step_sentence(left: float, right: float, units: Units) -> str:
    """Say that left and right wall, each as far from the pins as it is drawn, don't meet at the centreline.

    left, right : by how much either wall stands nearer to the panel at the centreline than at its hinge, mm.
    """
    step = left - right
    if abs(step) < MEETS:
        return ""
    farther = "right" if step < 0.0 else "left"
    return (
        f"{CAUTION} As typed, left and right wall miss each other at the centreline by "
        f"{format_length(abs(step), units)}, as both bases stand as far from the pins. On a wall that runs "
        f"through there, pack the {farther} base by that much, or make its webs so much longer."
    )


def meets_sentences(found: Sequence[tuple[str, float]], hand: str, units: Units) -> list[str]:
    """Say what a leaning wall stands in the way of."""
    return [
        f"{FAILS} The wall as it leans stands in the way of “{link}” on the {hand}, by {format_length(deep, units)} "
        "over the travel. Lean it less, or move the hinge off it."
        for link, deep in found
    ]


def nearer_sentence(found: tuple[str, float] | None, units: Units, who: str = "this") -> str:
    """Say where along the panel the wall is nearest."""
    if found is None or found[1] < 0.05:
        return ""
    where = "At the centreline" if found[0] == "centreline" else "At the panel's outer edge"
    return (
        f"{CAUTION} {where} {who} wall stands {format_length(found[1], units)} nearer to the panel than at the hinge. "
        "The drawing is the side view at the hinge: bring that section in too (Trace), if wall and panel come close."
    )


def _whose(told: Sequence[Told], key: Callable[[Told], object]) -> list[tuple[str, Told]]:
    """What is told of each hand with whom it is about: once where both are the same."""
    if len(told) == 2 and key(told[0]) == key(told[1]):
        return [("Left and right", told[0])]
    return [(f"{getattr(each, 'hand', '')} hinge".capitalize(), each) for each in told]

"""What is said of mounts: brackets, bases, stops as parts, and what their adjusters do; sentences for the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_angle, format_change, format_force, format_length, format_number
from app.template_words import tap_words
from app.words import CAUTION, FAILS
from kinematics.sheet_metal import leg

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.lengths import Units
    from kinematics.adjusting import Adjusting, Effect, Turned
    from kinematics.faces import Face
    from kinematics.mounting import BaseMade, BracketMade, MountFault
    from kinematics.stop_made import StopMade

WELDING_CAUTION = (
    "Welding: helmet and gloves, nobody looks into the arc without a filter; air that carries the fumes away, zinc and "
    "paint ground off first; nothing that burns behind the wall. Cut sheet is sharp: break all its edges before it is "
    "handled. Welds, bolts and the wall itself aren't reckoned here: have somebody of the trade look at them before "
    "anybody stands under the panel."
)
BENDING_CAUTION = (
    "Cut sheet is sharp: break all edges. Keep fingers out of the folder. Bend a strip of the same sheet first and "
    "measure it: the rule's neutral line is a beginning. Bracket, bolts and skin aren't reckoned for strength here."
)
FAULTS = {
    "behind": "The eye of {pin} begins {have} off the seat of the {of}, and {want} is the least, so it can't be laid "
    "out. Give it a smaller edge distance, thinner doubler and shims, or move its face or the pin.",
    "past": "The eye of {pin} reaches {have} past the seat of the {of}, and should begin {want} off it at least, so it "
    "can't be laid out. Give it a smaller edge distance, thinner doubler and shims, or move its face or the pin.",
    "near": "An eye is {have} from the skin, and {want} is wanted.",
    "shape": "No web can be laid round these pins and the foot. Move the face, or make the foot longer.",
    "radius": "Bent to {have} inside; below {want} this sheet may crack (common practice, no source).",
    "flange": "The flange is {have} wide; below {want} a folder can hardly hold it (common practice, no source).",
    "hole at bend": "A slot is {have} from where the bend begins; nearer than {want} it is drawn out of shape.",
    "edge": "A bolt's middle is {have} from an edge; {want} is the least that is usual.",
    "pitch": "At {have} from bolt to bolt there would be more of them than are drawn. Take a wider pitch.",
    "under web": "A bolt stands where a web or its weld is: {have} are missing. Make the plate wider.",
    "thread": "No table has this thread, so figures of M8 stand in. Choose one of the list.",
    "engaged": "The thread is engaged over {have}; {want} is usual in steel. Take a thicker backing plate.",
    "weld thin": "A throat of {have} is thin for the thicker sheet: {want} or more (√ of the thickness less 0.5 mm).",
    "weld thick": "A throat of {have} is more than the thinner sheet bears: {want} at most (0.7 of the thickness).",
    "weld counts": "A throat of {have} isn't reckoned to carry: {want} is the least (EN 1993-1-8).",
    "tabs": "The tabs don't fit on the foot. Make them shorter, or fewer.",
    "over pin": "The block reaches {have} over what lies on pin {pin}. Give the stop another arm, or the block a "
    "shorter face.",
    "beside": "Less than half of the block stands on its plate. Give the stop a shorter arm, or the plate a belly.",
    "gusset": "A gusset of {have} reaches under a bolt's washer; {want} is free there.",
}
NAMES = {
    "fore_aft": ("Slot fore and aft", "panel forwards", "panel back"),
    "height": ("Shims in the bracket", "more", "less"),
    "front_height": ("Shims, front bolts", "more", "less"),
    "side": ("Slot to the side", "outwards", "inwards"),
    "up_down": ("Slot up and down", "hinge up", "hinge down"),
    "off_wall": ("Shims at the wall", "more", "less"),
    "top_off_wall": ("Shims, upper bolts", "more", "less"),
    "rest": ("Rest of the front", "higher", "lower"),
}
READ = "Rear corner and front edge: to the right, beneath it up. Gap: shut, beneath it in travel."
NO_ADJUSTERS = "Begin a bracket or a base above: their slots and shims are told here."
NOT_MOVING = "The panel doesn't open yet, so nothing is told of adjusters."


def fault_sentence(fault: MountFault, units: Units, sign: bool = True) -> str:
    """Say one fault or caution of a mount."""
    kind, lengths = fault.kind, (fault.have, fault.want)
    if kind == "behind" and fault.have is not None and fault.have < 0.0:
        kind, lengths = "past", (-fault.have, fault.want)
    have, want = (format_length(each, units) for each in lengths)
    if have == want:
        have, want = (format_length(each, units, fine=True) for each in lengths)
    said = FAULTS[kind].format(pin=fault.pin, of=fault.of, have=have, want=want)
    return f"{CAUTION if fault.is_caution else FAILS} {said}" if sign else said


def fault_sentences(faults: Iterable[MountFault], units: Units) -> list[str]:
    """Say all, faults before cautions."""
    return [fault_sentence(each, units) for each in sorted(faults, key=lambda each: each.is_caution)]


def face_sentence(face: Face, what: str, units: Units) -> str:
    """Say where a face was taken from."""
    way = format_angle(90.0 - (90.0 - face.deg) % 180.0, units)  # a line has no sense: 90° and not −90°
    read = f"read off “{face.outline}”" if face.outline else "as typed, or taken off the pins where nothing is drawn"
    return f"The {what} lies at {way}, {read}."


def bracket_sentences(made: BracketMade, units: Units) -> list[str]:
    """What a bracket comes to."""
    bend, thread, part = made.bend, made.thread, made.part
    foot = format_length(made.foot[1] - made.foot[0], units)
    slot = _slot(thread.clearance, part.fore_aft, units)
    radius, shorter = format_length(bend.radius, units), format_length(bend.deduction, units, fine=True)
    return [
        face_sentence(made.face, "skin", units),
        f"Foot {foot}, flange {format_length(made.flange, units)}, {part.hole_count} × {thread.name} in {slot}.",
        (
            f"Bent by {format_angle(bend.angle_deg, units)} about {radius} inside, k {format_number(bend.k, units)}: "
            f"{format_length(bend.allowance, units, fine=True)} in the bend, the blank {shorter} shorter than its legs."
        ),
    ]


def base_sentences(made: BaseMade, units: Units) -> list[str]:
    """What a base comes to."""
    part, thread = made.part, made.thread
    size = f"{format_length(made.height, units, unit=False)} × {format_length(part.width, units)}"
    tap = f"; {tap_words(thread, units)}" if part.backing else ""
    leg_mm, throat = format_length(leg(made.throat), units), format_length(made.throat, units)
    bars = ", ".join(f"{format_length(bar, units, fine=True)} at {pin}" for pin, bar in made.bars)
    sides = "both sides" if part.weld_side == "both" else f"the {part.weld_side} side"
    return [
        face_sentence(made.face, "wall", units),
        f"Base plate {size}, {len(made.bolts)} × {thread.name} in {_slot(thread.clearance, part.up_down, units)}{tap}.",
        f"Fillets on {sides}, throat {throat} (leg {leg_mm}), {format_length(made.weld, units)} for one base.",
        f"Bars to hold both hinges in line while you tack: {bars}. Ream the holes once all is welded and cold.",
    ]


def _slot(diameter: float, either_way: float, units: Units) -> str:
    wide = format_length(diameter, units)
    if not either_way:
        return f"holes of {wide}"
    return f"slots {format_length(diameter, units, unit=False)} × {format_length(diameter + 2.0 * either_way, units)}"


def stop_sentences(made: StopMade, units: Units) -> list[str]:
    """What a stop comes to as a part."""
    kind = "pin" if made.part.kind == "pin" else "screw"
    x, y = (format_length(each, units) for each in (made.at.real, made.at.imag))
    said = [
        (
            f"A {kind} of {format_length(made.part.diameter, units)} on “{made.carries}” at x {x}, y {y} (shut) meets "
            f"a block on “{made.faces}”, turned by {format_angle(abs(made.turned_deg), units)} about {made.pivot}."
        )
    ]
    if kind == "screw":
        said.append(f"1 mm of screw shifts the stop by {format_angle(made.per_mm, units, fine=True)} of opening.")
    if made.force:
        said.append(f"Its faces bear {format_force(made.force, units)} in each hinge, at rest; thrown open, far more.")
    return said


# ---------------------------------------------------------------------------------------------------------- adjusters
def adjuster_name(effect: Effect) -> str:
    """The name of an adjuster."""
    return NAMES[effect.adjuster.key][0]


def moved_words(moved: complex | None, units: Units) -> str:
    """How a place of the panel goes, x and y."""
    if moved is None:
        return NOTHING
    return f"{ratio(moved.real, units)}, {ratio(moved.imag, units)}"


def rate_words(rate: float | None, units: Units) -> str:
    """How a gap goes."""
    return NOTHING if rate is None else ratio(rate, units)


def ratio(value: float, units: Units) -> str:
    """How far something goes for each 1 of an adjuster, with its sign: the same in any unit."""
    said = format_number(abs(round(value, 2)), units)
    return "0" if said == "0" else f"{'+' if value > 0.0 else '−'}{said}"


def left_words(effect: Effect, units: Units) -> str:
    """How far an adjuster can still go each way."""
    adjuster = effect.adjuster
    if adjuster.less is None or adjuster.more is None:
        return "as far as its thread goes"
    _, more, less = NAMES[adjuster.key]
    return f"{format_length(adjuster.more, units)} {more}, {format_length(adjuster.less, units)} {less}"


def effect_sentence(told: Adjusting, effect: Effect, units: Units) -> str:
    """All that a mm of an adjuster does, for the tip and for screen readers."""
    said = [f"{adjuster_name(effect)}: for each 1 {NAMES[effect.adjuster.key][1]}, in both hinges,"]
    said.append(f"rear corner {moved_words(effect.rear, units)}; front edge {moved_words(effect.front, units)} (x, y).")
    for gap, shut, travel in zip(told.gaps, effect.shut, effect.travel, strict=True):
        said.append(
            f"“{gap.between[0]}” to “{gap.between[1]}”: shut {rate_words(shut, units)}, smallest in travel "
            f"{rate_words(travel, units)}."
        )
    said.append(f"Left: {left_words(effect, units)}.")
    return "\n".join(said)


def rest_sentence(told: Adjusting) -> str:
    """Say what the panel is taken to lie on."""
    if told.rest is None:
        return f"{READ} Nothing holds the panel's front where it is shut, so its turn is kept."
    return f"{READ} The shut panel lies on its {told.rest.kind}, whose height is kept; both hinges are set alike."


def turning_sentences(
    told: Adjusting,
    gap: int,
    change: float,
    single: Iterable[tuple[int, float, bool]],
    turned: Turned | None,
    units: Units,
) -> list[str]:
    """Say which adjusters bring a change of a gap."""
    said = []
    for place, by, can in list(single)[:MOST_NAMED]:
        effect = told.effects[place]
        name, more, less = NAMES[effect.adjuster.key]
        beyond = "" if can else f" – beyond what is left ({left_words(effect, units)})"
        said.append(f"{name}: {format_length(abs(by), units)}, {more if by >= 0.0 else less}{beyond}.")
    if not said:
        return ["No adjuster changes this gap."]
    if len(said) > 1 and any(can for _, _, can in single):
        said.insert(0, "One of these is enough:")
    if turned is not None and not any(can for _, _, can in single):
        got = format_change(turned.changes[gap] or 0.0, units)
        said.append(f"All together they bring {got} of {format_change(change, units)}.")
    return said


MOST_NAMED = 3
"""So many adjusters are offered."""

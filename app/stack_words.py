"""What is said of the stack: who runs in which layer, what strikes whom at which opening, and what lies on each pin.

Layers are counted from the panel's middle outwards. Thicknesses and lengths along a pin are said with two digits after
the point, as they are measured with a caliper; a fraction of an inch would hide what shims are chosen by.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from app.lengths import format_angle, format_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from kinematics.pin_lengths import Piece
    from kinematics.project import Project
    from kinematics.stacking import PinStack, StackFault, StackMade

__all__ = [
    "STACK_CAUTION",
    "fault_words",
    "layer_words",
    "pin_sentences",
    "pin_title",
    "stack_gist",
    "stack_sentences",
    "thickness_words",
]

STACK_CAUTION = (
    "Bolt a mock-up of the stack before pins are cut: real washers and sheet differ from their tables. Links that pass "
    "each other shear what is between them: keep fingers out while the panel moves."
)
FAULTS = {
    "meet": "{name} and {other} are in one layer, but their plates meet{at}. Move one of them to another layer.",
    "on one pin": "{name} and {other} are on one pin, but in one layer. Move one of them to another layer.",
    "shank": "Pin {name} with its washers strikes {other}{at}. Move {other} out of the layers that the pin goes "
    "through.",
    "end": "The head or clip of pin {name} strikes {other}{at}. Move {other} one layer further, or take a pin with a "
    "lower head.",
    "pins": "Pins {name} and {other} come so near each other{at} that head or clip of one strikes the other. Move one "
    "of them, or its links to other layers.",
    "no way": "No layers let all links pass each other: whatever is tried, a pin strikes a link. What stands here "
    "comes nearest. Move pins apart, make plates narrower, or bow a plate round the pin.",
    "not found": "No layers were found in which all links pass each other, though there may be some: the search was "
    "ended after many trials. What stands here comes nearest. Set layers by hand, or make plates narrower.",
    "plates": "The layers set by hand for {name} are {other}, but it has another number of plates; they are left out, "
    "and found.",
    "shapeless": "The plate of {name} can't be as it is drawn ({other}); eyes round its pins stand for it here.",
    "tight": "Pin {name}: the longest standard pin goes through only where washers and plates don't all come out "
    "thick. Measure the stack first.",
    "no length": "Pin {name}: no standard length reaches. It is made to length, once the stack is measured.",
}
NAMES = {"washer": "washer", "shim": "shim", "spacer": "tube"}


def fault_words(fault: StackFault, units: Units) -> str:
    """Say a fault or caution: who strikes whom, at which opening, what to do."""
    at = "" if fault.deg is None else " when shut" if fault.deg < 0.05 else f" at {format_angle(fault.deg, units)}"
    what = "on one pin" if fault.what == "meet" and fault.deg is None else fault.what
    other = fault.other.rstrip(".") if fault.what == "shapeless" else fault.other
    return FAULTS[what].format(name=fault.name, other=other, at=at)


def layer_words(layers: Sequence[int]) -> str:
    """Say in which layers a link runs: "2", "1 and 3"."""
    return " and ".join(map(str, layers))


def thickness_words(mm: float, units: Units) -> str:
    """Say a length along a pin, as a caliper shows it."""
    return format_length(mm, units, fine=True)


def stack_gist(project: Project) -> str:
    """Say in a few words what is in the section, without working anything out."""
    return "layers by hand" if project.stacking.layers else "layers found"


def stack_sentences(stack: StackMade, units: Units) -> list[str]:
    """Say how many layers there are and how thick they are together."""
    if not stack.layers:
        return ["No link has a pin yet."]
    count = "1 layer" if stack.count == 1 else f"{stack.count} layers"
    sentences = [f"{count}, {thickness_words(stack.thick, units)} from the first plate's face to the last one's."]
    if stack.by_hand:
        sentences.append("They were set by hand.")
    elif stack.fewest:
        sentences.append("Fewer can't do: all ways were tried.")
    elif not any(fault.breaks for fault in stack.faults):
        sentences.append("Fewer may do: there were too many ways to try them all.")
    return sentences


# A pin -------------------------------------------------------------------------------------------------------------


def pin_title(pin: PinStack, units: Units) -> str:
    """Say what pin it is: kind, diameter, length."""
    made = pin.joint.pin
    standard = f", {made.size.standard}" if made.size is not None and pin.length.stock else ""
    long = "shoulder " if made.kind == "shoulder bolt" else ""
    return (
        f"Pin {pin.pivot}: {made.kind} ⌀{thickness_words(made.diameter, units)}, "
        f"{long}{thickness_words(pin.length.length, units)} long{standard}"
    )


def pin_sentences(pin: PinStack, units: Units) -> list[str]:
    """Say what lies on a pin, its grip with limits, how it is kept and with what play."""

    def fine(mm: float) -> str:
        return thickness_words(mm, units)

    length = pin.length
    sentences = [
        f"Grip {fine(pin.grip)}, as washers and plates come {fine(pin.least)} to {fine(pin.most)}.",
        f"In the grip beside the plates: {_counted(pin.pieces, units) or 'nothing'}.",
    ]
    if length.fill:
        end = "nut" if pin.joint.pin.kind == "shoulder bolt" else "clip"
        sentences.append(
            f"Beneath the {end}, to fill up the standard length: "
            f"{_counted(length.fill, units)}; as the stack comes, "
            f"{fine(length.fill_least)} to {fine(length.fill_most)}. Measure it, and choose shims."
        )
    elif not length.stock:
        sentences.append("Made to length: stack it up and measure it first, then cut.")
    sentences += [_kept(pin, fine(length.place), fine(length.apart)), f"End float {fine(length.end_float)}."]
    if pin.turned:
        sentences.append("Put in from outside: its long end has room only inwards.")
    return sentences


def _kept(pin: PinStack, place: str, apart: str) -> str:
    """How its other end is kept."""
    made = pin.joint.pin
    if made.kind == "plain pin":
        return f"Two grooves for rings, their outer edges {apart} apart, the first {place} from the pin's end."
    if made.kind == "shoulder bolt":
        return f"The shoulder ends {place} below the head; a nut is drawn tight against it."
    clip = f" ({made.size.clip})" if made.size is not None and made.size.clip else ""
    return f"Hole for the split pin{clip}: its middle {place} below the head."


def _counted(pieces: Sequence[Piece], units: Units) -> str:
    """Say washers, tubes and shims: "3 washers 1.6 mm, tube 6 mm"."""
    counted = Counter((piece.kind, round(piece.thickness, 4)) for piece in pieces if piece.kind in NAMES)
    return ", ".join(
        f"{f'{many} ' if many > 1 else ''}{NAMES[kind]}{'s' if many > 1 else ''} {thickness_words(thick, units)}"
        for (kind, thick), many in sorted(counted.items(), key=lambda each: list(NAMES).index(each[0][0]))
    )

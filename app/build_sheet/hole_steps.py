"""Steps of holes and pins: ream, press or bond the bushings, stack it all up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.build_sheet.step import Drawing, Step, Table
from app.hardware_words import BONDING, NEVER, PRESSING, REAMING, SLIPPING, fit_words, limits_words
from app.parts_list import bushing_designation, pin_designation
from app.stack_words import pin_sentences, pin_title, stack_sentences
from kinematics.pin_lengths import LEAST_FLOAT, MOST_FLOAT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.build_sheet.facts import Facts
    from app.parts_list import Bought
    from kinematics.stacking import PinStack

PURPOSES = {"housing": "bushing", "shank": "pin, held", "running": "pin, turns"}
ON_PINS = (
    "clevis pin", "shoulder bolt", "plain pin", "split pin", "nut", "circlip", "E-ring", "ring", "washer", "shim",
    "spacer",
)  # fmt: skip
"""Items of the parts list that come with the pins."""


def ream(facts: Facts) -> Iterator[Step]:
    """All holes that are reamed, with their limits."""
    rows = [
        (
            hole.link,
            pivot,
            facts.fine(hole.cut_diameter),
            limits_words(hole.finished, facts.units),
            hole.zone or "–",
            PURPOSES[hole.purpose],
        )
        for pivot, hole in facts.holes
        if hole.reamed
    ]
    if not rows:
        return
    left = [f"{hole.link} at {pivot}" for pivot, hole in facts.holes if not hole.reamed]
    does: list[str | Table] = [
        "Measure the pins and bushings that you bought before you ream.",
        Table(("link", "pin", "as cut", "ream to", "limits", "for"), tuple(rows)),
        REAMING,
        "Clamp the two plates of a pair, or left and right of a link, on each other and ream them in one go.",
    ]
    if left:
        does.append(f"Left as cut: {', '.join(left)}.")
    yield Step(
        "ream",
        "Ream the pin holes",
        (f"reamers: {', '.join(_reamers(facts))}", "cutting oil", "clamps", "bore gauge or gauge pins"),
        tuple(does),
        (
            "Each hole lies within its limits, at both faces and two ways across.",
            "A pin dropped in stands square to the plate, without rocking.",
        ),
        ("Goggles. Clamp the plate: a reamer that catches spins it. No gloves at a running spindle.",),
        (Drawing("holes", caption="Plates with their pins' names.", wide=True, tall=66.0),),
    )


def _reamers(facts: Facts) -> list[str]:
    """The reamers, each once: "8 mm H8"."""
    found = (f"{facts.fine(hole.diameter)} {hole.zone}".strip() for _, hole in facts.holes if hole.reamed)
    return list(dict.fromkeys(found))


def bushings(facts: Facts) -> Iterator[Step]:
    """Press them in or bond them, as was chosen."""
    sat = [(pivot, hole, hole.bushing) for pivot, hole in facts.holes if hole.bushing is not None]
    if not sat:
        return
    fixings = {bushing.fixing for _, _, bushing in sat}
    kinds = {bushing.kind for _, _, bushing in sat}
    rows = tuple(
        (hole.link, pivot, bushing_designation(bushing), fit_words(hole.between, facts.units), bushing.fixing)
        for pivot, hole, bushing in sat
    )
    bores = tuple(
        dict.fromkeys(
            (facts.fine(bushing.nominal_bore), limits_words(bushing.bore, facts.units)) for *_, bushing in sat
        )
    )
    does: list[str | Table] = [Table(("link", "pin", "bushing", "in its hole", "by"), rows)]
    for kind in sorted(kinds):
        if any(bushing.kind == kind and bushing.fixing == "press" for *_, bushing in sat):
            does.append(PRESSING.get(kind, "Press it in square."))
        if any(bushing.kind == kind and bushing.fixing == "bond" for *_, bushing in sat):
            does.append(SLIPPING.get(kind, "It slips into the plate."))
    does += [f"In the end its bore of {bore} measures {limits}." for bore, limits in bores]
    does += [NEVER] if "sintered" in kinds else []
    does += [BONDING] if "bond" in fixings else []
    cautions = []
    if "press" in fixings:
        cautions.append("Pressing: face protected, hands off. A bushing that jams can burst; begin again, square.")
    if "bond" in fixings:
        cautions.append(
            "Retaining compound and solvent: gloves that stand them, eyes, fresh air, no flame, the makers' sheets."
        )
    titles = {frozenset({"press"}): "Press the bushings in", frozenset({"bond"}): "Bond the bushings in and let cure"}
    yield Step(
        "bushings",
        titles.get(frozenset(fixings), "Press and bond the bushings in"),
        (
            *_counts(facts, ("bushing",)),
            *(("arbor press",) if "press" in fixings else ()),
            *(("fitting pin (m5 or m6)",) if "press" in fixings and "sintered" in kinds else ()),
            *((f"reamer for bores of {bores[0][1]}",) if "solid bronze" in kinds else ()),
            *(("retaining compound, solvent, wipes",) if "bond" in fixings else ()),
        ),
        tuple(does),
        (
            *_ends(facts),
            "The pin slides through by its own weight and doesn't rock.",
            *(("The compound has had its full cure before anything is loaded.",) if "bond" in fixings else ()),
        ),
        tuple(cautions),
        (Drawing("bushing", sat[0][0], "A bushing in its plate.", tall=46.0),),
    )


def _ends(facts: Facts) -> Iterator[str]:
    """Where the ends of bushings are to the faces of their plates: the middle is in the middle."""
    held = {(hole.bushing.length, hole.thickness) for _, hole in facts.holes if hole.bushing is not None}
    for length, thick in sorted(held):
        off = round(0.5 * (length - thick), 3)
        how = f"lies below either face by {facts.small(-off)}" if off < 0.0 else "is flush with both faces"
        how = f"stands out of either face by {facts.small(off)}" if off > 0.0 else how
        yield f"A bushing {facts.fine(length)} long in a plate of {facts.fine(thick)} {how}."


def stack(facts: Facts) -> Iterator[Step]:
    """Every pin with what lies on it, in order."""
    pins = [pin for pin in facts.stack.pins if not pin.lone]
    if not pins:
        return
    does: list[str | Table] = [
        *stack_sentences(facts.stack, facts.units),
        (
            "Layers count from the panel's middle outwards. Stack from the head on, in the order listed. Wipe and "
            "oil each face."
        ),
        Table(("pin", "from the head on", "pin to order"), tuple(_row(facts, pin) for pin in pins)),
    ]
    rows = tuple(
        (str(row.count), row.designation, "tube" if row.item == "spacer" else row.item, str(row.spares or "–"))
        for row in facts.bought
        if row.item in ON_PINS
    )
    does.append(Table(("count", "from the parts list", "what", "spare"), rows))
    low, high = facts.fine(LEAST_FLOAT), facts.fine(MOST_FLOAT)
    yield Step(
        "stack",
        "Assemble the stack",
        ("pins, washers and clips as listed", "oil", "feeler gauges", "caliper", "pliers"),
        tuple(does),
        (
            f"End float of each pin by feeler gauge: {low} to {high} (common practice, no source).",
            "Each link drops by its own weight, and nothing rubs but washers.",
            "Every clip, ring or split pin sits; the legs of split pins are bent round.",
        ),
        ("Links shear what is between them: fingers out while anything swings. Rings fly: eyes protected.",),
        tuple(Drawing("section", pin.pivot, _caption(facts, pin), wide=True, tall=60.0) for pin in pins),
    )


def _caption(facts: Facts, pin: PinStack) -> str:
    """What is said of a pin, beneath its section."""
    return f"{pin_title(pin, facts.units)}. {' '.join(pin_sentences(pin, facts.units))}"


def _row(facts: Facts, pin: PinStack) -> tuple[str, ...]:
    """A pin, what lies on it from the head on, and how it is ordered."""
    return pin.pivot, ", ".join(order_words(facts, pin)), pin_designation(pin.joint, pin.length)


def order_words(facts: Facts, pin: PinStack) -> list[str]:
    """What lies on a pin from the head on; bushings go with their plates, alike neighbours together."""
    pieces = [each for each in pin.all_pieces if each.kind != "bushing"]
    if pin.turned:  # pieces stand from the lowest up, the fill beyond them
        pieces = sorted(pieces, key=lambda each: -each.high)
    words = [
        each.link
        if each.kind == "plate"
        else f"{'tube' if each.kind == 'spacer' else each.kind} {facts.fine(round(each.thickness, 3))}"
        for each in pieces
    ]
    found: list[tuple[str, int]] = []
    for word in words:
        if found and found[-1][0] == word:
            found[-1] = (word, found[-1][1] + 1)
        else:
            found.append((word, 1))
    return [word if many == 1 else f"{many} × {word}" for word, many in found]


def _counts(facts: Facts, items: tuple[str, ...]) -> tuple[str, ...]:
    """What of the parts list is needed: "14 × ISO 7089 - 8 - 200 HV (washer), 2 spare"."""
    return tuple(count_words(row) for row in facts.bought if row.item in items)


def count_words(row: Bought) -> str:
    """A row of the parts list in few words."""
    spare = f", {row.spares} spare" if row.spares else ""
    item = "" if row.item in row.designation else f" ({'tube' if row.item == 'spacer' else row.item})"
    return f"{row.count} × {row.designation}{item}{spare}"

"""What is said of pins, bushings and holes as they are made: sizes with limits, how they are finished, what is wrong.

A size that must be kept is said with both its limits ("7.910 to 8.000 mm"), never rounded to a fraction: limits are for
the micrometer. Fits are said as clearance, or as interference where that is negative.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import exact_length, format_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from app.lengths import Units
    from kinematics.fits import Fit, Limits
    from kinematics.joints_made import BushingMade, HoleMade, JointMade
    from kinematics.made_faults import MakingFault

__all__ = [
    "HARDWARE_CAUTION",
    "fault_sentence",
    "fault_sentences",
    "finishing_sentences",
    "fit_words",
    "joint_sentences",
    "limits_words",
    "making_gist",
    "origin_sentences",
    "summary_sentences",
]

HARDWARE_CAUTION = (
    "Measure what you bought before you ream: makers' sizes differ, and much of these tables was typed from memory (it "
    "says so where). Wear goggles, and clamp the plate: a reamer or drill that catches spins it. Retaining compound "
    "irritates skin and eyes: gloves, fresh air, the maker's sheet."
)
FEW = 2
"""As many are named with their links; of more only the pins are."""
FAULTS = {
    "pins too near": "{where}: the pins are {have} apart, and their {note} want {want}. Move them apart, or take "
    "smaller ones.",
    "too narrow": "{where}: {have} from the hole's centre to the edge, where {want} is {rule}. Give the plate "
    "more edge distance there{thinner}.",
    "cutter": "{where}: the hole is cut at {have}, in a plate that is thicker ({want}); {shops}.",
    "galling": "{where}: stainless steel turns in stainless steel, which galls and seizes. Put a bushing of bronze "
    "between them.",
    "galling faces": "{where}: plates of stainless steel rub on each other, which galls. Put washers of bronze or "
    "plastic between them.",
    "corrosion": "{where}: aluminium stands beside {note} of stainless steel. Where salt water comes, the aluminium is "
    "eaten: part them with plastic washers and sleeves, or a coating, and look at them each year.",
    "tight": "{where}: at its limits the pin is {have} larger than what it turns in, and sticks. Take another fit.",
    "not to size": "{where}: a bushing can't be pressed into a hole as it is cut, which may be {have} too wide. Have "
    "the hole reamed, or fix the bushing with retaining compound.",
    "proud": "{where}: the shortest bushing stands {have} out of its plate, half on each side, and the stack "
    "counts with it. Cut it shorter, or take a thicker plate, where that is in the way.",
    "no standard pin": "{where}: no table has a {note} of {have}. Its head and end are estimates.",
    "no standard ring": "{where}: no table has a ring for a shaft of {have}. Its ends are estimates.",
    "no standard bushing": "{where}: no table has a {note} bushing for a pin of {have}. Its size is an estimate; have "
    "one turned.",
    "no standard washer": "{where}: no standard washer is {have} thick{standard}. Take another, or "
    "make it up of shims.",
}


# Faults ----------------------------------------------------------------------------------------------------------


def fault_sentences(faults: Iterable[MakingFault], units: Units) -> list[str]:
    """Say all faults, those that are alike in one sentence."""
    alike: dict[tuple[object, ...], list[MakingFault]] = {}
    for fault in faults:
        have, want = _pair(fault.have, fault.want, units)
        alike.setdefault((fault.kind, fault.grave, have, want, fault.note), []).append(fault)
    return [_said(group, units) for group in alike.values()]


def fault_sentence(fault: MakingFault, units: Units) -> str:
    """Say one fault or caution: whom it is about, what is had, what to do."""
    return _said([fault], units)


def _said(alike: Sequence[MakingFault], units: Units) -> str:
    first = alike[0]
    have, want = _pair(first.have, first.want, units)
    usual = "usual (1.5 times the hole, better 2; common practice, no source)"
    return FAULTS[first.kind].format(
        where=_where(alike),
        have=have,
        want=want,
        note=(first.note or "plates") if first.kind == "corrosion" else first.note,
        rule="the least (1.2 times the hole, EN 1993-1-8)" if first.grave else usual,
        thinner=", or take a bushing with a thinner wall" if first.note == "bushing" else "",
        shops="no cutter makes it, have it drilled" if first.grave else "some cutters make it, ask yours",
        standard="" if first.want is None else f", {want} is",
    )


def _where(alike: Sequence[MakingFault]) -> str:
    """Whom they are about: "arm at A and link at B", of many the pins alone, "Pins A, B and C"."""
    if alike[0].links and len(alike) <= FEW:
        return _listed([f"{_listed(fault.links)} at {_listed(fault.pivots)}" for fault in alike])
    pins = list(dict.fromkeys(pin for fault in alike for pin in fault.pivots))
    return f"Pin{'s' if len(pins) > 1 else ''} {_listed(pins)}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _pair(have: float | None, want: float | None, units: Units) -> tuple[str, str]:
    """Both figures; in full where the short forms would be the same, or next to nothing."""
    have, want = (None if each is None else abs(each) for each in (have, want))
    short = [format_length(each, units) for each in (have, want)]
    if short[0] == short[1] or (have is not None and have < 3.0):
        short = [format_length(each, units, fine=True) for each in (have, want)]
    return short[0], short[1]


# Sizes -----------------------------------------------------------------------------------------------------------


def limits_words(limits: Limits, units: Units) -> str:
    """Both limits: "7.91 to 8 mm"; one figure where they are one."""
    least, most = (format_length(each, units, fine=True) for each in (limits.least, limits.most))
    return most if least == most else f"{format_length(limits.least, units, unit=False, fine=True)} to {most}"


def fit_words(between: Fit, units: Units) -> str:
    """What is between two parts: "0.013 to 0.043 mm of clearance"."""
    low, high = between.least, between.most
    if between.is_clearance:
        return f"{_span(low, high, units)} of clearance"
    if between.is_interference:
        return f"{_span(-high, -low, units)} of interference"
    tight, loose = (format_length(each, units, fine=True) for each in (-low, high))
    return f"from {tight} of interference to {loose} of clearance"


def _span(low: float, high: float, units: Units) -> str:
    return f"{format_length(low, units, unit=False, fine=True)} to {format_length(high, units, fine=True)}"


def joint_sentences(joint: JointMade, units: Units) -> list[str]:
    """The pin, what it turns in, each plate's hole and the washer, a line each."""
    pin = joint.pin
    said = [
        f"Pin: {pin.kind}, shank {limits_words(pin.shank, units)}; {joint.holder} holds it.",
        *(_hole(hole, units) for hole in joint.holes),
        f"It turns with {fit_words(joint.running, units)}.",
        f"At its ends: {_ends(joint, units)}.",
    ]
    if joint.washer.thickness > 0.0:
        sizes = (joint.washer.inside, joint.washer.outside, joint.washer.thickness)
        said.append(f"Washers between moving faces: {_by(sizes, units)}.")
    return said


def _hole(hole: HoleMade, units: Units) -> str:
    cut, bushing = format_length(hole.cut_diameter, units, fine=True), hole.bushing
    zone = f" ({hole.zone})" if hole.zone else ""
    work = f"cut {cut}, ream {limits_words(hole.finished, units)}{zone}" if hole.reamed else f"cut {cut} and leave it"
    if bushing is None:
        return f"{hole.link}: {work}, for {'the pin to turn in' if hole.purpose == 'running' else 'the pin'}."
    return f"{hole.link}: {work}; bushing {_bushing(bushing, units)}, {fit_words(hole.between, units)}."


def _bushing(bushing: BushingMade, units: Units) -> str:
    sizes = (bushing.nominal_bore, bushing.nominal_outside, bushing.length)
    return f"{_by(sizes, units)}, {bushing.kind}"


def _by(sizes: Sequence[float], units: Units) -> str:
    """Diameters and a length: "8 × 11 × 6 mm"."""
    *first, last = sizes
    return " × ".join([*(exact_length(each, units, unit=False) for each in first), exact_length(last, units)])


def _ends(joint: JointMade, units: Units) -> str:
    pin = joint.pin
    head, high, clip = (format_length(each, units, fine=True) for each in (pin.head, pin.height, pin.clip))
    if pin.kind == "plain pin":
        ring = (
            "rings"
            if pin.ring is None
            else f"{pin.ring.kind}s {pin.ring.size:g} ({pin.ring.source.partition(',')[0].partition(' (')[0]})"
        )
        groove = "" if pin.ring is None else f", grooves {format_length(pin.ring.groove, units, fine=True)}"
        return f"{ring}{groove}; they take {head} round them"
    other = "nut" if pin.kind == "shoulder bolt" else "split pin"
    return f"head {head}, {high} high; {other} within {clip}"


# Finishing -------------------------------------------------------------------------------------------------------

REAMING = (
    "Cut edges are hard: take the skin off with a drill or file before you ream, with cutting oil, slowly, and never "
    "turn the reamer backwards."
)
NEVER = "Never ream a sintered bushing: that smears its pores shut, and shuts the oil in."
PRESSING = {
    "sintered": "Ream the plate. Soak the sintered bushing in oil and press it in on a fitting pin (m5 or m6), which "
    "sizes its bore as the plate closes it; draw the pin out straight.",
    "solid bronze": "Ream the plate, press the bronze bushing in square, and only then ream its bore: pressing has "
    "closed it.",
}
SLIPPING = {
    "sintered": "The sintered bushing slips into the plate, and its bore stays as it came.",
    "solid bronze": "The bronze bushing slips into the plate. Ream its bore once the compound has cured.",
}
BONDING = (
    "Retaining compound holds on clean, dry metal only: wash plate and bushing with solvent, oil in a sintered "
    "bushing's skin too, and let them dry. A ring of it in the hole, none in the bore; turn the bushing as you push it "
    "in. Leave it alone until it has set, and load it after the full cure, about a day at 20 °C, longer in the cold "
    "(common practice, no source: the maker's sheet says)."
)


def finishing_sentences(joints: Iterable[JointMade]) -> list[str]:
    """How the holes are finished and the bushings fixed, in the order of the work, each thing said once."""
    holes = [hole for joint in joints for hole in joint.holes]
    bushings = [hole.bushing for hole in holes if hole.bushing is not None]
    said = [REAMING] if any(hole.reamed for hole in holes) else []
    for hole in holes:
        if hole.bushing is not None and hole.bushing.fixing == "bond":
            said.append(SLIPPING[hole.bushing.kind])
        elif hole.bushing is not None and hole.reamed:
            said.append(PRESSING[hole.bushing.kind])
    if any(bushing.kind == "sintered" for bushing in bushings):
        said.append(NEVER)
    if any(bushing.fixing == "bond" for bushing in bushings):
        said.append(BONDING)
    return list(dict.fromkeys(said))


# All of it -------------------------------------------------------------------------------------------------------


def summary_sentences(joints: Iterable[JointMade], units: Units) -> list[str]:
    """The pins and what they turn in, those that are alike in one line."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for joint in joints:
        pin = f"{joint.pin.kind} {exact_length(joint.pin.diameter, units)}"
        turns = dict.fromkeys(f"bushing {_bushing(bushing, units)}" for _, bushing in joint.bushings)
        alike.setdefault((pin, *(turns or ["no bushing"])), []).append(joint.pivot)
    return [f"{_listed(pivots)}: {', '.join(words)}." for words, pivots in alike.items()]


def origin_sentences(joints: Iterable[JointMade]) -> list[str]:
    """Which standards the sizes come from, and what was typed from memory."""
    rows = [
        row
        for joint in joints
        for row in (joint.pin.size, joint.pin.ring, *(bushing.size for _, bushing in joint.bushings), joint.washer.size)
    ]
    told = dict.fromkeys(f"{row.source} ({row.known})." for row in rows if row is not None)
    return [each[0].upper() + each[1:] for each in told]


SHORT = {"shoulder bolt": "bolt"}
"""What is said of a kind of pin where there is little room."""


def making_gist(joints: Mapping[str, JointMade], faults: int, units: Units) -> str:
    """A few words for a folded section."""
    if not joints:
        return "no pin yet"
    wrong = f"{faults} fault{'s' if faults != 1 else ''}, " if faults else ""  # first: what ends in "…" ends behind it
    sizes = {(joint.pin.kind, joint.pin.diameter) for joint in joints.values()}
    if len(sizes) > 1:
        return f"{wrong}{len(joints)} pins of {len(sizes)} kinds"
    ((kind, diameter),) = sizes
    return f"{wrong}{len(joints)} {SHORT.get(kind, kind)}s {exact_length(diameter, units)}"

"""What making says: faults and cautions of parts, as sentences in the builder's units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length, format_number, style_of
from app.quantities import MASS

if TYPE_CHECKING:
    from app.lengths import Units
    from app.making.planned import Plan
    from kinematics.cut_faults import CutFault

CUT_CAUTION = (
    "Drawn to nominal: the cutter allows for the width of the beam. Pin holes are cut under size, to be reamed; ask "
    "your shop what it holds, and measure the first part before the rest is cut."
)

FOOT = 304.8  # mm

SENTENCES = {
    "shape": "{plate}: {told}",
    "mount": "{link}: {told}",
    "edge crosses": "{plate}: its edge crosses itself. Bend its sides less, or draw its outline anew.",
    "spacing": "{plate}: {pins} are {have} apart, and {want} is the least between two pins. Move them apart.",
    "cutout": "{plate}: {have} is left between {hole} and the edge, and {want} is wanted.",
    "cutout gone": "{plate}: {hole} breaks through the edge. Make it smaller, or move it.",
    "cutouts": "{plate}: {have} is left between {hole} and another hole, and {want} is wanted.",
    "cutouts gone": "{plate}: {hole} runs into another hole. Make it smaller, or move it.",
}


def fault_sentence(fault: CutFault, units: Units) -> str:
    """Say one fault, or one caution."""
    gone = f"{fault.kind} gone"
    words = SENTENCES[gone if fault.have is None and gone in SENTENCES else fault.kind]
    have, want = (format_length(mm, units) for mm in (fault.have, fault.want))
    if have == want:  # the short form would hide the difference
        have, want = (format_length(mm, units, fine=True) for mm in (fault.have, fault.want))
    return words.format(
        plate=f"{fault.part.capitalize()} of {fault.link}" if fault.part else f"Plate of {fault.link}",
        hole="a hole for a bolt or tab" if fault.part else "a lightening hole",
        link=f"Mount at {fault.link}",
        pins=" and ".join(fault.pivots),
        have=have,
        want=want,
        told=fault.told,
    )


def falls_short_words(short: int) -> str:
    """Say that the layout itself falls short of wants."""
    checks = "1 of its checks" if short == 1 else f"{short} of its checks"
    return f"The layout falls short of {checks}: look at the report before metal is cut."


def way_words(mm: float, units: Units) -> str:
    """Say how far the cutter goes: in metres, or in feet."""
    inches = style_of(units).units == "in"
    return f"{format_number(round(mm / (FOOT if inches else 1000.0), 1), units)} {'ft' if inches else 'm'}"


def totals_words(plan: Plan, units: Units) -> list[str]:
    """Say what all parts come to: how many, their mass, the cutter's way."""
    count = sum(cut.count for cut in plan.cuts)
    if not count:
        return ["No link has a plate yet: there is nothing to cut, only templates to print."]
    mass = sum(cut.count * cut.part.mass for cut in plan.cuts)
    way = sum(cut.count * cut.part.cut_length for cut in plan.cuts)
    pierces = sum(cut.count * cut.part.pierces for cut in plan.cuts)
    parts = f"{count} parts of {len(plan.cuts)} kinds" if len(plan.cuts) > 1 else f"{count} parts of one kind"
    return [f"{parts}: {MASS.format(mass, units)}, {way_words(way, units)} of cut, {pierces} pierces."]


def price_words(plan: Plan) -> list[str]:
    """Say what all parts cost by the builder's own prices; nothing without them."""
    prices = plan.project.plating.prices
    if plan.price is None or prices is None:
        return []
    return [f"By your prices {f'{plan.price:.2f} {prices.currency}'.rstrip()}, without what is left over."]


def made_words(files: int, faults: int, to: str) -> str:
    """Say that so many files are written, and where."""
    sentence = f"{files} files are written, in {to}."
    if not faults:
        return sentence
    return f"{sentence} Mend {'the fault' if faults == 1 else f'the {faults} faults'} before anything is cut."

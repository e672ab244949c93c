"""What making says: faults and cautions of parts, as sentences in the builder's units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.cut_faults import CutFault

CUT_CAUTION = (
    "Drawn to nominal: the cutter allows for the width of the beam. Pin holes are cut under size, to be reamed; ask "
    "your shop what it holds, and measure the first part before the rest is cut."
)

SENTENCES = {
    "shape": "{plate}: {told}",
    "edge crosses": "{plate}: its edge crosses itself. Bend its sides less, or draw its outline anew.",
    "outside": "{plate}: the hole of {pins} breaks through the edge. Make the plate wider there, or the hole smaller.",
    "rim": "{plate}: {have} is left between the hole of {pins} and the edge, and {want} is wanted. Make it wider.",
    "web": "{plate}: {have} is left between the holes of {pins}, and {want} is wanted. Move the pins apart.",
    "web gone": "{plate}: the holes of {pins} run into each other. Move the pins apart, or take smaller bushings.",
    "spacing": "{plate}: {pins} are {have} apart, and {want} is the least between two pins. Move them apart.",
    "cutout": "{plate}: {have} is left between a lightening hole and the edge, and {want} is wanted.",
    "cutout gone": "{plate}: a lightening hole breaks through the edge. Make it smaller, or move it.",
    "cutouts": "{plate}: {have} is left between a lightening hole and another hole, and {want} is wanted.",
    "cutouts gone": "{plate}: a lightening hole runs into another hole. Make it smaller, or move it.",
    "small hole": "{plate}: the hole of {pins}, {have}, is smaller than the plate is thick ({want}); many cutters "
    "can't make it. Have it drilled.",
}


def fault_sentence(fault: CutFault, units: Units) -> str:
    """Say one fault, or one caution."""
    gone = fault.have is not None and fault.have <= 0.0 and fault.kind != "outside"
    gone = gone or (fault.have is None and fault.kind in ("cutout", "cutouts"))
    words = SENTENCES[f"{fault.kind} gone" if gone and f"{fault.kind} gone" in SENTENCES else fault.kind]
    have, want = (format_length(None if mm is None else max(mm, 0.0), units) for mm in (fault.have, fault.want))
    if have == want:  # the short form would hide the difference
        have, want = (format_length(mm, units, fine=True) for mm in (fault.have, fault.want))
    return words.format(
        plate=f"Plate of {fault.link}", pins=" and ".join(fault.pivots), have=have, want=want, told=fault.told
    )


def falls_short_words(short: int) -> str:
    """Say that the layout itself falls short of wants."""
    checks = "1 of its checks" if short == 1 else f"{short} of its checks"
    return f"The layout falls short of {checks}: look at the report before metal is cut."

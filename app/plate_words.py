"""What is said of link plates: how much sheet they take, what they weigh, and what is wrong with them."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from app.hardware_words import fault_sentences
from app.lengths import format_length
from app.making_faults import made
from app.quantities import MASS, Quantity
from app.words import FAILS
from kinematics.cutting import part_of
from kinematics.errors import HingewrightError
from kinematics.plate_edits import ALL, has_plate
from kinematics.plate_shapes import plate_remarks

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.cutting import Part
    from kinematics.project import Project

AREA = Quantity(
    "an area",
    "such as 12 cm² or 2 in²",
    {"mm²": Fraction(1), "cm²": Fraction(100), "in²": Fraction(64516, 100)},
    "cm²",
    "in²",
    1,
)
"""mm² and what they are told in; an inch is 25.4 mm exactly."""
PLATES_INTRO = (
    "Let each link be a plate cut from sheet: its round ends reach about its pins by the edge distance. Plates then "
    "take the place of the links' bands, on the board and wherever gaps are watched."
)
PLATES_CAUTION = (
    "Measure the sheet: it may be a little thicker or thinner than it is sold as (common practice, no source). On "
    "the board drag a side of the selected link by the grip at its middle, or the whole plate by the one between; "
    "Delete makes it straight again."
)


def plated_links(project: Project) -> list[str]:
    """Name the links that are built of plates."""
    return [link.id for link in project.links if has_plate(project, link.id)]


def plates_gist(project: Project, units: Units) -> str:
    """Say what the plates of one hinge come to: "4 links, 1.2 kg"; "" where nothing is said of plates."""
    parts = _parts(project, plated_links(project))
    if not parts:
        return ""
    count = f"{len(parts)} link{'s' if len(parts) != 1 else ''}"
    return f"{count}, {MASS.format(_mass(parts), units)}"


def plate_figures(project: Project, link: str, units: Units) -> list[str]:
    """Say what one link's plate comes to, or (`ALL`) all plates of one hinge."""
    names = plated_links(project) if link == ALL else [link]
    parts = _parts(project, names)
    if not parts:
        return []
    if link == ALL:
        count = sum(part.count for part in parts)
        cut = sum(part.count * part.cut_length for part in parts)
        area = sum(part.count * part.area for part in parts)
        plates = f"{count} plate{'s' if count != 1 else ''}"
        sheet = f"{MASS.format(_mass(parts), units)}, {AREA.format(area, units)} of sheet"
        return [f"One hinge: {plates}, {sheet}, {format_length(cut, units)} to cut."]
    (part,) = parts
    one = (
        f"One plate: {MASS.format(part.mass, units)}, {AREA.format(part.area, units)} of sheet, "
        f"{format_length(part.cut_length, units)} to cut."
    )
    return [one, f"Two of them: {MASS.format(_mass(parts), units)}."] if part.count > 1 else [one]


def plate_faults(project: Project, link: str, units: Units) -> list[str]:
    """Say what is wrong with one link's plate, or (`ALL`) with any: too little metal round its pins' holes too."""
    _, faults = made(project)
    narrow = [each for each in faults if each.kind == "too narrow" and each.grave and (not link or link in each.links)]
    return [*(f"{FAILS} {said}" for said in fault_sentences(narrow, units)), *plate_remarks(project, link)]


def _parts(project: Project, links: list[str]) -> list[Part]:
    """The plates that can be cut."""
    found = []
    joints, _ = made(project)
    for name in links:
        try:
            part = part_of(project, project.link(name), lambda link, pivot: joints[pivot].hole(link).cut_diameter)
        except HingewrightError:
            continue  # told among the faults
        if part is not None:
            found.append(part)
    return found


def _mass(parts: list[Part]) -> float:
    return sum(part.count * part.mass for part in parts)

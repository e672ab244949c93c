"""What is told beside the checks, of floor, roof, shut gaps and sections: facts that nobody has to want."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_angle, format_length
from app.words import gap_name

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import RoomFigures

__all__ = ["TIGHT_MM", "fact_sentences"]

TIGHT_MM = 3.0
"""A shut gap below this leaves hardly any room for rubber strips and paint (common practice, no source)."""


def fact_sentences(analysis: Analysis, units: Units) -> list[str]:
    """Facts on room, shut gaps and sections, a sentence each; none where nobody entered such a thing."""
    facts = [] if analysis.room is None else _room_facts(analysis.project, analysis.room, units)
    return [*facts, *_tight_gaps(analysis, units), *_worst_section(analysis, units)]


def _worst_section(analysis: Analysis, units: Units) -> list[str]:
    """The section across the body at which it is narrowest, before the others, where there are several."""
    station = {outline.id: outline.station for outline in analysis.project.outlines}
    least: dict[str, float] = {}
    for gap in analysis.gaps:
        at = next((name for name in map(station.get, gap.between) if name), "")
        if at and gap.smallest is not None:
            least[at] = min(least.get(at, gap.smallest), gap.smallest)
    if len(least) < 2:
        return []
    (worst, smallest), *others = sorted(least.items(), key=lambda item: item[1])
    rest = ", ".join(f"{name} {format_length(value, units)}" for name, value in others)
    have = "it touches" if smallest <= 0.0 else f"{format_length(smallest, units)} at least"
    return [f"Of the sections, {worst} is the narrowest: {have}; {rest}."]


def _room_facts(project: Project, figures: RoomFigures, units: Units) -> list[str]:
    """How high the front edge stands over the floor, and how high panel and links reach."""
    room = project.room
    found: list[str] = []
    if room is None:
        return found
    if figures.front is not None and room.floor is not None:
        mark = room.front_edge.mark if room.front_edge is not None else None
        height, deg = format_length(figures.front.y - room.floor, units), format_angle(figures.front.deg, units)
        found.append(f"{mark or 'The front edge'} stands {height} over the floor, open {deg}.")
    if figures.highest is not None and room.floor is not None:
        height, deg = format_length(figures.highest.y - room.floor, units), format_angle(figures.highest.deg, units)
        found.append(f"The highest place is {height} over the floor: {figures.highest.link} at {deg}.")
    return found


def _tight_gaps(analysis: Analysis, units: Units) -> list[str]:
    """Pairs of which a shut gap is wanted, that nearly touch while shut."""
    pairs = zip(analysis.project.gaps, analysis.gaps, strict=False)
    return [
        f"{gap_name(gap.between)} are {format_length(gap.shut, units)} apart while shut: below "
        f"{format_length(TIGHT_MM, units)} there is hardly room for a rubber strip and paint."
        for want, gap in pairs
        if want.shut is not None and gap.shut is not None and 0.0 < gap.shut < TIGHT_MM
    ]

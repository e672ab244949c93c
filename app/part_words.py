"""What a part is, in a few words: for lists, tool tips and screen readers. One place for all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length
from app.quantities import MASS
from kinematics import loading

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.project import Link, Mark, Outline, Pivot, Project, Zone

__all__ = ["SECTIONS", "link_words", "mark_words", "outline_words", "part_words", "pivot_words", "zone_words"]

SECTIONS = {
    "pivot": "Pins",
    "link": "Links",
    "outline": "Outlines",
    "mark": "Marks",
    "zone": "Zones",
    "mass": "Masses",
    "handle": "Handle",
    "device": "Struts and springs",
}
"""Kinds of parts in the order in which the list shows them, with the heading over each."""


def link_words(link: Link, project: Project, units: Units) -> str:
    """Say what a link is: "the panel, 28.0 mm wide, pins P1 P2"."""
    kind = {"fixed": "fixed", "panel": "the panel", "link": ""}[link.kind]
    width = f"{format_length(link.width, units)} wide" if link.width else ""
    pins = " ".join(pivot.id for pivot in project.pivots_on(link.id))
    return ", ".join(part for part in (kind, width, f"pins {pins}" if pins else "hangs free") if part)


def pivot_words(pivot: Pivot) -> str:
    """Say what a pivot joins: "arm + hatch, locked"."""
    return " + ".join(pivot.joins) + (", locked" if pivot.locked else "")


def outline_words(outline: Outline) -> str:
    """Say what an outline is: "on hatch, closed, 12 points"."""
    words = [f"on {outline.on}", "closed" if outline.closed else "open", f"{len(outline.points)} points"]
    return ", ".join([*words, *(["locked"] if outline.locked else [])])


def mark_words(mark: Mark) -> str:
    """Say what a mark rides on."""
    return f"on {mark.on}" + (", locked" if mark.locked else "")


def zone_words(zone: Zone) -> str:
    """Say which pins a zone is for: "4 corners, for the pins of body"."""
    return f"{len(zone.points)} corners, for the pins of {zone.on}"


def load_part_words(project: Project, kind: str, id_: str, units: Units) -> str:
    """Say what a mass, the handle or a device is: "18 kg on hatch", "2 gas struts, bulkhead to hatch"."""
    if kind == "mass":
        mass = loading.mass_named(project, id_)
        return f"{MASS.format(mass.mass, units)} on {mass.on}"
    if kind == "handle":
        return f"on {loading.handle_of(project).on}"
    device = loading.device_named(project, id_)
    count = f"{device.count} {device.kind}s" if device.count > 1 else device.kind
    return f"{count}, {device.from_end.on} to {device.to_end.on}"


def part_words(project: Project, kind: str, id_: str, units: Units) -> str:
    """Say what any part is, and whether it is hidden."""
    if kind in ("mass", "handle", "device"):
        return load_part_words(project, kind, id_, units)
    if kind == "zone":
        return zone_words(project.zone(id_))
    if kind == "link":
        words = link_words(project.link(id_), project, units)
    elif kind == "pivot":
        words = pivot_words(project.pivot(id_))
    elif kind == "outline":
        words = outline_words(project.outline(id_))
    else:
        words = mark_words(project.mark(id_))
    hidden = bool(getattr(project, kind)(id_).hidden)
    return f"{words}, hidden" if hidden else words

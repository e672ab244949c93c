"""What a proposal becomes: the layout on the board, or a trial. And what a search was asked. No Qt here."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.trials.kept import keep_trial
from kinematics import strength_parts
from kinematics.built import among

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.proposals.results import Proposal


def question(project: Project) -> Project:
    """What a search is asked by a project: all of it but words, photos, trials, measures, and what the search places.

    Two projects with the same question get the same proposals.
    """
    between = {link.id for link in project.links if link.kind == "link"}
    locked = tuple(pivot for pivot in project.pivots if pivot.locked)
    held = {name for pivot in locked for name in pivot.joins}
    rides = {outline.on for outline in project.outlines} | {mark.on for mark in project.marks}
    rides |= {name for gap in project.gaps for name in gap.between}
    if project.loads is not None:
        rides |= {mass.on for mass in project.loads.masses}
        rides |= {end.on for device in project.loads.devices for end in (device.from_end, device.to_end)}
        rides |= set() if project.loads.handle is None else {project.loads.handle.on}
    links = tuple(link for link in project.links if link.id not in between or link.id in held | rides)
    bodies, pins = {link.id for link in links}, {pivot.id for pivot in locked}
    return replace(
        project,
        title="",
        notes="",
        display_units="mm",
        links=links,
        pivots=locked,
        measures=(),
        pictures=(),
        trials=(),
        zones=tuple(zone for zone in project.zones if zone.on in bodies),
        strength=strength_parts.among(project.strength, pins, bodies),
        **among(project.plates, project.stack, bodies, pins),
    )


def taken(project: Project, proposal: Proposal) -> Project:
    """The project with a proposal as its layout; words, units, photos and trials stay."""
    return replace(
        proposal.project,
        title=project.title,
        notes=project.notes,
        display_units=project.display_units,
        pictures=tuple(picture for picture in project.pictures if _has_its_link(picture, proposal.project)),
        trials=project.trials,
    )


def _has_its_link(picture: object, project: Project) -> bool:
    """Whether the link that a photo lies on is there; what is no sound picture lies on none."""
    return getattr(picture, "on", project.fixed.id) in project.link_index


def kept(project: Project, proposal: Proposal, name: str, note: str = "") -> Project:
    """The project with a proposal as one more trial; the layout on the board stays. ProjectError for a bad name."""
    layout = replace(taken(project, proposal), pictures=())
    return replace(project, trials=keep_trial(layout, name, note).trials)

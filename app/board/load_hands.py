"""Loads in the hand: where masses, the handle and the ends of devices lie, and how they move. No Qt here.

A mass, the handle and an end of a device are *spots* (`kinematics.loading`): each can be taken and moved on its link. A
device as a whole can be selected by its body. The ends of the selected device lie over pins, as the points of the
selected outline do: a spring's end that stands on a pin can be drawn off it so.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from app.board.hits import Hit, edge_hit
from app.board.snapping import Target
from app.device_words import load_name
from app.shapes import SHUT
from kinematics import loading
from kinematics.spanning import coil_of, tube_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from app.document import Document, Selection
    from app.shapes import Placement
    from kinematics.loading import Spot
    from kinematics.parts import Device
    from kinematics.project import Point, Project

KINDS = ("mass", "handle", "device")
"""Kinds of loads that can be selected."""


def is_spot(selection: Selection) -> bool:
    """Tell whether a selection is a place of the loads that can be moved."""
    return selection.kind in ("mass", "handle") or (selection.kind == "device" and selection.part is not None)


def spot_of(project: Project, selection: Selection) -> Spot:
    """Give the place that is selected; of a whole device its first end."""
    return loading.spot_of(project, selection.kind, selection.id, selection.part)


def moved(project: Project, selection: Selection, to: Point) -> Project:
    """Put what is selected at another place on its link, shut."""
    return loading.move_spot(project, selection.kind, selection.id, to, selection.part)


def name_of(selection: Selection) -> str:
    """Name what is selected: "mass on hatch", "second end of strut"."""
    return load_name(selection.kind, selection.id, selection.part)


def turn_round(document: Document, device_id: str) -> None:
    """Let the ends of a device change places: one step."""
    document.attempt(f"Turn {device_id} round", lambda project: loading.turn_round(project, device_id))


# ---------------------------------------------------------------------------------------------------------------- hits
def end_hit(
    project: Project, placements: Mapping[str, Placement], at: Point, reach: float, device_id: str
) -> Hit | None:
    """Give the end of one device that lies within `reach` (mm) of a place; None without one."""
    return _nearest(project, placements, at, reach, device_id)


def spot_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    """Give the mass, the handle or the end of a device that lies within `reach` (mm) of a place; None without one."""
    return _nearest(project, placements, at, reach)


def _nearest(
    project: Project, placements: Mapping[str, Placement], at: Point, reach: float, device_id: str | None = None
) -> Hit | None:
    best, least = None, reach
    for spot, place in spots_at(project, placements):
        away = hypot(place[0] - at[0], place[1] - at[1])
        if away <= least and device_id in (None, spot.id if spot.kind == "device" else None):
            best, least = spot, away
    if best is None:
        return None
    return Hit("end" if best.kind == "device" else best.kind, best.id, best.number)


def spots_at(project: Project, placements: Mapping[str, Placement]) -> Iterator[tuple[Spot, Point]]:
    """Give every place of the loads, and where on the board it stands."""
    for spot in loading.spots(project):
        yield spot, placements.get(spot.on, SHUT).carry(spot.at)


def body_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    """Give the device on whose body a place lies, the topmost first; None without one."""
    for device in reversed(() if project.loads is None else project.loads.devices):
        ends = tuple(placements.get(end.on, SHUT).carry(end.at) for end in (device.from_end, device.to_end))
        line = ends[:1] if device.kind == "torsion spring" else ends
        if edge_hit(line, at, closed=False)[1] <= max(reach / 2, 0.5 * thickness(device)):
            return Hit("device", device.id)
    return None


def thickness(device: Device) -> float:
    """Give how thick a device is at its thickest, mm."""
    return tube_of(device) if device.kind == "gas strut" else coil_of(device)


def targets_at(project: Project, placements: Mapping[str, Placement]) -> list[Target]:
    """Give where all places of the loads stand, as places to go to."""
    return [Target(place, spot.kind, spot.id, spot.number) for spot, place in spots_at(project, placements)]

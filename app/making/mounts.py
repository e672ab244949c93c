"""What mounts and the stop add to the files: parts of bracket and base, the stop's block, and the hole for its pin.

The stop follows from the travel, so a project that makes it of parts is analysed for it, once.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.making_faults import made
from app.mount_words import fault_sentence
from kinematics import analyse
from kinematics.cut_faults import CutFault
from kinematics.mount_cuts import mount_parts
from kinematics.mounting import base_made, bracket_made
from kinematics.stop_made import stop_block, stop_faults, stop_lines, stop_made, with_stop

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kinematics.analysis import Analysis
    from kinematics.cutting import Line, Part
    from kinematics.mounting import MountFault
    from kinematics.project import Project
    from kinematics.stop_made import StopMade


@lru_cache(maxsize=2)
def _stop(project: Project) -> tuple[Analysis, StopMade] | None:
    """The stop of a project that makes it of parts; None where it has none that stops."""
    part, loads = project.mounted.stop_part, project.loads
    if part is None or loads is None or loads.stop is None:
        return None
    analysis = analyse(project, steps=2)
    found = stop_made(analysis, part)
    return None if found is None else (analysis, found)


def stopped(project: Project) -> Project:
    """The project with the hole for the stop's pin in its plate."""
    found = _stop(project)
    return project if found is None else with_stop(project, found[1])


def scribed(project: Project) -> dict[str, tuple[Line, ...]]:
    """What is scribed on plates and webs for the stop, by link: where its block stands, and the axis of its screw."""
    found = _stop(project)
    return {} if found is None else stop_lines(found[1])


def faults_of(project: Project, stop: StopMade) -> tuple[MountFault, ...]:
    """Where the stop's block can't stand."""
    return stop_faults(project, stop, {pivot: joint.widest for pivot, joint in made(project)[0].items()})


def mounts(project: Project) -> Iterator[Part | CutFault]:
    """The parts of bracket, base and stop, as far as a project has them, and what is wrong with them."""
    mounted, tables, found = project.mounted, hardware(), _stop(project)
    holes: tuple[tuple[str, complex, float], ...] = ()
    if found is not None and found[1].part.kind == "pin":
        holes = ((found[1].carries, found[1].at, found[1].part.diameter),)
    yield from mount_parts(project, tables, holes, scribed(project))
    if found is not None:
        yield stop_block(*found)
        yield from _told(project, found[1].faces, faults_of(project, found[1]))
    if mounted.bracket is not None:
        bracket = bracket_made(project, mounted.bracket, tables)
        yield from _told(project, project.panel.id, () if bracket is None else bracket.faults)
    if mounted.base is not None:
        base = base_made(project, mounted.base, tables)
        yield from _told(project, project.fixed.id, () if base is None else base.faults)


def _told(project: Project, link: str, faults: Iterable[MountFault]) -> Iterator[CutFault]:
    """Faults of a mount as faults of making."""
    for fault in faults:
        said = fault_sentence(fault, project.display_units, sign=False)
        yield CutFault("mount", link, told=said, is_caution=fault.is_caution)

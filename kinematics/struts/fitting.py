"""A placement as a part of the project, and held against the wants of lifting by the figures that `analyse` gives."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.balance import load_figures
from kinematics.errors import ProjectError
from kinematics.lifting import lift_checks
from kinematics.parts import Attachment, Device
from kinematics.results import Opening
from kinematics.struts.wanted import without_struts
from kinematics.sweep import sweep

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.struts.results import Placement
    from kinematics.struts.wanted import Problem

KINDS = ("push", "rests")
"""Checks of lifting that are of struts' doing; others of the shut panel are the hinge's own."""


def with_struts(project: Project, placement: Placement) -> Project:
    """The project with a placement in place of the gas struts that it has; springs stay.

    A strut that was there alone keeps its name, its friction and what else a file says of it.
    """
    loads = project.loads
    if loads is None:
        raise ProjectError("struts need weights to lift", "loads")
    olds = [each for each in loads.devices if each.kind == "gas strut"]
    others = tuple(each for each in loads.devices if each.kind != "gas strut")
    new = device_of(placement, _free("strut", {each.id for each in others}))
    if len(olds) == 1:
        new = replace(new, id=olds[0].id, friction=olds[0].friction, unknown=olds[0].unknown)
    return replace(project, loads=replace(loads, devices=(*others, new)))


def device_of(placement: Placement, id: str) -> Device:
    """A placement as a device."""
    return Device(
        id,
        "gas strut",
        placement.count,
        Attachment(placement.from_on, placement.from_at),
        Attachment(placement.to_on, placement.to_at),
        extended=placement.size.extended,
        stroke=placement.size.stroke,
        force=placement.force,
        ratio=placement.size.ratio,
        tube=placement.size.tube,
        rod=placement.size.rod,
    )


def _free(name: str, others: set[str]) -> str:
    """A name that no other device has."""
    names = (name, *(f"{name} {k}" for k in range(2, len(others) + 3)))
    return next(each for each in names if each not in others)


def held(problem: Problem, placement: Placement) -> Placement:
    """The placement with its checks, as the analysis has them, and its lane at the problem's openings."""
    project = with_struts(without_struts(problem.project), placement)
    moved = sweep(project, problem.sweep)
    y = moved.at_openings(np.minimum(np.radians(problem.openings), moved.reached))
    told = load_figures(project, moved, y)
    wants = None if project.loads is None else project.loads.wants
    if told is None or wants is None:
        return placement
    opening = Opening(moved.wanted_deg, moved.reached_deg, moved.largest_deg, moved.ends)
    checks = tuple(each for each in lift_checks(wants, told, opening) if each.kind in KINDS)
    short = tuple(check for check in checks if not check.ok)
    pins = told.pins[np.isfinite(told.pins)]
    return replace(
        placement,
        ok=not short and moved.stop is None,
        checks=checks,
        short=short,
        openings=tuple(problem.openings.tolist()),
        efforts=tuple(told.effort.tolist()),
        pin=float(pins.max()) if pins.size else None,
    )

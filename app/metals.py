"""Metals and bushings of the tables as parts of a project, and the other way round; what is offered to choose from."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.materials import bushings, find_bushing, find_material, largest_size, materials, names_for
from kinematics.hardware import nearest
from kinematics.joints import USUAL_WALL
from kinematics.joints_made import choice_of
from kinematics.strength_parts import Bushing, Metal, joint_of
from kinematics.strengthening import strengthen

if TYPE_CHECKING:
    from app.materials import Material
    from kinematics.project import Project

OWN = "own figures"
NONE = "none"
PIN, PLATE = "C45+C", "S235JR"
"""What is begun with."""


def metal_of(name: str, mm: float) -> Metal | None:
    """A metal of the table for a thickness or diameter; beyond its range, as its largest sizes are; None: not there."""
    row = find_material(name, mm) or largest_size(name)
    return None if row is None else _metal(row)


def _metal(row: Material) -> Metal | None:
    if row.yield_mpa is None or row.modulus_mpa is None:
        return None
    return Metal(row.name, row.yield_mpa, row.modulus_mpa, row.tensile_mpa, row.origin)


def resized(metal: Metal, mm: float) -> Metal:
    """The same metal at another size, where its figures are the table's; own figures stay as they are."""
    if not is_of_table(metal):
        return metal
    return metal_of(metal.name, mm) or metal


def is_of_table(metal: Metal) -> bool:
    """Whether a metal has the figures of one of the table's rows."""
    return any(row.name == metal.name and _metal(row) == replace(metal, unknown={}) for row in materials())


def own_metal(metal: Metal, *, yields: float | None = None, modulus: float | None = None) -> Metal:
    """The metal with own figures, which the table's source says nothing of."""
    return Metal(OWN, metal.yield_mpa if yields is None else yields, metal.modulus_mpa if modulus is None else modulus)


def metal_choices(use: str) -> list[tuple[str, str]]:
    """What may be chosen for "pin" or "plate": (name, words), which say what kind of metal a designation is."""
    kinds = {row.name: row.kind.partition(",")[0] for row in materials()}
    return [(name, f"{name}, {kinds[name]}") for name in names_for(use)]


def metal_words(metal: Metal, mm: float) -> str:
    """Where a metal's figures come from, and that it isn't made in this size."""
    if not is_of_table(metal):
        return metal.source or "Own figures."
    beyond = find_material(metal.name, mm) is None
    return f"{metal.source}.{' Its figures are for other sizes.' if beyond else ''}"


def bushing_choices(kind: str) -> list[tuple[str, str]]:
    """What bushings that are made in this way may be of: (name, words)."""
    return [(row.name, row.name) for row in bushings() if row.made == kind]


def bushing_of(name: str, length: float, outside: float) -> Bushing | None:
    """A bushing of the table's kind, of these sizes; None where there is no such kind."""
    row = find_bushing(name)
    if row is None:
        return None
    return Bushing(row.name, length, outside, row.pressure, row.speed, row.pv, row.origin, row.made or None)


def rated(project: Project, pivot: str = "") -> Project:
    """Let what bushings bear be of the kind that is built: of all pins, and then of each that differs, or of one.

    What is of that kind stays; else it is the first of its kind in the table. Nothing where no strength is reckoned.
    """
    for each in (pivot,) if pivot else ("", *(pin.id for pin in project.pivots)):
        project = _rated(project, each)
    return project


def _rated(project: Project, pivot: str) -> Project:
    choice = choice_of(project, pivot or None)
    if project.strength is None or choice.bushing == NONE:
        return project
    joint = joint_of(project.strength, pivot)
    if joint.bushing is not None and joint.bushing.kind in (None, choice.bushing):
        return project
    name = next((name for name, _ in bushing_choices(choice.bushing or "")), "")
    return grade_bushings(project, pivot, name)


def grade_bushings(project: Project, pivot: str, name: str) -> Project:
    """Let the bushings of all pins (""), or of one, be of what the table calls so."""
    if project.strength is None:
        return project
    joint, choice = joint_of(project.strength, pivot), choice_of(project, pivot or None)
    diameter = choice.diameter or joint.diameter
    said = project.stacking.of(pivot or "all pins").wall
    size = nearest(hardware().bushings_for(choice.bushing or "", diameter), said)
    outside = diameter + 2.0 * (said or USUAL_WALL * diameter) if size is None else size.outside
    new = bushing_of(name, joint.pressed, outside)
    own = {"plain": False} if pivot else {}
    return project if new is None else fitted(strengthen(project, pivot or None, bushing=new, **own))


def fitted(project: Project) -> Project:
    """Let bushings, as strength reckons with them, come in the lengths that the tables have for what is built."""
    strength = project.strength
    if strength is None:
        return project
    for pivot in ("", *(joint.pivot for joint in strength.joints if joint.bushing is not None)):
        bushing, choice = joint_of(strength, pivot).bushing, choice_of(project, pivot or None)
        if bushing is None or bushing.kind not in (None, choice.bushing):
            continue
        size = nearest(hardware().bushings_for(choice.bushing or "", choice.diameter or 0.0), choice.wall)
        stock = () if size is None else size.lengths
        if stock != bushing.stock:
            project = strengthen(project, pivot or None, bushing=replace(bushing, stock=stock))
    return project

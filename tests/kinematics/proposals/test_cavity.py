"""The cavity: clear of every outline, in one piece, below the panel, the same however the drawing is laid."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from scipy import ndimage

from kinematics.proposals.cavity import AHEAD, BEHIND, BELOW, SMALLEST, cavity
from kinematics.rear_edge import rear_edge
from tests.kinematics.proposals.making import DEMOS, cramped, demo, mirrored, turned

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.project import Outline, Project
    from kinematics.proposals.fields import Field
    from kinematics.rear_edge import RearEdge

OFF = 14.0
"""mm that pins keep off, half of a usual width."""
LAID: dict[str, Callable[[Project], Project]] = {
    "drawn": lambda p: p,
    "mirrored": mirrored,
    "turned": lambda p: turned(p, 37.0),
    "turned and mirrored": lambda p: turned(mirrored(p), 37.0),
    "turned back": lambda p: turned(p, -37.0),
}


def usual_size(frame: RearEdge) -> float:
    return min(max(0.25 * frame.length, 60.0), 400.0)


@cache
def of_demo(name: str, laid: str) -> tuple[Project, Field, RearEdge, float]:
    project = LAID[laid](demo(name))
    return project, *found(project)


def found(project: Project, off: float = OFF) -> tuple[Field, RearEdge, float]:
    frame = rear_edge(project)
    field = cavity(project, frame, usual_size(frame), off)
    assert field is not None
    return field, frame, usual_size(frame)


def shape(outline: Outline) -> shapely.Geometry:
    return shapely.Polygon(outline.points) if outline.closed else shapely.LineString(outline.points)


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("laid", LAID)
def test_it_is_clear_of_all_outlines_and_below_the_panel(name: str, laid: str) -> None:
    project, field, frame, size = of_demo(name, laid)
    pins = field.lot(3000, np.random.default_rng(1))
    dots = shapely.points(pins.real, pins.imag)
    for outline in project.outlines:
        # The turned grid's corners are clear by OFF; the sheet's take over what the nearest of them says.
        off = shapely.distance(shape(outline), dots).min() - outline.half_width
        assert off > OFF - 0.75 * field.step
    seen = frame.seen(pins) / size
    step = field.step / size
    assert -BEHIND - step < seen.real.min() < seen.real.max() < AHEAD + step
    assert -BELOW - step < seen.imag.min()
    under = np.array([frame.underside(float(u)) for u in np.unique(np.round(seen.real * size, -1))])
    assert seen.imag.max() * size < under.max()


@pytest.mark.parametrize("name", DEMOS)
def test_it_is_in_one_piece_and_as_large_however_it_is_laid(name: str) -> None:
    areas = []
    for laid in LAID:
        _, field, _, _ = of_demo(name, laid)
        inside = field.values.reshape(field.rows, field.columns) <= 0.0
        labels, _ = ndimage.label(inside)
        assert np.bincount(labels[labels > 0]).max() > 0.998 * inside.sum()  # a ragged edge may leave a corner alone
        areas.append(inside.sum() * field.step**2)
    assert max(areas) < 1.01 * min(areas)  # a cell in a hundred, at the ragged edge


@pytest.mark.parametrize("laid", LAID)
def test_nothing_beyond_what_was_looked_at_belongs_to_it(laid: str) -> None:
    """A pin far below or far ahead has never been looked at, though the space there may be free."""
    _, field, frame, size = of_demo("launch hatch", laid)
    for w in (0.5 - 2.5j, 3.0 - 0.5j, -2.0 - 0.5j, 0.5 + 3.0j, 1.3 - 1.9j, 1.9 - 1.3j):
        at = complex(*frame.drawn(size * w))
        assert field.at(np.array([at]))[0][0] > 0.0


def test_its_values_are_ways_to_its_edge() -> None:
    _, field, _, _ = of_demo("launch hatch", "drawn")
    inside = field.values.reshape(field.rows, field.columns) <= 0.0
    rows, columns = np.nonzero(inside)
    out_rows, out_columns = np.nonzero(~inside)
    some = np.random.default_rng(3).integers(len(rows), size=150)
    away = np.abs((columns[some, None] - out_columns) + 1j * (rows[some, None] - out_rows)).min(axis=1) * field.step
    told = -field.values[rows[some] * field.columns + columns[some]]
    assert np.abs(told - away).max() < 1.5 * field.step


def test_what_is_behind_the_wall_is_no_part_of_it() -> None:
    project, field, _, _ = of_demo("launch hatch", "drawn")
    wall = shape(project.outline("screen and sill"))
    pins = field.lot(400, np.random.default_rng(6))
    start = complex(*min(zip(pins.real, pins.imag, strict=True), key=lambda z: abs(complex(*z) - pins.mean())))
    reached = [not shapely.LineString([(start.real, start.imag), (p.real, p.imag)]).crosses(wall) for p in pins]
    assert np.mean(reached) > 0.9
    behind = [pin for pin in pins if pin.real < shapely.get_coordinates(wall)[:, 0].min()]
    assert not behind


def test_there_is_none_where_a_body_leaves_no_room() -> None:
    for project in (cramped(), mirrored(cramped()), turned(cramped(), 37.0)):
        frame = rear_edge(project)
        assert cavity(project, frame, usual_size(frame), OFF) is None


def test_there_is_none_without_a_panel() -> None:
    project = replace(demo(), outlines=tuple(each for each in demo().outlines if each.on == demo().fixed.id), gaps=())
    frame = rear_edge(project)
    assert cavity(project, frame, usual_size(frame), OFF) is None


def test_wider_links_leave_less_of_it_and_at_last_none() -> None:
    project = demo("potting bench")
    frame = rear_edge(project)
    size = usual_size(frame)
    areas = []
    for off in (0.0, 14.0, 40.0):
        field = cavity(project, frame, size, off)
        assert field is not None
        areas.append((field.values <= 0.0).sum() * field.step**2)
    assert areas == sorted(areas, reverse=True)
    assert areas[-1] > SMALLEST * size**2
    assert cavity(project, frame, size, 400.0) is None

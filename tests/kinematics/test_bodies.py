"""Bodies and their trees of runs: every vertex within its run's circle, bands as hulls, what still holds is kept."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from kinematics.bodies import FAN, Body, bodies
from kinematics.closure import build
from kinematics.project import GapWant, Outline, Project
from tests import specimens
from tests.kinematics.making import lid, on_body, on_lid


def bodies_of(project: Project, near: dict[str, Body] | None = None) -> dict[str, Body]:
    columns = {name: k for k, name in enumerate(build(project).links)}
    return bodies(project, columns, near or {})


def body_of(outline: Outline) -> Body:
    return bodies_of(lid(outline, on_lid((0.0, 0.0), (1.0, 0.0))))[outline.id]


def wandering(count: int, seed: int = 0) -> tuple[tuple[float, float], ...]:
    steps = np.random.default_rng(seed).normal(size=(count, 2)) * 10.0
    return tuple((float(x), float(y)) for x, y in np.cumsum(steps, axis=0))


@pytest.mark.parametrize("closed", [False, True])
@pytest.mark.parametrize("count", [3, 4, 5, 16, 17, 63, 64, 65, 257])
def test_every_vertex_lies_within_its_runs_circles(count: int, closed: bool) -> None:
    body = body_of(on_body(*wandering(count, count), closed=closed))
    runs, leaves = body.runs, len(body.tails)
    members: dict[int, list[int]] = {k: [k] for k in range(leaves)}
    for k in range(leaves, len(runs.radii)):
        children = [int(child) for child in runs.children[k] if child >= 0]
        assert 1 <= len(children) <= FAN
        members[k] = [leaf for child in children for leaf in members[child]]
        assert runs.starts[k] == body.tails[members[k][0]]
    for k, own in members.items():
        for ends in (body.tails[own], body.heads[own]):
            off = ends - runs.centres[k]
            assert np.all(np.abs(off) <= runs.radii[k] + 1e-9)
            off *= runs.ways[k].conjugate()  # and within its slab
            assert np.all(np.abs(off.real) <= runs.halves[k] + 1e-9)
            assert np.all(np.abs(off.imag) <= runs.depths[k] + 1e-9)
    assert np.abs(runs.ways) == pytest.approx(1.0)
    assert members[len(runs.radii) - 1] == list(range(leaves))  # the root is last, and over all of them
    assert np.all(runs.children[:leaves] == -1)


def test_the_slab_of_a_straight_run_is_thin() -> None:
    body = body_of(on_body(*((0.8 * k, 0.6 * k) for k in range(40))))
    assert body.runs.depths == pytest.approx(0.0, abs=1e-12)
    assert body.runs.halves[-1] == pytest.approx(19.5)


@pytest.mark.parametrize("closed", [False, True])
def test_every_vertex_is_the_tail_of_an_edge(closed: bool) -> None:
    points = wandering(9)
    body = body_of(on_body(*points, closed=closed))
    assert {complex(*point) for point in points} == set(body.tails.tolist())
    assert body.solid is closed


def test_geometries_are_those_of_the_outline() -> None:
    points = wandering(7)
    assert body_of(on_body(*points)).geometry().equals(shapely.LineString(points))
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    assert body_of(on_body(*square, closed=True)).geometry().area == pytest.approx(100.0)
    dot = body_of(on_body((3.0, 4.0), (3.0, 4.0)))
    assert dot.geometry().equals(shapely.Point(3.0, 4.0))
    assert dot.reach == 5.0


def test_vertices_in_one_place_are_one() -> None:
    body = body_of(on_body((0.0, 0.0), (0.0, 0.0), (5.0, 0.0), (5.0, 1e-12), (5.0, 3.0)))
    assert body.tails.tolist() == [0j, 5 + 0j, 5 + 3j]


def test_a_ring_that_encloses_nothing_is_a_line() -> None:
    body = body_of(on_body((0.0, 0.0), (9.0, 0.0), (9.0, 0.0), closed=True))
    assert not body.solid


def test_a_link_is_a_band_about_the_hull_of_its_pins() -> None:
    project = replace(specimens.demo_six_bar, gaps=(GapWant(("cross link", "short link"), 0.0),))
    there = bodies_of(project)
    cross, short = there["cross link"], there["short link"]
    pins = {pin.id: pin.at for pin in project.pivots}
    assert cross.solid
    assert cross.radius == 14.0
    assert set(cross.tails.tolist()) == {complex(*pins[name]) for name in ("X", "B", "Q")}
    assert not short.solid  # two pins make a line
    assert {complex(*pins[name]) for name in ("O2", "B")} == set(short.tails.tolist())
    assert set(there) == {"screen and sill", "hatch skin", "cross link", "short link"}  # no other link is asked for


def test_a_link_without_pins_is_no_body_yet() -> None:
    project = replace(specimens.half_drawn, gaps=(GapWant(("coaming", "loose"), 3.0), GapWant(("coaming", "arm"), 3.0)))
    there = bodies_of(project)
    assert "loose" not in there
    assert there["arm"].geometry().geom_type == "Point"  # one pin: a disc


def test_bodies_of_untouched_outlines_are_kept() -> None:
    project = specimens.demo_six_bar
    first = bodies_of(project)
    skin = next(line for line in project.outlines if line.id == "hatch skin")
    other = replace(project, outlines=(project.outlines[0], replace(skin, half_width=1.0)))
    second = bodies_of(other, first)
    assert second["screen and sill"] is first["screen and sill"]
    assert second["hatch skin"] is not first["hatch skin"]
    assert second["hatch skin"].radius == 1.0


def test_a_body_isnt_kept_when_its_link_has_another_column() -> None:
    project = specimens.demo_six_bar
    first = bodies_of(project)
    turned = replace(project, links=project.links[::-1])
    second = bodies_of(turned, first)
    assert second["hatch skin"] is not first["hatch skin"]
    assert second["hatch skin"].column == 0

"""The one picture, read as strokes: what is drawn, where, on which link."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from app.look import dark, light
from app.shapes import (
    SHUT,
    Hatch,
    Label,
    Layer,
    Placement,
    Stroke,
    Symbol,
    band,
    material_side,
    placed,
    shapes,
    thickened,
)
from kinematics import analyse, arranging, building, edits
from kinematics.building import Spot
from kinematics.project import Outline
from tests import specimens

if TYPE_CHECKING:
    from app.shapes import Shape
    from kinematics.project import Project

LOOK = light()


def by_key(project: Project) -> dict[str, Shape]:
    found = shapes(project, LOOK)
    keys = [shape.key for shape in found]
    assert len(set(keys)) == len(keys), "each key stands once"
    return dict(zip(keys, found, strict=True))


@pytest.fixture(scope="module")
def drawn() -> dict[str, Shape]:
    return by_key(specimens.demo_six_bar)


# ---------------------------------------------------------------------------------------------------------- placements
def test_a_placement_carries_a_point_and_brings_it_back() -> None:
    where = Placement(math.pi / 2, 10.0, 5.0)
    assert where.carry((3.0, 4.0)) == pytest.approx((6.0, 8.0), abs=1e-12)
    assert where.back((6.0, 8.0)) == pytest.approx((3.0, 4.0), abs=1e-12)
    assert SHUT.carry((3.0, 4.0)) == (3.0, 4.0)


def test_placed_puts_every_link_where_the_pose_has_it() -> None:
    """All links that a pin joins carry it to one place: the six-bar's pins at 30° hold together within the solver's
    1e-9 mm.
    """
    analysis = analyse(specimens.demo_six_bar)
    where = placed(analysis, analysis.pose(30.0))
    assert list(where) == [link.id for link in specimens.demo_six_bar.links]
    assert where["bulkhead"] == SHUT
    assert where["hatch"].turn_rad == pytest.approx(math.radians(30.0), abs=1e-9)
    for pivot in specimens.demo_six_bar.pivots:
        one, other = (where[link].carry(pivot.at) for link in pivot.joins)
        assert math.dist(one, other) <= 2e-9


# ------------------------------------------------------------------------------------------------------------ outlines
def test_the_panel_has_the_heavy_line_and_nothing_else_has(drawn: dict[str, Shape]) -> None:
    skin = drawn["outline:hatch skin"]
    assert isinstance(skin, Stroke)
    assert (skin.link, skin.points) == ("hatch", specimens.demo_six_bar.outline("hatch skin").points)
    weights = {shape.key: shape.pen.px for shape in drawn.values() if isinstance(shape, Stroke)}
    assert weights.pop("outline:hatch skin") == LOOK.heavy > max(weights.values())


def test_the_fixed_outline_is_hatched_on_the_side_away_from_the_panel(drawn: dict[str, Shape]) -> None:
    hatch = drawn["hatch:screen and sill"]
    assert isinstance(hatch, Hatch)
    assert hatch.link == "bulkhead"
    # it runs down, the panel is to its left (ahead, x > 0): the material is to its right
    assert hatch.side == -1
    assert not any(isinstance(shape, Hatch) and shape.link != "bulkhead" for shape in drawn.values())


@pytest.mark.parametrize(
    ("air", "side"), [(((50.0, 5.0), (60.0, -3.0)), 1), (((-50.0, 5.0), (-60.0, -3.0)), -1), ((), -1)]
)
def test_the_material_is_where_the_air_is_not(air: tuple[tuple[float, float], ...], side: int) -> None:
    """A line that runs up the y axis: right of it is x > 0."""
    assert material_side(((0.0, -100.0), (0.0, 100.0)), air) == side


def test_a_turned_line_keeps_its_material() -> None:
    points = ((0.0, 0.0), (10.0, 40.0), (60.0, 50.0))
    air = ((5.0, 60.0), (40.0, 90.0))
    assert material_side(points, air) == -1
    assert material_side(points[::-1], air) == 1


def test_a_closed_fixed_outline_is_hatched_inside() -> None:
    block = Outline("block", "bulkhead", ((0.0, 0.0), (50.0, 0.0), (50.0, 20.0)), closed=True)
    found = by_key(edits.add_outline(specimens.demo_six_bar, block))["hatch:block"]
    assert isinstance(found, Hatch)
    assert (found.side, found.closed) == (0, True)


def test_a_thick_line_shows_its_two_edges() -> None:
    rings = thickened(((0.0, 0.0), (100.0, 0.0)), False, 1.5)
    assert len(rings) == 1
    ys = [y for _, y in rings[0]]
    assert (min(ys), max(ys)) == pytest.approx((-1.5, 1.5), abs=1e-9)
    assert thickened(((0.0, 0.0), (100.0, 0.0)), False, 0.0) == ()
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    assert len(thickened(square, True, 1.5)) == 2  # outside and inside


# --------------------------------------------------------------------------------------------------------------- links
def test_a_link_of_a_width_is_a_band_around_its_pins(drawn: dict[str, Shape]) -> None:
    """Area of the hull of n pins with radius r around it: hull + perimeter·r + π·r² (Steiner's formula)."""
    shape = drawn["band:cross link"]
    assert isinstance(shape, Stroke)
    assert (shape.closed, shape.layer) == (True, Layer.LINKS)
    pins = shapely.MultiPoint([pivot.at for pivot in specimens.demo_six_bar.pivots_on("cross link")]).convex_hull
    exact = pins.area + pins.length * 14.0 + math.pi * 14.0**2
    # round ends are drawn with 12 chords a quarter: the polygon misses 0.3 % of the circle
    assert shapely.Polygon(shape.points).area == pytest.approx(exact, abs=0.003 * math.pi * 14.0**2)


def test_a_band_around_two_pins_has_round_ends() -> None:
    points = np.array(band(((0.0, 0.0), (100.0, 0.0)), 20.0))
    assert points[:, 0].min() == pytest.approx(-10.0, abs=1e-9)
    assert np.abs(points[:, 1]).max() == pytest.approx(10.0, abs=1e-9)


def test_a_link_without_width_is_a_bare_line() -> None:
    project = edits.set_width(specimens.demo_six_bar, "short link", 0.0)
    shape = by_key(project)["bar:short link"]
    assert isinstance(shape, Stroke)
    assert set(shape.points) == {project.pivot("O2").at, project.pivot("B").at}
    assert not shape.fill


def test_the_fixed_link_is_shown_by_its_pins(drawn: dict[str, Shape]) -> None:
    assert not [key for key in drawn if key.endswith(":bulkhead")]
    glyphs = {
        shape.key: shape.glyph for shape in drawn.values() if isinstance(shape, Symbol) and shape.key.startswith("pin:")
    }
    assert {key for key, glyph in glyphs.items() if glyph == "fixed pin"} == {"pin:O1", "pin:O2"}
    assert len(glyphs) == 7


def test_a_locked_pin_has_a_lock() -> None:
    assert "lock:X" not in by_key(specimens.demo_six_bar)
    locked = by_key(edits.lock_pivot(specimens.demo_six_bar, "X"))["lock:X"]
    assert isinstance(locked, Symbol)
    assert (locked.glyph, locked.at) == ("lock", (specimens.demo_six_bar.pivot("X").at,))


def test_marks_and_names_ride_on_their_links(drawn: dict[str, Shape]) -> None:
    assert drawn["mark:rear corner"].link == "hatch"
    assert drawn["name of pivot:P1"].link == "arm"
    names = {shape.text for shape in drawn.values() if isinstance(shape, Label)}
    assert names >= {"O1", "P2", "rear corner", "screen and sill", "hatch skin", "arm"}


# --------------------------------------------------------------------------------------------------------- all and same
@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_can_be_drawn(name: str) -> None:
    for shape in by_key(specimens.ALL[name]).values():
        at = (shape.at,) if isinstance(shape, Label) else shape.at if isinstance(shape, Symbol) else shape.points
        assert np.isfinite(np.array(at, dtype=float)).all()


def test_an_edit_changes_only_the_shapes_that_it_concerns(drawn: dict[str, Shape]) -> None:
    moved = by_key(edits.move_pivot(specimens.demo_six_bar, "Q", (259.0, 227.0)))
    changed = {key for key in moved if moved[key] != drawn[key]}
    assert {key for key in changed if not key.startswith("name of")} == {"pin:Q", "band:cross link", "band:lift link"}
    assert moved["outline:hatch skin"].points is drawn["outline:hatch skin"].points  # type: ignore[union-attr]


def test_the_look_gives_the_colours(drawn: dict[str, Shape]) -> None:
    night = {shape.key: shape for shape in shapes(specimens.demo_six_bar, dark())}
    skin = night["outline:hatch skin"]
    assert isinstance(skin, Stroke)
    assert skin.pen.colour == dark().panel
    assert replace(skin, pen=drawn["outline:hatch skin"].pen) == drawn["outline:hatch skin"]  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("kind", "id_", "gone"),
    [
        ("pivot", "X", {"pin:X", "name of pivot:X"}),
        ("link", "arm", {"band:arm", "name of link:arm"}),
        ("outline", "hatch skin", {"outline:hatch skin", "name of outline:hatch skin"}),
        ("mark", "rear corner", {"mark:rear corner", "name of mark:rear corner"}),
    ],
)
def test_what_is_hidden_is_not_drawn_and_all_else_is(kind: str, id_: str, gone: set[str]) -> None:
    drawn, left = by_key(specimens.demo_six_bar), by_key(arranging.hide_part(specimens.demo_six_bar, kind, id_))
    assert set(drawn) - set(left) == gone
    assert all(drawn[key] == left[key] for key in left)


def test_a_links_free_ends_are_drawn_dashed() -> None:
    loose = building.make_link(specimens.demo_six_bar, "new", Spot((0.0, 0.0), pivot="Q"), Spot((358.0, 127.0)), 28.0)
    found = by_key(loose)
    line = found["to come:new"]
    assert isinstance(line, Stroke)
    assert set(line.points) == {(258.0, 227.0), (358.0, 127.0)}
    assert line.pen.dash
    assert "band:new" in found
    both = building.make_link(specimens.demo_six_bar, "new", Spot((300.0, 90.0)), Spot((358.0, 127.0)))
    found = by_key(both)
    assert {"to come:new", "name of link:new"} <= set(found)
    assert "bar:new" not in found
    pinned = building.add_pin_to_link(loose, "hatch", Spot((358.0, 127.0), link="new"))
    assert "to come:new" not in by_key(pinned)


def test_a_box_s_name_has_room_where_the_box_is_as_long_across() -> None:
    """Its longest side may be shorter than its name: the name stands beside it."""
    points = ((0.0, 0.0), (60.0, 0.0), (60.0, 45.0), (0.0, 45.0))
    project = edits.add_outline(specimens.single_pivot, Outline(id="battery", on="body", points=points, closed=True))
    label = next(each for each in shapes(project, light()) if each.key == "name of outline:battery")
    assert isinstance(label, Label)
    assert label.span == pytest.approx(75.0)

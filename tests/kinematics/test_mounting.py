"""Mounts from pins: contours hold what they should, bolts keep pitch and edge, lengths by hand, faults told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from app.hardware import hardware
from kinematics import sheet_metal
from kinematics.edits import move_pivot
from kinematics.mount_cuts import mount_parts
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.mount_shapes import feet, web
from kinematics.mounting import base_made, bolt_spans, bracket_made, perimeter, web_places
from tests.app.sharing import demo
from tests.specimens import demo_six_bar, empty, single_pivot

TABLES = hardware()
BASE, BRACKET = Base(), Bracket(at=(90.0, 330.0), skin_deg=0.0)


@given(st.floats(2.0, 400.0), st.floats(2.0, 400.0), st.floats(60.0, 200.0))
def test_bolts_stand_at_the_corners_and_no_further_apart_than_asked(width: float, height: float, pitch: float) -> None:
    bolts = np.array(perimeter(width, height, pitch))
    corners = {complex(x, y) for x in (-width / 2, width / 2) for y in (-height / 2, height / 2)}
    assert all(np.abs(bolts - corner).min() < 1e-9 for corner in corners)
    assert len(perimeter(0.0, height, pitch)) == len({round(b.imag, 6) for b in bolts.tolist() if b.real < 0.0})
    assert len({(round(b.real, 6), round(b.imag, 6)) for b in bolts.tolist()}) == len(bolts)
    for side in (bolts[np.abs(bolts.real + width / 2) < 1e-9].imag, bolts[np.abs(bolts.imag + height / 2) < 1e-9].real):
        assert np.all(np.diff(np.sort(side)) <= pitch + 1e-6)


def test_the_base_stands_on_the_wall_and_carries_the_fixed_pins() -> None:
    made = base_made(demo_six_bar, BASE, TABLES)
    assert made is not None
    assert made.web is not None
    web = shapely.Polygon(made.web.polyline())
    assert web.is_valid
    for _, at, cut in made.pins:
        ring = shapely.Point(at.real, at.imag).buffer(made.eye - 0.02)
        assert web.contains(ring)
        assert cut < 8.0 + 0.1  # under size, to be reamed
    # its tabs reach through the base plate, and no further
    assert made.web.corners.imag.min() == pytest.approx(-BASE.plate, abs=1e-9)
    assert made.seat.at == pytest.approx(made.face.at + made.face.out * (BASE.plate + BASE.shims))
    assert all(bar < cut for (_, bar), (_, _, cut) in zip(made.bars, made.pins, strict=True))


def test_a_web_follows_its_pins() -> None:
    moved = move_pivot(demo_six_bar, "O1", (demo_six_bar.pivot("O1").at[0] + 20.0, demo_six_bar.pivot("O1").at[1]))
    before, after = (base_made(each, BASE, TABLES) for each in (demo_six_bar, moved))
    assert before is not None
    assert after is not None
    assert abs(after.pins[0][1] - before.pins[0][1]) > 1.0


def test_the_blank_of_a_bracket_is_as_long_as_the_bend_says() -> None:
    made = bracket_made(demo_six_bar, BRACKET, TABLES)
    assert made is not None
    assert made.blank is not None
    bend = made.bend
    assert bend.k == sheet_metal.k_factor(bend.radius, BRACKET.thickness)
    # from the seat, where the outer faces would meet, down to the edge: the flange less what the bend takes
    assert -made.blank.corners.imag.min() == pytest.approx(made.flange - bend.deduction)
    assert shapely.Polygon(made.blank.polyline()).is_valid
    leaning = bracket_made(demo_six_bar, replace(BRACKET, lean_deg=20.0), TABLES)
    assert leaning is not None
    assert leaning.bend.angle_deg == 70.0
    assert leaning.bend.deduction < bend.deduction


def test_a_flange_hangs_at_the_foot_though_an_eye_reaches_down_level_with_it() -> None:
    """Pins 30 and 120 above the bend's end, the nearer one beside the foot with an eye of 30: level with the foot."""
    shape = feet(web([50.0 + 30.0j, 20.0 + 120.0j], 30.0, (-20.0, 20.0), 0.0), (-20.0, 20.0), 0.0, -40.0)
    assert shape.area == pytest.approx(shapely.Polygon(shape.polyline(1e-4)).area, rel=1e-4)
    below = shape.corners[shape.corners.imag < -1e-9].real
    assert (below.min(), below.max()) == (pytest.approx(-18.0), pytest.approx(18.0))


@pytest.mark.parametrize("side", [-1.0, 1.0])
def test_an_eye_beside_the_foot_reaches_nearer_to_the_skin_than_the_bend(side: float) -> None:
    """A foot from −30 to 30 at 20; beside it an eye of 13 whose middle is at 14.5: 1.5 off the seat, and whole."""
    pins = [complex(side * 160.0, 55.0), complex(side * 80.0, 14.5)]
    shape = feet(web(pins, 13.0, (-30.0, 30.0), 20.0), (-30.0, 30.0), 20.0, -40.0)
    metal = shapely.Polygon(shape.polyline(1e-3))
    assert metal.is_valid
    assert metal.contains(shapely.box(-27.0, -37.0, 27.0, 20.0))  # the flange, but for its rounds
    for pin in pins:
        assert metal.exterior.distance(shapely.Point(pin.real, pin.imag)) == pytest.approx(13.0, abs=2e-3)
        assert metal.contains(shapely.Point(pin.real, pin.imag))
    notch = shapely.Point(side * 45.0, 10.0)  # between flange and eye nothing is left
    assert not metal.contains(notch)


def test_an_eye_over_the_foot_or_behind_the_seat_is_a_fault_still() -> None:
    bracket = demo().mounted.bracket
    assert bracket is not None
    made = bracket_made(demo(), bracket, TABLES)
    assert made is not None
    assert made.faults == ()
    assert made.blank is not None
    over, thick = replace(bracket, at=(130.0, 308.2)), replace(bracket, shims=5.0, doubler=8.0)
    for each in (over, thick):
        wrong = bracket_made(demo(), each, TABLES)
        assert wrong is not None
        assert [fault.pin for fault in wrong.faults if fault.kind == "behind"] == ["P2"]


def test_faults_name_the_pin_and_what_is_too_little() -> None:
    made = bracket_made(demo_six_bar, Bracket(at=(90.0, 300.0), skin_deg=0.0, clearance=500.0, flange=15.0), TABLES)
    assert made is not None
    kinds = {fault.kind: fault for fault in made.faults}
    assert {"near", "flange"} <= set(kinds)
    assert kinds["flange"].want == 20.0
    steep = bracket_made(demo_six_bar, Bracket(bolt="M7", inside_radius=1.0), TABLES)
    assert steep is not None
    assert {"thread", "radius", "behind"} <= {fault.kind for fault in steep.faults}
    assert steep.blank is None
    base = base_made(demo_six_bar, Base(width=30.0, backing=5.0, weld=1.0, tabs=20), TABLES)
    assert base is not None
    assert {"edge", "under web", "engaged", "weld thin", "weld counts", "tabs"} <= {each.kind for each in base.faults}
    endless = base_made(demo_six_bar, Base(pitch=1e-6), TABLES)
    assert endless is not None
    assert len(endless.bolts) <= 4 * 40
    assert "pitch" in {each.kind for each in endless.faults}
    thick = base_made(demo_six_bar, Base(weld=9.0), TABLES)
    assert thick is not None
    assert "weld thick" in {each.kind for each in thick.faults}


def test_parts_are_whole_and_keep_holes_within_them() -> None:
    project = replace(demo_six_bar, mount=Mount(BRACKET, Base(webs=2)))
    parts = {part.mark: part for part in mount_parts(project, TABLES)}
    assert list(parts) == ["bracket", "doubler", "base web", "base plate", "backing plate", "gusset"]
    for part in parts.values():
        outer = shapely.Polygon(part.outer.polyline())
        assert outer.is_valid
        assert part.outer.area > 0.0
        inner = [shapely.Polygon(each.polyline()) for each in part.inner]
        assert all(outer.contains(each) for each in inner)
        assert all(one.disjoint(other) for k, one in enumerate(inner) for other in inner[:k])
    assert parts["bracket"].hand == "left"
    assert parts["base web"].count == 2
    assert len(parts["base plate"].cutouts) == 6 + 2 * 2
    assert mount_parts(demo_six_bar, TABLES) == ()


def test_tabs_stand_over_their_slots() -> None:
    project = replace(demo_six_bar, mount=Mount(base=Base(webs=2)))
    made = base_made(project, Base(webs=2), TABLES)
    assert made is not None
    plate = next(part for part in mount_parts(project, TABLES) if part.mark == "base plate")
    slots = shapely.union_all([shapely.Polygon(each.polyline()) for each in plate.cutouts[-4:]])
    for x in web_places(made):
        for tab in made.tabs:
            half = made.part.web / 2, made.part.tab / 2
            assert slots.contains(shapely.box(x - half[0], tab - half[1], x + half[0], tab + half[1]))


def test_hole_distances_of_web_and_bracket_are_the_pins() -> None:
    project = replace(demo_six_bar, mount=Mount(BRACKET, BASE))
    for part in mount_parts(project, TABLES):
        for one in part.holes:
            for other in part.holes:
                drawn = abs(complex(*project.pivot(one.pivot).at) - complex(*project.pivot(other.pivot).at))
                assert abs(one.at - other.at) == pytest.approx(drawn, abs=1e-9)


def test_a_panel_or_body_without_pins_has_no_mount() -> None:
    assert bracket_made(empty, Bracket(), TABLES) is None
    assert base_made(empty, Base(), TABLES) is None
    assert bolt_spans(None, None) == (0.0, 0.0)
    for project in (single_pivot,):  # nothing is drawn: the faces are taken off the pins
        assert base_made(project, Base(), TABLES) is not None

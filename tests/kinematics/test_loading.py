"""Edits of the loads: each does just that, shares the rest, and says in a sentence what can't be."""

from __future__ import annotations

from dataclasses import replace
from math import dist
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics import loading
from kinematics.errors import ProjectError
from kinematics.loads import Loads, PinFriction
from kinematics.parts import DEVICES, Attachment, Handle, MadeOf, Mass
from tests.specimens import demo_six_bar, with_everything
from tests.strategies import loads, numbers, points

LISTS = ("links", "pivots", "outlines", "marks", "limits", "gaps", "zones", "measures", "pictures", "trials")
KINDS = st.sampled_from(DEVICES)


LINKS = [link.id for link in demo_six_bar.links]
RIDING = st.sampled_from(LINKS)
LOADED = st.builds(lambda made: replace(demo_six_bar, loads=made), st.none() | loads(LINKS))


@settings(max_examples=12)
@given(st.data())
def test_what_is_added_is_there_and_goes_again(data: st.DataObject) -> None:
    project = data.draw(LOADED)
    link, at = data.draw(RIDING), data.draw(points)
    end = Attachment(data.draw(RIDING), data.draw(points))
    kind = data.draw(KINDS)
    spans = dist(at, end.at)
    id_ = loading.free_device_id(project, "helper")
    device = loading.usual_device(id_, kind, Attachment(link, at), end, spans, spans)
    heavy = loading.add_mass(project, Mass(link, 2.0, at))
    helped = loading.add_device(heavy, device)
    assert loading.device_named(helped, id_) is device
    name = loading.mass_names(helped)[-1]
    assert loading.mass_named(helped, name) == Mass(link, 2.0, at)
    assert all(getattr(helped, each) is getattr(project, each) for each in LISTS)
    back = loading.remove_load(loading.remove_load(helped, "device", id_), "mass", name)
    assert back == project or (project.loads == Loads() and back.loads is None)


@settings(max_examples=12)
@given(st.data())
def test_every_spot_is_moved_alone_and_comes_back(data: st.DataObject) -> None:
    project = data.draw(LOADED)
    there = loading.spots(project)
    if not there:
        return
    spot = data.draw(st.sampled_from(there))
    at = data.draw(points)
    moved = loading.move_spot(project, spot.kind, spot.id, at, spot.number)
    expected = [replace(each, at=at) if each == spot else each for each in there]
    assert list(loading.spots(moved)) == expected
    back = loading.move_spot(moved, spot.kind, spot.id, spot.at, spot.number)
    if spot.kind == "mass" and at != spot.at:  # what is moved by hand follows no drawing any more
        project = loading.change_mass(project, spot.id, made_of=None)
    assert back == project
    assert loading.move_spot(project, spot.kind, spot.id, spot.at, spot.number) is project
    assert loading.spot_of(project, spot.kind, spot.id, spot.number) == spot
    on = data.draw(RIDING)
    ridden = loading.ride_spot(project, spot.kind, spot.id, on, spot.number)
    assert len(loading.spots(ridden)) == len(there)
    assert sum(one != other for one, other in zip(there, loading.spots(ridden), strict=True)) <= len(there)
    assert [each.at for each in loading.spots(ridden)] == [each.at for each in there]


@settings(max_examples=12)
@given(st.data())
def test_removing_takes_one_thing(data: st.DataObject) -> None:
    project = data.draw(LOADED)
    there = loading.spots(project)
    if not there:
        return
    spot = data.draw(st.sampled_from(there))
    left = loading.remove_load(project, spot.kind, spot.id)
    assert len(loading.spots(left)) == len(there) - (2 if spot.kind == "device" else 1)
    assert all(getattr(left, each) is getattr(project, each) for each in LISTS if each != "gaps")


@settings(max_examples=20)
@given(KINDS, KINDS, points, points, numbers(0.1, 1.0), st.integers(1, 9))
def test_a_device_for_a_place_fits_it(kind: str, other: str, start: Any, end: Any, share: float, count: int) -> None:  # noqa: ANN401
    spans = dist(start, end)
    ends = Attachment(LINKS[0], start), Attachment(LINKS[1], end)
    device = loading.usual_device("helper", kind, *ends, share * spans, spans)
    if kind == "gas strut" and share * spans > 2 * loading.SPARE:
        assert device.extended is not None
        assert device.stroke is not None
        assert device.extended >= spans + loading.SPARE - 1e-6
        assert device.extended - device.stroke <= share * spans - loading.SPARE + 1e-6
    project = loading.change_device(loading.add_device(demo_six_bar, device), "helper", count=count)
    changed = loading.change_kind(project, "helper", other)
    assert loading.device_named(changed, "helper").kind == other
    assert loading.device_named(changed, "helper").count == count
    turned = loading.turn_round(project, "helper")
    assert loading.device_named(turned, "helper").from_end == ends[1]
    assert loading.turn_round(turned, "helper") == project


def test_masses_go_by_their_link_and_number() -> None:
    project = loading.add_mass(demo_six_bar, Mass("hatch", 3.0, (1.0, 2.0)))
    project = loading.add_mass(project, Mass("hatch", 4.0, (5.0, 6.0)))
    names = loading.mass_names(project)[-2:]
    assert loading.mass_named(loading.change_mass(project, names[1], mass=5.0), names[1]).mass == 5.0
    assert loading.mass_named(project, names[0]).mass == 3.0
    with pytest.raises(ProjectError, match="no mass"):
        loading.mass_named(project, "on the moon")
    with pytest.raises(ProjectError, match="mass"):
        loading.change_mass(project, names[0], mass=-1.0)


def test_the_handle_is_put_moved_and_taken_off() -> None:
    bare = replace(demo_six_bar, loads=None)
    with pytest.raises(ProjectError, match="no handle"):
        loading.move_handle(bare, (0.0, 0.0))
    put = loading.put_handle(bare, "hatch", (9.0, 8.0))
    assert put.loads is not None
    assert put.loads.handle == Handle("hatch", (9.0, 8.0))
    assert loading.handle_of(loading.move_handle(put, (1.0, 1.0))).at == (1.0, 1.0)
    assert loading.remove_load(put, "handle", loading.HANDLE) == bare
    known = loading.set_handle(bare, Handle("hatch", (0.0, 0.0), {"grip": "round"}))
    assert loading.handle_of(loading.put_handle(known, "hatch", (2.0, 2.0))).unknown == {"grip": "round"}


def test_what_is_said_of_all_loads_is_set_and_taken_back() -> None:
    bare = replace(demo_six_bar, loads=None)
    assert loading.set_temperature(bare, None) is bare
    assert loading.set_lift_wants(bare, None) is bare
    for changed in (
        loading.set_hinges(bare, 3),
        loading.set_temperature(bare, -10.0),
        loading.set_pin_friction(bare, PinFriction(4.0, 0.1)),
    ):
        assert changed.loads is not None
    assert loading.set_hinges(loading.set_hinges(bare, 3), 2) == bare
    with pytest.raises(ProjectError, match="hinges"):
        loading.set_hinges(bare, 0)


def test_a_stroke_of_nothing_is_refused_in_a_sentence() -> None:
    ends = Attachment("hatch", (0.0, 0.0)), Attachment(demo_six_bar.fixed.id, (300.0, 0.0))
    project = loading.add_device(demo_six_bar, loading.usual_device("s", "gas strut", *ends, 250.0, 300.0))
    for stroke in (0.0, -5.0):
        with pytest.raises(ProjectError, match="stroke"):
            loading.change_device(project, "s", stroke=stroke)
    with pytest.raises(ProjectError, match="no device"):
        loading.change_device(project, "another", count=1)
    with pytest.raises(ProjectError, match="twice"):
        loading.add_device(project, loading.device_named(project, "s"))


def test_an_edit_that_changes_nothing_gives_back_the_project() -> None:
    assert with_everything.loads is not None
    for spot in loading.spots(with_everything):
        assert loading.move_spot(with_everything, spot.kind, spot.id, spot.at, spot.number) is with_everything
    device = with_everything.loads.devices[0]
    assert loading.change_device(with_everything, device.id, count=device.count) is with_everything
    assert loading.change_kind(with_everything, device.id, device.kind) is with_everything
    assert loading.set_hinges(with_everything, with_everything.loads.hinges) is with_everything


def test_wants_and_friction_are_changed_one_by_one_and_go_when_nothing_is_wanted() -> None:
    bare = replace(demo_six_bar, loads=None)
    wanted = loading.want_lifting(bare, at_most=80.0)
    worst = loading.want_worst(wanted, wind=12.0)
    assert loading.lift_wants_of(worst).stays_open_in == replace(loading.WORST, wind=12.0)
    assert loading.lift_wants_of(worst).at_most == 80.0
    assert loading.want_lifting(loading.want_lifting(worst, stays_open_in=None), at_most=None) == bare
    rubbing = loading.rub_pins(loading.rub_pins(bare, pin_radius=5.0), coefficient=0.15)
    assert loading.pin_friction_of(rubbing) == PinFriction(5.0, 0.15)
    assert loading.rub_pins(rubbing, pin_radius=0.0, coefficient=0.0) == bare
    with pytest.raises(ProjectError, match="slope_deg"):
        loading.want_worst(bare, slope_deg=60.0)


def test_a_mass_follows_what_is_drawn_until_it_is_given_by_hand() -> None:
    skin = next(outline.id for outline in demo_six_bar.outlines if outline.on == demo_six_bar.panel.id)
    project = loading.add_mass(replace(demo_six_bar, loads=None), Mass(demo_six_bar.panel.id, 1.0, (0.0, 0.0)))
    (name,) = loading.mass_names(project)
    followed = loading.follow_drawing(project, name, MadeOf(2700.0, 1.2, skin, 1000.0))
    mass = loading.mass_named(followed, name)
    assert mass.mass > 1.0
    assert mass.made_of is not None
    assert loading.change_mass(followed, name, mass=mass.mass, at=mass.at) is followed
    assert loading.mass_named(loading.move_mass(followed, name, (1.0, 2.0)), name).made_of is None
    assert loading.mass_named(loading.follow_no_more(followed, name), name) == replace(mass, made_of=None)
    with pytest.raises(ProjectError, match="no outline"):
        loading.follow_drawing(project, name, MadeOf(2700.0, 1.2, "nowhere", 1000.0))

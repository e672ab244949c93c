"""What a mass may be made of: the ways that a link and its outlines offer, and what each begins with."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.entry.made_of_rows import begun, first_plates, way_of, ways
from app.materials import materials
from kinematics import edits, loading, weighing
from kinematics.errors import HingewrightError
from kinematics.plating import cut_of
from kinematics.project import Loads, Mass, Outline, Project
from tests.specimens import demo_six_bar

PANEL = demo_six_bar.panel.id
CORE = Outline("core", PANEL, ((200.0, 250.0), (800.0, 250.0), (800.0, 300.0)), closed=True)


def project() -> Project:
    loads = Loads(masses=(Mass(PANEL, 1.0, (0.0, 0.0)),), across=1200.0)
    return replace(edits.add_outline(demo_six_bar, CORE), loads=loads)


def test_every_way_that_is_offered_weighs_something_and_is_told_again() -> None:
    drawn = project()
    (name,) = loading.mass_names(drawn)
    offered = [way for way, _ in ways(drawn, PANEL)]
    assert offered[0] == "typed"
    assert {"sheet:core", "solid:core"} < set(offered)
    for way in offered[1:]:
        made = begun(drawn, way)
        assert way_of(made) == way
        assert made.across == 1200.0
        assert loading.mass_named(loading.follow_drawing(drawn, name, made), name).mass > 0.0
    assert way_of(None) == "typed"


def test_only_a_link_with_a_width_has_plates() -> None:
    link = next(link.id for link in demo_six_bar.links if link.kind == "link")
    wide = edits.set_width(project(), link, 30.0)
    assert ("plates", f"plates of {link}") in ways(wide, link)
    assert all(way != "plates" for way, _ in ways(edits.set_width(wide, link, 0.0), link))
    assert all(way != "plates" for way, _ in ways(wide, PANEL))
    assert way_of(first_plates(wide)) == "plates"


def test_links_weigh_what_the_plates_weigh_that_are_cut() -> None:
    """Two hinges; bands and plates are the same shape where nobody says otherwise, no holes taken off."""
    weighed = loading.add_plates(demo_six_bar, first_plates(demo_six_bar))
    assert weighed.loads is not None
    by_link = {mass.on: mass.mass for mass in weighed.loads.masses if mass.made_of is not None}
    for link in demo_six_bar.links:
        cut = cut_of(demo_six_bar, link)
        assert (cut is None) == (link.id not in by_link)
        if cut is not None:
            assert by_link[link.id] == pytest.approx(cut.mass() * cut.count * 2, rel=1e-3)


def test_what_it_begins_with_is_a_row_of_the_table() -> None:
    for way in ("sheet:core", "solid:core", "plates"):
        made = begun(project(), way)
        assert made.density in {row.density for row in materials() if row.name == made.material}


def test_an_unknown_way_is_refused() -> None:
    with pytest.raises(HingewrightError):
        begun(project(), "by guess")


def test_masses_settle_once_and_for_all() -> None:
    drawn = project()
    (name,) = loading.mass_names(drawn)
    followed = loading.follow_drawing(drawn, name, begun(drawn, "solid:core"))
    assert weighing.settled(followed) is followed
    moved = weighing.settled(edits.move_outline_point(followed, "core", 2, (800.0, 350.0)))
    assert loading.mass_named(moved, name).mass == pytest.approx(2 * loading.mass_named(followed, name).mass)
    assert weighing.settled(moved) is moved

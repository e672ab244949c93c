"""Candidates drawn as projects: what stays, what goes, whom a want is asked of, and names that never clash."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.files import load, save
from kinematics.project import (
    Attachment,
    Device,
    FrontEdge,
    GapWant,
    Handle,
    Limit,
    Link,
    Loads,
    Mark,
    Mass,
    Outline,
    Pivot,
    Project,
    Room,
    ShutWant,
    Travel,
    Zone,
)
from kinematics.proposals.chains import FIXED, FOUR_BAR, PANEL, SINGLE_PIVOT, SIX_BARS, WATT_FIRST
from kinematics.proposals.drafting import drafted
from kinematics.proposals.results import Settings
from tests.strategies import projects

if TYPE_CHECKING:
    from hypothesis.strategies import SearchStrategy

    from kinematics.arrays import Complexes
    from kinematics.proposals.chains import Chain

ALL = (SINGLE_PIVOT, FOUR_BAR, *SIX_BARS)
chains: SearchStrategy[Chain] = st.sampled_from(ALL)

WALL = Outline("wall", "body", ((-50.0, -100.0), (-50.0, 100.0)))
SKIN = Outline("skin", "lid", ((0.0, 0.0), (400.0, 0.0)))
PLATE = Outline("plate", "arm", ((0.0, -20.0), (20.0, -20.0)))


def places(chain: Chain, seed: int = 3) -> Complexes:
    """Places of a chain's pins, by lot."""
    random = np.random.default_rng(seed)
    return np.asarray(random.uniform(-300, 300, len(chain.pins)) + 1j * random.uniform(-300, 300, len(chain.pins)))


def hatch(**others: object) -> Project:
    """Body, lid and two arms, each arm pinned to both."""
    base = Project(
        links=(Link("body", "fixed"), Link("lid", "panel", 20.0), Link("arm", width=25.0), Link("brace")),
        pivots=(
            Pivot("A", (0.0, -50.0), ("body", "arm")),
            Pivot("B", (60.0, -50.0), ("brace", "body")),
            Pivot("C", (0.0, -5.0), ("arm", "lid")),
            Pivot("D", (60.0, -5.0), ("lid", "brace")),
        ),
        outlines=(WALL, SKIN, PLATE),
        travel=Travel("anticlockwise", 60.0),
    )
    return replace(base, **others)  # type: ignore[arg-type]


def test_what_rides_on_body_and_lid_stays() -> None:
    project = hatch(
        marks=(Mark("tip", "lid", (400.0, 0.0)), Mark("elbow", "arm", (0.0, 0.0)), Mark("foot", "body", (0.0, -90.0))),
        limits=(Limit("tip", dy_at_least=50.0, after_deg=30.0), Limit("elbow", dx_at_most=3.0)),
        zones=(Zone("body", ((0, 0), (9, 0), (9, 9))), Zone("arm", ((0, 0), (9, 0), (9, 9)))),
        gaps=(GapWant(("wall", "skin"), 5.0, shut=ShutWant(4.0)), GapWant(("plate", "wall"), 2.0)),
        loads=Loads(
            (Mass("lid", 9.0, (200.0, 5.0)), Mass("arm", 1.0, (0.0, -20.0)), Mass("body", 50.0, (0.0, -400.0))),
            Handle("lid", (390.0, 0.0)),
            2,
            (spring("long", "body", "lid"), spring("short", "arm", "lid")),
        ),
        room=Room(-700.0, 900.0, FrontEdge("tip", 100.0)),
        keep_clear=("wiper drive",),
        title="Hatch",
        notes="Mind the drain.",
    )
    made = drafted(project, Settings(width=21.0), WATT_FIRST, places(WATT_FIRST))
    assert made.outlines == (WALL, SKIN)
    assert [mark.id for mark in made.marks] == ["tip", "foot"]
    assert made.limits == project.limits[:1]
    assert made.zones == project.zones[:1]
    assert made.gaps == project.gaps[:1]  # a want of what rides on a removed link goes with it
    assert made.loads is not None
    assert [mass.on for mass in made.loads.masses] == ["lid", "body"]
    assert made.loads.handle == project.loads.handle  # type: ignore[union-attr]
    assert [device.id for device in made.loads.devices] == ["long"]
    for name in ("room", "keep_clear", "title", "notes", "travel", "pin_spacing", "display_units", "mount", "wall"):
        assert getattr(made, name) == getattr(project, name)
    assert (made.fixed, made.panel) == (project.fixed, project.panel)
    assert [link.width for link in made.links if link.kind == "link"] == [21.0] * 4


def spring(name: str, one: str, other: str) -> Device:
    return Device(
        name,
        "tension spring",
        1,
        Attachment(one, (0.0, 0.0)),
        Attachment(other, (100.0, 0.0)),
        free=50.0,
        initial=1.0,
        rate=2.0,
    )


def test_a_handle_or_front_edge_on_a_removed_link_goes() -> None:
    project = hatch(
        loads=Loads(handle=Handle("arm", (0.0, 0.0))),
        marks=(Mark("elbow", "arm", (0.0, 0.0)),),
        room=Room(-700.0, None, FrontEdge("elbow", 100.0)),
    )
    made = drafted(project, Settings(), FOUR_BAR, places(FOUR_BAR))
    assert made.loads is not None
    assert made.loads.handle is None
    assert made.room == Room(-700.0)


def test_every_want_of_what_stays_is_kept_though_two_speak_of_one_pair() -> None:
    wants = (
        GapWant(("wall", "skin"), 10.0, shut=ShutWant(4.0)),
        GapWant(("wall", "skin"), 5.0),
        GapWant(("skin", "wall"), 7.0, after_deg=20.0),
    )
    assert drafted(hatch(gaps=wants), Settings(), FOUR_BAR, places(FOUR_BAR)).gaps == wants


def test_a_want_on_a_removed_band_is_asked_of_every_new_link() -> None:
    wants = (
        GapWant(("arm", "wall"), 3.0, shut=ShutWant(1.0)),
        GapWant(("skin", "brace"), 4.0),
        GapWant(("wall", "brace"), 6.0),
        GapWant(("arm", "wall"), 9.0, after_deg=30.0),
        GapWant(("arm", "brace"), 2.0),
    )
    made = drafted(hatch(gaps=wants), Settings(), SIX_BARS[2], places(SIX_BARS[2]))
    new = [link.id for link in made.links if link.kind == "link"]
    assert len(new) == 4
    asked = {(want.between, want.after_deg): want for want in made.gaps}
    expected = {((link, "wall"), 0.0): 6.0 for link in new}  # the stricter of the two
    expected |= {((link, "wall"), 30.0): 9.0 for link in new}
    expected |= {((link, "skin"), 0.0): 4.0 for link in new}
    assert {key: want.at_least for key, want in asked.items()} == expected
    assert len(made.gaps) == len(expected)
    assert all(want.shut is None for want in made.gaps)


@pytest.mark.parametrize(("wanted", "expected"), [(None, 5.0), (3.0, 5.0), (8.0, 8.0)])
def test_bands_clear_is_asked_where_less_is_wanted(wanted: float | None, expected: float) -> None:
    wants = () if wanted is None else (GapWant(("arm", "wall"), wanted),)
    made = drafted(hatch(gaps=wants), Settings(bands_clear=5.0), FOUR_BAR, places(FOUR_BAR))
    assert {want.between: want.at_least for want in made.gaps} == {
        (link.id, "wall"): expected for link in made.links if link.kind == "link"
    }


def test_without_other_links_no_band_is_asked_of() -> None:
    made = drafted(hatch(gaps=(GapWant(("arm", "wall"), 3.0),)), Settings(), SINGLE_PIVOT, places(SINGLE_PIVOT))
    assert made.gaps == ()
    assert made.pivots[0].joins == ("body", "lid")


def test_pins_stand_where_they_were_put_to_a_hundredth() -> None:
    pins = places(WATT_FIRST)
    made = drafted(hatch(), Settings(), WATT_FIRST, pins)
    there = np.array([complex(*pivot.at) for pivot in made.pivots])
    assert np.abs(there.real - pins.real).max() <= 0.005 + 1e-9
    assert np.abs(there.imag - pins.imag).max() <= 0.005 + 1e-9
    names = ["body", "lid", *(link.id for link in made.links if link.kind == "link")]
    for pivot, pair in zip(made.pivots, WATT_FIRST.pins, strict=True):
        assert set(pivot.joins) == {names[link] for link in pair}


def locked(name: str, at: complex, *joins: str) -> Pivot:
    return Pivot(name, (at.real, at.imag), joins, locked=True)


def test_locked_pins_keep_name_and_place() -> None:
    project = hatch(
        pivots=(
            locked("foot", 0.123456 - 50.98765j, "arm", "body"),
            locked("A", 60 - 5j, "lid", "brace"),
            Pivot("B", (1.0, 1.0), ("body", "brace")),
        )
    )
    pins = places(FOUR_BAR)
    pins[1], pins[2] = 0.123456 - 50.98765j, 60 - 5j
    made = drafted(project, Settings(), FOUR_BAR, pins)
    assert (made.pivot("foot").at, made.pivot("foot").locked) == ((0.123456, -50.98765), True)
    assert set(made.pivot("foot").joins) == {"body", made.links[2].id}
    assert made.pivot("A").at == (60.0, -5.0)
    assert "lid" in made.pivot("A").joins
    assert [pivot.id for pivot in made.pivots] == ["B", "foot", "A", "C"]


def test_two_pins_may_be_locked_at_one_place() -> None:
    """One body pin behind another, as pins of two arms on one axis."""
    project = hatch(pivots=(locked("near", 5j, "body", "arm"), locked("far", 5j, "body", "brace")))
    pins = places(FOUR_BAR)
    pins[0] = pins[1] = 5j
    made = drafted(project, Settings(), FOUR_BAR, pins)
    assert [pivot.id for pivot in made.pivots[:2]] == ["near", "far"]


def test_a_pin_locked_between_body_and_lid_is_named_once() -> None:
    project = hatch(pivots=(locked("B", 5j, "body", "lid"), Pivot("C", (9.0, 9.0), ("arm", "lid"))))
    pins = places(FOUR_BAR)
    pins[0] = pins[3] = 5j
    made = drafted(project, Settings(), FOUR_BAR, pins)
    assert [pivot.id for pivot in made.pivots] == ["B", "A", "C", "D"]


NASTY = ("link 1", "link 2", "A", "B", "a" * 80, "½″", " ")


@given(st.data())
@settings(max_examples=12)
def test_names_never_clash(data: st.DataObject) -> None:
    fixed, panel, wall, skin, arm = data.draw(st.permutations(NASTY))[:5]
    chain = data.draw(chains)
    pin = data.draw(st.sampled_from(NASTY))
    project = Project(
        links=(Link(fixed, "fixed"), Link(arm), Link(panel, "panel")),
        pivots=(Pivot(pin, (1.5, 2.5), (fixed, arm), locked=True),),
        outlines=(replace(WALL, id=wall, on=fixed), replace(SKIN, id=skin, on=panel)),
        gaps=(GapWant((arm, wall), 3.0), GapWant((skin, wall), 2.0)),
        travel=Travel("clockwise", 60.0),
    )
    pins = places(chain)
    pins[0] = 1.5 + 2.5j
    made = drafted(project, Settings(), chain, pins)  # a clash raises
    assert made.outlines == project.outlines
    assert made.pivot(pin).at == (1.5, 2.5)
    assert made.gaps[0] == project.gaps[1]
    assert len({link.id for link in made.links}) == chain.links


@given(project=projects(4), chain=chains, clear=st.none() | st.floats(0.0, 20.0))
@settings(max_examples=12)
def test_any_project_is_drawn_sound_and_survives_its_file(
    tmp_path_factory: pytest.TempPathFactory, project: Project, chain: Chain, clear: float | None
) -> None:
    pins = places(chain)
    held = [pivot for pivot in project.pivots if pivot.locked]
    for link, name in ((FIXED, project.fixed.id), (PANEL, project.panel.id)):
        mine = (pivot for pivot in held if name in pivot.joins)
        for pin, pivot in zip(chain.on(link), mine, strict=False):
            pins[pin] = complex(*pivot.at)
    made = drafted(project, Settings(bands_clear=clear), chain, pins)
    ends = {project.fixed.id, project.panel.id}
    assert {link.id for link in made.links} >= ends
    assert (len(made.links), len(made.pivots)) == (chain.links, len(chain.pins))
    assert made.outlines == tuple(outline for outline in project.outlines if outline.on in ends)
    assert made.zones == tuple(zone for zone in project.zones if zone.on in ends)
    stay = ends | {outline.id for outline in made.outlines}
    kept = tuple(want for want in project.gaps if set(want.between) <= stay)
    assert made.gaps[: len(kept)] == kept
    assert all(made.rides_on(name) for want in made.gaps for name in want.between)
    assert (made.trials, made.pictures, made.measures) == ((), (), ())
    path = tmp_path_factory.mktemp("drawn") / "one.hinge"
    save(made, path)
    assert load(path) == made

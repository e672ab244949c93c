"""The hinge as built: as drawn, by closed forms, to first order against exact rates, and what can't go together."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics import analyse
from kinematics.adjusting import adjusting
from kinematics.as_built import as_built, built_of
from kinematics.edits import move_pivot
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet, OnPin, Turned
from kinematics.made_shapes import MadeError, readings
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.project import Plates, Project
from kinematics.rear_edge import rear_point
from tests.specimens import ALL, demo_six_bar, four_bar_a1, parallelogram, single_pivot, with_everything
from tests.thorough import cases

MOUNT = Mount(Bracket(at=(90.0, 330.0), skin_deg=2.0), Base(at=(10.0, 220.0), wall_deg=88.0))
SPANS = (50.0, 90.0)


def as_drawn(project: Project) -> HandMade:
    """Everything read off, and nothing off."""
    read = readings(project, HandMade("left"))
    spans = tuple(MadeDistance(r.link, (r.pins[0], r.pins[1]), r.drawn) for r in read if r.kind == "distance")
    found: dict[tuple[str, str], dict[str, float]] = {}
    for r in read:
        if r.kind != "distance":
            found.setdefault((r.link, r.pins[0]), {})[r.kind] = r.drawn
    return HandMade("left", spans, tuple(FoundAt(*hole, **at) for hole, at in found.items()))


def places(project: Project) -> np.ndarray:
    return np.array([pin.at for pin in project.pivots])


@pytest.mark.parametrize("name", [name for name, project in ALL.items() if project.pivots])
def test_a_hinge_that_came_out_as_drawn_is_the_drawn_one(name: str) -> None:
    project = replace(ALL[name], as_made=None)
    assert as_built(project, "left").project == project
    read = as_drawn(project)
    if any(span.distance <= 0.0 for span in read.distances):
        return
    built = built_of(project, read)
    assert built.misfits == ()
    np.testing.assert_allclose(places(built.project), places(project), atol=1e-9)
    for line, drawn in zip(built.project.outlines, project.outlines, strict=True):
        np.testing.assert_allclose(line.points, drawn.points, atol=1e-9)


def test_longer_arms_of_a_parallelogram_carry_its_panel_along_them() -> None:
    spans = tuple(MadeDistance(link, pins, 51.0) for link, pins in (("front", ("O1", "P1")), ("rear", ("O2", "P2"))))
    built = built_of(parallelogram, HandMade("left", spans)).project
    at = {pin.id: complex(*pin.at) for pin in built.pivots}
    assert at["P1"] == pytest.approx(cmath.rect(51.0, math.radians(60.0)), abs=1e-9)
    assert at["P2"] == pytest.approx(100.0 + cmath.rect(51.0, math.radians(60.0)), abs=1e-9)
    one_longer = built_of(parallelogram, HandMade("left", spans[:1])).project  # the panel can't keep its turn now
    at = {pin.id: complex(*pin.at) for pin in one_longer.pivots}
    assert abs(at["P1"]) == pytest.approx(51.0)
    assert abs(at["P2"] - 100.0) == pytest.approx(50.0)
    assert abs(at["P2"] - at["P1"]) == pytest.approx(100.0)


def test_a_lid_whose_pin_came_out_higher_lies_on_its_front_edge() -> None:
    """The right-angled triangle of the lid: its front edge, 400 from the pin, stays at its height."""
    built = built_of(single_pivot, HandMade("left", (), (FoundAt("body", "A", y=3.0),)))
    assert built.rests
    front = built.panel_place(400.0 + 0j)
    assert front == pytest.approx(complex(math.sqrt(400.0**2 - 3.0**2), 0.0), abs=1e-9)
    assert built.project.pivot("A").at == pytest.approx((0.0, 3.0), abs=1e-12)
    assert built.project.mark("front edge").at == pytest.approx((front.real, 0.0), abs=1e-9)


def test_a_four_bar_as_built_obeys_freudenstein_with_the_lengths_read() -> None:
    """K1·cos θ4 − K2·cos θ2 + K3 = cos(θ2 − θ4), R. L. Norton, Design of Machinery, ch. 4 (from memory)."""
    a, b, c, d = 40.5, 119.2, 80.3, 100.0
    spans = (("crank", ("O2", "A"), a), ("coupler", ("A", "B"), b), ("rocker", ("B", "O4"), c))
    built = built_of(four_bar_a1, HandMade("left", tuple(MadeDistance(*each) for each in spans)))
    assert not built.rests
    at = {pin.id: complex(*pin.at) for pin in built.project.pivots}
    two, four = cmath.phase(at["A"] - at["O2"]), cmath.phase(at["B"] - at["O4"])
    k3 = (a * a - b * b + c * c + d * d) / (2.0 * a * c)
    assert d / a * math.cos(four) - d / c * math.cos(two) + k3 == pytest.approx(math.cos(two - four), abs=1e-11)
    drawn = complex(*four_bar_a1.pivot("B").at) - 100.0
    assert four == pytest.approx(cmath.phase(drawn), abs=1e-9)  # nothing holds the rocker, so it keeps its turn


@settings(max_examples=cases(20, 100))
@given(st.sampled_from(["X", "B", "Q"]), st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_a_hole_moved_alike_in_both_its_links_is_a_moved_pivot(pivot: str, dx: float, dy: float) -> None:
    pin = demo_six_bar.pivot(pivot)
    drilled = {(link, pivot): complex(dx, dy) for link in pin.joins}
    built = as_built(replace(demo_six_bar, as_made=None), "left", drilled=drilled).project
    expected = move_pivot(demo_six_bar, pivot, (pin.at[0] + dx, pin.at[1] + dy))
    np.testing.assert_allclose(places(built), places(expected), atol=1e-8)
    assert built.outlines == expected.outlines


SMOOTH = {"fore_aft": -1, "height": -1, "up_down": -1, "off_wall": 1, "rest": 1, "front_height": 0, "top_off_wall": 0}
"""To which side the shut gap stays at the corner where it is read; tilted, the skin is nearest at its other end."""


@pytest.mark.parametrize("key", SMOOTH)
def test_turned_adjusters_go_as_their_exact_rates_say(key: str) -> None:
    """Half the turn, a quarter of what first order misses: of the rear corner, and of the shut gap."""
    project = replace(demo_six_bar, mount=MOUNT)
    told = adjusting(analyse(project, steps=2), MOUNT.bracket, MOUNT.base, SPANS)
    assert told is not None
    effect = next(each for each in told.effects if each.adjuster.key == key)
    found, rate, side = rear_point(project), effect.shut[0], SMOOTH[key]
    assert found is not None
    assert rate is not None
    assert effect.rear is not None
    rear, missed = complex(*found[0]), []
    for by in (0.4 * (side or 1), 0.2 * (side or 1)):
        built = built_of(project, HandMade("left", turned=(Turned(key, by),)), SPANS)
        gap = analyse(built.project, steps=2).gaps[0].shut
        assert gap is not None
        first = (told.gaps[0].shut or 0.0) + by * rate
        missed.append((abs(built.panel_place(rear) - rear - by * effect.rear), abs(gap - first) if side else 0.0))
    for wide, narrow in zip(*missed, strict=True):
        assert narrow <= 0.27 * wide + 1e-9


def test_what_rides_on_links_rides_along_and_wants_stay() -> None:
    made = HandMade("left", (MadeDistance("arm", ("O1", "X"), 47.8),))
    before = replace(with_everything, as_made=AsMade((made,)))
    built = as_built(before, "left")
    motion = built.motions["arm"]
    after = built.project
    assert after.as_made is None
    assert (after.zones, after.gaps, after.limits, after.travel) == (
        before.zones,
        before.gaps,
        before.limits,
        before.travel,
    )
    for link, parts in (("arm", "outlines"), ("hatch", "marks")):
        for old, new in zip(getattr(before, parts), getattr(after, parts), strict=True):
            if old.on == link == "arm":
                assert new.points == tuple(map(motion.point, old.points))
            elif old.on == link:
                assert new.at == pytest.approx(built.motions[link].point(old.at))
    assert before.loads is not None
    assert after.loads is not None
    assert after.loads.handle is not None
    assert before.loads.handle is not None
    assert after.loads.handle.at == pytest.approx(built.motions["hatch"].point(before.loads.handle.at))
    assert as_built(before, "right").project == replace(before, as_made=None)


def test_sheets_and_play_are_those_that_were_measured() -> None:
    made = HandMade("left", sheets=(MadeSheet("arm", 4.3),), on_pins=(OnPin("X", play=0.2), OnPin("Q", 1.0, 0.05)))
    bare = built_of(demo_six_bar, made).project
    assert bare.plates == demo_six_bar.plates  # nobody said what plates are: none is built, none gets thicker
    assert bare.sureness is not None
    assert bare.sureness.play == max(0.2, demo_six_bar.sureness.play if demo_six_bar.sureness else 0.0)
    said = built_of(replace(demo_six_bar, plates=Plates(5.0), mount=MOUNT), replace(made, sheets=(
        MadeSheet("arm", 4.3), MadeSheet("hatch", 3.9), MadeSheet("bulkhead", 6.2),
    ))).project  # fmt: skip
    assert (said.plating.of("arm").thickness, said.plating.of("lift link").thickness) == (4.3, 5.0)
    assert (said.mounted.bracket.thickness, said.mounted.base.web) == (3.9, 6.2)


def test_a_hinge_that_cant_go_together_names_what_is_to_blame() -> None:
    spans = (MadeDistance("arm", ("O1", "P1"), 60.0), MadeDistance("arm", ("X", "P1"), 60.0))
    with pytest.raises(MadeError) as fault:
        built_of(demo_six_bar, HandMade("left", spans))
    assert "can't be put together" in str(fault.value)
    assert "X–P1 of arm (60.00 mm)" in str(fault.value)
    short = (MadeDistance("crank", ("O2", "A"), 400.0),)
    with pytest.raises(MadeError, match="O2–A of crank"):
        built_of(four_bar_a1, HandMade("left", short))

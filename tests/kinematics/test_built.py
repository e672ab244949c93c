"""What is cut out of a plate follows its link's pins, whichever way they are moved."""

from __future__ import annotations

import cmath
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from kinematics import plate_edits
from kinematics.build_parts import Cutout, Plate, Plates
from kinematics.edits import move_pivot
from kinematics.plate_shapes import shape_of
from tests.specimens import demo_six_bar as demo

if TYPE_CHECKING:
    from kinematics.project import Project

LINK = "arm"
PINS = [pivot.id for pivot in demo.pivots_on(LINK)]
EDGE = ((-30.0, -40.0, 0.3), (90.0, -30.0, 0.0), (120.0, 330.0, -0.2), (-20.0, 320.0, 0.0))
OWN = Plate(LINK, cutouts=(Cutout((20.0, 60.0), 9.0), Cutout((31.0, 150.0), 5.0)), edge=EDGE)
plated = replace(demo, plates=Plates(thickness=4.0, each=(OWN,)))

places = st.tuples(st.floats(-400.0, 400.0), st.floats(-400.0, 400.0))


def cut(project: Project) -> np.ndarray:
    """Places of all that is cut, complex: cutouts, then corners of the edge."""
    own = plate_edits.own_plate(project, LINK)
    assert [each.diameter for each in own.cutouts] == [9.0, 5.0]
    assert [bulge for _, _, bulge in own.edge] == [bulge for _, _, bulge in EDGE]
    return np.array([complex(*each.at) for each in own.cutouts] + [complex(x, y) for x, y, _ in own.edge])


def pins(project: Project) -> np.ndarray:
    return np.array([complex(*project.pivot(pin).at) for pin in PINS])


def seen(project: Project) -> np.ndarray:
    """The same in the frame of the first two pins."""
    one, other, _ = pins(project)
    return (cut(project) - (one + other) / 2.0) / ((other - one) / abs(other - one))


def moved(project: Project, to: dict[str, complex]) -> Project:
    for pin, at in to.items():
        project = move_pivot(project, pin, (at.real, at.imag))
    return project


@given(places, st.floats(-3.1, 3.1), st.permutations(PINS))
def test_it_goes_with_a_link_that_is_moved_and_turned_in_whatever_order(
    shift: tuple[float, float], turn: float, order: list[str]
) -> None:
    carry = cmath.exp(1j * turn)
    to = dict(zip(PINS, pins(plated) * carry + complex(*shift), strict=True))
    found = moved(plated, {pin: to[pin] for pin in order})
    assert np.abs(cut(found) - (cut(plated) * carry + complex(*shift))).max() < 1e-7


@given(st.lists(st.tuples(st.sampled_from(PINS), places), min_size=1, max_size=5))
def test_it_keeps_its_shape_its_way_and_its_middle_and_comes_back(steps: list[tuple[str, tuple[float, float]]]) -> None:
    project = plated
    for pin, at in steps:
        project = move_pivot(project, pin, at)
        one, other, _ = pins(project)
        if abs(other - one) < 1.0:  # pins upon each other give no way
            return
        seen, before = (
            (cut(each) - pins(each)[:2].mean()) / (pins(each)[1] - pins(each)[0]) for each in (project, plated)
        )
        longer = abs(other - one) / abs(pins(plated)[1] - pins(plated)[0])
        assert np.abs(seen * longer - before).max() < 1e-7
    back = moved(project, dict(zip(PINS, pins(plated), strict=True)))
    assert np.abs(cut(back) - cut(plated)).max() < 1e-6


def test_other_pins_and_other_links_leave_it_alone_and_one_pin_carries_it() -> None:
    third = move_pivot(plated, PINS[2], (0.0, 0.0))
    assert third.plates is plated.plates
    assert move_pivot(plated, "O2", (10.0, 10.0)).plates is plated.plates
    lone = replace(demo, pivots=(replace(demo.pivots[0], joins=("bulkhead", LINK)),), plates=plated.plates)
    x, y = lone.pivots[0].at
    carried = move_pivot(lone, lone.pivots[0].id, (x + 5.0, y - 2.0))
    assert np.abs(cut(carried) - cut(lone) - (5.0 - 2.0j)).max() < 1e-9


def test_what_comes_too_near_as_a_pin_moves_is_told() -> None:
    middle = pins(demo)[:2].mean()
    project = replace(
        demo, plates=Plates(thickness=4.0, each=(Plate(LINK, cutouts=(Cutout((middle.real, middle.imag), 16.0),)),))
    )
    told = shape_of(project, demo.link(LINK))
    assert told is not None
    assert not told.cautions
    one, other, _ = pins(demo)
    near = moved(project, {PINS[1]: one + 40.0 * (other - one) / abs(other - one)})
    told = shape_of(near, near.link(LINK))
    assert told is not None
    assert any("cutout 1 comes nearer to pin" in caution for caution in told.cautions)

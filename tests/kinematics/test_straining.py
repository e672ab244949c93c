"""What pins and plates carry over a sweep: one lid by hand, and what must hold of every linkage."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

import kinematics
from kinematics.project import (
    Attachment,
    Bushing,
    Device,
    Handle,
    JointStrength,
    Link,
    Loads,
    Mass,
    Metal,
    Pivot,
    Project,
    Strength,
    Travel,
)
from kinematics.sectioned import sectioned
from kinematics.statics import Statics
from kinematics.straining import UNTOLD
from tests.specimens import ALL, demo_six_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.results import StrengthFigures, Utilised

STEEL = Metal("C45+C", 565.0, 210_000.0)
PLATE = Metal("S235JR", 235.0, 210_000.0)
OILED = Bushing("SAE 841", 8.0, 12.0, 13.789515, 6.096, 1.751268)
PINS = Strength(diameter=6.0, inner=8.0, outer=5.0, pin_material=STEEL, plate_material=PLATE, washer=1.6)


def of_six_bar(strength: Strength = PINS, **changes: Any) -> Project:  # noqa: ANN401
    """The six-bar with a strut, a weight on a link and a spring, so that links are bent."""
    ends = Attachment("bulkhead", (240.0, -80.0)), Attachment("arm", (90.0, 240.0))
    strut = Device("strut", "gas strut", 2, *ends, extended=500.0, stroke=300.0, force=300.0, ratio=1.3)
    coil = Device(
        "coil",
        "torsion spring",
        1,
        Attachment("arm", (125.0, 213.0)),
        Attachment("cross link", (125.0, 213.0)),
        moment=4000.0,
    )
    masses = Mass("hatch", 18.0, (620.0, 285.0)), Mass("cross link", 1.5, (150.0, 160.0))
    loads = Loads(masses, Handle("hatch", (1180.0, 260.0)), devices=(strut, coil))
    return replace(demo_six_bar, loads=replace(loads, **changes), strength=strength)


@lru_cache(maxsize=1)
def six_bar() -> Analysis:
    return kinematics.analyse(of_six_bar())


def told(analysis: Analysis) -> StrengthFigures:
    assert analysis.strength is not None
    return analysis.strength


def figure(found: StrengthFigures, mode: str, pivot: str = "", link: str = "") -> Utilised:
    return next(each for each in found.figures if (each.mode, each.pivot, each.link) == (mode, pivot, link))


def lid(**strength: Any) -> Project:  # noqa: ANN401
    """20 kg at 0.5 m, lifted at 1 m, one pin of 6 mm in single shear, opened by 30°."""
    return Project(
        links=(Link("body", "fixed"), Link("lid", "panel")),
        pivots=(Pivot("A", (0.0, 0.0), ("body", "lid")),),
        travel=Travel("anticlockwise", 30.0),
        loads=Loads((Mass("lid", 20.0, (500.0, 0.0)),), Handle("lid", (1000.0, 0.0)), hinges=1),
        strength=replace(PINS, shear="single", edge=12.0, **strength),
    )


def test_a_lid_on_one_pin_by_hand() -> None:
    """W·√(sin²30° + cos²30°/4) = 196.133·0.66143783 = 129.729785 N at 30°; on ø6 in single shear 4.588253 MPa."""
    found = told(kinematics.analyse(lid()))
    sheared = figure(found, "pin shear", "A")
    assert sheared.force == pytest.approx(129.729785, abs=1e-5)
    assert sheared.stress == pytest.approx(4.588253, abs=1e-5)
    assert sheared.have == pytest.approx(565.0 / math.sqrt(3.0) / 4.588253, rel=1e-5)
    assert sheared.deg == pytest.approx(30.0, abs=1e-9)
    assert sheared.place == pytest.approx((0.0, 0.0), abs=1e-9)
    assert figure(found, "bearing", "A", "lid").stress == pytest.approx(129.729785 / 48.0, abs=1e-6)
    assert figure(found, "net section", "A", "lid").stress == pytest.approx(129.729785 / (18.0 * 8.0), abs=1e-6)
    assert figure(found, "tear-out", "A", "lid").stress == pytest.approx(129.729785 / (16.0 * 9.0), abs=1e-6)


def test_the_bushing_of_a_lid_by_hand() -> None:
    """30° in 2 s on ø6: 3·0.261799 = 0.785398 mm/s; 129.729785/(6·8) = 2.702704 MPa."""
    found = told(kinematics.analyse(lid(bushing=OILED)))
    pressed = figure(found, "bushing pressure", "A")
    assert (pressed.stress, pressed.want) == (pytest.approx(2.702704, abs=1e-6), 1.0)
    slides = figure(found, "bushing speed", "A")
    assert slides.stress == pytest.approx(0.000785398, abs=1e-9)
    assert slides.deg is None
    both = figure(found, "bushing pressure × speed", "A")
    assert both.stress == pytest.approx(2.702704 * 0.000785398, rel=1e-5)
    assert figure(found, "bearing", "A", "lid").stress == pytest.approx(129.729785 / (12.0 * 8.0), abs=1e-6)


def test_the_worse_hinge_of_two_carries_60_of_100_and_by_a_corner_all() -> None:
    """So its forces are 1.2 times, and 2 times, what the report calls the force on a pin of one hinge."""
    for uneven, times in ((None, 1.2), (0.5, 1.0), (1.0, 2.0)):
        analysis = kinematics.analyse(of_six_bar(uneven=uneven))
        assert analysis.loads is not None
        column = [pivot.id for pivot in analysis.project.pivots].index("X")
        even = float(np.nanmax(analysis.loads.pins[:, column]))
        force = figure(told(analysis), "pin shear", "X").force
        assert force == pytest.approx(times * even, rel=1e-4)
        assert told(analysis).share == pytest.approx(times / 2.0)


def test_nothing_depends_on_the_reported_poses() -> None:
    few = told(kinematics.analyse(of_six_bar(), steps=5))
    assert few.figures == told(six_bar()).figures


def test_no_pose_between_carries_more_than_is_told() -> None:
    """Dense poses of another kind (even in opening): at most a part in 10 000 more."""
    dense = kinematics.analyse(of_six_bar(), steps=1501)
    assert dense.loads is not None
    for column, pivot in enumerate(dense.project.pivots):
        largest = float(np.nanmax(dense.loads.pins[:, column])) * 1.2
        force = figure(told(six_bar()), "pin shear", pivot.id).force
        assert force is not None
        assert force >= largest * (1.0 - 1e-4), pivot.id
        assert force <= largest * (1.0 + 1e-3), pivot.id


def test_forces_and_couples_on_every_link_are_in_balance() -> None:
    """Pins, weights, struts, springs: their sum and their moment about any point are nothing on a link that stands."""
    analysis = six_bar()
    project, sweep = analysis.project, analysis.sweep
    assert project.loads is not None
    statics = Statics(project.loads, sweep)
    at = statics.at(sweep.at_arcs(np.linspace(0.0, sweep.reach_arc, 9)))
    applied = statics.applied(at)
    from kinematics.balance import on_members

    members, forces = on_members(project, statics, statics.held(at, applied).on_second)
    for link in ("arm", "cross link", "lift link", "short link"):
        section = sectioned(project, link, sweep.closure.links)
        assert section is not None
        on = [members.index((pin, link)) for pin in section.pins]
        local = forces[:, on] * at.e[:, [section.column]].conj()
        loads, couples = section.forces(local, (statics, at, applied), 1.0 / project.loads.hinges)
        places = [complex(*project.pivot(pin).at) for pin in section.pins]
        places += [150 + 160j] if link == "cross link" else []
        places += [90 + 240j] if link == "arm" else []
        places += [125 + 213j] * (loads.shape[1] - len(places))
        moments = (np.conj(np.array(places)) * loads).imag.sum(axis=1) + couples.sum(axis=1)
        assert np.abs(loads.sum(axis=1)).max() < 1e-6, link
        assert np.abs(moments).max() < 1e-4, link


def test_a_link_with_pins_alone_is_pulled_and_not_bent() -> None:
    """The lift link: its pins' force over its whole section of 28 × 8 mm. The arm, with a strut on it, doesn't buckle
    between two pins, as it has three.
    """
    lift = figure(told(six_bar()), "section", link="lift link")
    pull = figure(told(six_bar()), "pin shear", "Q").force
    assert pull is not None
    assert lift.stress == pytest.approx(pull / (28.0 * 8.0), rel=1e-6)
    assert not [each for each in told(six_bar()).figures if each.mode == "buckling" and each.link == "arm"]


def test_more_load_less_safety() -> None:
    """Twice the weights and pushes: half of every safety."""
    loads = of_six_bar().loads
    assert loads is not None
    devices = tuple(
        replace(each, force=600.0) if each.force else replace(each, moment=8000.0) for each in loads.devices
    )
    masses = tuple(replace(mass, mass=2.0 * mass.mass) for mass in loads.masses)
    twice = told(kinematics.analyse(of_six_bar(masses=masses, devices=devices)))
    for each in told(six_bar()).figures:
        other = figure(twice, each.mode, each.pivot, each.link)
        assert each.have is not None
        assert other.have == pytest.approx(each.have / 2.0, rel=1e-6), each


def test_single_shear_is_worse_and_bends_the_plate_that_holds() -> None:
    joints = (JointStrength("X", shear="single", outer_link="cross link"),)
    found = told(kinematics.analyse(of_six_bar(replace(PINS, joints=joints))))
    for mode in ("pin shear", "pin bending"):
        assert figure(found, mode, "X").have < figure(told(six_bar()), mode, "X").have / 1.9  # type: ignore[operator]
    assert figure(found, "offset bending", "X", "cross link").note == "single shear"
    assert [each.pivot for each in found.figures if each.mode == "offset bending"] == ["X"]


def test_checks_are_of_the_worst_of_each_pin_and_link() -> None:
    analysis = six_bar()
    checks = [check for check in analysis.checks if check.kind == "strength"]
    assert len(checks) == 7 + 4
    for check in checks:
        of = [
            each
            for each in told(analysis).figures
            if (each.pivot or each.link) == check.subject[0]
            and bool(each.pivot) == (check.subject[0] in {"O1", "O2", "X", "B", "Q", "P1", "P2"})
        ]
        assert min(each.ratio for each in of) == pytest.approx(check.have / check.want)  # type: ignore[operator]
        assert check.place is not None


def test_a_thin_pin_falls_short() -> None:
    thin = replace(PINS, joints=(JointStrength("X", diameter=1.5),))
    check = next(check for check in kinematics.analyse(of_six_bar(thin)).checks if check.subject[:1] == ("X",))
    assert (check.side, check.ok, check.deg is not None) == ("pin bending", False, True)


def test_without_a_handle_nothing_is_told() -> None:
    analysis = kinematics.analyse(replace(demo_six_bar, strength=PINS))
    assert (told(analysis).figures, told(analysis).untold) == ((), UNTOLD)
    check = next(check for check in analysis.checks if check.kind == "strength")
    assert (check.ok, check.have, check.subject) == (False, None, ())


def test_no_figure_towards_a_dead_point_that_needs_endless_force() -> None:
    """A lid driven towards the dead point of its linkage, with the handle where it comes to a stand."""
    loads = Loads((Mass("coupler", 10.0, (60.0, 60.0)),), Handle("rocker", (150.0, 80.0)))
    travel = Travel("anticlockwise", 170.0)
    project = replace(ALL["four_bar_a1"], strength=PINS, loads=loads, travel=travel)
    found = told(kinematics.analyse(project))
    wild = [each for each in found.figures if each.have is None]
    assert wild
    assert all(each.force is None and each.stress is None for each in wild)


@pytest.mark.parametrize("name", ALL)
def test_no_specimen_breaks_it(name: str) -> None:
    project = replace(ALL[name], strength=PINS)
    if project.loads is None:
        loads = Loads((Mass(project.panel.id, 5.0, (100.0, 50.0)),), Handle(project.panel.id, (200.0, 50.0)))
        project = replace(project, loads=loads)
    found = told(kinematics.analyse(project, steps=3))
    numbers = [number for each in found.figures for number in (each.force, each.stress, each.have, each.deg)]
    assert not any(number is not None and math.isnan(number) for number in numbers)
    assert found.untold or found.figures


def test_what_is_not_asked_is_not_told() -> None:
    analysis = kinematics.analyse(demo_six_bar, steps=2)
    assert analysis.strength is None
    assert all(check.kind != "strength" for check in analysis.checks)

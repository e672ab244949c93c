"""Effort and pin forces where the outside world has no figure: null cases, friction, trusses, twin arms, springs."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

import kinematics
from kinematics.devices import moment
from kinematics.project import Attachment, Device, Handle, Link, Loads, Mass, PinFriction, Pivot
from tests import specimens
from tests.kinematics.making import PLAIN
from tests.kinematics.random_linkages import linkage
from tests.specimens import demo_six_bar, hinge, single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.results import LoadFigures, Pose

HATCH = Loads(masses=(Mass("hatch", 18.0, (620.0, 285.0)),), handle=Handle("hatch", (1180.0, 255.0)))
HELPER = Device(
    "strut",
    "gas strut",
    2,
    Attachment("bulkhead", (100.0, -100.0)),
    Attachment("arm", (60.0, 240.0)),
    extended=500.0,
    stroke=250.0,
    force=250.0,
    ratio=1.3,
)


def figures(project: Project, loads: Loads, steps: int = 7) -> LoadFigures:
    found = kinematics.analyse(replace(project, loads=loads), steps).loads
    assert found is not None
    return found


def lid(*devices: Device, **more: object) -> Loads:
    masses = (Mass("lid", 10.0, (400.0, 0.0)),)
    return replace(Loads(masses=masses, handle=Handle("lid", (800.0, 0.0)), hinges=1, devices=devices), **more)


# ---------------------------------------------------------------------------------------------------------- null cases
def nothing(told: LoadFigures) -> bool:
    return bool(np.isnan(told.effort).all() and np.isnan(told.pins).all() and told.largest is None)


def test_without_loads_there_are_none() -> None:
    assert kinematics.analyse(single_pivot, 3).loads is None


@pytest.mark.parametrize("name", ["locked_triangle", "parallelogram"])
def test_nothing_is_told_where_the_panel_doesnt_turn(name: str) -> None:
    project = specimens.ALL[name]
    panel = project.panel.id
    assert nothing(figures(project, Loads(masses=(Mass(panel, 1.0, (9.0, 9.0)),), handle=Handle(panel, (50.0, 9.0)))))


def test_nothing_is_told_with_a_link_that_hangs_free() -> None:
    """Mobility 2: what the free link weighs has nobody to hold it."""
    loose = replace(
        single_pivot,
        links=(*single_pivot.links, Link("flap")),
        pivots=(*single_pivot.pivots, Pivot("F", (300.0, 0.0), ("lid", "flap"))),
    )
    assert nothing(figures(loose, lid()))


def test_a_handle_on_the_fixed_link_or_on_the_pin_holds_nothing() -> None:
    still = figures(single_pivot, lid(handle=Handle("body", (800.0, 0.0))))
    assert nothing(still)
    assert any("stands still" in remark for remark in still.remarks)
    on_pin = figures(single_pivot, lid(handle=Handle("lid", (0.0, 0.0))))
    assert nothing(on_pin)
    assert any("stands still" in remark for remark in on_pin.remarks)
    assert nothing(figures(single_pivot, lid(handle=None)))


def test_a_handle_with_nothing_to_lift_needs_no_push() -> None:
    assert figures(single_pivot, Loads(handle=Handle("lid", (800.0, 0.0)))).effort == pytest.approx([0.0] * 7)


def test_a_push_that_grows_without_bound_is_told_in_words() -> None:
    """A rocker's handle comes to a stand at the dead point; one on a coupler goes on moving there."""
    crank = specimens.four_bar_a1
    turned = replace(crank, travel=replace(crank.travel, wanted_deg=170.0))
    loads = Loads(masses=(Mass("coupler", 5.0, (90.0, 60.0)),), handle=Handle("rocker", (140.0, 70.0)), hinges=1)
    analysis = kinematics.analyse(replace(turned, loads=loads), 60)
    assert analysis.opening.ends == "dead point"
    told = analysis.loads
    assert told is not None
    assert any("grows without bound" in remark for remark in told.remarks)
    assert (told.largest is None) != (told.least is None)
    assert math.isnan(told.effort[-1])
    assert np.isfinite(told.effort[:-1]).all()
    floating = replace(crank, links=tuple(replace(link, kind=KINDS[link.id]) for link in crank.links))
    floating = replace(floating, travel=replace(crank.travel, wanted_deg=170.0))
    calm = kinematics.analyse(replace(floating, loads=replace(loads, handle=Handle("coupler", (95.0, 90.0)))), 60)
    assert calm.opening.ends == "dead point"
    assert calm.loads is not None
    assert calm.loads.remarks == ()
    assert calm.loads.largest is not None
    assert abs(calm.loads.largest.force) < 1e4


KINDS: dict[str, Any] = {"ground": "fixed", "coupler": "panel", "rocker": "link", "crank": "link"}


# --------------------------------------------------------------------------------------------------------- invariance
def test_the_figures_dont_depend_on_steps_or_on_what_came_before() -> None:
    project = replace(demo_six_bar, loads=replace(HATCH, devices=(HELPER,)))
    few, many = kinematics.analyse(project, 4), kinematics.analyse(project, 61)
    moved = replace(project, pivots=(replace(project.pivots[0], at=(141.5, 257.0)), *project.pivots[1:]))
    again = kinematics.analyse(project, 61, near=kinematics.analyse(moved, 5))
    assert few.loads is not None
    assert many.loads is not None
    assert again.loads is not None
    assert few.loads.effort == pytest.approx(many.loads.effort[::20], rel=1e-9)
    assert again.loads.effort == pytest.approx(many.loads.effort, rel=1e-7)
    assert again.loads.pins == pytest.approx(many.loads.pins, rel=1e-7)
    assert few.loads.largest is not None
    assert many.loads.largest is not None
    assert few.loads.largest.force == pytest.approx(many.loads.largest.force, rel=1e-9)
    assert many.loads.largest.force >= many.loads.effort.max() * (1.0 - 1e-9)
    assert few.loads.least is not None
    assert few.loads.least.force == pytest.approx(many.loads.effort.min(), rel=1e-6)


def test_two_hinges_share_what_one_bears() -> None:
    one, three = (figures(demo_six_bar, replace(HATCH, hinges=count)) for count in (1, 3))
    assert three.pins * 3.0 == pytest.approx(one.pins, rel=1e-12)
    assert three.effort == pytest.approx(one.effort, rel=1e-12)


def test_a_count_of_devices_is_that_many() -> None:
    single = replace(HELPER, count=1)
    twins = (single, replace(single, id="other"))
    together, apart = (figures(demo_six_bar, replace(HATCH, devices=each)) for each in ((HELPER,), twins))
    assert together.effort == pytest.approx(apart.effort, rel=1e-12)
    assert together.pins == pytest.approx(apart.pins, rel=1e-12)


# ------------------------------------------------------------------------------------------------- pins of many links
def test_three_links_on_a_pin_give_the_largest_of_their_forces() -> None:
    """A truss on the lid, three links on two of its pins: what they put on one adds up to nothing, the largest is told,
    and every link is in balance.
    """
    project = hinge(
        "body lid strap brace post tie",
        {
            "A": (0j, "body lid"),
            "B": (200 + 0j, "lid strap post"),
            "C": (300 + 0j, "lid brace"),
            "D": (260 + 90j, "strap brace tie"),
            "E": (150 + 110j, "post tie"),
        },
        wanted_deg=40.0,
    )
    loads = Loads(masses=(Mass("post", 5.0, (200.0, 0.0)),), handle=Handle("lid", (200.0, 0.0)), hinges=1)
    told = figures(project, loads)
    on_b = [k for k, (pivot, _) in enumerate(told.members) if pivot == "B"]
    assert np.abs(told.forces[:, on_b].sum(axis=1)).max() < 1e-9
    assert told.pins[:, 1] == pytest.approx(np.abs(told.forces[:, on_b]).max(axis=1), rel=1e-12)
    assert told.effort[0] == pytest.approx(5.0 * 9.80665, rel=1e-12)
    assert told.pins[0, 1] == pytest.approx(5.0 * 9.80665, rel=1e-12)  # the post hangs on B, and nothing else works
    leaning = figures(project, replace(loads, masses=(Mass("tie", 5.0, (150.0, 110.0)),)))
    links = {
        link: [k for k, (_, of) in enumerate(leaning.members) if of == link] for link in ("strap", "brace", "post")
    }
    for mine in links.values():
        assert np.abs(leaning.forces[:, mine].sum(axis=1)).max() < 1e-9
    strap, along = leaning.forces[0, links["strap"][0]], 60 + 90j
    assert abs((strap * along.conjugate()).imag) < 1e-9 * abs(along)
    assert leaning.pins[0, 1] > 10.0


def test_a_strut_between_two_links_of_a_truss_loads_its_pins_and_not_the_hand() -> None:
    """The inside of a triangle that never changes its shape: no effort, all force on its own pins."""
    project = hinge(
        "body lid left right",
        {
            "A": (0j, "body lid"),
            "B": (200 + 0j, "lid left"),
            "C": (300 + 0j, "lid right"),
            "D": (250 + 80j, "left right"),
        },
        wanted_deg=40.0,
    )
    ends = Attachment("left", (225.0, 40.0)), Attachment("lid", (100.0, 0.0))
    spring = Device("tie", "tension spring", 1, *ends, initial=50.0)
    loads = Loads(handle=Handle("lid", (400.0, 0.0)), hinges=1, devices=(spring,))
    told = figures(project, loads)
    assert told.effort == pytest.approx([0.0] * 7, abs=1e-9)
    assert told.pins[:, 0] == pytest.approx([0.0] * 7, abs=1e-9)
    assert told.pins[:, 3].min() > 1.0
    assert np.ptp(told.pins[:, 3]) < 1e-9  # the triangle turns, and all its forces with it


def test_a_bracket_of_links_that_cant_move_bears_its_share() -> None:
    """A lid on top of two struts at 45° on the frame: each bears 1/√2 of what the lid's pin does. 20 kg at 200 from the
    pin, hand at 400: the pin bears 98.0665 N.
    """
    project = hinge(
        "body lid left right",
        {"L": (0j, "body left"), "R": (200 + 0j, "body right"), "top": (100 + 100j, "left right lid")},
        wanted_deg=40.0,
    )
    loads = Loads(masses=(Mass("lid", 20.0, (300.0, 100.0)),), handle=Handle("lid", (500.0, 100.0)), hinges=1)
    told = figures(project, loads)
    assert told.effort[0] == pytest.approx(98.0665, rel=1e-12)
    assert told.pins[0] == pytest.approx([69.3434872, 69.3434872, 98.0665], rel=1e-8)


def test_twin_arms_share_and_it_is_said() -> None:
    """Three equal cranks: the effort is sure, the share isn't; alike in place, the two outer arms bear alike."""
    up = 50j
    feet = {"1": 0j, "2": 100 + 0j, "3": 200 + 0j}
    pivots = {f"O{k}": (at, f"ground arm{k}") for k, at in feet.items()}
    pivots |= {f"T{k}": (at + up, f"arm{k} tray") for k, at in feet.items()}
    project = hinge("ground arm1 arm2 arm3 tray", pivots, wanted_deg=40.0)
    loads = Loads(masses=(Mass("tray", 10.0, (100.0, 80.0)),), handle=Handle("arm1", (0.0, 50.0)), hinges=1)
    told = figures(project, loads, 3)
    tilt = math.sin(math.radians(20.0))
    assert told.effort[1] == pytest.approx(-98.0665 * tilt, rel=1e-9)  # the weight comes down as the arms lean
    assert any("twin arms" in remark for remark in told.remarks)
    tray = [k for k, (_, link) in enumerate(told.members) if link == "tray"]
    assert told.forces[1, tray].sum() == pytest.approx(98.0665j, abs=1e-6)
    even = figures(project, replace(loads, handle=Handle("tray", (100.0, 50.0))), 3)
    assert even.pins[0, [3, 5]] == pytest.approx([98.0665 / 3.0] * 2, rel=1e-6)


# ------------------------------------------------------------------------------------------------------------ friction
def test_friction_makes_a_band_about_the_effort() -> None:
    rub = PinFriction(4.0, 0.15)
    told = figures(demo_six_bar, replace(HATCH, devices=(HELPER,), pin_friction=rub), 31)
    assert told.raising is not None
    assert told.letting_down is not None
    assert (told.raising > told.effort).all()
    assert (told.effort > told.letting_down).all()
    bare = figures(demo_six_bar, HATCH)
    assert bare.raising is None
    assert bare.letting_down is None
    none = figures(demo_six_bar, replace(HATCH, pin_friction=PinFriction(4.0, 0.0)))
    assert none.raising is None


def test_a_strut_rubs_both_ways() -> None:
    """20 N along a strut at right angles to a lever of 400, hand at 800: 10 N more, 10 N less."""
    ends = Attachment("body", (400.0, -300.0)), Attachment("lid", (400.0, 0.0))
    rubbing = replace(HELPER, count=1, from_end=ends[0], to_end=ends[1], friction=20.0)
    told = figures(single_pivot, lid(rubbing), 2)
    assert told.raising is not None
    assert told.letting_down is not None
    assert told.raising[0] - told.effort[0] == pytest.approx(10.0, rel=1e-12)
    assert told.effort[0] - told.letting_down[0] == pytest.approx(10.0, rel=1e-12)


def test_pins_that_jam_are_not_told_as_figures() -> None:
    """A pin nearly as large as the lever, and as rough: no push raises it."""
    told = figures(single_pivot, lid(handle=Handle("lid", (2.0, 0.0)), pin_friction=PinFriction(300.0, 5.0)))
    assert told.raising is not None
    assert np.isnan(told.raising).all()
    assert np.isfinite(told.effort).all()


# ------------------------------------------------------------------------------------------------------ springs, marks
def test_a_torsion_spring_is_a_couple() -> None:
    """8000 N·mm on a lid of 10 kg at 400, hand at 800: 10 N less, and the pin's force as much more."""
    at = Attachment("body", (0.0, 0.0)), Attachment("lid", (0.0, 0.0))
    spring = Device("coil", "torsion spring", 1, *at, moment=8000.0)
    helped, bare = figures(single_pivot, lid(spring), 2), figures(single_pivot, lid(), 2)
    assert bare.effort[0] - helped.effort[0] == pytest.approx(10.0, rel=1e-12)
    assert helped.pins[0, 0] - bare.pins[0, 0] == pytest.approx(10.0, rel=1e-12)
    turned = replace(spring, from_end=at[1], to_end=at[0])
    assert figures(single_pivot, lid(turned), 2).effort[0] - bare.effort[0] == pytest.approx(10.0, rel=1e-12)


def test_a_compression_spring_lifts_until_it_is_slack() -> None:
    ends = Attachment("body", (400.0, -100.0)), Attachment("lid", (400.0, 0.0))
    spring = Device("bumper", "compression spring", 1, *ends, free=110.0, rate=2.0)
    helped, bare = figures(single_pivot, lid(spring), 9), figures(single_pivot, lid(), 9)
    assert bare.effort[0] - helped.effort[0] == pytest.approx(10.0, rel=1e-12)  # 20 N at half the hand's lever
    assert helped.effort[1:] == pytest.approx(bare.effort[1:], rel=1e-12)


def test_a_balance_at_a_jump_is_found_where_it_is() -> None:
    """A spring that takes hold at 30°: the push jumps through nothing there."""
    grown = abs(300.0 * complex(math.cos(math.pi / 6), math.sin(math.pi / 6)) + 200j)
    ends = Attachment("body", (0.0, -200.0)), Attachment("lid", (300.0, 0.0))
    catch = Device("catch", "tension spring", 1, *ends, free=grown, initial=400.0)
    at = Attachment("body", (0.0, 0.0)), Attachment("lid", (0.0, 0.0))
    up = Device("coil", "torsion spring", 1, *at, moment=60000.0)
    told = figures(single_pivot, lid(catch, up), 5)
    first, second = told.balances  # further on the catch has no lever left, and the coil wins again
    assert first.deg == pytest.approx(30.0, abs=0.02)
    assert (first.stable, second.stable) == (True, False)


def test_a_lid_past_upright_has_its_tip_over_there() -> None:
    """The mass centre 400 out and 100 up stands over the pin at 90° − atan(¼)."""
    heavy = lid(masses=(Mass("lid", 10.0, (400.0, 100.0)),))
    wide = replace(single_pivot, travel=replace(single_pivot.travel, wanted_deg=120.0))
    told = figures(wide, heavy)
    assert told.tip_overs == pytest.approx([90.0 - math.degrees(math.atan(0.25))], abs=1e-7)
    assert [balance.stable for balance in told.balances] == [False]
    assert told.effort[0] > 0.0 > told.effort[-1]


@pytest.mark.parametrize("name", specimens.ALL)
def test_no_specimen_gives_infinities(name: str) -> None:
    project = specimens.ALL[name]
    panel = project.panel.id
    loads = Loads(masses=(Mass(panel, 3.0, (31.0, 17.0)),), handle=Handle(panel, (211.0, 43.0)))
    told = figures(project, project.loads or loads, 9)
    for values in (told.effort, told.pins, told.forces):
        assert not np.isinf(values).any()
    known = np.isfinite(told.effort)
    assert np.isfinite(told.pins[known]).all()
    assert np.isnan(told.pins[~known]).all()


# ------------------------------------------------------------------------------------------------------- random loads
def random_loads(seed: int, project: Project) -> Loads:
    """Weights, devices of every kind, a handle on the panel, each anywhere near the pins."""
    chance = np.random.default_rng(seed)
    ids, pins = [link.id for link in project.links], [pivot.at for pivot in project.pivots]

    def place() -> tuple[float, float]:
        x, y = np.array(pins[chance.integers(len(pins))]) + chance.normal(size=2) * chance.choice([0.0, 30.0, 200.0])
        return float(x), float(y)

    def ends() -> tuple[Attachment, Attachment]:
        one, other = chance.choice(len(ids), 2, replace=False)
        return Attachment(ids[one], place()), Attachment(ids[other], place())

    strut, pull, shove, coil = ends(), ends(), ends(), ends()
    long = math.dist(strut[0].at, strut[1].at) + 60.0
    devices = (
        Device("s", "gas strut", 2, *strut, extended=long, stroke=100.0, force=300.0, ratio=1.3, friction=20.0),
        Device("t", "tension spring", 1, *pull, free=0.5 * math.dist(pull[0].at, pull[1].at), initial=9.0, rate=1.0),
        Device("c", "compression spring", 3, *shove, free=2.0 * math.dist(shove[0].at, shove[1].at), rate=0.3),
        Device("m", "torsion spring", 1, *coil, moment=4000.0, moment_rate=20.0),
    )
    masses = tuple(Mass(link, float(chance.uniform(0.0, 20.0)), place()) for link in ids)
    return Loads(masses, Handle(project.panel.id, place()), 2, devices, 45.0, PinFriction(3.0, 0.1))


@pytest.mark.parametrize("seed", [*PLAIN[:8], 106])
def test_random_loads_do_what_the_hand_does(seed: int) -> None:
    """Virtual work over a small step of the sweep itself, places alone; seed 106 is joined so that it can't set out."""
    project = linkage(seed).project()
    project = replace(project, loads=random_loads(seed, project))
    analysis = kinematics.analyse(project, 9)
    told, loads = analysis.loads, project.loads
    assert told is not None
    assert loads is not None
    assert loads.handle is not None
    assert not np.isinf(told.pins).any()
    again = kinematics.analyse(project, 17, near=analysis).loads
    assert again is not None
    assert again.effort[::2] == pytest.approx(told.effort, rel=1e-6, abs=1e-6, nan_ok=True)
    step = 1e-3
    for k in np.flatnonzero(np.isfinite(told.effort[1:-1])) + 1:
        deg = float(analysis.openings[k])
        before, after = analysis.pose(deg - step), analysis.pose(deg + step)

        def moved(on: str, at: tuple[float, float], ends: tuple[Pose, Pose] = (before, after)) -> complex:
            column = analysis.links.index(on)
            return complex(*ends[1].place(column, at)) - complex(*ends[0].place(column, at))

        parts = [-9.80665 * mass.mass * moved(mass.on, mass.at).imag for mass in loads.masses]
        for column, device in enumerate(loads.devices):
            tail, head = device.from_end, device.to_end
            links = analysis.links.index(tail.on), analysis.links.index(head.on)
            apart = [
                math.dist(pose.place(links[0], tail.at), pose.place(links[1], head.at)) for pose in (before, after)
            ]
            parts.append(device.count * float(told.pushes[k, column]) * (apart[1] - apart[0]))
            turned = [pose.turns[links[1]] - pose.turns[links[0]] for pose in (before, after, analysis.pose(deg))]
            turning = moment(device, np.array(turned[2:]))[0]
            parts.append(device.count * float(turning) * float(turned[1] - turned[0]))
        hand = float(told.effort[k]) * abs(moved(loads.handle.on, loads.handle.at))
        assert abs(hand + sum(parts)) < 1e-5 * (abs(hand) + sum(map(abs, parts)))


@pytest.mark.parametrize("seed", [seed for seed in PLAIN if seed != 45][:9])
def test_random_loads_leave_every_link_in_balance(seed: int) -> None:
    """Forces and moments on each link: its pins, its weight, struts, springs and couples; on the panel the hand takes
    what is left over, which is as large as the effort and acts at the handle.
    """
    project = linkage(seed).project()
    project = replace(project, loads=replace(random_loads(seed, project), hinges=1))
    analysis = kinematics.analyse(project, 5)
    told, loads = analysis.loads, project.loads
    assert told is not None
    assert loads is not None
    assert loads.handle is not None
    assert np.isfinite(told.effort).any()
    for k in np.flatnonzero(np.isfinite(told.effort)):
        pose = analysis.pose(float(analysis.openings[k]))
        bodies = {link.id: Body(analysis.links.index(link.id), pose) for link in project.links}
        for column, (pivot, link) in enumerate(told.members):
            bodies[link].add(complex(told.forces[k, column]), project.pivot(pivot).at)
        for mass in loads.masses:
            bodies[mass.on].add(-9.80665j * mass.mass, mass.at)
        for column, device in enumerate(loads.devices):
            tail, head = device.from_end, device.to_end
            way = bodies[head.on].place(head.at) - bodies[tail.on].place(tail.at)
            force = device.count * float(told.pushes[k, column]) * way / abs(way)
            bodies[head.on].add(force, head.at)
            bodies[tail.on].add(-force, tail.at)
            turned = pose.turns[bodies[head.on].column] - pose.turns[bodies[tail.on].column]
            couple = device.count * float(moment(device, np.array([turned]))[0])
            bodies[head.on].moment += couple
            bodies[tail.on].moment -= couple
        panel = bodies[project.panel.id]
        size = float(np.abs(told.forces[k]).max()) + abs(float(told.effort[k]))
        assert abs(abs(panel.force) - abs(float(told.effort[k]))) < 1e-8 * size
        panel.add(-panel.force, loads.handle.at)
        for link in project.links:
            if link.kind != "fixed":
                assert abs(bodies[link.id].force) < 1e-8 * size
                assert abs(bodies[link.id].moment) < 1e-8 * size * 1000.0


class Body:
    """What acts on a link at a pose: the sum of forces, and of their moments about the origin."""

    def __init__(self, column: int, pose: Pose) -> None:
        self.column, self.pose, self.force, self.moment = column, pose, 0j, 0.0

    def place(self, at: tuple[float, float]) -> complex:
        return complex(*self.pose.place(self.column, at))

    def add(self, force: complex, at: tuple[float, float]) -> None:
        self.force += force
        self.moment += (self.place(at).conjugate() * force).imag

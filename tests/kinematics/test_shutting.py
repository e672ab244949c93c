"""The panel shut: the rise of the rear edge against pins moved by hand, the latch against a balance of its own.

The oracle here shares nothing with the program: every link has x, y and a turn, every joint two equations, forces come
from the 3 equations of every link at once, and positions from a root finder.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.optimize import fsolve

import kinematics
from kinematics.fittings import Cushion, Latch
from kinematics.project import Handle, Loads, Mass, Outline, PinFriction, Sureness
from kinematics.shutting import STRETCH
from tests import specimens
from tests.kinematics.test_cushioning import HATCH
from tests.kinematics.test_statics import HELPER
from tests.specimens import demo_six_bar, hinge, single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.results import ShutFigures

LATCH = Latch("hatch", (1150.0, 240.0), 262.0)
PLAY = 1e-4  # mm: small, so that what is left of second order is below the tolerance
LATCHED = replace(demo_six_bar, loads=replace(HATCH, latch=LATCH, devices=(HELPER,)), sureness=Sureness(0.0, PLAY))


def shut(project: Project) -> ShutFigures:
    told = kinematics.analyse(project, 2).loads
    assert told is not None
    assert told.shut is not None
    return told.shut


# -------------------------------------------------------------------------------------------------------- the oracle
def joints(project: Project) -> list[tuple[complex, str, str]]:
    return [(complex(*pin.at), pin.joins[0], other) for pin in project.pivots for other in pin.joins[1:]]


def cross(a: complex, b: complex) -> float:
    return (a.conjugate() * b).imag


def balance(project: Project, loads: list[tuple[str, complex, complex]]) -> tuple[np.ndarray, float]:
    """Forces on the joints' second links, and the latch's hold, from three equations a link. Loads: (link, at, N)."""
    latch = project.loads.latch
    way = complex(math.cos(math.radians(latch.way_deg)), math.sin(math.radians(latch.way_deg)))
    moving = [link.id for link in project.links if link.kind != "fixed"]
    row = {link: 3 * k for k, link in enumerate(moving)}
    pins = joints(project)
    matrix, right = np.zeros((3 * len(moving), 2 * len(pins) + 1)), np.zeros(3 * len(moving))

    def put(link: str, column: int, at: complex, force: complex) -> None:
        if link in row:
            matrix[row[link] : row[link] + 3, column] += [force.real, force.imag, cross(at, force)]

    for k, (at, first, second) in enumerate(pins):
        for part, way_of in enumerate((1.0 + 0j, 1j)):
            put(second, 2 * k + part, at, way_of)
            put(first, 2 * k + part, at, -way_of)
    put(latch.on, 2 * len(pins), complex(*latch.at), way)
    for link, at, force in loads:
        if link in row:
            right[row[link] : row[link] + 3] -= [force.real, force.imag, cross(at, force)]
    found, left, rank, _ = np.linalg.lstsq(matrix, right, rcond=None)
    assert rank == matrix.shape[1]
    assert not left.size or left.max() < 1e-12
    return found[:-1:2] + 1j * found[1::2], float(found[-1])


def loads_of(project: Project, warmth: float = 20.0) -> list[tuple[str, complex, complex]]:
    """Every force on a link at shut: weights, ends of struts, cushions."""
    found = [(mass.on, complex(*mass.at), -9.80665j * mass.mass) for mass in project.loads.masses]
    for device in project.loads.devices:
        tail, head = complex(*device.from_end.at), complex(*device.to_end.at)
        length = abs(head - tail)
        line = 1.0 + (device.ratio - 1.0) * (device.extended - length) / device.stroke
        push = device.count * device.force * line * (273.15 + warmth) / 293.15 * (head - tail) / length
        found += [(device.to_end.on, head, push), (device.from_end.on, tail, -push)]
    for each in project.loads.cushions:
        way = math.radians(each.way_deg)
        found.append((each.on, complex(*each.at), each.pushes * complex(math.cos(way), math.sin(way))))
    return found


def moved_by_hand(project: Project, slips: np.ndarray) -> dict[str, tuple[complex, float]]:
    """Shift and turn of every link once the second links' holes slip by so much (mm), the latch held along its way."""
    moving = [link.id for link in project.links if link.kind != "fixed"]
    latch = project.loads.latch
    way = complex(math.cos(math.radians(latch.way_deg)), math.sin(math.radians(latch.way_deg)))

    def poses(x: np.ndarray) -> dict[str, tuple[complex, float]]:
        own = {link: (complex(x[3 * k], x[3 * k + 1]), x[3 * k + 2] / 1000.0) for k, link in enumerate(moving)}
        return own | {project.fixed.id: (0j, 0.0)}

    def carried(pose: tuple[complex, float], at: complex) -> complex:
        return pose[0] + complex(math.cos(pose[1]), math.sin(pose[1])) * at

    def residual(x: np.ndarray) -> list[float]:
        now, out = poses(x), []
        for (at, first, second), slip in zip(joints(project), slips, strict=True):
            gap = carried(now[second], at) - carried(now[first], at) - slip
            out += [gap.real, gap.imag]
        striker = complex(*latch.at)
        return [*out, ((carried(now[latch.on], striker) - striker) * way.conjugate()).real]

    found, _, _, said = fsolve(residual, np.zeros(3 * len(moving)), full_output=True, xtol=1e-14)
    assert np.abs(residual(found)).max() < 1e-10, said
    return poses(found)


# ------------------------------------------------------------------------------------------------------------ the rise
def test_the_rear_edge_rises_as_pins_moved_by_hand_say() -> None:
    """Holes slipped against the pins' forces by half the play, the linkage closed again by another solver."""
    told = shut(LATCHED)
    forces, hold = balance(LATCHED, loads_of(LATCHED))
    assert told.latch == pytest.approx(hold, rel=1e-9)
    now = moved_by_hand(LATCHED, -0.5 * PLAY * forces / np.abs(forces))
    assert told.rear is not None
    assert told.rear_way is not None
    assert told.rise is not None
    at, up = complex(*told.rear), complex(*told.rear_way)
    shift, turn = now["hatch"]
    gone = shift + complex(math.cos(turn), math.sin(turn)) * at - at
    assert told.rise == pytest.approx((gone * up.conjugate()).real, rel=1e-4)  # second order: play times influence/size
    assert abs(told.rise) > 0.5 * PLAY  # it is something at all


def test_a_press_at_the_rear_edge_uses_up_all_play_upwards() -> None:
    """Where nothing but a push up at the rear edge acts, every joint adds to the rise, however hard it is."""
    light = Cushion("push", "bump stop", "hatch", (-28.0, 312.0), 5.0, 90.0, force=50.0)
    loads = Loads(handle=Handle("hatch", (1180.0, 255.0)), latch=LATCH, cushions=(light,))
    once = shut(replace(LATCHED, loads=loads))
    twice = shut(replace(LATCHED, loads=replace(loads, cushions=(replace(light, force=100.0),))))
    assert once.rear == (-28.0, 312.0)
    assert once.rear_way is not None
    forces, _ = balance(replace(LATCHED, loads=loads), [("hatch", complex(*once.rear), complex(*once.rear_way))])
    assert once.rise == pytest.approx(twice.rise, rel=1e-12)
    assert once.rise == pytest.approx(0.5 * PLAY * np.abs(forces).sum(), rel=0.2)  # the push leans by 3.5° from square
    assert once.rear_force == pytest.approx(50.0 * once.rear_way[1], rel=1e-12)


def test_the_rise_grows_with_the_play() -> None:
    wide = shut(replace(LATCHED, sureness=Sureness(0.0, 3.0 * PLAY)))
    assert wide.rise == pytest.approx(3.0 * (shut(LATCHED).rise or 0.0), rel=1e-12)
    assert shut(replace(LATCHED, sureness=None)).rise is None


def test_twin_arms_bind() -> None:
    """Three equal cranks, the first of them the panel: the latch is told, the rise isn't."""
    pivots = {f"O{k}": (100.0 * k + 0j, f"ground arm{k}") for k in range(3)}
    pivots |= {f"T{k}": (100.0 * k + 50j, f"arm{k} tray") for k in range(3)}
    skin = Outline("skin", "arm0", ((0.0, 50.0), (400.0, 60.0)))
    project = replace(hinge("ground arm0 arm1 arm2 tray", pivots, wanted_deg=40.0), outlines=(skin,))
    loads = Loads(masses=(Mass("arm0", 5.0, (200.0, 60.0)),), latch=Latch("arm0", (400.0, 60.0)))
    told = shut(replace(project, loads=loads, sureness=Sureness(0.0, 0.2)))
    assert told.latch is not None
    assert told.rise is None
    assert any("binds" in remark for remark in told.remarks)


# ----------------------------------------------------------------------------------------------------------- the latch
def test_hot_struts_need_more_of_the_latch() -> None:
    told = shut(LATCHED)
    _, hot = balance(LATCHED, loads_of(LATCHED, 80.0))
    assert told.hot == 80.0
    assert told.latch_hot == pytest.approx(hot, rel=1e-9)
    assert hot > (told.latch or 0.0)


def test_warmer_than_hot_is_told_as_it_is_and_without_struts_not_at_all() -> None:
    loads = LATCHED.loads
    assert loads is not None
    told = shut(replace(LATCHED, loads=replace(loads, temperature=95.0)))
    assert (told.hot, told.latch_hot) == (95.0, told.latch)
    plain = shut(replace(LATCHED, loads=replace(loads, devices=())))
    assert (plain.hot, plain.latch_hot, plain.rear_hot) == (None, None, None)


def test_the_moment_about_the_striker_presses_the_rear_edge() -> None:
    told = shut(LATCHED)
    assert told.rear is not None
    assert told.rear_way is not None
    lever = complex(*told.rear) - complex(*LATCH.at)
    moment = sum(cross(at - complex(*LATCH.at), force) for link, at, force in loads_of(LATCHED) if link == "hatch")
    assert cross(lever, complex(*told.rear_way)) * (told.rear_force or 0.0) == pytest.approx(moment, rel=1e-9)
    assert abs((lever * complex(*told.rear_way).conjugate()).real) < 1e-9 * abs(lever)
    assert told.rear_way[1] > 0.9


def test_closing_takes_the_most_where_the_seal_is_squeezed_most_and_more_with_friction() -> None:
    loads = LATCHED.loads
    assert loads is not None
    rubbing = replace(LATCHED, loads=replace(loads, pin_friction=PinFriction(5.0, 0.2)))
    told, effort = shut(rubbing), kinematics.analyse(rubbing, 2).loads
    assert effort is not None
    assert told.closing == pytest.approx(-float(effort.effort[0]), rel=1e-9)
    assert told.closing_rubbed is not None
    assert told.closing is not None
    assert told.closing_rubbed > told.closing
    assert shut(LATCHED).closing_rubbed is None
    assert shut(replace(LATCHED, loads=replace(loads, handle=None))).closing is None


@pytest.mark.parametrize(
    ("latch", "said"),
    [
        (Latch("hatch", (1150.0, 240.0), 90.0), "across or into"),
        (Latch("hatch", (1150.0, 240.0), 0.0), "across or into"),
        (Latch("bulkhead", (1150.0, 240.0)), "stands still"),
        (Latch("hatch", (-28.0, 312.0)), "at the rear edge"),
        (Latch("arm", (60.0, 240.0)), "isn't on the panel"),
    ],
)
def test_a_latch_that_cannot_hold_is_told(latch: Latch, said: str) -> None:
    loads = LATCHED.loads
    assert loads is not None
    told = shut(replace(LATCHED, loads=replace(loads, latch=latch)))
    assert any(said in remark for remark in told.remarks)
    for figure in (told.latch, told.closing, told.rear_force, told.rise):
        assert figure is None or math.isfinite(figure)


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_any_project_takes_a_latch(name: str) -> None:
    """Sentences, never an exception, never NaN."""
    project = specimens.ALL[name]
    loads = Loads(latch=Latch(project.panel.id, (500.0, 20.0)))
    analysis = kinematics.analyse(replace(project, loads=loads, sureness=Sureness(0.1, 0.2)), 3)
    told = analysis.loads
    if told is not None and told.shut is not None:
        figures = (told.shut.latch, told.shut.rear_force, told.shut.rise)
        assert all(figure is None or math.isfinite(figure) for figure in figures)


# ----------------------------------------------------------------------------------------------------------- the entry
def test_the_striker_of_a_lid_comes_in_on_a_circle() -> None:
    """At 400 mm 30 mm of chord are 2·asin(15/400) = 4.298191°; the side step is 30²/(2·400) = 1.125 mm."""
    loads = Loads(latch=Latch("lid", (400.0, 0.0)))
    entry = shut(replace(single_pivot, loads=loads)).entry
    assert entry is not None
    assert entry.length == pytest.approx(STRETCH, abs=1e-6)
    assert entry.turn_deg == pytest.approx(4.298191, abs=5e-7)
    assert entry.side_step == pytest.approx(1.125, abs=1e-6)
    assert entry.angle_deg == pytest.approx(0.0, abs=1e-9)
    assert np.hypot(*entry.path.T) == pytest.approx(np.full(len(entry.path), 400.0), rel=1e-12)


def test_a_way_that_leans_shows_as_the_angle() -> None:
    """The chord leans by 2.149096° already: 30·sin(5° ± 2.149096°) = 3.733552 and 1.492114 mm."""
    for way, step in ((265.0, 3.733552), (275.0, 1.492114)):
        entry = shut(replace(single_pivot, loads=Loads(latch=Latch("lid", (400.0, 0.0), way)))).entry
        assert entry is not None
        assert entry.angle_deg == pytest.approx(5.0, abs=1e-9)
        assert entry.side_step == pytest.approx(step, abs=5e-7)


def test_a_panel_that_opens_less_than_the_stretch_shows_what_there_is() -> None:
    barely = replace(single_pivot, travel=replace(single_pivot.travel, wanted_deg=2.0))
    entry = shut(replace(barely, loads=Loads(latch=Latch("lid", (400.0, 0.0))))).entry
    assert entry is not None
    assert entry.length == pytest.approx(800.0 * math.sin(math.radians(1.0)), rel=1e-9)
    assert entry.turn_deg == pytest.approx(2.0)


# ------------------------------------------------------------------------------------------------- what the pins bear
def test_pins_bear_what_seal_and_stops_push() -> None:
    """The hand in the latch's place, along the handle's path: every joint's force as three equations a link say."""
    loads = LATCHED.loads
    assert loads is not None
    assert loads.handle is not None
    grip = replace(LATCHED, loads=replace(loads, latch=Latch("hatch", loads.handle.at), hinges=1))
    entry = shut(grip).entry
    assert entry is not None
    upwards = replace(grip, loads=replace(grip.loads, latch=Latch("hatch", loads.handle.at, entry.path_deg + 180.0)))
    forces, hold = balance(upwards, loads_of(upwards))
    told = kinematics.analyse(upwards, 2).loads
    assert told is not None
    assert told.effort[0] == pytest.approx(hold, rel=1e-9)
    for (_, _, second), pivot, force in zip(joints(upwards), pivots_of(upwards), forces, strict=True):
        assert complex(told.forces[0, told.members.index((pivot, second))]) == pytest.approx(complex(force), rel=1e-9)


def pivots_of(project: Project) -> list[str]:
    return [pivot.id for pivot in project.pivots for _ in pivot.joins[1:]]

"""Frames that ride on a device's line: they stand where the line has them, and what is bounded of them is."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.bodies import straight_band
from kinematics.parts import Attachment, Device
from kinematics.riding import RiddenSweep, riders
from kinematics.stretches import course_of, fine_branch, pairs_of, shorter, whole
from kinematics.sweep import sweep
from tests import specimens
from tests.kinematics.making import plain
from tests.kinematics.test_stretches import check_bound

NAMES = ["demo_six_bar", "single_pivot", "watt_a21", "seed 43", "seed 66", "seed 121"]


def ridden(name: str) -> tuple[RiddenSweep, list[Device]]:
    """A sweep with frames on two lines: from the fixed link to the panel, and from another link to the panel."""
    project = plain(int(name[5:])) if name.startswith("seed") else specimens.ALL[name]
    moved = sweep(project)
    panel = project.panel.id
    other = next((link.id for link in project.links if link.kind == "link"), project.fixed.id)
    size = moved.closure.size
    middle = moved.closure.centre
    far = (middle + size * (2.0 - 1.5j)).real, (middle + size * (2.0 - 1.5j)).imag
    near = (middle + size * (0.3 + 0.4j)).real, (middle + size * (0.3 + 0.4j)).imag
    ends = [(project.fixed.id, far, panel, near), (other, far, panel, near)]
    devices = [
        Device(f"d{k}", "tension spring", 1, Attachment(a, p), Attachment(b, q)) for k, (a, p, b, q) in enumerate(ends)
    ]
    rides = [(device, share) for device in devices for share in (0.0, 0.4, 1.0)]
    frames = riders(rides, moved.closure)
    arcs = moved.fine_arcs(0.0, 4)
    e = np.exp(1j * moved.closure.link_turns(moved.at_arcs(arcs)))
    shortest = np.abs(frames.across.places(e)).min(axis=0)
    return RiddenSweep.of(moved, frames, shortest), devices


@pytest.mark.parametrize("name", NAMES[:3])
def test_a_frame_carries_the_line(name: str) -> None:
    """Every point of the shut line goes to the line between the ends, at its distance from where the frame rides."""
    moved, devices = ridden(name)
    y = moved.at_arcs(moved.fine_arcs(0.0, 2))
    turns, shifts = moved.link_turns(y), moved.shifts(y)
    links = list(moved.closure.links)
    for k, device in enumerate(devices):
        a, b = (
            shifts[:, links.index(end.on)] + np.exp(1j * turns[:, links.index(end.on)]) * complex(*end.at)
            for end in (device.from_end, device.to_end)
        )
        way, shut = (b - a) / np.abs(b - a), complex(*device.to_end.at) - complex(*device.from_end.at)
        for place, share in enumerate((0.0, 0.4, 1.0)):
            column = len(links) + 3 * k + place
            point = complex(*device.from_end.at) + share * shut + 17.0 * shut / abs(shut)
            found = shifts[:, column] + np.exp(1j * turns[:, column]) * point
            assert found == pytest.approx(a + share * (b - a) + 17.0 * way, rel=0, abs=1e-8)


@pytest.mark.parametrize("name", NAMES)
def test_true_paths_of_frames_stay_within_chord_sagitta_and_slack(name: str) -> None:
    moved, devices = ridden(name)
    count, size = len(moved.closure.links), moved.closure.size
    start, end = complex(*devices[0].from_end.at), complex(*devices[0].to_end.at)
    still = straight_band("wall", moved.closure.fixed, start + size, end - 1j * size, 0.0)
    couples = [(still, straight_band("band", count + k, start, end, 1.0)) for k in range(6)]
    couples.append((couples[1][1], couples[4][1]))
    pairs = pairs_of(moved, couples)
    branch, _ = fine_branch(moved, float(pairs.reach.max()), [0.0])
    there = course_of(moved, branch, pairs)
    cuts = whole(there)
    check_bound(there, couples, cuts)
    check_bound(there, couples, shorter(there, cuts, np.arange(0, len(cuts.starts), 3), 3))


def test_rates_are_those_of_the_motion() -> None:
    moved, _ = ridden("demo_six_bar")
    arcs = moved.fine_arcs(0.0, 2)[1:-1]
    i = moved.branch.interval(arcs)
    y, rates = moved.branch.cubic_and_rates(arcs, i)
    h = 1e-6
    ahead, now = moved.moving(y + h * rates, rates), moved.moving(y, rates)
    assert (ahead.shifts - now.shifts) / h == pytest.approx(now.moved, rel=0, abs=0.01)
    assert (np.angle(ahead.e / now.e)) / h == pytest.approx(now.spins, rel=0, abs=1e-4)


@pytest.mark.parametrize("name", NAMES[:4])
def test_bounds_on_a_frames_turn_hold_for_its_derivatives(name: str) -> None:
    """Against differences of the exact turn, h = 4e-3 rad of arc: the fourth one's noise is 1e-13 / h⁴ = 4e-4."""
    moved, _ = ridden(name)
    branch, _ = fine_branch(moved, 2000.0, [0.0])
    steps = np.diff(branch.arcs)
    by_link = np.stack(branch.frames.pick(slice(-1)).derivatives(steps))
    bounds = moved.turn_derivatives(branch, steps, by_link)
    h, wide = 4e-3, np.flatnonzero(steps > 0.018)
    assert len(wide) > 3
    middle = 0.5 * (branch.arcs[:-1] + branch.arcs[1:])[wide]
    turns = [moved.link_turns(branch.at(middle + k * h))[:, len(moved.closure.links) :] for k in (-2, -1, 0, 1, 2)]
    a, b, c, d, e = np.unwrap(np.array(turns), axis=0)
    found = (
        (a - 8.0 * b + 8.0 * d - e) / (12.0 * h),
        (b - 2.0 * c + d) / h**2,
        (e - 2.0 * d + 2.0 * b - a) / (2.0 * h**3),
        (a - 4.0 * b + 6.0 * c - 4.0 * d + e) / h**4,
    )
    for bound, derivative in zip(bounds[:, wide], found, strict=True):
        assert (np.abs(derivative) <= bound * (1.0 + 1e-4) + 2e-3).all()
    assert np.median(bounds[0][wide] / np.maximum(np.abs(found[0]), 1e-9)) < 3.0, "no bound that holds for anything"

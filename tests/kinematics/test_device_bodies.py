"""Struts and springs as bodies: what is watched of them covers them, all along, and comes out as one gap."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics import analyse, edits, loading
from kinematics.errors import ProjectError
from kinematics.parts import Attachment, Device, GapWant, Outline
from kinematics.spanning import coil_of, eye_of, pieces, rod_length, rod_of, tube_end, tube_of
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id
FROM, TO = Attachment(FIXED, (60.0, -120.0)), Attachment(PANEL, (420.0, 240.0))
STRUT = Device("strut", "gas strut", 1, FROM, TO, extended=890.0, stroke=390.0, force=300.0, ratio=1.3)
SPRING = Device("helper", "tension spring", 1, FROM, TO, coil=24.0)


def watched(device: Device, *others: str, outlines: tuple[Outline, ...] = ()) -> Project:
    bare = replace(demo_six_bar, loads=None, gaps=(), outlines=(*demo_six_bar.outlines, *outlines))
    wants = tuple(GapWant((device.id, other), 5.0) for other in others)
    return replace(loading.add_device(bare, device), gaps=wants)


def sampled(analysis: Analysis, device: Device, name: str, count: int = 400) -> tuple[float, list[bool]]:
    """Least distance of the device's own bands from an outline at many exact poses, by GEOS; and where they touch."""
    arcs = np.linspace(0.0, analysis.sweep.reach_arc, count)
    y = analysis.sweep.at_arcs(arcs)
    turns, shifts, links = analysis.sweep.link_turns(y), analysis.sweep.shifts(y), list(analysis.links)

    def carried(on: str, points: list[complex]) -> np.ndarray:
        k = links.index(on)
        return shifts[:, k, None] + np.exp(1j * turns[:, k, None]) * np.array(points)

    a, b = (carried(end.on, [complex(*end.at)])[:, 0] for end in (device.from_end, device.to_end))
    way = (b - a) / np.abs(b - a)
    if device.kind == "gas strut":
        eye = eye_of(device)
        bands = [(a + eye * way, a + tube_end(device) * way, tube_of(device))]
        bands.append((b - rod_length(device) * way, b - eye * way, rod_of(device)))
    else:
        bands = [(a + 20.0 * way, b - 20.0 * way, coil_of(device))]
    outline = analysis.project.outline(name)
    lines = shapely.linestrings(flat(carried(outline.on, [complex(*point) for point in outline.points])))
    gaps = [shapely.distance(lines, shapely.linestrings(flat(np.stack([s, e], axis=1)))) - 0.5 * d for s, e, d in bands]
    least = np.min(gaps, axis=0)
    return float(least.min()), (least <= 0).tolist()


def flat(z: np.ndarray) -> np.ndarray:
    return np.stack([z.real, z.imag], axis=-1)


@pytest.mark.parametrize("device", [STRUT, SPRING], ids=lambda each: each.kind)
@pytest.mark.parametrize("name", ["screen and sill", "hatch skin"])
def test_a_gap_of_a_device_is_that_of_its_bands(device: Device, name: str) -> None:
    """Not above any pose's distance by GEOS, and within 0.01 mm of the least of them or below."""
    analysis = analyse(watched(device, name))
    gap = analysis.gaps[0]
    least, _ = sampled(analysis, device, name)
    assert gap.between == (device.id, name)
    assert gap.smallest is not None
    assert gap.smallest <= least + 1e-6
    assert gap.smallest >= least - 0.02
    assert gap.ok == (gap.smallest >= 5.0)
    lane = np.interp(0.0, *gap.lane)
    assert lane == pytest.approx(gap.shut, rel=0.05, abs=0.1)


@settings(max_examples=8)
@given(st.floats(0.05, 0.95), st.floats(-60.0, 60.0), st.sampled_from([STRUT, SPRING]))
def test_contact_between_poses_is_found(share: float, aside: float, device: Device) -> None:
    """A short thin pin beside the line somewhere: touching ranges hold all sampled contacts, and nothing far away."""
    z = complex(*FROM.at) + share * (complex(*TO.at) - complex(*FROM.at)) + complex(aside, 2.0 * aside)
    pin = Outline("pin", FIXED, ((z.real, z.imag), (z.real + 0.01, z.imag)))
    analysis = analyse(watched(device, "pin", outlines=(pin,)), 3)
    gap = analysis.gaps[0]
    least, touches = sampled(analysis, device, "pin", 300)
    assert gap.smallest is not None
    assert gap.smallest <= max(least, 0.0) + 1e-6
    arcs = np.linspace(0.0, analysis.sweep.reach_arc, 300)
    degs = np.degrees(analysis.sweep.sign * analysis.sweep.at_arcs(arcs)[:, analysis.sweep.panel])
    for deg, touching in zip(degs.tolist(), touches, strict=True):
        within = any(low - 0.01 <= deg <= high + 0.01 for low, high in gap.touching_deg)
        assert within or not touching


def test_a_stretching_spring_is_covered_by_its_pieces() -> None:
    for longest in (101.0, 250.0, 480.0):
        found = pieces(SPRING, 100.0, longest)
        for length in np.linspace(100.0, longest, 7):
            spans = sorted((p.share * length + p.start, p.share * length + p.end) for p in found)
            assert spans[0][0] == pytest.approx(20.0, abs=1e-9)
            assert max(end for _, end in spans) == pytest.approx(length - 20.0, abs=1e-9)
            assert all(start <= end + 1e-9 for (_, end), (start, _) in pairwise(spans))
    assert pieces(SPRING, 0.5, 100.0) == ()


def test_a_torsion_spring_is_a_round_at_its_place() -> None:
    spring = Device("winder", "torsion spring", 1, FROM, TO, moment=100.0, coil=30.0)
    wall = Outline("wall", FIXED, ((60.0, -90.0), (200.0, -90.0)))
    gap = analyse(watched(spring, "wall", outlines=(wall,)), 3).gaps[0]
    assert (gap.smallest, gap.shut) == (pytest.approx(15.0, abs=1e-9), pytest.approx(15.0, abs=1e-9))


def test_ends_in_one_place_have_nothing_to_measure() -> None:
    here = replace(SPRING, to_end=Attachment(PANEL, FROM.at))
    gap = analyse(watched(here, "hatch skin"), 3).gaps[0]
    assert (gap.smallest, gap.ok) == (None, False)


def test_two_devices_are_watched_against_each_other() -> None:
    project = loading.add_device(watched(STRUT), replace(SPRING, from_end=Attachment(FIXED, (160.0, -120.0))))
    gap = analyse(replace(project, gaps=(GapWant(("strut", "helper")),)), 3).gaps[0]
    assert gap.smallest is not None
    assert gap.shut is not None
    assert 0.0 <= gap.smallest <= gap.shut < 100.0


def test_an_outline_of_the_same_name_is_meant() -> None:
    named = Outline("strut", FIXED, ((0.0, 900.0), (10.0, 900.0)))
    gap = analyse(watched(STRUT, "hatch skin", outlines=(named,)), 3).gaps[0]
    assert gap.smallest is not None
    assert gap.shut is not None
    assert gap.shut > 500.0, "the outline's, far above"


def test_wants_follow_a_device_and_go_with_it() -> None:
    project = watched(STRUT, "hatch skin")
    renamed = loading.rename_device(project, "strut", "left strut")
    assert renamed.gaps[0].between == ("left strut", "hatch skin")
    assert loading.remove_device(project, "strut").gaps == ()
    on_arm = loading.ride_spot(project, "device", "strut", "arm", 0)
    assert edits.remove_link(on_arm, "arm").gaps == ()
    with pytest.raises(ProjectError, match="outline or a link"):
        loading.rename_device(project, "strut", "hatch skin")
    with pytest.raises(ProjectError, match="no strut or spring"):
        replace(project, gaps=(GapWant(("nothing", "hatch skin")),))
    with pytest.raises(ProjectError, match="twice"):
        replace(project, gaps=(GapWant(("strut", "strut")),))


def test_the_same_with_an_earlier_analysis() -> None:
    project = watched(STRUT, "hatch skin", "screen and sill")
    near = analyse(project, 3)
    moved = edits.move_pivot(project, "Q", (260.0, 226.0))
    afresh, again = analyse(moved, 3), analyse(moved, 3, near=near)
    for one, other in zip(afresh.gaps, again.gaps, strict=True):
        assert one.smallest == pytest.approx(other.smallest, rel=0, abs=1e-9)

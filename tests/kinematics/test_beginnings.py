"""Where a new weight, handle, strut or spring begins: on what is drawn, and helping; bare projects too."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics import analyse, loading
from kinematics.beginnings import first_device, first_handle, first_mass
from kinematics.parts import DEVICES
from kinematics.project import Loads, Project
from tests.specimens import demo_six_bar, empty, half_drawn


def loaded(project: Project) -> Project:
    bare = replace(project, loads=Loads())
    handle = first_handle(bare)
    return loading.put_handle(loading.add_mass(bare, first_mass(bare)), handle.on, handle.at)


@pytest.mark.parametrize("kind", DEVICES)
def test_a_new_helper_fits_the_whole_travel_and_helps(kind: str) -> None:
    heavy = analyse(loaded(demo_six_bar), 31)
    device = first_device(heavy, kind)
    helped = analyse(loading.add_device(heavy.project, device), 31)
    assert helped.opening == heavy.opening
    assert helped.loads is not None
    assert heavy.loads is not None
    assert np.mean(helped.loads.effort) < np.mean(heavy.loads.effort)
    assert helped.loads.effort[0] == pytest.approx(heavy.loads.effort[0] / 2, rel=0.06)  # its figures have two digits


@pytest.mark.parametrize("project", [empty, half_drawn])
@pytest.mark.parametrize("kind", DEVICES)
def test_what_is_hardly_drawn_gets_them_too(project: Project, kind: str) -> None:
    project = loaded(project)
    device = first_device(analyse(project, 3), kind)
    assert device.from_end.on == project.fixed.id
    assert loading.device_named(loading.add_device(project, device), device.id) is device
    analyse(loading.add_device(project, device), 3)


def test_a_new_weight_lies_in_the_middle_of_the_panel_s_lines() -> None:
    mass = first_mass(demo_six_bar)
    xs = [x for outline in demo_six_bar.outlines if outline.on == demo_six_bar.panel.id for x, _ in outline.points]
    assert mass.on == demo_six_bar.panel.id
    assert min(xs) < mass.at[0] < max(xs)
    assert first_handle(demo_six_bar).at[0] == pytest.approx(max(xs))

"""The examples are what the pages say of them: the reader is shown the truth."""

from __future__ import annotations

from math import hypot

import pytest

from app.help import scenes
from app.help.facts import fact
from app.look import light
from app.shapes import Symbol


def test_the_lid_strikes_the_wall_on_one_pin_and_clears_it_on_two_arms_and_six_bars() -> None:
    assert scenes.analysed("single").gaps[0].touching_deg
    assert scenes.analysed("ahead").gaps[0].ok is False
    for name in ("four", "scissor"):
        analysis = scenes.analysed(name)
        assert all(check.ok for check in analysis.checks), name
        assert analysis.opening.ends == "wanted opening"


def test_the_corner_goes_back_by_the_formula_on_the_page() -> None:
    """√(ahead² + below²) − ahead, recomputed here for the pin at (40, −40) and the corner at the origin."""
    back = -float(scenes.analysed("single").mark_paths[scenes.REAR][:, 0].min())
    assert back == pytest.approx(hypot(40.0, 40.0) - 40.0, abs=0.01)  # the path is looked at every half degree
    assert fact("single.back", "mm") == "16.6 mm"


def test_farther_ahead_the_corner_goes_back_less_and_down_more() -> None:
    paths = [scenes.analysed(name).mark_paths[scenes.REAR] for name in ("single", "ahead")]
    assert paths[1][:, 0].min() > paths[0][:, 0].min()
    assert paths[1][:, 1].min() < paths[0][:, 1].min()


def test_the_arms_stand_parallel_at_the_dead_point() -> None:
    analysis = scenes.analysed("stalling")
    assert analysis.opening.ends == "dead point"
    pose, columns = analysis.pose(analysis.opening.reached_deg), analysis.project.link_index
    ways = []
    for end in (1, 2):
        one, other = (analysis.project.pivot(f"{name}{end}") for name in "OP")
        near, far = (pose.place(columns[pivot.joins[0]], pivot.at) for pivot in (one, other))
        length = hypot(far[0] - near[0], far[1] - near[1])
        ways.append(((far[0] - near[0]) / length, (far[1] - near[1]) / length))
    (a, b), (c, d) = ways
    assert abs(a * d - b * c) < 1e-4  # the sine of the angle between them


def test_parting_the_pins_takes_the_dead_point_away() -> None:
    analysis = scenes.analysed("parted")
    assert analysis.opening.ends == "wanted opening"
    assert analysis.dead_point_deg is None or analysis.dead_point_deg > analysis.opening.wanted_deg
    assert fact("parted.moved", "mm") == "20.0 mm"


def test_the_scissor_hinge_is_what_its_page_says() -> None:
    project = scenes.scissor()
    assert len(project.links) == 6
    assert len(project.pivots) == 7
    assert {pivot.id: set(pivot.joins) for pivot in project.pivots} == {
        "O1": {"body", "arm"}, "O2": {"body", "short link"}, "X": {"arm", "cross link"},
        "B": {"cross link", "short link"}, "Q": {"cross link", "lift link"}, "P1": {"arm", "lid"},
        "P2": {"lift link", "lid"},
    }  # fmt: skip
    assert scenes.analysed("scissor").mobility == 1


def test_the_turning_point_is_where_the_arms_lines_cross() -> None:
    found = scenes.scene("turning-point")
    shapes = scenes.centre_lines(found.analysis, found.deg, light(), "mm")
    ring = next(shape for shape in shapes if isinstance(shape, Symbol))
    (x, y), lines = ring.at[0], [shape for shape in shapes if not isinstance(shape, Symbol)]
    assert len(lines) == 2
    for line in lines:
        (a, b), (c, d) = line.points[0], line.points[-1]
        away = abs((c - a) * (y - b) - (d - b) * (x - a)) / hypot(c - a, d - b)
        assert away < 1e-3
    left, bottom, right, top = found.box
    assert left < x < right
    assert bottom < y < top


@pytest.mark.parametrize("name", scenes.SCENES)
def test_every_scene_can_be_shown(name: str) -> None:
    found = scenes.scene(name)
    assert 0.0 <= found.deg <= found.analysis.opening.reached_deg + 1e-9
    assert found.box[0] < found.box[2]
    assert found.box[1] < found.box[3]


def test_every_project_is_shown_or_told_of() -> None:
    for name in scenes.PROJECTS:
        assert scenes.analysed(name).state in ("moves", "loose"), name

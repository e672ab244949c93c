"""Headroom: the highest place between poses, and the front edge at full opening, against plain trigonometry."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import numpy as np
import pytest

from kinematics import analyse, wanting
from kinematics.headroom import highest
from kinematics.project import FrontEdge, Link, Mark, Outline, Pivot, Project, Room, Travel
from kinematics.sweep import sweep
from tests.specimens import ALL, demo_six_bar, single_pivot


def lid(*points: tuple[float, float], half_width: float = 0.0, opens: str = "anticlockwise") -> Project:
    """A panel on one pin at the origin, opening by 80 degrees."""
    return replace(
        single_pivot,
        outlines=(Outline("skin", "lid", points, half_width=half_width),),
        travel=Travel(opens, 80.0),  # type: ignore[arg-type]
    )


def test_the_peak_of_a_path_lies_between_poses() -> None:
    found = highest(project := lid((300.0, 300.0), (310.0, 0.0)), sweep(project))
    assert found is not None
    assert (found.y, found.deg) == pytest.approx((300.0 * math.sqrt(2.0), 45.0), rel=0, abs=1e-6)
    assert found.place == pytest.approx((0.0, 300.0 * math.sqrt(2.0)), rel=0, abs=1e-4)
    assert found.link == "lid"


def test_the_pen_reaches_higher_than_its_line() -> None:
    found = highest(project := lid((300.0, 300.0), (310.0, 0.0), half_width=7.0), sweep(project))
    assert found is not None
    assert found.y == pytest.approx(300.0 * math.sqrt(2.0) + 7.0, rel=0, abs=1e-6)
    assert found.place[1] == found.y


def test_what_only_rises_is_highest_at_the_end_and_what_sinks_at_shut() -> None:
    up = analyse(wanting.set_floor(lid((400.0, 0.0), (0.0, 1.0)), -50.0)).room
    assert up is not None
    assert up.highest is not None
    assert (up.highest.y, up.highest.deg) == pytest.approx((400.0 * math.sin(math.radians(80.0)), 80.0), abs=1e-9)
    down = highest(project := lid((400.0, 0.0), (100.0, 0.0), opens="clockwise"), sweep(project))
    assert down is not None
    assert (down.y, down.deg) == (0.0, 0.0)


def test_links_count_by_their_pins_and_widths() -> None:
    def arm(width: float) -> Project:
        return replace(
            lid((10.0, 0.0), (20.0, 0.0)),
            links=(Link("body", "fixed"), Link("lid", "panel"), Link("arm", "link", width)),
            pivots=(Pivot("A", (0.0, 0.0), ("body", "lid")), Pivot("B", (500.0, 0.0), ("lid", "arm"))),
        )

    for width in (0.0, 40.0):
        found = highest(project := arm(width), sweep(project))
        assert found is not None
        assert found.y == pytest.approx(500.0 * math.sin(math.radians(80.0)) + width / 2.0, rel=0, abs=1e-9)


def test_nothing_is_highest_where_only_the_body_is_drawn() -> None:
    bare = replace(single_pivot, pivots=(), outlines=single_pivot.outlines[:1])
    assert highest(bare, sweep(bare)) is None
    assert analyse(wanting.set_roof(bare, 500.0)).room is not None


@pytest.mark.parametrize("name", ["demo_six_bar", "four_bar_a1", "with_everything", "twin_arms"])
def test_no_pose_stands_higher(name: str) -> None:
    stands_highest(replace(ALL[name], room=Room(roof=9e4)))


def test_no_pose_of_a_round_panel_stands_higher() -> None:
    """Two hundred vertices take turns at being the highest."""
    round_ = [cmath.rect(150.0, math.radians(1.8 * k)) + 200.0 for k in range(200)]
    stands_highest(replace(lid(*((z.real, z.imag) for z in round_)), room=Room(roof=9e4)))


def stands_highest(project: Project) -> None:
    """Hold the highest place against four thousand poses."""
    analysis = analyse(project, steps=4001)
    assert analysis.room is not None
    top = analysis.room.highest
    assert top is not None
    tallest = -np.inf
    for column, link in enumerate(project.links):
        turns, shifts = analysis.turns[:, column], analysis.shifts[:, column]
        if link.kind == "fixed":
            continue
        drawn = [(outline.points, outline.half_width) for outline in project.outlines if outline.on == link.id]
        pins = [pivot.at for pivot in project.pivots if link.id in pivot.joins]
        for points, radius in [*drawn, (pins, link.width / 2.0)]:
            for x, y in points:
                tallest = max(tallest, float((shifts + np.exp(1j * turns) * complex(x, y)).imag.max()) + radius)
    assert tallest - 1e-9 <= top.y <= tallest + 1e-3  # 4001 poses may miss a peak by r·δ²/8, a few tenths of a µm


def test_a_locked_panel_is_looked_at_shut() -> None:
    found = highest(project := ALL["locked_triangle"], sweep(project))
    pins = [pivot.at[1] for pivot in project.pivots]
    assert found is not None
    assert found.y == max(pins)


# --------------------------------------------------------------------------------------------------------- front edge
def test_the_front_edge_is_the_foremost_point_or_a_mark() -> None:
    floor = wanting.set_floor(single_pivot, -700.0)
    front = analyse(floor).room
    assert front is not None
    assert front.front is not None
    assert (front.front.y, front.front.deg) == pytest.approx((400.0 * math.sin(math.radians(80.0)), 80.0), abs=1e-9)
    marked = replace(floor, marks=(Mark("nose", "lid", (100.0, 0.0)),), room=Room(-700.0, None, FrontEdge("nose")))
    room = analyse(marked).room
    assert room is not None
    assert room.front is not None
    assert room.front.y == pytest.approx(100.0 * math.sin(math.radians(80.0)), abs=1e-9)


def test_without_floor_and_roof_nothing_is_worked_out() -> None:
    assert analyse(demo_six_bar).room is None
    assert analyse(replace(demo_six_bar, room=Room(unknown={"shed": 1}))).room is None
    roofed = analyse(wanting.set_roof(demo_six_bar, 5000.0)).room
    assert roofed is not None
    assert roofed.front is None

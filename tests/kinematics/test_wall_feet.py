"""What is ground off the feet: against the bench's example, and planes that rotation matrices give."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from app.hardware import hardware
from kinematics.mount_cuts import mount_parts
from kinematics.mount_parts import Base, Mount
from kinematics.mounting import BaseMade, base_made
from kinematics.wall_feet import TOUCH, foot_of, lower_by
from kinematics.wall_parts import HandWall, Wall
from kinematics.walling import wall_plane
from tests.kinematics.test_walling import turned
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project

BASE = Base(webs=2, web=6.0, apart=12.2824, plate=6.0, shims=1.0)  # feet 24.2824 mm across: 0.956 in


def built(wall: Wall) -> tuple[Project, BaseMade]:
    project = replace(demo_six_bar, mount=Mount(base=BASE), wall=wall)
    made = base_made(project, BASE, hardware())
    assert made is not None
    return project, made


def test_the_scribe_lines_of_the_bench_s_example() -> None:
    """9.5° over 0.956 in: the sides' heights differ by 0.159980 in (checks.md E12); plate and shims are 7 mm."""
    project, made = built(Wall(left=HandWall(9.5, None, 575.0)))
    foot = foot_of(project, made, "left")
    assert foot is not None
    outer, inner = foot.lines[0], foot.lines[-1]
    assert (outer.across, inner.across) == pytest.approx((12.1412, -12.1412))
    assert (inner.low - outer.low) / 25.4 == pytest.approx(0.159980, abs=5e-7)
    assert outer.low == pytest.approx(TOUCH)  # the wall falls away outboard: least is ground there
    middle = 7.0 / math.cos(math.radians(9.5)) - 7.0  # the plate lies askew to the links' plane
    assert foot.lower == pytest.approx(TOUCH + 12.1412 * math.tan(math.radians(9.5)) - middle)
    assert [line.low for line in foot.lines] == pytest.approx([line.high for line in foot.lines])  # leans as drawn
    assert foot.most == pytest.approx(inner.low)
    assert foot_of(project, made, "right") == replace(foot, hand="right")


@pytest.mark.parametrize(("off", "lean"), [(9.5, 12.0), (-20.0, -8.0), (0.0, 5.0)])
def test_scribed_lines_lie_in_the_plane_of_rotation_matrices(off: float, lean: float) -> None:
    project, made = built(Wall(left=HandWall(off, lean, 575.0)))
    if not made.ground:
        assert off == 0.0  # a lean alone is a matter of the side view
        assert lower_by(project, made) == 0.0
        return
    foot = foot_of(project, made, "left")
    assert foot is not None
    normal = turned(-off, lean)
    face = np.array([made.face.at.real, made.face.at.imag, 575.0])
    for line in foot.lines:
        for (u, _), height in zip(sorted((u, 0) for u in made.foot), (line.high, line.low), strict=True):
            z = made.seat.drawn(complex(u, height - foot.lower))  # the wall's way is down, so the lower u is above
            point = np.array([z.real, z.imag, 575.0 + line.across])
            assert abs(normal @ (point - face)) == pytest.approx(7.0, abs=1e-9)
    assert abs(foot.lines[0].low - foot.lines[0].high) > 1.0


def test_ground_webs_are_cut_lower_and_without_tabs() -> None:
    square, _ = built(Wall())
    project, made = built(Wall(left=HandWall(9.5, None, 575.0)))
    web, plate = mount_parts(project, hardware())[:2]
    old = mount_parts(square, hardware())[0]
    assert (made.tabs, plate.mark) == ((), "base plate")
    assert len(plate.cutouts) == len(made.bolts)  # no slots for tabs
    lowest = {hole.pivot: hole.at.imag for hole in web.holes}
    depth = lowest[web.holes[0].pivot] - web.box()[1]
    before = old.holes[0].at.imag - old.box()[1] - BASE.plate  # less the tabs
    assert depth - before == pytest.approx(lower_by(project, made), abs=0.01)
    stands = [line[0].real for line in plate.bends]
    assert stands[-1] - stands[0] == pytest.approx(24.2824 / math.cos(math.radians(9.5)))


def test_a_shim_is_a_part_and_its_thickness_leaves_the_pins_where_they_are() -> None:
    wall = Wall(left=HandWall(9.5, None, 575.0), right=HandWall(4.0, None, 575.0), trued="shim")
    project, made = built(wall)
    shims = [part for part in mount_parts(project, hardware()) if part.mark == "tapered shim"]
    assert [part.hand for part in shims] == ["left", "right"]
    wide = 0.5 * BASE.width
    middle = 2.0 + wide * math.tan(math.radians(9.5))
    for part, deg in zip(shims, (9.5, 4.0), strict=True):
        assert part.taper is not None
        assert part.taper == pytest.approx((middle - wide * math.tan(math.radians(deg)),
                                            middle + wide * math.tan(math.radians(deg))))  # fmt: skip
        assert part.thickness == part.taper[1]
        assert len(part.cutouts) == len(made.bolts)
    assert made.seat.seen(made.face.at).imag == pytest.approx(-(7.0 + middle))
    alike, _ = built(Wall(left=HandWall(-9.5), trued="shim"))
    one = [part for part in mount_parts(alike, hardware()) if part.taper is not None]
    assert [part.hand for part in one] == [""]
    plane = wall_plane(project, BASE, "left")
    assert plane is not None
    assert plane.bevel_deg == pytest.approx(9.5)

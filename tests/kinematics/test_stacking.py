"""The stack: what must hold of any of them, and layers by hand."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely

from app.hardware import hardware
from kinematics.bearing import Bearing
from kinematics.build_parts import LayerChoice, Plate, Plates, Stack
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.stacking import StackFault, webs_of
from tests.kinematics.stacked import stacked
from tests.specimens import demo_six_bar, half_drawn, parallelogram

if TYPE_CHECKING:
    from kinematics.project import Project

PROJECTS = {
    "demo": demo_six_bar,
    "parallelogram": parallelogram,
    "pairs": replace(parallelogram, plates=Plates(each=(Plate("front", count=2, thickness=3.0),))),
    "plain pins": replace(demo_six_bar, stack=Stack(kind="plain pin", diameter=10.0, bushing="solid bronze")),
    "half drawn": half_drawn,
}


@pytest.mark.parametrize("name", PROJECTS)
def test_no_two_things_on_a_pin_are_in_one_place(name: str) -> None:
    for pin in stacked(PROJECTS[name]).pins:
        solid = sorted(((piece.low, piece.high) for piece in pin.all_pieces if piece.counts), key=lambda each: each)
        assert all(high <= low + 1e-9 for (_, high), (low, _) in itertools.pairwise(solid))
        head, clip = pin.head, pin.clip
        assert (head[0] >= solid[-1][1] - 1e-9) if pin.turned else (head[1] <= solid[0][0] + 1e-9)
        assert (clip[1] <= solid[0][0]) if pin.turned else (clip[0] >= solid[-1][1])
        shank = pin.shank
        assert shank[0] <= solid[0][0] + 1e-9
        assert shank[1] >= solid[-1][1] - 1e-9


@pytest.mark.parametrize("name", PROJECTS)
def test_plates_of_one_layer_lie_in_one_plane_on_all_pins(name: str) -> None:
    made = stacked(PROJECTS[name])
    faces: dict[tuple[str, float], set[float]] = {}
    lows = {low: layer for layer, (low, _) in enumerate(made.heights, 1)}
    for pin in made.pins:
        for piece in pin.pieces:
            if piece.kind == "plate":
                layer = max(low for low in lows if low <= piece.low + 1e-9)
                assert piece.high <= made.heights[lows[layer] - 1][1] + 1e-9
                assert lows[layer] in made.layers[piece.link]
                faces.setdefault((piece.link, layer), set()).add(round(piece.high, 9))
    assert all(len(each) == 1 for each in faces.values())


def test_what_was_found_has_no_fault() -> None:
    assert stacked(demo_six_bar).faults == ()
    assert stacked(demo_six_bar).fewest


def test_layers_by_hand_hold_and_their_faults_are_told() -> None:
    found = stacked(demo_six_bar)
    assert not found.by_hand
    pin = demo_six_bar.pivots[0]
    one, other = pin.joins[:2]
    choices = tuple(LayerChoice(link, (1,)) for link in (one, other))
    by_hand = stacked(replace(demo_six_bar, stack=Stack(layers=choices)))
    assert by_hand.by_hand == (one, other)
    assert by_hand.layers[one] == by_hand.layers[other] == (1,)
    assert {"meet"} <= {fault.what for fault in by_hand.faults}
    assert {one, other} in [{fault.name, fault.other} for fault in by_hand.faults]


def test_layers_for_more_plates_than_there_are_do_not_hold() -> None:
    link = demo_six_bar.pivots[0].joins[1]
    made = stacked(replace(demo_six_bar, stack=Stack(layers=(LayerChoice(link, (1, 3)),))))
    assert made.by_hand == ()
    assert StackFault("plates", link, "2") in made.faults


def test_a_pair_round_another_loads_its_pin_in_double_shear() -> None:
    """Arm of two plates of 3 mm about the frame's of 4 mm, a washer of 1.6 on either side, by hand."""
    made = stacked(PROJECTS["pairs"])
    held = [pin for pin in made.pins if pin.bearing is not None and pin.bearing.shear == "double"]
    assert held
    for pin in held:
        bearing = pin.bearing
        assert isinstance(bearing, Bearing)
        assert bearing.outer_link == "front"
        assert (bearing.inner, bearing.outer) == (4.0, 3.0)
        assert bearing.apart >= 1.6 - 1e-9


def test_base_and_bracket_take_part_with_their_webs() -> None:
    """A base of two webs of 6 mm, and a bracket of 3 mm, as the mount says; the web holds its pins."""
    project = replace(demo_six_bar, mount=Mount(bracket=Bracket(thickness=3.0), base=Base(webs=2, web=6.0)))
    made, webs = stacked(project), webs_of(project, hardware())
    fixed, panel = project.fixed.id, project.panel.id
    assert fixed in webs
    for link, web in webs.items():
        face = shapely.Polygon(web.polyline())
        assert all(face.contains(shapely.Point(pivot.at)) for pivot in project.pivots_on(link))
    assert len(made.layers[fixed]) == 2
    thick = {(piece.link, round(piece.thickness, 6)) for pin in made.pins for piece in pin.pieces if piece.link}
    assert {(fixed, 6.0), (panel, 3.0)} <= thick
    assert made.overlaps.passing.faults(made.layers) == []


def test_nothing_to_stack_is_no_stack() -> None:
    empty: Project = replace(parallelogram, pivots=())
    made = stacked(empty)
    assert (made.count, made.pins, made.thick) == (0, (), 0.0)

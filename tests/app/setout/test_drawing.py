"""The figure of the set-out: its lines end where the figures say, and along is never square."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from app.look import light
from app.setout.drawing import LIES, NO_BASE, SetOutFigure, setout_figure
from app.setout.skin_view import skin_bolts
from app.setout.views import Axis, shortened
from app.shapes import Label, Stroke
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.wall_parts import HandWall, Wall
from tests.kinematics.test_marking_out import mirrored
from tests.specimens import demo_six_bar

SCALE = 0.5


def figure(wall: Wall, units: str = "mm", **base: object) -> SetOutFigure:
    mount = Mount(base=Base(webs=2, **base))  # type: ignore[arg-type]
    return setout_figure(replace(demo_six_bar, mount=mount, wall=wall), None, units)


def strokes(found: SetOutFigure, view: str) -> dict[str, Stroke]:
    seen = found.view(view)
    assert seen is not None
    return {each.key: each for each in seen.shapes(light(), SCALE) if isinstance(each, Stroke)}


def words(found: SetOutFigure, view: str) -> dict[str, str]:
    seen = found.view(view)
    assert seen is not None
    return {each.key: each.text for each in seen.shapes(light(), SCALE) if isinstance(each, Label)}


def test_what_is_left_out_of_the_drawing_is_left_out_once() -> None:
    axis = shortened(500.0, 80.0)
    assert axis == Axis(80.0, 420.0)
    assert [axis.shown(at) for at in (-500.0, 40.0, 200.0, 420.0, 500.0)] == [-160.0, 40.0, 80.0, 80.0, 160.0]
    assert not shortened(170.0, 80.0).breaks


def test_left_is_to_the_right_of_one_who_faces_the_wall_and_mirrored() -> None:
    found = figure(Wall(left=HandWall(9.5, None, 575.0), level=50.0))
    left, right = strokes(found, "wall")["plate left"], strokes(found, "wall")["plate right"]
    assert min(x for x, _ in left.points) > 0.0 > max(x for x, _ in right.points)
    assert sorted(left.points) == sorted((-x, y) for x, y in right.points)
    assert found.sentences[0] == "You face the wall, so the left hinge is on your right."
    plan = words(found, "plan")
    assert plan["along left figure"].endswith("along the wall")
    assert plan["square to left figure"].endswith("square to the centreline")
    # the dimension along the wall is parallel to it, the other one level; both figures are of the whole way
    a, b = strokes(found, "plan")["along left"].points
    assert math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) == pytest.approx(9.5)
    a, b = strokes(found, "plan")["square to left"].points
    assert a[1] == b[1]
    along, square = (float(plan[f"{key} left figure"].split()[0]) for key in ("along", "square to"))
    assert along * math.cos(math.radians(9.5)) == pytest.approx(square, abs=0.1)


@pytest.mark.parametrize("trued", ["foot", "shim"])
def test_every_dimension_ends_at_its_bolt_and_counts_from_the_centreline_as_it_runs(trued: str) -> None:
    """Off square and leaning, the centreline runs aslant up the wall, and what is taped level counts from it there."""
    wall = Wall(left=HandWall(-12.0, 8.0, 420.0), right=HandWall(4.0, 8.0, 430.0), trued=trued, level=-30.0, edge=260.0)  # type: ignore[arg-type]
    found = figure(wall)
    seen, told = strokes(found, "wall"), words(found, "wall")
    for hand in found.hands:
        (x, y), (u, v) = seen[f"centreline {hand.hand}"].points
        slope = (u - x) / (v - y)
        assert abs(slope) == pytest.approx(abs(math.tan(math.radians(hand.plane.skew_deg))), rel=1e-6)
        row = 0
        while f"along {hand.hand} {row}" in seen:
            level, bolt = seen[f"along {hand.hand} {row} up"].points
            assert seen[f"along {hand.hand} {row}"].points[1][0] == level[0]
            assert (bolt[0] - level[0]) / bolt[1] == pytest.approx(slope, abs=0.2)  # nearly: heights are shortened
            square = [spot.square for spot in hand.bolts]
            typed = float(told[f"along {hand.hand} {row} figure"].split()[0])
            assert any(abs(typed - each / math.cos(math.radians(hand.plane.off_deg))) <= 0.05 + 1e-9 for each in square)
            row += 1
        assert row
        height = next(text for key, text in told.items() if key.startswith(f"height {hand.hand} 0 fig"))
        assert any(abs(float(height.removesuffix(" up")) - spot.up) < 0.06 for spot in hand.bolts)
        lines = [seen[f"height {hand.hand} {row}"].points[0][0] for row in range(2)]
        assert abs(lines[1] - lines[0]) * SCALE > 60.0  # px: the words stand between them, off the holes
    assert found.sentences[1] == "The level line is 260.0 below the wall's upper edge, plumb."
    assert "the left base's middle " in found.sentences[2]
    assert "; the right base's middle " in found.sentences[2]
    assert any(said.startswith("Check the marks before you drill. Left") for said in found.sentences)
    assert "edge" in seen


def test_the_table_has_every_place_and_can_be_copied() -> None:
    found = figure(Wall(right=HandWall(9.5, None, 600.0)), units="in")
    assert len(found.rows) == 2 * (1 + len(found.hands[0].bolts))
    assert found.heads[0] == "place (in)"
    middle = found.rows[0]
    assert float(middle[1]) * 25.4 == pytest.approx(
        found.hands[0].middle.square / math.cos(math.radians(9.5)), abs=0.02
    )
    assert found.text().splitlines()[1].split("\t") == list(middle)


def test_the_skin_has_both_brackets_ahead_of_the_rear_edge() -> None:
    bracket = Bracket(at=(90.0, 345.0), skin_deg=-1.4)
    project = replace(demo_six_bar, mount=Mount(bracket=bracket), wall=Wall(left=HandWall(0.0, None, 575.0)))
    found = setout_figure(project, None, "mm", off=6.0)
    assert found.why == NO_BASE
    view = found.view("skin")
    assert view is not None
    seen = {each.key: each for each in view.shapes(light(), SCALE) if isinstance(each, Stroke)}
    left, right = seen["flange left"].points, seen["flange right"].points
    assert max(x for x, _ in right) < 0.0 < min(x for x, _ in left)  # he faces the skin from below, the front up
    for (x, y), (u, v) in zip(sorted(left), sorted((-x, y) for x, y in right), strict=True):
        assert (x, y) == pytest.approx((u, v))
    bolts = skin_bolts(found.skins[0])
    pitch = sorted(bolt.ahead or 0.0 for bolt in bolts)
    assert pitch[-1] - pitch[0] == pytest.approx(50.0)
    rear = min(point[0] for outline in project.outlines if outline.on == project.panel.id for point in outline.points)
    # the foot's middle is where it was typed; the skin lies level within 1.4°
    assert 0.5 * (pitch[0] + pitch[-1]) == pytest.approx(90.0 - rear, abs=1.0)
    # the web's middle is 6 outboard of the base's, its outer side half a sheet more; the flange goes inboard
    assert bolts[0].square == pytest.approx(575.0 + 6.0 + 2.0 - bolts[0].across)
    assert found.text().splitlines()[0].split("\t")[1] == "ahead of the rear edge"
    assert any("Check before you drill" in said for said in found.skin_sentences)


def test_a_hinge_drawn_the_other_way_round_has_the_same_set_out() -> None:
    wall = Wall(left=HandWall(9.5, 6.0, 500.0), right=HandWall(-4.0, 6.0, 480.0), trued="shim")
    project = replace(demo_six_bar, mount=Mount(base=Base(webs=2), bracket=Bracket()), wall=wall)
    one, other = (setout_figure(each, None, "mm", off=3.0) for each in (project, mirrored(project)))
    assert one.rows
    for rows, others in ((one.rows, other.rows), (one.skin_rows, other.skin_rows)):  # but for where counting begins
        assert sorted(row[1:] for row in rows) == sorted(row[1:] for row in others)
    assert one.sentences[0] == other.sentences[0]
    for key in ("wall", "plan", "skin"):
        boxes = [view.box for view in (one.view(key), other.view(key)) if view is not None]
        assert boxes[0] == pytest.approx(boxes[1], abs=1e-6)


def test_what_is_missing_or_cant_be_made_is_said() -> None:
    assert figure(Wall(), edge=4.0).sentences[-1].startswith("✗ The base has faults")
    assert setout_figure(demo_six_bar, None, "mm").why == NO_BASE
    assert figure(Wall(), wall_deg=0.0, at=(60.0, 0.0)).why == LIES
    unknown = figure(Wall(left=HandWall(9.5)))
    if unknown.hands[0].from_middle:
        assert "Nobody said how far" in unknown.sentences[2]


def test_a_view_fits_the_size_that_it_is_given() -> None:
    view = figure(Wall(left=HandWall(9.5, None, 575.0))).view("wall")
    assert view is not None
    camera = view.camera((640.0, 360.0))
    (left, low, right, high) = view.box
    for point in ((left, low), (right, high)):
        x, y = camera.to_px(point)
        assert view.margins[0] - 1e-6 <= x <= 640.0 - view.margins[2] + 1e-6
        assert view.margins[1] - 1e-6 <= y <= 360.0 - view.margins[3] + 1e-6

"""Starts: every kind moves at once and reaches its opening, on any drawing, and sits where a hinge belongs."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from kinematics import analyse
from kinematics.errors import ProjectError
from kinematics.families import family
from kinematics.layouts import LAYOUTS, Layout
from kinematics.project import GapWant, Limit, Link, Outline, Pivot, Project, Travel, Zone
from kinematics.rear_edge import rear_edge
from kinematics.starts import begin, laid_out, start, starts
from kinematics.sweep import sweep
from tests import specimens
from tests.kinematics.test_rear_edge import BOX, BOX_LID, LID, WALL, drawn, moved

KINDS = [each.kind for each in starts()]
SIX_BARS = [each.kind for each in starts() if each.kind not in ("single pivot", "four-bar")]

HATCH = replace(
    specimens.demo_six_bar,
    links=(Link("bulkhead", "fixed"), Link("hatch", "panel")),
    pivots=(),
    limits=(Limit("rear corner", dx_at_least=-4.0),),
    gaps=(GapWant(("screen and sill", "hatch skin"), 10.0),),
    loads=None,
)
DRAWINGS = {
    "hatch": HATCH,
    "hatch, mirrored": moved(HATCH, mirror=True, shift=500 - 100j),
    "hatch, turned": moved(HATCH, turn=0.6 + 0.8j),
    "wall": drawn(WALL, LID),
    "wall, opening to the wrong side": drawn(WALL, LID, "clockwise"),
    "small lid in a box": drawn([(x / 4, y / 4) for x, y in BOX], [(x / 4, y / 4) for x, y in BOX_LID]),
    "lid in a box, clockwise": drawn(BOX, BOX_LID, "clockwise"),
    "shallow box": drawn([(-4, 3), (-4, -40), (304, -40), (304, 3)], BOX_LID),
    "large hatch": drawn([(8 * x, 8 * y) for x, y in WALL], [(8 * x, 8 * y) for x, y in LID]),
    "slab": drawn(WALL, ((0.0, 0.0), (500.0, 0.0), (500.0, -30.0), (0.0, -30.0)), closed=True),
    "upright door": drawn(((-200.0, -5.0), (-200.0, 305.0)), ((0.0, 0.0), (0.0, 300.0)), "clockwise"),
    "only a panel": drawn((), LID),
    "only a body": drawn(WALL, ()),
    "nothing": drawn((), ()),
    "a panel of one spot": drawn(WALL, ((5.0, 5.0), (5.0, 5.0))),
}


@pytest.mark.parametrize("drawing", DRAWINGS)
@pytest.mark.parametrize("kind", KINDS)
def test_it_moves_at_once_and_reaches_its_opening(kind: str, drawing: str) -> None:
    project = start(DRAWINGS[drawing], kind)
    moving = sweep(project)
    assert (moving.freedom.mobility, moving.freedom.state) == (1, "moves")
    assert (moving.freedom.free, moving.freedom.unjoined, moving.freedom.still) == ((), (), ())
    assert math.degrees(moving.reached) == pytest.approx(75.0, abs=1e-9)
    assert family(project) == next(each.family for each in starts() if each.kind == kind)


@pytest.mark.parametrize("kind", KINDS)
def test_an_opening_beyond_its_own_ends_at_a_dead_point_far_on(kind: str) -> None:
    wide = start(replace(HATCH, travel=Travel("anticlockwise", 180.0)), kind)
    assert analyse(wide, steps=2).opening.reached_deg > 140.0


@pytest.mark.parametrize("layout", [each for each in LAYOUTS if each.links], ids=lambda each: each.kind)
def test_layouts_pass_force_on_well_enough(layout: Layout) -> None:
    """12° at the worst (a rule of our own): lifted straight at first, a panel asks for small angles there."""
    analysis = analyse(laid_out(layout, 75.0))
    assert analysis.transmission is not None
    assert analysis.transmission.smallest_deg > 12.0


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "single pivot"])
def test_on_the_hatch_every_linkage_holds_every_want(kind: str) -> None:
    """10 mm from the screen and sill, the rear corner never back by more than 4 mm, pins 30 mm apart, 75°."""
    analysis = analyse(start(HATCH, kind))
    assert [check for check in analysis.checks if not check.ok] == []


def test_on_the_hatch_a_single_pivot_cannot() -> None:
    """The hatch's rear corner reaches back over the sill: wherever the pin, it runs into it."""
    checks = analyse(start(HATCH, "single pivot")).checks
    assert [check.kind for check in checks if not check.ok and check.kind == "gap"] == ["gap"]


def test_on_the_hatch_the_scissor_hinge_is_the_one_that_was_tried() -> None:
    project = start(HATCH, "Watt I")
    assert {pivot.id: pivot.at for pivot in project.pivots} == {
        pivot.id: pivot.at for pivot in specimens.demo_six_bar.pivots
    }
    assert {pivot.id: set(pivot.joins) for pivot in project.pivots} == {
        pivot.id: set(pivot.joins) for pivot in specimens.demo_six_bar.pivots
    }
    assert {link.id: link.width for link in project.links} == {
        link.id: link.width for link in specimens.demo_six_bar.links
    }


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("drawing", ["hatch", "wall", "lid in a box, clockwise", "shallow box", "slab", "large hatch"])
def test_pins_lie_below_the_skin_ahead_of_the_body_and_within_it(drawing: str, kind: str) -> None:
    project = DRAWINGS[drawing]
    edge = rear_edge(project)
    for pivot in start(project, kind).pivots:
        (w,) = edge.seen(np.array([complex(*pivot.at)]))
        assert w.imag < edge.underside(w.real)
        assert edge.face is not None
        assert max(edge.face, 0.0) < w.real < edge.length
        down = shapely.LineString([(w.real, edge.underside(w.real)), (w.real, w.imag)])
        assert not edge.fixed.intersects(down), f"{pivot.id} lies beyond the body's lines"


@pytest.mark.parametrize("kind", KINDS)
def test_mirrored_drawings_get_mirrored_hinges(kind: str) -> None:
    """To the 0.1 mm to which pins are rounded."""
    plain, mirrored = start(HATCH, kind), start(moved(HATCH, mirror=True), kind)
    for one, other in zip(plain.pivots, mirrored.pivots, strict=True):
        assert one.joins == other.joins
        assert other.at == pytest.approx((-one.at[0], one.at[1]), abs=0.1001)


@pytest.mark.parametrize("kind", KINDS)
def test_a_body_on_the_other_side_has_the_first_hinge_open_the_other_way(kind: str) -> None:
    """Only the outlines are mirrored: both projects say anticlockwise, as new ones do."""
    other_side = replace(moved(HATCH, mirror=True), travel=HATCH.travel)
    plain, mirrored = begin(HATCH, kind), begin(other_side, kind)
    assert (plain.travel.opens, mirrored.travel.opens) == ("anticlockwise", "clockwise")
    assert plain == start(HATCH, kind)
    for one, other in zip(plain.pivots, mirrored.pivots, strict=True):
        assert other.at == pytest.approx((-one.at[0], one.at[1]), abs=0.1001)
    assert analyse(mirrored, steps=2).opening.reached_deg == pytest.approx(75.0, abs=1e-9)


def test_what_somebody_said_of_the_way_it_opens_stays() -> None:
    flap = DRAWINGS["wall, opening to the wrong side"]
    assert begin(flap, "four-bar").travel.opens == "clockwise"
    placed = begin(replace(moved(HATCH, mirror=True), travel=HATCH.travel), "four-bar")
    chosen = replace(placed, travel=HATCH.travel)  # turned back by hand, once there are pivots
    assert begin(chosen, "Watt I").travel.opens == "anticlockwise"
    for drawing in ("lid in a box, clockwise", "upright door", "only a panel", "only a body", "nothing"):
        for opens in ("anticlockwise", "clockwise"):
            project = DRAWINGS[drawing]
            project = replace(project, travel=replace(project.travel, opens=opens))
            assert begin(project, "four-bar").travel.opens == opens, drawing


@pytest.mark.parametrize("length", [310.0, 360.0, 470.0, 570.0])
@pytest.mark.parametrize("kind", ["four-bar", "Watt I"])
def test_on_small_lids_the_usual_starts_keep_the_spacing_too(kind: str, length: float) -> None:
    """Between the usual sizes lies the one that just keeps it; rounding to tenths must not undo that."""
    checks = analyse(start(drawn(WALL, ((-10.0, 0.0), (length - 10.0, 0.0))), kind)).checks
    spacings = [check for check in checks if check.kind == "pin spacing"]
    assert len(spacings) >= 2
    assert all(check.ok for check in spacings), [check.have for check in spacings]


@pytest.mark.parametrize("kind", SIX_BARS)
def test_pins_keep_the_spacing_on_panels_of_usual_size(kind: str) -> None:
    checks = analyse(start(drawn(WALL, ((-10.0, 0.0), (700.0, 0.0))), kind)).checks
    spacings = [check for check in checks if check.kind == "pin spacing"]
    assert spacings
    assert all(check.ok for check in spacings)


def test_the_project_keeps_all_else() -> None:
    before = replace(
        specimens.demo_six_bar,
        links=(*specimens.demo_six_bar.links, Link("old stay")),
        outlines=(*specimens.demo_six_bar.outlines, Outline("stay's edge", "old stay", ((0.0, 0.0), (9.0, 9.0)))),
    )
    after = start(before, "four-bar")
    assert [link.kind for link in after.links] == ["fixed", "panel", "link", "link"]
    assert after.outlines == specimens.demo_six_bar.outlines
    assert (after.marks, after.limits, after.gaps, after.loads) == (
        before.marks,
        before.limits,
        before.gaps,
        before.loads,
    )
    assert (after.travel, after.title, after.unknown) == (before.travel, before.title, before.unknown)
    assert before.pivots == specimens.demo_six_bar.pivots


def test_names_that_are_taken_are_numbered_on() -> None:
    taken = Project(
        links=(Link("arm", "fixed"), Link("lift link", "panel")),
        outlines=(Outline("cross link", "arm", WALL), Outline("skin", "lift link", LID)),
        travel=Travel("anticlockwise", 75.0),
    )
    project = start(taken, "Watt I")
    assert [link.id for link in project.links] == [
        "arm",
        "lift link",
        "arm 2",
        "cross link 2",
        "short link",
        "lift link 2",
    ]
    assert analyse(project, steps=2).mobility == 1


def test_an_earlier_start_is_replaced() -> None:
    """One after the other, each as if it were the first."""
    project = HATCH
    for kind in KINDS:
        project = start(project, kind)
        assert project == start(HATCH, kind)


def test_pins_stay_in_the_zones() -> None:
    """Only the space from 100 mm ahead of the sill on is free."""
    free = Zone("fixed", ((60.0, 0.0), (400.0, 0.0), (400.0, -200.0), (60.0, -200.0)))
    project = replace(drawn(WALL, ((-10.0, 0.0), (900.0, 0.0))), zones=(free,))
    for kind in KINDS:
        for pivot in start(project, kind).pivots:
            assert "fixed" not in pivot.joins or pivot.at[0] >= 60.0, (kind, pivot)


def test_an_unknown_kind_is_told() -> None:
    with pytest.raises(ProjectError, match=r'of kind "seven-bar".*Take one of single pivot, four-bar, Watt I,'):
        start(HATCH, "seven-bar")


def test_the_list_reads_from_simple_to_rich() -> None:
    kinds = starts()
    assert [each.kind for each in kinds] == [
        "single pivot", "four-bar", "Watt I", "Watt II", "Stephenson I", "Stephenson II", "Stephenson III",
    ]  # fmt: skip
    assert kinds[2].name == "scissor hinge: six bars"
    assert all(each.use.endswith(".") and len(each.use) < 130 for each in kinds)
    assert len({each.name for each in kinds}) == len(kinds)


@pytest.mark.parametrize("kind", starts(), ids=lambda each: each.kind)
def test_pictures_show_every_pin_within_their_frame(kind: object) -> None:
    picture = kind.picture  # type: ignore[attr-defined]
    width, height = picture.size
    points = [point for stroke in picture.strokes for point in stroke.points] + list(picture.pins)
    assert all(0 <= x <= width and 0 <= y <= height for x, y in points)
    drawn_on = {point for stroke in picture.strokes if stroke.role == "link" for point in stroke.points}
    if drawn_on:
        assert set(picture.pins) == drawn_on
    assert set(picture.fixed_pins) < set(picture.pins) or len(picture.pins) == 1
    assert {stroke.role for stroke in picture.strokes} >= {"fixed", "panel"}


def test_a_pivot_that_was_locked_is_replaced_too() -> None:
    locked = replace(HATCH, pivots=(Pivot("mine", (50.0, 200.0), ("bulkhead", "hatch"), locked=True),))
    assert [pivot.id for pivot in start(locked, "single pivot").pivots] == ["A"]


def test_projects_are_whole_values() -> None:
    assert isinstance(start(specimens.empty, "Watt I"), Project)

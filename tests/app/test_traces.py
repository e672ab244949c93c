"""What the sweep leaves on the sheet, read as strokes: ghosts, paths, and the smallest clearance with its number."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from app.look import light
from app.shapes import Label, Stroke, Symbol
from app.traces import GHOSTS, gap_text, pivot_path, shown_gaps, touching_now, traces
from app.travel import lanes_of
from kinematics import analyse, arranging, edits
from kinematics.project import Outline
from tests import specimens

if TYPE_CHECKING:
    from app.shapes import Shape
    from kinematics.analysis import Analysis

LOOK = light()
PAIR = "gap:screen and sill|hatch skin"


def by_key(analysis: Analysis) -> dict[str, Shape]:
    found = traces(analysis, LOOK)
    assert len({shape.key for shape in found}) == len(found), "each key stands once"
    return {shape.key: shape for shape in found}


def label(drawn: dict[str, Shape]) -> Label:
    found = drawn[f"{PAIR}:label"]
    assert isinstance(found, Label)
    return found


@pytest.fixture(scope="module")
def demo() -> Analysis:
    return analyse(specimens.demo_six_bar)


@pytest.fixture(scope="module")
def short() -> Analysis:
    """P1 ten higher: the gap falls short of the 10 mm wanted, without a contact."""
    return analyse(edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 265.0)))


@pytest.fixture(scope="module")
def touching() -> Analysis:
    """P1 thirty higher: the hatch strikes the bulkhead on its way."""
    return analyse(edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0)))


# -------------------------------------------------------------------------------------------------------- ghosts, paths
def test_ghosts_are_the_panels_own_points_elsewhere(demo: Analysis) -> None:
    ghosts = [shape for key, shape in by_key(demo).items() if key.startswith("ghost:")]
    assert len(ghosts) == GHOSTS
    points = specimens.demo_six_bar.outline("hatch skin").points
    assert all(isinstance(ghost, Stroke) and ghost.points is points and ghost.pen.px == 1.0 for ghost in ghosts)
    turns = [math.degrees(ghost.at.turn_rad) for ghost in ghosts if isinstance(ghost, Stroke) and ghost.at]
    assert turns == pytest.approx(np.linspace(0.0, 75.0, GHOSTS), abs=0.25)  # the nearest of 181 reported poses


def test_the_marks_path_runs_from_its_shut_place_to_its_last(demo: Analysis) -> None:
    path = by_key(demo)["path:rear corner"]
    assert isinstance(path, Stroke)
    assert path.link == "bulkhead"
    assert path.pen.dash
    assert path.points[0] == pytest.approx((-28.0, 312.0), abs=1e-9)
    last = demo.pose(75.0).place(demo.links.index("hatch"), (-28.0, 312.0))
    assert path.points[-1] == pytest.approx(last, abs=1e-9)


def test_a_selected_pins_path(demo: Analysis) -> None:
    (path,) = pivot_path(demo, "P1", LOOK)
    assert isinstance(path, Stroke)
    assert path.points[0] == pytest.approx((25.0, 255.0), abs=1e-9)
    assert pivot_path(demo, "nobody", LOOK) == []


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_leaves_finite_traces(name: str) -> None:
    analysis = analyse(specimens.ALL[name])
    for shape in by_key(analysis).values():
        at = (shape.at,) if isinstance(shape, Label) else shape.at if isinstance(shape, Symbol) else shape.points
        assert np.isfinite(np.array(at, dtype=float)).all()
    if analysis.opening.reached_deg == 0.0:
        assert not [key for key in by_key(analysis) if key.startswith("ghost:")]


# ----------------------------------------------------------------------------------------------------------- clearances
def test_the_shortest_gap_is_drawn_between_its_two_points_with_its_number(demo: Analysis) -> None:
    """Layout C of the demo: 10.57 mm near 3.25°, as the layout's own figures say; 10.6 as it is read."""
    drawn = by_key(demo)
    (gap,) = demo.gaps
    line = drawn[PAIR]
    assert isinstance(line, Stroke)
    assert line.link == "bulkhead"
    assert line.points == gap.at_points
    assert math.dist(*line.points) == pytest.approx(10.57, abs=0.005)
    assert label(drawn).text == f"10.6 mm at {gap.at_deg:.1f}°"
    assert gap.at_deg == pytest.approx(3.25, abs=0.05)
    assert not label(drawn).framed


def test_its_arrows_stand_outside_and_look_at_each_other(demo: Analysis) -> None:
    drawn = by_key(demo)
    one, other = drawn[f"{PAIR}:arrow 1"], drawn[f"{PAIR}:arrow 2"]
    line = drawn[PAIR]
    assert isinstance(one, Symbol)
    assert isinstance(other, Symbol)
    assert isinstance(line, Stroke)
    (a, b) = line.points
    assert (one.at, other.at) == ((a,), (b,))
    # a symbol's arrow looks along +x; turned, the first looks from its point towards the second
    towards = math.cos(math.radians(one.turn_deg)), math.sin(math.radians(one.turn_deg))
    assert towards == pytest.approx(((b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b)), abs=1e-9)
    assert (other.turn_deg - one.turn_deg) % 360 == pytest.approx(180.0)


def test_the_panel_stands_dashed_where_the_gap_is_smallest(demo: Analysis) -> None:
    drawn = by_key(demo)
    witness = drawn[f"{PAIR}:witness:hatch skin"]
    assert isinstance(witness, Stroke)
    assert witness.at is not None
    assert witness.pen.dash
    (gap,) = demo.gaps
    assert math.degrees(witness.at.turn_rad) == pytest.approx(gap.at_deg, abs=1e-6)
    assert f"{PAIR}:witness:screen and sill" not in drawn  # it stands still


def test_a_gap_that_falls_short_is_framed_and_names_its_want(short: Analysis) -> None:
    drawn = by_key(short)
    (gap,) = short.gaps
    assert gap.ok is False
    assert label(drawn).framed
    assert label(drawn).text == f"{gap.smallest:.1f} mm at {gap.at_deg:.1f}°, want 10.0 mm"
    assert label(drawn).ink == LOOK.short


def test_a_contact_is_a_struck_circle_and_words(touching: Analysis) -> None:
    drawn = by_key(touching)
    (gap,) = touching.gaps
    assert gap.smallest == 0.0
    struck = drawn[f"{PAIR}:contact"]
    assert isinstance(struck, Symbol)
    assert struck.glyph == "contact"
    assert gap.at_points is not None
    assert struck.at == (gap.at_points[0],)
    assert PAIR not in drawn
    (first, last) = gap.touching_deg[0]
    assert label(drawn).text == f"touches at {first:.1f}° to {last:.1f}°"
    assert label(drawn).framed


def test_a_contact_before_the_want_begins_is_told_too(touching: Analysis) -> None:
    """The want holds from 40° on, the contact is over by then: the gap is held, and the label says both."""
    project = edits.set_gap(touching.project, ("screen and sill", "hatch skin"), 1.0, after_deg=40.0)
    (gap,) = analyse(project).gaps
    assert gap.ok
    told = gap_text(gap, "mm")
    assert told.endswith(f"; touches at {gap.touching_deg[0][0]:.1f}° to {gap.touching_deg[0][1]:.1f}°")
    assert told.startswith(f"{gap.smallest:.1f} mm at 40°")


def test_touching_now(touching: Analysis, demo: Analysis) -> None:
    (first, last) = touching.gaps[0].touching_deg[0]
    assert touching_now(touching, (first + last) / 2) == [touching.gaps[0]]
    assert touching_now(touching, first) == [touching.gaps[0]]
    assert touching_now(touching, first - 0.01) == []
    assert touching_now(demo, 3.25) == []


def test_where_nobody_asked_the_smallest_gap_is_shown() -> None:
    project = edits.remove_gap(specimens.demo_six_bar, ("screen and sill", "hatch skin"))
    far = Outline("far wall", "bulkhead", ((-400.0, 0.0), (-400.0, 300.0)))
    analysis = analyse(edits.add_outline(project, far))
    assert len(analysis.gaps) == 2
    (shown,) = shown_gaps(analysis)
    assert "screen and sill" in shown.between
    assert gap_text(shown, "mm").startswith("10.6 mm at ")


def test_a_shortfall_that_rounding_would_hide_is_told_on_board_and_strip() -> None:
    """As the check beside them tells it: "10.0 mm, want 10.0 mm" in red would leave one wondering."""
    project = specimens.demo_six_bar
    smallest = analyse(project).gaps[0].smallest
    assert smallest is not None
    analysis = analyse(edits.set_gap(project, project.gaps[0].between, smallest + 0.02))
    (gap,) = analysis.gaps
    have, want = f"{gap.smallest:.3f}".rstrip("0"), f"{smallest + 0.02:.3f}".rstrip("0")
    assert have != want
    assert gap_text(gap, "mm") == f"{have} mm at {gap.at_deg:.1f}°, want {want} mm"
    lane = lanes_of(analysis, "mm")[0]
    assert f"least {have} mm at" in lane.told
    assert lane.least_words == f"{have} mm"


def test_in_inches_the_number_is_in_inches() -> None:
    """10.57 mm is 26.6/64 in, so 27/64 as it is read."""
    analysis = analyse(edits.set_units(specimens.demo_six_bar, "in"))
    assert gap_text(analysis.gaps[0], "in").startswith('27/64" at ')


def test_what_is_hidden_leaves_no_ghosts_and_no_path_but_its_gaps_stay() -> None:
    project = arranging.hide_part(specimens.demo_six_bar, "outline", "hatch skin")
    project = arranging.hide_part(project, "mark", "rear corner")
    drawn = by_key(analyse(project))
    assert not any(key.startswith(("ghost:", "path:")) for key in drawn)
    assert PAIR in drawn

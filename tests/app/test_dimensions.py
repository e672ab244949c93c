"""How measures are drawn: where they read, in the words of their figure."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest

from app.dimensions import dimensions
from app.look import light
from app.shapes import Label, Stroke, Symbol
from kinematics import analyse, edits
from kinematics.measures import Anchor, Measure
from kinematics.measuring import Readings
from kinematics.project import Link
from tests.specimens import demo_six_bar, with_everything

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.results import Pose

A, B, CORNER = Anchor(pivot="O1"), Anchor(pivot="B"), Anchor(link="hatch", at=(1190.0, 262.0))


def drawn(deg: float, *measures: Measure, chosen: tuple[str, ...] = ()) -> tuple[dict[str, Any], Analysis, Pose]:
    project = demo_six_bar
    for measure in measures:
        project = edits.add_measure(project, measure)
    analysis = analyse(project)
    pose = analysis.pose(deg)
    return {s.key: s for s in dimensions(Readings(analysis), pose, light(), "mm", chosen)}, analysis, pose


def test_a_distance_is_a_line_between_its_places_with_its_figure() -> None:
    shapes, analysis, pose = drawn(40.0, Measure("reach", "distance", (A, CORNER)))
    line, ends, label = (shapes[f"measure:reach{part}"] for part in ("", ":end", ":label"))
    assert isinstance(line, Stroke)
    assert isinstance(ends, Symbol)
    assert isinstance(label, Label)
    hatch = analysis.links.index("hatch")
    assert line.points == ((141.0, 257.0), pytest.approx(pose.place(hatch, (1190.0, 262.0))))
    assert ends.at == line.points
    assert label.text == f"{math.dist(*line.points):.1f} mm"
    assert line.link == "bulkhead"


def test_an_arc_stands_between_the_sides_of_an_angle() -> None:
    shapes, _, _ = drawn(0.0, Measure("knee", "angle", (B, A, CORNER)))
    arc, sides = shapes["measure:knee:arc"], shapes["measure:knee"]
    one, corner, other = sides.points
    radii = {round(math.dist(point, corner), 6) for point in arc.points}
    assert len(radii) == 1
    assert radii.pop() < min(math.dist(one, corner), math.dist(other, corner))
    for end, side in ((arc.points[0], one), (arc.points[-1], other)):
        turn = math.atan2(end[1] - corner[1], end[0] - corner[0]) - math.atan2(side[1] - corner[1], side[0] - corner[0])
        assert math.sin(turn) == pytest.approx(0.0, abs=1e-9)
    degrees = float(shapes["measure:knee:label"].text.rstrip("°"))
    step = math.dist(arc.points[0], arc.points[1]) / math.dist(arc.points[0], corner)
    assert math.degrees(2 * math.asin(step / 2)) * (len(arc.points) - 1) == pytest.approx(degrees, abs=0.06)


def test_a_path_is_drawn_and_its_point_stands_on_it() -> None:
    shapes, analysis, pose = drawn(30.0, Measure("way", "path", (B,)))
    assert len(shapes["measure:way"].points) == 181
    assert shapes["measure:way:end"].at[0] == pytest.approx(
        pose.place(analysis.links.index("short link"), (77.0, 94.0))
    )


def test_touching_things_have_a_struck_circle_and_the_word() -> None:
    touching = Measure("m", "clearance", (Anchor(link="arm"), Anchor(link="cross link")))  # they share the pin X
    shapes, _, _ = drawn(0.0, touching)
    assert shapes["measure:m:end"].glyph == "contact"
    assert shapes["measure:m:label"].text == "touch"
    assert "measure:m" not in shapes


def test_what_reads_nothing_is_not_drawn() -> None:
    project = edits.add_link(demo_six_bar, Link("spare"))
    measure = Measure("m", "clearance", (Anchor(link="arm"), Anchor(link="spare")))
    analysis = analyse(edits.add_measure(project, measure))
    assert dimensions(Readings(analysis), analysis.pose(0.0), light(), "mm") == []


def test_a_chosen_one_stands_out() -> None:
    both = Measure("one", "distance", (A, B)), Measure("two", "path", (B,))
    shapes, _, _ = drawn(0.0, *both, chosen=("one",))
    assert shapes["measure:one"].pen.colour == shapes["measure:one:label"].ink == light().selection
    assert shapes["measure:two"].pen.colour == light().ink


def test_every_key_begins_with_its_measure() -> None:
    analysis = analyse(with_everything)
    for shape in dimensions(Readings(analysis), analysis.pose(20.0), light(), "in"):
        assert any(shape.key.startswith(f"measure:{each.id}") for each in with_everything.measures)

"""The report's two forms: the JSON object to the letter, and the text that is pinned on the wall."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from app.report import WIDTH, as_dict, as_text
from kinematics import analyse, zoning
from kinematics.project import FrontEdge, GapWant, Handle, Limit, Loads, Mark, Mass, Outline, Room, ShutWant
from tests import specimens

if TYPE_CHECKING:
    from kinematics.project import Project

EVERY_ONE = pytest.mark.parametrize("project", specimens.ALL.values(), ids=specimens.ALL.keys())


def report(project: Project, steps: int = 5) -> dict[str, Any]:
    """The object as a reader of standard output gets it."""
    text = json.dumps(as_dict(project, analyse(project, steps)), allow_nan=False)
    found: dict[str, Any] = json.loads(text)
    return found


@EVERY_ONE
def test_the_object_has_the_keys_of_the_published_form_in_their_order(project: Project) -> None:
    found = report(project)
    more = [key for key in ("room", "loads", "strength") if getattr(project, key) is not None]
    more += ["sideways"] if project.strength is not None and project.sureness is not None else []
    more += ["as_made"] if any(made.is_said for made in project.made.hands) else []
    assert list(found) == ["title", "mobility", "opening", "poses", "gaps", "checks", "remarks", *more]
    assert list(found["opening"]) == ["wanted_deg", "reached_deg", "largest_deg", "ends"]
    assert found["opening"]["ends"] in {"wanted opening", "dead point", "device stop", "locked", "loose"}
    for pose in found["poses"]:
        assert list(pose) == ["deg", "links", "pivots", "effort", "pins"]
        assert list(pose["links"]) == [link.id for link in project.links]
        assert list(pose["pivots"]) == [pivot.id for pivot in project.pivots]
        assert pose["links"][project.fixed.id] == [0.0, 0.0, 0.0]
    for gap in found["gaps"]:
        keys = ["between", "smallest", "at_deg", "at_points", "shut", "touching_deg", "at_least", "ok"]
        ours = {"uncertain", "low", "likely", "low_deg", "matters", "untold_deg"}
        assert [key for key in gap if key not in ours] == keys
    for check in found["checks"]:
        assert list(check) == ["name", "want", "have", "ok"]
        assert all(isinstance(check[key], str) and check[key] for key in ("name", "want", "have"))


@EVERY_ONE
def test_poses_stand_evenly_from_shut_to_the_opening_reached(project: Project) -> None:
    found = report(project, steps=5)
    reached = found["opening"]["reached_deg"]
    degs = [pose["deg"] for pose in found["poses"]]
    assert degs == pytest.approx([reached * i / 4 for i in range(5)] if reached > 0 else [0.0], abs=1e-9)
    assert list(found["poses"][0]["pivots"].values()) == [pytest.approx(pivot.at, abs=1e-9) for pivot in project.pivots]


@EVERY_ONE
def test_motions_carry_every_pivot_alike_whichever_link_carries_it(project: Project) -> None:
    """[dx, dy, turn_deg] takes a shut point to R(turn)·p + (dx, dy); all links on a pin agree to 1e-9 mm."""
    for pose in report(project)["poses"]:
        for pivot in project.pivots:
            for link in pivot.joins:
                dx, dy, turn = pose["links"][link]
                c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
                x, y = pivot.at
                there = (c * x - s * y + dx, s * x + c * y + dy)
                assert math.dist(there, pose["pivots"][pivot.id]) <= 2e-9


@EVERY_ONE
def test_the_panels_turn_is_the_opening_with_the_sign_of_travel(project: Project) -> None:
    sign = 1.0 if project.travel.opens == "anticlockwise" else -1.0
    for pose in report(project)["poses"]:
        assert sign * pose["links"][project.panel.id][2] == pytest.approx(pose["deg"], abs=1e-9)


@EVERY_ONE
def test_effort_and_pins_are_null_without_loads_or_handle(project: Project) -> None:
    poses = report(replace(project, loads=None))["poses"]
    if project.loads is not None:
        poses += report(replace(project, loads=replace(project.loads, handle=None)))["poses"]
    assert all(pose["effort"] is None and pose["pins"] is None for pose in poses)


def test_effort_and_pins_of_a_lid_by_the_lever() -> None:
    """10 kg at 400, hand at 800, two hinges: 49.03325 N, and each hinge's pin bears half of the rest."""
    loads = Loads(masses=(Mass("lid", 10.0, (400.0, 0.0)),), handle=Handle("lid", (800.0, 0.0)))
    first = report(replace(specimens.single_pivot, loads=loads))["poses"][0]
    assert first["effort"] == pytest.approx(49.03325, rel=1e-12)
    assert first["pins"] == {"A": pytest.approx(24.516625, rel=1e-12)}


def test_turns_are_continuous_and_never_wrapped() -> None:
    """A lid that opens clockwise through half a turn: −180 at the end, not +180 as an arctangent might say."""
    lid = replace(
        specimens.single_pivot, travel=replace(specimens.single_pivot.travel, opens="clockwise", wanted_deg=180.0)
    )
    turns = [pose["links"]["lid"][2] for pose in report(lid, steps=19)["poses"]]
    assert np.diff(turns) == pytest.approx([-10.0] * 18, abs=1e-9)


def test_gaps_stand_in_the_files_order_and_unasked_ones_come_after() -> None:
    lid = replace(
        specimens.single_pivot,
        outlines=(*specimens.single_pivot.outlines, Outline("post", "body", ((-300.0, 0.0), (-300.0, 50.0)))),
        gaps=(GapWant(("lid skin", "post"), 3.0, 10.0),),
    )
    asked, unasked = report(lid)["gaps"]
    assert asked["between"] == ["lid skin", "post"]
    assert (asked["at_least"], asked["ok"]) == (3.0, True)
    assert set(unasked["between"]) == {"wall", "lid skin"}
    assert (unasked["at_least"], unasked["ok"]) == (None, None)
    assert unasked["shut"] == pytest.approx(22.0, abs=1e-9)  # skin at x = −30, wall at x = −52
    assert [check["name"] for check in report(lid)["checks"]].count("lid skin – post") == 1


def test_a_gaps_figures_stand_under_their_own_keys() -> None:
    """Pythagorean corner (check B5): 22 shut, least 2 at atan 4/3, where the corner is level with the pivot.

    Pivot (0,0), rear lower corner (−30,−40) on a radius of 50, wall at x = −52; clockwise it comes to (−50, 0).
    """
    lid = replace(specimens.single_pivot, travel=replace(specimens.single_pivot.travel, opens="clockwise"))
    (gap,) = report(lid)["gaps"]
    assert gap["smallest"] == pytest.approx(2.0, abs=1e-6)
    assert gap["at_deg"] == pytest.approx(53.130102354, abs=0.01)
    assert gap["shut"] == pytest.approx(22.0, abs=1e-9)
    wall, skin = gap["at_points"]
    assert gap["between"] == ["wall", "lid skin"]
    assert (wall, skin) == (pytest.approx([-52.0, 0.0], abs=0.01), pytest.approx([-50.0, 0.0], abs=0.01))
    assert gap["touching_deg"] == []


def test_a_sweep_that_ends_before_the_want_begins_is_null_and_not_ok() -> None:
    lid = replace(specimens.single_pivot, gaps=(GapWant(("wall", "lid skin"), 3.0, 170.0),))
    found = report(lid)
    gap = found["gaps"][0]
    assert (gap["smallest"], gap["at_deg"], gap["at_points"], gap["ok"]) == (None, None, None, False)
    check = next(check for check in found["checks"] if check["name"] == "wall – lid skin")
    assert check == {"name": "wall – lid skin", "want": "3.0 mm from 170° on", "have": "—", "ok": False}


def test_every_limit_and_the_opening_are_checks() -> None:
    lid = replace(
        specimens.single_pivot,
        marks=(Mark("corner", "lid", (-30.0, 0.0)),),
        limits=(Limit("corner", dx_at_least=-1.0, dy_at_most=2.0),),
    )
    found = {(check["name"], check["want"]): check["ok"] for check in report(lid)["checks"]}
    assert found == {
        ("opens to 80°", "80°"): True,
        ("corner, sideways", "at most 1.0 mm back"): True,
        ("corner, height", "at most 2.0 mm up"): True,
    }


def test_room_is_told_in_mm_with_its_heights() -> None:
    lid = replace(specimens.single_pivot, room=Room(-700.0, 380.0, FrontEdge(at_least=1200.0)), display_units="in")
    found = report(lid)
    assert found["room"]["floor"] == -700.0
    assert found["room"]["roof"] == 380.0
    top = 400.0 * math.sin(math.radians(80.0))
    for name in ("highest", "front_edge"):
        assert list(found["room"][name]) == ["y", "at", "at_deg", "link"]
        assert found["room"][name]["y"] == pytest.approx(top, abs=1e-9)
        assert (found["room"][name]["at_deg"], found["room"][name]["link"]) == (80.0, "lid")
    checks = {check["name"]: (check["want"], check["have"], check["ok"]) for check in found["checks"]}
    assert checks["lid under the roof"] == ("nothing through it", '35/64" through it at 80°', False)
    assert checks["front edge over the floor"][0] == 'at least 47 1/4"'
    assert not checks["front edge over the floor"][2]
    bare = report(replace(lid, outlines=(), pivots=(), marks=()))
    assert (bare["room"]["highest"], bare["room"]["front_edge"]) == (None, None)


def test_a_shut_gap_is_a_check_of_its_own() -> None:
    pair = ("wall", "lid skin")
    lid = replace(specimens.single_pivot, gaps=(GapWant(pair, 3.0, shut=ShutWant(3.175, 6.35)),))
    found = report(lid)
    assert found["gaps"][0]["ok"] is True  # by its clearance in travel alone
    assert {"name": "wall – lid skin, shut", "want": "3.2 to 6.3 mm", "have": "22.0 mm", "ok": False} in found["checks"]
    again = report(replace(lid, gaps=(replace(lid.gaps[0], after_deg=79.0, at_least=0.0),)))
    assert again["gaps"][0]["ok"] == report(replace(lid, gaps=(GapWant(pair, 0.0, 79.0),)))["gaps"][0]["ok"]


def test_the_text_tells_room_shut_gaps_and_pinch_places() -> None:
    roomy = replace(specimens.single_pivot, room=Room(-700.0), gaps=(GapWant(("wall", "lid skin"), 3.0),))
    text = as_text(roomy, analyse(roomy))
    assert "Room and shut gaps\n" in text
    assert "The front edge stands 1093.9 mm over the floor, open 80°." in text
    assert "The highest place is 1093.9 mm over the floor: lid at 80°." in text
    assert "Room and shut gaps" not in as_text(specimens.single_pivot, analyse(specimens.single_pivot))
    pinching = " ".join(as_text(specimens.demo_six_bar, analyse(specimens.demo_six_bar)).split())
    assert "a finger fits and is then crushed (below 25.0 mm, EN ISO 13854)" in pinching
    assert "screen and sill – hatch skin closes to 11.1 mm" in pinching


def test_numbers_keep_their_digits() -> None:
    """At least 9 significant digits: what is printed reads back as the very float."""
    project = specimens.four_bar_a1
    analysis = analyse(project, 5)
    pose = report(project)["poses"][3]
    column = analysis.links.index("coupler")
    assert pose["links"]["coupler"][0] == analysis.shifts[3, column].real
    assert pose["links"]["coupler"][2] == math.degrees(analysis.turns[3, column])


# ---------------------------------------------------------------------------------------------------------------- text
@EVERY_ONE
def test_the_text_is_whole_and_fits_the_sheet(project: Project) -> None:
    text = as_text(project, analyse(project))
    assert text.endswith("\n")
    assert max(map(len, text.splitlines())) <= WIDTH + 2
    assert "nan" not in text.lower().split()
    for needed in ("Opening\n", "Checks: ", "Cautions\n", "local codes"):
        assert needed in text


def test_the_text_tells_the_worst_check_first_and_every_pair() -> None:
    six_bar = replace(specimens.demo_six_bar, pin_spacing=60.0)
    text = as_text(six_bar, analyse(six_bar))
    lines = text.splitlines()
    first = lines.index("Checks: 1 of 7 checks falls short") + 2
    assert lines[first] == "✗ pins O1 – X on arm: 46.8 mm apart, wants 60.0 mm"
    assert any(line.startswith("screen and sill – hatch skin   10.6 mm") for line in lines)
    assert any(line.split() == ["O1", "141.00", "257.00", "bulkhead,", "arm"] for line in lines)


def test_the_text_speaks_inches_where_the_project_does() -> None:
    six_bar = replace(specimens.demo_six_bar, display_units="in")
    text = as_text(six_bar, analyse(six_bar))
    assert 'screen and sill – hatch skin: 27/64" at 3.2°, wants 25/64"' in text
    assert "Pivots, shut (inches; x to the right, y up)" in text
    assert " mm" not in text


def test_titles_and_notes_reach_paper_without_control_characters() -> None:
    lid = replace(specimens.single_pivot, title="Lid\x1b[31m\nof the\tbox ", notes="first\x07 line\r\nsecond")
    text = as_text(lid, analyse(lid))
    assert text.startswith("Lid[31m of the box\n==================\n")
    assert "\nfirst line\nsecond\n" in text
    assert as_text(replace(lid, title=""), analyse(lid)).startswith("Hinge without a title\n")


def test_remarks_are_sentences_on_the_sheet() -> None:
    text = as_text(specimens.empty, analyse(specimens.empty))
    after = text.split("Remarks\n-------\n")[1].splitlines()[0]
    assert after[0] == after[0].upper()
    assert after[-1] == "."


def test_a_pin_outside_its_zone_is_a_check_that_falls_short() -> None:
    six_bar = specimens.demo_six_bar
    zoned = zoning.add_zone(six_bar, six_bar.fixed.id, ((0.0, 100.0), (100.0, 100.0), (100.0, 300.0), (0.0, 300.0)))
    (check,) = [check for check in report(zoned)["checks"] if "zone" in check["name"]]
    assert check == {
        "name": "pins of bulkhead in their zone",
        "want": "all inside",
        "have": "O1 41.0 mm outside",
        "ok": False,
    }

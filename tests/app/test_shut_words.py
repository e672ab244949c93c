"""Sentences on the panel shut, as a builder reads them in report and window."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

import jsonschema
import pytest

from app.files.project_json import json_of, project_of
from app.influence_words import influence_sentence
from app.report import as_dict, as_text
from app.shut_words import SECOND_CATCH, shut_cautions, shut_remarks, shut_sentences
from app.words import caution_sentences, change_since, check_sentence
from kinematics import analyse
from kinematics.errors import ProjectError
from kinematics.fittings import Cushion, Latch
from kinematics.influence import influence_on
from kinematics.project import Attachment, Device, Handle, LiftWants, Loads, Mass, PinFriction, Sureness
from resources import find
from tests.specimens import demo_six_bar, locked_triangle, single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project

STRUT = Device(
    "strut",
    "gas strut",
    1,
    Attachment("body", (150.0, -300.0)),
    Attachment("lid", (150.0, 0.0)),
    extended=420.0,
    stroke=200.0,
    force=400.0,
    ratio=1.0,
)
STOP = Cushion("stop", "bump stop", "lid", (380.0, 0.0), 3.0, force=60.0)


def lid(play: float = 0.2, **loads: object) -> Project:
    """10 kg 200 mm out, latch and handle 400 mm out, a strut of 400 N straight up at 150 mm, a stop of 60 N at 380."""
    there = Loads(
        masses=(Mass("lid", 10.0, (200.0, 0.0)),),
        handle=Handle("lid", (400.0, 0.0)),
        devices=(STRUT,),
        latch=Latch("lid", (400.0, 0.0)),
        cushions=(STOP,),
    )
    return replace(single_pivot, loads=replace(there, **loads), sureness=Sureness(0.0, play) if play else None)


def told(project: Project, units: str = "mm") -> list[str]:
    return shut_sentences(analyse(project, 3), units)  # type: ignore[arg-type]


def test_all_of_it_is_said() -> None:
    """Strut 150 + stop 57 − weight 49 N at the latch; hot 400·1.2047·150/400 more; 250 + 3 − 49 N about the striker."""
    said = told(lid())
    assert said[0] == "The latch holds 158 N along its way; with struts at 80 °C 189 N."
    assert said[1] == "The last 1.0 mm take 158 N down at the handle (or that much of a slam), without friction."
    assert said[2].startswith(
        "Latched, its loads press the rear edge up by 190 N, which the hinge has to hold down; at 80"
    )
    assert "play lets the rear edge rise by 0.1 mm above where it is drawn, 0.2 mm from pressed down" in said[3]
    assert said[4].startswith(
        "The striker comes in at 0° to the latch's way; over its last 30.0 mm it goes 1.1 mm beside"
    )


def test_with_inches_all_is_told_in_inches_and_pounds() -> None:
    said = " ".join(told(lid(), "in"))
    assert "35.5 lbf along its way; with struts at 176 °F" in said
    assert " N " not in said
    assert " mm" not in said


def test_friction_makes_it_harder_to_shut() -> None:
    said = told(lid(pin_friction=PinFriction(6.0, 0.2)))[1]
    assert said.startswith("The last 1.0 mm take 158 N down at the handle")
    assert "against friction 159 N" in said


def test_a_panel_that_lies_by_itself_needs_no_latch() -> None:
    said = told(lid(0.0, devices=(), cushions=()))
    assert said[0] == "Shut, the panel lies by itself: 49 N at the striker before it lifts."
    assert said[1] == "Over the last 1.0 mm it falls shut by itself, without friction."
    assert said[2] == "Latched, the rear edge lies on its hinge with 46 N, by the loads on the panel."
    assert said[3] == "How far the rear edge rises asks for the pins' play."


def test_a_heavy_panel_is_held_only_when_its_struts_are_hot() -> None:
    weight = Mass("lid", 34.0, (200.0, 0.0))  # 167 N at the latch
    assert told(lid(masses=(weight,), cushions=()))[0].startswith("The latch holds nothing; with struts at 80 °C")


def test_nothing_is_said_without_a_latch_or_loads() -> None:
    assert told(lid(latch=None)) == []
    assert told(single_pivot) == []
    assert shut_remarks(analyse(single_pivot, 3), "mm") == []
    assert shut_cautions(single_pivot) == []


def test_a_panel_that_doesnt_open_is_told_so() -> None:
    loads = Loads(latch=Latch(locked_triangle.panel.id, (100.0, 0.0)))
    (said,) = told(replace(locked_triangle, loads=loads))
    assert said.startswith("Nothing is told of the shut panel")


def test_a_striker_beside_its_way_is_warned_of_until_a_want_says_how_far() -> None:
    aside = lid(latch=Latch("lid", (400.0, 0.0), 262.0))
    warned = shut_remarks(analyse(aside, 3), "mm")
    assert len(warned) == 1
    assert "common practice, no source" in warned[0]
    assert warned[0] in as_dict(aside, analyse(aside, 3))["remarks"]
    asked = lid(latch=Latch("lid", (400.0, 0.0), 262.0), wants=LiftWants(side_step_at_most=4.0))
    analysis = analyse(asked, 3)
    assert shut_remarks(analysis, "mm") == []
    check = next(check for check in analysis.checks if check.kind == "striker")
    assert check_sentence(check, "mm") == "side step of the striker: 5.3 mm, wants at most 4.0 mm"


def test_wants_are_checks_with_the_hot_figure() -> None:
    wants = LiftWants(latch_at_most=180.0, rear_edge_rise_at_most=0.05)
    analysis = analyse(lid(wants=wants), 3)
    latch, rise = (next(c for c in analysis.checks if (c.kind, c.side) == key) for key in KEYS)
    assert check_sentence(latch, "mm") == "what the latch holds: 189 N, wants at most 180 N"
    assert check_sentence(rise, "mm") == "rise of the rear edge by play: 0.107 mm, wants at most 0.05 mm"
    assert not latch.ok
    assert not rise.ok
    better = analyse(lid(0.08, wants=wants), 3)
    assert change_since(next(c for c in better.checks if c.kind == "rear edge"), rise, "mm") == "+0.1"


KEYS = (("push", "latch"), ("rear edge", ""))


def test_wants_without_a_latch_say_why_there_is_no_figure() -> None:
    wants = LiftWants(latch_at_most=10.0, rear_edge_rise_at_most=1.0, side_step_at_most=3.0)
    checks = analyse(lid(latch=None, wants=wants), 3).checks
    said = [check_sentence(check, "mm") for check in checks if check.have is None]
    assert len(said) == 3
    assert all("it takes a latch" in each for each in said)


def test_a_pin_tells_what_it_does_to_the_rise() -> None:
    analysis = analyse(lid(wants=LiftWants(rear_edge_rise_at_most=0.01)), 3)
    check = next(check for check in analysis.checks if check.kind == "rear edge")
    assert influence_sentence(influence_on(analysis, check, "A"), "mm") is not None


def test_a_latched_panel_that_lies_is_told_of_the_second_catch() -> None:
    assert shut_cautions(lid()) == [SECOND_CATCH]
    assert SECOND_CATCH in caution_sentences(lid(), (), "mm")
    assert "571.113" in as_text(lid(), analyse(lid(), 3)).replace("\n  ", " ")


def test_an_upright_door_is_not() -> None:
    skin = replace(single_pivot.outlines[1], points=((0.0, 0.0), (0.0, 400.0), (-20.0, 400.0)))
    assert shut_cautions(replace(lid(), outlines=(skin,))) == []


def test_the_report_has_every_figure() -> None:
    project = lid(pin_friction=PinFriction(6.0, 0.2))
    shut = as_dict(project, analyse(project, 3))["loads"]["shut"]
    json.dumps(shut, allow_nan=False)
    assert shut["latch"] == pytest.approx(150.0 + 57.0 - 10.0 * 9.80665 / 2.0, rel=1e-12)
    assert shut["hot"] == 80.0
    assert shut["rear"] == [-30.0, 0.0]
    assert shut["entry"]["path"][0] == [400.0, 0.0]
    assert shut["entry"]["length"] == pytest.approx(30.0)
    assert set(shut) == {
        *("latch", "latch_hot", "hot", "closing", "closing_rubbed", "rear", "rear_way"),
        *("rear_force", "rear_hot", "rise", "entry"),
    }


def test_wants_survive_the_file_and_the_schema() -> None:
    project = lid(wants=LiftWants(latch_at_most=180.0, rear_edge_rise_at_most=0.5, side_step_at_most=3.0))
    data = json.loads(json.dumps(json_of(project)))
    assert project_of(data) == project
    jsonschema.validate(data, json.loads(find("project.schema.json").read_text(encoding="utf-8")))
    with pytest.raises(ProjectError):
        LiftWants(side_step_at_most=-1.0)


def test_the_demo_takes_a_latch() -> None:
    loads = replace(demo_six_bar.loads or Loads(), latch=Latch("hatch", (1150.0, 240.0)))
    assert told(replace(demo_six_bar, loads=loads))

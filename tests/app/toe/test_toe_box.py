"""How parallel the hinges must be, in the drawer Build: said with its play, what the wall would do, what is missing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.drawers.toe_box import ToeBox
from app.toe.unit import run, toe_found
from app.toe_words import toe_gist, toe_sentences
from kinematics.mount_parts import Base
from kinematics.toeing import Toe
from kinematics.wall_parts import HandWall, Wall
from kinematics.walling import wedge
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from app.window import Window


def test_the_box_says_how_true_they_must_be(window: Window) -> None:
    project = replace(window.document.project, wall=Wall(left=HandWall(8.0)))
    window.document.apply("Lay out", project)
    window.area.open_drawer("Build")
    box = window.build.box(ToeBox)
    said = box.sentences.text()
    assert "out of parallel, and the pair still opens to 75°" in said
    assert "Untrued, 8° out of parallel, the pair would bind from" in said
    assert box.working.isHidden()
    assert ToeBox.gist(window.document.analysis, window.document).startswith("within 0.")
    window.document.apply("Square", replace(project, wall=None))
    assert "The wall stands square" in box.sentences.text()


def test_each_figure_is_told_as_it_was_found() -> None:
    project = replace(demo_six_bar, wall=Wall(left=HandWall(8.0), right=HandWall(9.5)))
    found = toe_found(project)
    assert found.toe is None
    assert toe_sentences(found, None, "mm") == [found.why]
    assert "how far the hinges are apart" in found.why
    toe = Toe((8.0, 9.5), (0.0, 40.0, 80.0), (0.0, 0.9, 3.0), 43.25, 0.3279)
    told = replace(found, toe=toe, why="", play=0.05, end_float=0.2, reached_deg=80.0)
    said = " ".join(toe_sentences(told, wedge(project, Base(webs=2), "left"), "mm"))
    assert "Each hinge may be 0.32° out of parallel" in said  # rounded to the careful side
    assert "0.13 mm over the 22.0 mm of the feet" in said
    assert "8° left and 9.5° right out of parallel, the pair would bind from 43.2° on" in said
    assert toe_gist(told, "mm") == "within 0.32°"
    calm = replace(told, toe=replace(toe, binds_deg=None, shares=(0.0, 0.4, 0.8)))
    assert "80% of the play" in toe_sentences(calm, None, "mm")[-1]


def test_the_process_sends_it_back_under_its_number() -> None:
    sent = run(demo_six_bar, None, 7)
    assert (sent.unit, sent.found.toe) == (7, None)

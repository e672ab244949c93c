"""The wall in the drawer Build, by mouse and keys: picked by picture, typed as it is known, echoed in words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.mount_box import BaseBox
from app.drawers.wall_box import OWN, WallBox
from app.drawers.wall_cases import CASES
from app.help.where import place_of
from app.wall_words import INCLUDED, TOGETHER
from kinematics.mount_parts import Base, Mount
from kinematics.wall_parts import HandWall, Wall
from tests.app.drawers.test_lift_boxes import type_in
from tests.app.drawers.test_strength_box import pick

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

LEFT = Qt.MouseButton.LeftButton
BASE = Base(webs=2, web=6.0, apart=12.2824)  # 0.956 in across the feet


@pytest.fixture
def box(window: Window) -> WallBox:
    """The box of the demo with a base, unfolded."""
    window.document.apply("Lay out", replace(window.document.project, mount=Mount(base=BASE), wall=None))
    window.area.open_drawer("Build")
    made = window.build.box(WallBox)
    QApplication.processEvents()
    return made


def plain(words: str) -> str:
    return words.replace("\u200b", "")


def test_a_wall_is_picked_by_picture_typed_as_it_is_known_and_echoed(
    box: WallBox, window: Window, qtbot: QtBot
) -> None:
    document = window.document
    assert not box.body.isVisibleTo(window)
    qtbot.mouseClick(box.begin_button, LEFT)
    assert document.project.wall == Wall(left=HandWall())
    assert box.echo.text() == "Square on either side: nothing to true."
    pick(qtbot, box.given, TOGETHER)
    type_in(qtbot, box.off, "19")
    assert document.project.walled.side("right") == HandWall(9.5)
    assert box.echo.text() == "9.5° each side, thick end outboard."
    assert "over 24.282 mm across, the outboard end is 4.063 mm thicker" in plain(box.figures.text())
    assert "80.5° to the belt: 9.5° off square" in plain(box.figures.text())
    assert "Left hinge, looking ahead: its left edge stays thick" in plain(box.figures.text())
    steps = document.undo_label
    pick(qtbot, box.given, INCLUDED)
    assert (box.off.line.text(), document.undo_label) == ("161°", steps)  # the same wall in other words
    type_in(qtbot, box.off, "164")
    assert box.echo.text() == "8° each side, thick end outboard."
    qtbot.mouseClick(box.cases.cards[CASES[1]], LEFT)
    assert document.project.walled.side("left") == HandWall(-8.0)
    assert box.echo.text() == "8° each side, thick end inboard."
    assert "most comes off its left edge" in plain(box.figures.text())
    assert box.picture.view is not None
    assert "out of parallel, opening inboard ahead" in plain(box.without.text())
    assert place_of(box.off.line, "") == "wall"
    qtbot.mouseClick(box.drop_button, LEFT)
    assert document.project.wall is None
    for _ in range(5):
        document.undo()
    assert document.project.wall is None
    assert document.project.mounted.base == BASE


def test_each_side_its_own_a_shim_and_inches(box: WallBox, window: Window, qtbot: QtBot) -> None:
    project = replace(window.document.project, wall=Wall(left=HandWall(9.5)), display_units="in")
    window.document.apply("Wall", project)
    QApplication.processEvents()
    assert 'is 0.16" thicker' in plain(box.figures.text())  # checks.md E12: 0.159980 in
    assert box.headings[1].isVisibleTo(window)
    pick(qtbot, box.sides, OWN)
    assert not box.given.isVisibleTo(window)
    type_in(qtbot, box.own["right"], "4")
    qtbot.mouseClick(box.cases.cards[CASES[2]], LEFT)
    walled = window.document.project.walled
    assert (walled.side("left").off_deg, walled.side("right").off_deg) == (9.5, -4.0)
    assert box.echo.text() == "Left 9.5°, thick end outboard; right 4°, thick end inboard."
    type_in(qtbot, box.leans[1], "12")
    assert window.document.project.walled.side("left").lean_deg == 12.0
    assert "Both together: true bevel 9.296° about the foot's line" in plain(box.figures.text())
    assert "was typed" in plain(box.faults.text())
    assert not box.thin.isVisibleTo(window)
    pick(qtbot, box.trued, "shim")
    assert box.thin.isVisibleTo(window)
    assert "tapered shim" in plain(box.figures.text())
    assert not box.headings[1].isVisibleTo(window)
    base = window.build.box(BaseBox)
    assert sum(line.startswith("tapered shim") for line in base.sheet.lines) == 2


def test_bad_angles_are_sentences_beside_the_field(box: WallBox, window: Window, qtbot: QtBot) -> None:
    window.document.apply("Wall", replace(window.document.project, wall=Wall(left=HandWall(9.5))))
    QApplication.processEvents()
    for text, said in (
        ("46", "46° makes each half 46° off square, and 45° is the most that can be"),
        ("-9", "the picture says which way"),
        ("steep", "can't be read as an angle"),
    ):
        type_in(qtbot, box.off, text)
        assert said in plain(box.off.message)
        assert window.document.project.wall == Wall(left=HandWall(9.5))
    pick(qtbot, box.given, INCLUDED)
    type_in(qtbot, box.off, "19")
    assert "If both halves together are 19° off flat, choose that above." in plain(box.off.message)


def test_a_wall_in_the_way_and_one_that_lies_are_told(box: WallBox, window: Window) -> None:
    document = window.document
    document.apply("Wall", replace(document.project, wall=Wall(left=HandWall(5.0, 20.0))))
    QApplication.processEvents()
    assert "stands in the way of “short link” on the left" in plain(box.faults.text())
    lying = Mount(base=Base(at=(60.0, 0.0), wall_deg=0.0))
    document.apply("Wall", replace(document.project, mount=lying, wall=Wall(left=HandWall(5.0))))
    QApplication.processEvents()
    assert "lies rather than stands" in plain(box.faults.text())
    assert not any(heading.isVisibleTo(window) for heading in box.headings)


def test_a_wall_that_the_file_holds_and_nobody_understands_is_kept_and_told(
    box: WallBox, window: Window, qtbot: QtBot
) -> None:
    notices: list[str] = []
    window.document.noticed.connect(notices.append)
    kept = {"left": {"off_deg": "steep"}}
    window.document.apply("Wall", replace(window.document.project, wall=kept))
    QApplication.processEvents()
    type_in(qtbot, box.off, "8")
    assert "isn't sound, and is kept as it is" in plain(box.off.message)
    qtbot.mouseClick(box.cases.cards[CASES[1]], LEFT)
    qtbot.mouseClick(box.drop_button, LEFT)
    assert [said for said in notices if said] == [notices[0]] * len([said for said in notices if said])
    assert "Correct it in the file" in notices[0]
    assert window.document.project.wall == kept


def test_an_emptied_angle_shows_what_holds(box: WallBox, window: Window, qtbot: QtBot) -> None:
    wall = Wall(left=HandWall(9.5), right=HandWall(4.0))
    window.document.apply("Wall", replace(window.document.project, wall=wall))
    QApplication.processEvents()
    for _ in range(2):  # the second time the value was there already
        type_in(qtbot, box.own["left"], "")
        QApplication.processEvents()
        assert window.document.project.walled.side("left").off_deg == 0.0
        assert (box.own["left"].line.text(), box.own["left"].message) == ("0°", "")
    assert box.own["right"].line.text() == "4°"

"""As made in the drawer Build, by keys and mouse: values typed, what follows, what brings it back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from app.board.made import GROUP
from app.drawers.as_made_box import AsMadeBox
from app.drawers.made_rows import ON_PINS, rows_of
from app.drawers.made_table import MADE
from app.look import light
from app.made_picture import made_shapes
from kinematics import analyse
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.plating import sheet_of
from kinematics.wall_parts import Wall
from tests.app.sharing import demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

THICK = sheet_of(demo(), "arm")[0]
MOUNT = Mount(Bracket(at=(90.0, 345.0), skin_deg=-1.4), Base())
BEGUN = replace(demo(), wall=None)
"""The demo with its level line at 0."""
LEFT = Qt.MouseButton.LeftButton
RETURN = Qt.Key.Key_Return


def type_made(qtbot: QtBot, box: AsMadeBox, row: int, words: str) -> None:
    """Type a measured value into a row, as at the keyboard."""
    box.table.setFocus()
    box.table.setCurrentCell(row, 0)
    qtbot.keyClicks(box.table, words[0])
    editor = box.table.findChildren(QLineEdit)[-1]  # those before it go a little later
    qtbot.keyClicks(editor, words[1:])
    qtbot.keyClick(editor, RETURN)
    QApplication.processEvents()  # it is taken over in the next turn


def plain(words: str) -> str:
    return words.replace("\u200b", "")


def test_what_is_typed_is_told_beside_what_is_drawn_and_can_be_taken_back(window: Window, qtbot: QtBot) -> None:
    window.document.apply("Begin", BEGUN)
    window.area.open_drawer("Build")
    box, document = window.build.box(AsMadeBox), window.document
    assert not box.find_button.isEnabled()
    assert [row.name for row in box.table.rows][:3] == ["O1–O2", "O1 over level", "O1 off wall"]
    type_made(qtbot, box, 1, "259")
    assert document.project.made.of("left").found_at == (FoundAt("bulkhead", "O1", y=259.0),)
    assert box.table.item(1, 3).text() == "+2"  # type: ignore[union-attr]
    assert box.table.currentRow() == 2  # Enter goes on
    assert "✗ screen and sill – hatch skin: only 9.5 mm" in plain(box.figures.text())
    assert "rear corner" in plain(box.apart.text())
    assert box.checks.pairs
    assert all(check.ok for check in document.analysis.checks)  # the drawing stays as it is
    for wrong, said in (("abc", "can't be read"), ("0", "distance is 0"), ("-3", "must be greater than 0")):
        type_made(qtbot, box, 0, wrong)
        assert said in box.table.message.text()
        assert document.project.made.of("left").distances == ()
        assert box.table.item(0, MADE).text() == wrong  # type: ignore[union-attr]
    qtbot.mouseClick(box.copy_button, LEFT)
    assert document.project.made.of("right").found_at == document.project.made.of("left").found_at
    assert plain(box.apart.text()) == "Left and right hold the panel at one place."
    qtbot.mouseClick(box.forget_button, LEFT)
    assert box.table.item(0, MADE).text() == ""  # type: ignore[union-attr]
    assert not document.project.made.of("left").is_said
    for _ in range(3):
        document.undo()
    assert document.project == BEGUN


def test_a_click_on_the_cell_that_has_the_keys_loses_nothing_that_is_typed_then(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Build")
    box, interval = window.build.box(AsMadeBox), QApplication.doubleClickInterval()
    box.table.setCurrentCell(0, MADE)
    QApplication.setDoubleClickInterval(10)
    qtbot.mouseClick(box.table.viewport(), LEFT, pos=box.table.visualItemRect(box.table.item(0, MADE)).center())
    qtbot.keyClicks(box.table, "1")
    qtbot.wait(30)
    QApplication.setDoubleClickInterval(interval)
    editor = box.table.findChildren(QLineEdit)[-1]
    assert editor.text() == "1"
    qtbot.keyClick(editor, Qt.Key.Key_Escape)


def test_adjusters_are_found_used_and_then_nothing_needs_to_be_done(window: Window, qtbot: QtBot) -> None:
    made = AsMade((HandMade("left", (), (FoundAt("bulkhead", "O1", y=259.0),), (MadeSheet("arm", THICK + 0.3),)),))
    window.document.apply("Lay out", replace(BEGUN, mount=MOUNT, as_made=made))
    window.area.open_drawer("Build")
    box = window.build.box(AsMadeBox)
    qtbot.waitUntil(lambda: "Pin X: end float" in plain(box.pins.text()), timeout=20_000)  # by a process beside
    box.shown.click()
    assert window.board.scene.has(GROUP)
    qtbot.mouseClick(box.find_button, LEFT)
    assert box.find_button.text() == "Stop"
    while not box.by_adjusters.text():
        box._look_on()
    qtbot.mouseClick(box.find_button, LEFT)  # the search for a hole takes longer, and has tests of its own
    assert plain(box.by_adjusters.text()).startswith("This brings")
    assert "Shims, upper bolts: 0.7" in plain(box.by_adjusters.text())
    qtbot.mouseClick(box.use_button, LEFT)
    assert [each.adjuster for each in window.document.project.made.of("left").turned] == ["top_off_wall"]
    assert plain(box.by_adjusters.text()).startswith("Gaps and travel that hold as drawn")
    assert box.by_hole.text() == ""
    assert not box.find_button.isEnabled()


def test_rows_are_told_from_where_a_builder_measures() -> None:
    project = replace(BEGUN, wall=Wall(level=100.0))
    fixed, panel = ({row.name: row for row in rows_of(project, "left", link)} for link in ("bulkhead", "hatch"))
    assert fixed["O1 over level"].drawn == 157.0
    assert fixed["O1 over level"].take(project, 158.0).made.of("left").found_at[0].y == 258.0
    assert "O1 x" not in fixed
    rear = panel["P1 from rear"]
    assert rear.drawn == 25.0 + 28.0  # the rear corner stands at −28
    assert rear.take(project, 54.0).made.of("left").found_at[0].x == 26.0
    assert [row.name for row in rows_of(project, "left", "arm")] == ["O1–X", "O1–P1", "X–P1", "Thickness"]
    assert len(rows_of(project, "left", ON_PINS)) == 2 * len(project.pivots)


def test_both_hinges_are_drawn_with_their_gaps_where_the_project_says_so() -> None:
    made = AsMade((HandMade("left", (), (FoundAt("bulkhead", "O1", y=259.0),)), HandMade("right", (
        MadeDistance("lift link", ("Q", "P2"), 156.0),
    ))), shown=True)  # fmt: skip
    project = replace(BEGUN, as_made=made)
    analysis = analyse(project, steps=2)
    found = {shape.key: shape for shape in made_shapes(analysis, 0.0, light(), "mm")}
    gaps = [found[f"as built {hand}:screen and sill|hatch skin:label"].text for hand in ("left", "right")]  # type: ignore[union-attr]
    assert gaps[0] == "left as built: 9.5 mm at 0°"
    assert gaps[1].startswith("right as built: 10.2 mm")
    skin = found["as built left:beside:outline:hatch skin"]
    drawn = project.outline("hatch skin").points
    assert max(abs(a[1] - b[1]) for a, b in zip(skin.points, drawn, strict=True)) > 0.5  # type: ignore[union-attr]
    assert made_shapes(analyse(replace(project, as_made=replace(made, shown=False)), steps=2), 0.0, light(), "mm") == []


def test_a_value_that_is_refused_stays_to_be_mended_with_its_sentence(window: Window, qtbot: QtBot) -> None:
    """Unread or impossible: nothing changes, the cursor stays, the next row's value leaves it; Esc or a good one ends
    it.
    """
    window.document.apply("Begin", BEGUN)
    window.area.open_drawer("Build")
    box, document = window.build.box(AsMadeBox), window.document
    table, steps = box.table, document.undo_label
    for words, said in (("25q", "25q"), ("-5", "O1–O2")):
        type_made(qtbot, box, 0, words)
        assert (document.undo_label, table.currentRow()) == (steps, 0)
        assert [table.item(0, column).text() for column in (MADE, 3)] == [words, "✗"]  # type: ignore[union-attr]
        assert said in table.message.text()
        assert table.message.isVisibleTo(window)
        assert window.area.notice.sentence == ""
    type_made(qtbot, box, 1, "259")
    assert table.item(0, MADE).text() == "-5"  # type: ignore[union-attr]
    assert table.currentRow() == 2
    type_made(qtbot, box, 0, "500")
    assert table.message.isHidden()
    assert table.item(0, MADE).text() == "500"  # type: ignore[union-attr]
    type_made(qtbot, box, 0, "long")
    table.setCurrentCell(0, MADE)
    qtbot.keyClick(table, Qt.Key.Key_Escape)
    assert (table.item(0, MADE).text(), table.message.isHidden()) == ("500", True)  # type: ignore[union-attr]

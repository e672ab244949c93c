"""Exact entry by real keys: what is typed is in the project as one step, or is told and changes nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, cast

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QCheckBox, QLabel, QLineEdit, QPushButton, QToolButton

from app.document import Document, Selection
from app.entry.outline import OutlineForm
from app.entry.parts import LinkForm, MarkForm, PivotForm
from app.entry.points import between_next
from app.entry.wants import WantsForm
from app.words import check_name
from kinematics import edits
from kinematics.project import Limit, Outline

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.entry.panel import EntryPanel
    from app.fields import Field
    from kinematics.project import Point, Project


def type_in(qtbot: QtBot, line: QLineEdit, text: str, end: Qt.Key = Qt.Key.Key_Return) -> None:
    """Replace what stands in a line and press Enter."""
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, end)


def line_of(panel: EntryPanel, name: str) -> QLineEdit:
    """Find a line of the form by its accessible name."""
    assert panel.form is not None
    return next(line for line in panel.form.findChildren(QLineEdit) if line.accessibleName() == name)


def press(qtbot: QtBot, panel: EntryPanel, words: str) -> None:
    """Press a button of the form by its words."""
    assert panel.form is not None
    button = next(button for button in panel.form.findChildren(QPushButton) if button.text() == words)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def field_with(line: QLineEdit) -> Field[Any]:
    """The field that a line belongs to."""
    return cast("Field[Any]", line.parentWidget())


# --------------------------------------------------------------------------------------------------------------- pivot
@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("130", 130.0), ("12,5", 12.5), ("3 1/16 in", 77.7875), ('1/2"', 12.7), ("25.4/2", 12.7), ("120+3/4", 120.75),
        ("-20", -20.0),
    ],
)  # fmt: skip
def test_a_coordinate_is_typed_as_people_type(
    panel: EntryPanel, document: Document, qtbot: QtBot, typed: str, mm: float
) -> None:
    document.select(Selection("pivot", "X"))
    type_in(qtbot, line_of(panel, "x of pivot X"), typed)
    assert document.project.pivot("X").at == (pytest.approx(mm, abs=1e-9), 213.0)  # inches are exact to rounding
    document.undo()
    assert document.project.pivot("X").at == (125.0, 213.0)
    assert not document.can_undo


def test_a_wrong_entry_is_told_beside_the_field_and_changes_nothing(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    document.select(Selection("pivot", "X"))
    line = line_of(panel, "y of pivot X")
    before = document.project
    type_in(qtbot, line, "twelve")
    field = field_with(line)
    assert document.project is before
    assert field.message.startswith("✗ ")
    assert "twelve" in field.message
    assert "Still 213 mm." in field.message
    assert line.text() == "twelve"  # to be mended
    qtbot.keyClick(line, Qt.Key.Key_Escape)
    assert line.text() == "213 mm"
    assert field.message == ""


def test_a_wrong_entry_can_be_mended_where_it_stands(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    line = line_of(panel, "y of pivot X")
    type_in(qtbot, line, "21o")
    type_in(qtbot, line, "210")
    assert document.project.pivot("X").at == (125.0, 210.0)
    assert field_with(line).message == ""
    assert line.text() == "210 mm"


def test_leaving_a_field_takes_it_over(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    type_in(qtbot, line_of(panel, "x of pivot X"), "126", Qt.Key.Key_Tab)
    assert document.project.pivot("X").at == (126.0, 213.0)


def test_enter_without_a_change_is_no_step(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    qtbot.keyClick(line_of(panel, "x of pivot X"), Qt.Key.Key_Return)
    assert not document.can_undo


def test_fields_follow_a_drag(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    form = panel.form
    document.begin("Move pivot X")
    document.preview(edits.move_pivot(document.project, "X", (126.25, 213.0)))
    with qtbot.waitSignal(document.followed):
        document.flush()
    assert panel.form is form  # the same form: nothing is made anew in a frame
    assert line_of(panel, "x of pivot X").text() == "126.25 mm"
    document.cancel()
    assert line_of(panel, "x of pivot X").text() == "125 mm"


def test_a_pivot_is_rejoined_locked_and_renamed(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    assert isinstance(panel.form, PivotForm)
    boxes = {box.text(): box for box in panel.form.findChildren(QCheckBox)}
    qtbot.mouseClick(boxes["hatch"], Qt.MouseButton.LeftButton, pos=QPoint(8, boxes["hatch"].height() // 2))
    assert document.project.pivot("X").joins == ("arm", "cross link", "hatch")
    qtbot.mouseClick(boxes["locked"], Qt.MouseButton.LeftButton, pos=QPoint(8, boxes["locked"].height() // 2))
    assert document.project.pivot("X").locked
    type_in(qtbot, line_of(panel, "Name of pivot X"), "crossing")
    assert document.project.pivot("crossing").locked
    assert document.selection == Selection("pivot", "crossing")
    assert isinstance(panel.form, PivotForm)


def test_a_pivot_that_would_join_one_link_only_is_told(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    said: list[str] = []
    document.noticed.connect(said.append)
    document.select(Selection("pivot", "X"))
    assert panel.form is not None
    box = next(box for box in panel.form.findChildren(QCheckBox) if box.text() == "arm")
    qtbot.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))
    assert document.project.pivot("X").joins == ("arm", "cross link")
    assert len(said) == 1
    assert box.isChecked()


def test_a_name_that_is_taken_is_told_beside_the_field(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    line = line_of(panel, "Name of pivot X")
    type_in(qtbot, line, "Q")
    assert "twice" in field_with(line).message
    assert document.project.pivot("X")


def test_removing_what_is_selected_turns_to_the_wants(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    press(qtbot, panel, "Remove pivot")
    assert all(pivot.id != "X" for pivot in document.project.pivots)
    assert isinstance(panel.form, WantsForm)


# ---------------------------------------------------------------------------------------------------------------- link
def test_a_links_width_and_kind(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("link", "arm"))
    assert isinstance(panel.form, LinkForm)
    type_in(qtbot, panel.form.width_field.line, "1 1/4 in")
    assert document.project.link("arm").width == pytest.approx(31.75, abs=1e-12)
    box = panel.form.kind
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Down)  # from "a link between" to "the panel that opens"
    assert document.project.panel.id == "arm"
    assert document.project.link("hatch").kind == "link"
    document.undo()
    assert document.project.panel.id == "hatch"


# ------------------------------------------------------------------------------------------------------------- outline
def test_an_outlines_points_are_typed_in_its_table(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("outline", "hatch skin"))
    assert isinstance(panel.form, OutlineForm)
    table = panel.form.table
    index = panel.form.points.index(1, 0)
    table.setCurrentIndex(index)
    assert document.selection == Selection("outline", "hatch skin", 1)
    table.edit(index)
    editor = table.findChild(QLineEdit)
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    qtbot.keyClicks(editor, "-28+1/2")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: document.project.outline("hatch skin").points[1] == (-27.5, 312.0))
    assert document.undo_label == "Move point 2 of hatch skin"


def test_a_wrong_point_is_told_and_stays(panel: EntryPanel, document: Document) -> None:
    document.select(Selection("outline", "hatch skin"))
    form = panel.form
    assert isinstance(form, OutlineForm)
    before = document.project
    assert not form.points.setData(form.points.index(0, 1), "high")
    assert document.project is before
    assert "high" in form.said.text()


def test_points_are_inserted_and_deleted(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("outline", "hatch skin", 2))
    before = document.project.outline("hatch skin").points
    press(qtbot, panel, "Insert point")
    after = document.project.outline("hatch skin").points
    assert len(after) == len(before) + 1
    assert after[3] == ((before[2][0] + before[3][0]) / 2, (before[2][1] + before[3][1]) / 2)
    assert document.selection == Selection("outline", "hatch skin", 3)
    press(qtbot, panel, "Delete point")
    assert document.project.outline("hatch skin").points == before


def test_a_point_after_the_last_goes_on_in_the_same_direction() -> None:
    line = Outline("line", "body", ((0.0, 0.0), (10.0, 2.0)))
    assert between_next(line, 1) == (20.0, 4.0)
    assert between_next(replace(line, points=((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)), closed=True), 2) == (5.0, 5.0)


def test_an_outline_changes_link_thickness_station_and_is_closed(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    document.select(Selection("outline", "hatch skin"))
    form = panel.form
    assert isinstance(form, OutlineForm)
    type_in(qtbot, form.half_width.line, "0.6")
    type_in(qtbot, line_of(panel, "Set station of hatch skin"), "centreline")
    qtbot.mouseClick(form.closed, Qt.MouseButton.LeftButton, pos=QPoint(8, form.closed.height() // 2))
    outline = document.project.outline("hatch skin")
    assert (outline.half_width, outline.station, outline.closed) == (0.6, "centreline", True)
    type_in(qtbot, line_of(panel, "Name of outline hatch skin"), "skin")
    assert document.project.outline("skin").closed
    assert "skin" in document.project.gaps[0].between


# ---------------------------------------------------------------------------------------------------------------- mark
def test_a_marks_place_and_limits(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("mark", "rear corner"))
    assert isinstance(panel.form, MarkForm)
    type_in(qtbot, line_of(panel, "x of mark rear corner"), "-30")
    assert document.project.mark("rear corner").at == (-30.0, 312.0)
    assert line_of(panel, "back, at most, mark rear corner").text() == "4 mm"  # as the file says: dx_at_least −4
    type_in(qtbot, line_of(panel, "down, at most, mark rear corner"), "2")
    limit = next(limit for limit in document.project.limits if limit.mark == "rear corner")
    assert limit.dy_at_least == -2.0
    assert limit.dx_at_least == -4.0
    type_in(qtbot, line_of(panel, "ahead, at most, mark rear corner"), "-5")  # it must go 5 back
    assert document.project.limits[0].dx_at_most == -5.0
    for way in ("ahead", "down", "back"):
        type_in(qtbot, line_of(panel, f"{way}, at most, mark rear corner"), " ")
    assert document.project.limits == ()


def test_back_is_on_the_side_of_the_hinge(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    """Mirrored, the same hatch opens clockwise and back is to the right; without a panel drawn, left and right do."""
    document.new(mirrored(document.project))
    document.select(Selection("mark", "rear corner"))
    type_in(qtbot, line_of(panel, "back, at most, mark rear corner"), "3")
    assert document.project.limits == (Limit("rear corner", dx_at_most=3.0),)
    assert any("Back is to the right" in label.text() for label in panel.findChildren(QLabel))
    document.apply("Bare", replace(document.project, outlines=(), gaps=()))
    assert line_of(panel, "to the right, at most, mark rear corner").text() == "3 mm"


def mirrored(project: Project) -> Project:
    """The project seen from the other side, without limits and zones."""

    def flip(point: Point) -> Point:
        return -point[0], point[1]

    return replace(
        project,
        pivots=tuple(replace(each, at=flip(each.at)) for each in project.pivots),
        outlines=tuple(replace(each, points=tuple(map(flip, each.points))) for each in project.outlines),
        marks=tuple(replace(each, at=flip(each.at)) for each in project.marks),
        travel=replace(project.travel, opens="clockwise"),
        limits=(),
        zones=(),
        loads=None,
    )


def test_a_mark_with_two_limits_shows_both(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    project = replace(
        document.project, limits=(*document.project.limits, Limit("rear corner", dy_at_most=900.0, after_deg=5.0))
    )
    document.apply("Second limit", project)
    document.select(Selection("mark", "rear corner"))
    assert panel.form is not None
    lines = [
        line for line in panel.form.findChildren(QLineEdit) if line.accessibleName() == "up, at most, mark rear corner"
    ]
    assert [line.text() for line in lines] == ["", "900 mm"]
    type_in(qtbot, lines[1], "950")
    assert [limit.dy_at_most for limit in document.project.limits] == [None, 950.0]


# --------------------------------------------------------------------------------------------------------------- wants
def test_the_wanted_opening_and_direction(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    assert isinstance(panel.form, WantsForm)
    type_in(qtbot, panel.form.opening.line, "80")
    assert document.project.travel.wanted_deg == 80.0
    type_in(qtbot, panel.form.opening.line, "200")
    assert document.project.travel.wanted_deg == 80.0
    assert "180" in panel.form.opening.message
    type_in(qtbot, panel.form.spacing.line, "35")
    assert document.project.pin_spacing == 35.0


def test_a_least_transmission_angle_is_wanted_and_no_more(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    assert isinstance(panel.form, WantsForm)
    line = panel.form.transmission.line
    assert (line.text(), line.placeholderText()) == ("", "no want")
    type_in(qtbot, line, "30")
    assert document.project.transmission_at_least == 30.0
    assert any(check.kind == "transmission" for check in document.analysis.checks)
    type_in(qtbot, line, "95")
    assert document.project.transmission_at_least == 30.0
    assert "90" in panel.form.transmission.message
    type_in(qtbot, line, " ")
    assert document.project.transmission_at_least is None


def test_a_want_is_changed_taken_out_and_set_again(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    name = "screen and sill – hatch skin"
    type_in(qtbot, line_of(panel, f"Least gap, {name}"), "12")
    type_in(qtbot, line_of(panel, f"From opening, {name}"), "2.5")
    assert (document.project.gaps[0].at_least, document.project.gaps[0].after_deg) == (12.0, 2.5)
    assert panel.form is not None
    drop = next(button for button in panel.form.findChildren(QToolButton) if button.text() == "×")
    qtbot.mouseClick(drop, Qt.MouseButton.LeftButton)
    assert document.project.gaps == ()
    line = line_of(panel, f"Least gap, {name}")  # still watched, as a pair of panel and fixed link
    assert line.text() == ""
    type_in(qtbot, line, "9")
    assert document.project.gaps[0].at_least == 9.0


def test_any_pair_can_be_watched(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    form = panel.form
    assert isinstance(form, WantsForm)
    form.first.choose("screen and sill")
    form.second.choose("arm")
    press(qtbot, panel, "Watch")
    assert document.project.gaps[-1].between == ("screen and sill", "arm")
    said: list[str] = []
    document.noticed.connect(said.append)
    assert isinstance(panel.form, WantsForm)
    panel.form.first.choose("arm")
    panel.form.second.choose("arm")
    press(qtbot, panel, "Watch")
    assert len(document.project.gaps) == 2
    assert len(said) == 1


def test_inches_are_shown_and_read_when_they_are_the_units(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.apply("Show inches", edits.set_units(document.project, "in"))
    assert isinstance(panel.form, WantsForm)
    assert panel.form.spacing.line.text() == '1.1811"'
    type_in(qtbot, panel.form.spacing.line, "1 1/4")
    assert document.project.pin_spacing == pytest.approx(31.75, abs=1e-12)


def test_typing_is_not_disturbed_by_a_change_elsewhere(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    line = line_of(panel, "x of pivot X")
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, "13")
    document.apply("Move pivot Q", edits.move_pivot(document.project, "Q", (258.0, 228.0)))
    assert line.text() == "13"


def test_a_pins_form_tells_what_it_does_to_the_worst_check(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("pivot", "X"))
    assert isinstance(panel.form, PivotForm)
    form = panel.form
    worst = check_name(document.analysis.checks[0])
    qtbot.waitUntil(lambda: form.matters.text().startswith(f"Worst check, {worst}: "))
    document.apply("Want", edits.set_pin_spacing(document.project, 60.0))
    qtbot.waitUntil(lambda: form.matters.text().startswith("Worst check, pins O1 – X on arm: "))

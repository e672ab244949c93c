"""The checks: rows with sentences, worst first, changes since the drag began, and where a click leads."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QContextMenuEvent, QGuiApplication
from PySide6.QtWidgets import QApplication, QMenu

from app.checks import ChecksPanel, held_together, keyed
from app.document import Document, Selection
from app.look import dark, light
from app.words import check_sentence
from kinematics import edits
from kinematics.project import Outline, Pivot
from tests import specimens
from tests.app.sharing import demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(demo())


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> ChecksPanel:
    panel = ChecksPanel(document, light())
    qtbot.addWidget(panel)
    panel.resize(330, 620)
    with qtbot.waitExposed(panel):
        panel.show()
    return panel


def pair(document: Document) -> tuple[str, str]:
    return document.analysis.gaps[0].between


def sign_is(panel: ChecksPanel, colour: str) -> bool:
    """Whether the first row's sign is painted in this colour; strokes are thin, so their edges blend with the paper."""
    image, wanted = panel.rows[0].grab().toImage(), QColor(colour)
    found = [image.pixelColor(x, y) for x in range(4, 28) for y in range(4, 22)]
    return any(
        max(abs(c.red() - wanted.red()), abs(c.green() - wanted.green()), abs(c.blue() - wanted.blue())) <= 12
        for c in found
    )


def test_every_check_is_a_row_with_its_sentence_worst_first(panel: ChecksPanel, document: Document) -> None:
    checks = document.analysis.checks
    assert [row.sentence for row in panel.rows] == [check_sentence(check, "mm") for check in checks]
    margins = [check.margin for check in checks if check.kind == "gap"]
    assert margins == sorted(margins)
    assert panel.summary.text() == f"All {len(checks)} checks hold."


def test_a_broken_check_comes_first_with_a_sign_and_words(panel: ChecksPanel, document: Document) -> None:
    document.apply("Want gap", edits.set_gap(document.project, pair(document), 14.0))
    first = panel.rows[0]
    assert first.check is not None
    assert not first.check.ok
    assert first.sentence == "screen and sill – hatch skin: only 10.6 mm at 3.2°, wants 14.0 mm"
    assert first.accessibleName().endswith("(falls short)")
    assert panel.summary.text() == f"1 of {len(panel.rows)} checks falls short."


def test_signs_are_painted_in_their_colour(panel: ChecksPanel, document: Document) -> None:
    assert sign_is(panel, light().ok)
    document.apply("Want gap", edits.set_gap(document.project, pair(document), 14.0))
    assert sign_is(panel, light().fault)


def test_the_change_since_the_drag_began_stands_beside_each_figure(
    panel: ChecksPanel, document: Document, qtbot: QtBot
) -> None:
    at = document.project.pivot("P1").at
    gap_before = document.analysis.gaps[0].smallest
    assert gap_before is not None
    document.begin("Move pivot P1")
    document.preview(edits.move_pivot(document.project, "P1", (at[0] - 1.0, at[1])))
    with qtbot.waitSignal(document.followed):
        document.flush()
    gap_now = document.analysis.gaps[0].smallest
    assert gap_now is not None
    row = next(row for row in panel.rows if row.check is not None and row.check.kind == "gap")
    assert row.change == f"{gap_now - gap_before:+.1f}"
    assert row.change not in ("+0.0", "-0.0")
    assert "since the drag began" in row.accessibleName()
    document.commit()
    assert all(row.change == "" for row in panel.rows)


def test_rows_keep_their_order_during_a_drag_and_are_sorted_after_it(
    panel: ChecksPanel, document: Document, qtbot: QtBot
) -> None:
    document.apply("Want gap", edits.set_gap(document.project, (document.project.outlines[0].id, "arm"), 1.0))
    order = [row.check.subject for row in panel.rows if row.check]
    at = document.project.pivot("O1").at
    document.begin("Move pivot O1")
    document.preview(edits.move_pivot(document.project, "O1", (at[0] + 8.0, at[1] - 3.0)))
    with qtbot.waitSignal(document.followed):
        document.flush()
    assert [row.check.subject for row in panel.rows if row.check] == order
    document.commit()
    worst_first = [check.subject for check in document.analysis.checks]
    assert [row.check.subject for row in panel.rows if row.check] == worst_first


def test_a_click_goes_to_the_pose_and_the_place(window: Window, qtbot: QtBot) -> None:
    document = window.document
    row = next(row for row in window.checks.rows if row.check is not None and row.check.kind == "gap")
    assert row.check is not None
    with qtbot.waitSignal(window.checks.asked):
        qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert document.pose.deg == pytest.approx(row.check.deg, abs=1e-9)
    assert window.board._flash.isActive()  # the place is marked for a moment


def test_a_limit_leads_to_its_mark(panel: ChecksPanel, document: Document, qtbot: QtBot) -> None:
    row = next(row for row in panel.rows if row.check is not None and row.check.kind == "limit")
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Space)
    assert row.check is not None
    assert document.selection == Selection("mark", row.check.subject[0])


def test_rows_come_and_go_with_the_checks(panel: ChecksPanel, document: Document) -> None:
    count = len(panel.rows)
    document.apply("Drop wants", replace(document.project, gaps=(), limits=()))
    assert len(panel.rows) == len(document.analysis.checks) < count
    document.undo()
    assert len(panel.rows) == count


def test_a_half_drawn_project_tells_what_is_missing(qtbot: QtBot) -> None:
    panel = ChecksPanel(Document(), light())
    qtbot.addWidget(panel)
    remarks = panel.remarks.text()
    assert remarks.startswith("• ")
    assert "nan" not in remarks.lower()


def test_two_wants_that_are_alike_are_two_checks(document: Document) -> None:
    twice = replace(document.project, gaps=document.project.gaps * 2)
    document.apply("Double", twice)
    checks = document.analysis.checks
    assert len(keyed(checks)) == len(checks)


def test_a_long_sentence_makes_its_row_higher(panel: ChecksPanel) -> None:
    row = panel.rows[0]
    assert row.heightForWidth(170) > row.heightForWidth(600)


def test_the_dark_sheet_is_taken_over(panel: ChecksPanel) -> None:
    panel.set_look(dark())
    assert sign_is(panel, dark().ok)


def test_panel_and_body_that_touch_unasked_are_told_beside_checks_that_hold(qtbot: QtBot) -> None:
    """A pin ahead of the rear edge and below it drives it into the wall; with no want there is no check of it."""
    wall = Outline("WALL", "body", ((-10.0, -200.0), (-10.0, 200.0)))
    lid = Outline("LID", "panel", ((0.0, 0.0), (300.0, 0.0)))
    pin = Pivot("A", (40.0, -40.0), ("body", "panel"))
    project = replace(Document().project, outlines=(wall, lid), pivots=(pin,))
    panel = ChecksPanel(Document(project), light())
    qtbot.addWidget(panel)
    assert panel.summary.text().startswith("The one check holds. Nobody asked, but WALL – LID touch at ")
    asked = ChecksPanel(Document(edits.set_gap(project, ("WALL", "LID"), 3.0)), light())
    qtbot.addWidget(asked)
    assert asked.summary.text() == "1 of 2 checks falls short."


def test_a_panel_that_slides_is_not_said_to_be_at_a_dead_point(qtbot: QtBot) -> None:
    panel = ChecksPanel(Document(specimens.parallelogram), light())
    qtbot.addWidget(panel)
    words = panel._motion.text()
    assert words == "The panel slides at shut without turning (mobility 1); doesn't open to the 75° wanted."


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("only 10.6 mm at 3.2°, wants 12.0 mm", "only 10.6~mm at~3.2°, wants~12.0~mm"),
        ('1 27/32" apart, wants 1 3/16"', '1~27/32" apart, wants~1~3/16"'),
        ("goes 3.3 mm to the left at 8.4°, wants at most 4.0 mm to the left",
         "goes 3.3~mm to the left at~8.4°, wants at most 4.0~mm to the left"),
    ],
)  # fmt: skip
def test_lines_break_between_thoughts_not_inside_figures(text: str, held: str) -> None:
    assert held_together(text) == held.replace("~", "\u00a0")


@pytest.mark.parametrize(
    ("change", "ok", "role"),
    [
        ("+1.3", True, "ok"),
        ("+1.3", False, "ok"),
        ("−1.3", True, "ink"),
        ("−1.3", False, "fault"),
        ("±0", True, "faint"),
    ],
)
def test_better_and_worse_are_told_apart_by_colour_too(
    panel: ChecksPanel, document: Document, change: str, ok: bool, role: str
) -> None:
    row = panel.rows[0]
    row.check, row.change = replace(document.analysis.checks[0], ok=ok), change
    image = row.grab(QRect(row.width() - 58, 0, 58, row.height())).toImage()
    wanted = QColor(getattr(light(), role))
    nearest = min(
        abs(c.red() - wanted.red()) + abs(c.green() - wanted.green()) + abs(c.blue() - wanted.blue())
        for c in (image.pixelColor(x, y) for x in range(image.width()) for y in range(image.height() - 1))
    )
    assert nearest <= 30


def test_the_menu_of_a_check_goes_there_changes_the_want_and_copies(window: Window, qtbot: QtBot) -> None:
    row = next(row for row in window.checks.rows if row.check is not None and row.check.kind == "limit")
    menu = window.checks.menu_of(row)
    actions = {action.text().split("\t")[0]: action for action in menu.actions()}
    actions["Change what is wanted"].trigger()
    assert window.document.selection == Selection("mark", "rear corner")
    actions["Copy this sentence"].trigger()
    assert QGuiApplication.clipboard().text() == row.sentence
    actions["Copy all checks"].trigger()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0] == f"✓ {window.checks.rows[0].sentence}"
    assert len(lines) == len(window.checks.rows)
    assert row.check is not None
    actions["Go there"].trigger()
    assert window.document.pose.deg == pytest.approx(row.check.deg)


def test_the_menu_opens_by_the_right_button_and_by_the_menu_key(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[QMenu] = []
    monkeypatch.setattr(QMenu, "popup", lambda menu, _: opened.append(menu))  # offscreen, a menu can't take the keys
    row = window.checks.rows[0]
    for reason in (QContextMenuEvent.Reason.Mouse, QContextMenuEvent.Reason.Keyboard):
        row.setFocus()
        at = row.rect().center()
        QApplication.sendEvent(row, QContextMenuEvent(reason, at, row.mapToGlobal(at)))
    assert [menu.actions()[0].text() for menu in opened] == ["Go there\tSpace"] * 2

"""The window: files, unsaved work, drops, drawers, look, units; by mouse and keys, looking at the project."""

from __future__ import annotations

import json
from itertools import cycle
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox

from app.document import Document, Selection
from app.entry.wants import WantsForm
from app.files import load
from app.filing import file_stem
from app.settings import Settings
from app.window import Window
from kinematics import edits
from resources import find
from tests import specimens

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Button = QMessageBox.StandardButton


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> list[Button]:
    """What the box about unsaved work is answered with, one after the other; an unexpected box is an IndexError."""
    given: list[Button] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda _: given.pop(0))
    return given


def nudge(window: Window, by: float = 1.0) -> None:
    """Change the project by one step."""
    project = window.document.project
    at = project.pivots[0].at
    window.document.apply("Move pivot", edits.move_pivot(project, project.pivots[0].id, (at[0] + by, at[1])))


def answer_dialog(monkeypatch: pytest.MonkeyPatch, kind: str, path: Path | str) -> None:
    monkeypatch.setattr(QFileDialog, f"get{kind}FileName", staticmethod(lambda *_: (str(path), "")))


# -------------------------------------------------------------------------------------------------------- what it shows
def test_the_demo_opens_unmodified_with_title_checks_and_lanes(window: Window) -> None:
    assert not window.isWindowModified()
    assert window.windowTitle().endswith("[*] – Hingewright")
    assert window.document.project.title in window.windowTitle()
    assert len(window.checks.rows) == len(window.document.analysis.checks) > 0
    assert window.strip.lanes


def test_the_title_tells_of_unsaved_work(window: Window) -> None:
    nudge(window)
    assert window.isWindowModified()
    window.document.undo()
    assert not window.isWindowModified()


def test_dragging_a_pivot_is_one_step_that_undo_names(window: Window, qtbot: QtBot) -> None:
    view, document = window.board.view, window.document
    before = document.project.pivot("Q").at
    start = view.to_px(before).toPoint()
    target = start + QPoint(12, -6)
    qtbot.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=start)
    for share in (0.25, 0.5, 0.75, 1.0):
        qtbot.mouseMove(view.viewport(), start + QPoint(round(12 * share), round(-6 * share)))
        QApplication.processEvents()
    qtbot.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=target)
    after = document.project.pivot("Q").at
    aimed = view.to_mm(QPointF(target))
    assert after != before
    assert after == pytest.approx(aimed, abs=1.5 / view.camera.scale)
    assert window.menus.undo.text() == "&Undo: Move pivot Q"
    window.menus.undo.trigger()
    assert document.project.pivot("Q").at == before
    assert not document.can_undo
    assert window.menus.redo.isEnabled()


# ---------------------------------------------------------------------------------------------------------------- files
def test_a_demo_opens_as_a_hinge_of_ones_own_however_it_is_opened(window: Window) -> None:
    """The program's own folder is never written, be it chosen in the menu, in the dialog or on the command line."""
    path = find("demos/potting bench.hinge")
    for opened in (window.open_path, window.take_file, window.open_demo):
        assert opened(path)
        assert window.document.path is None
        assert window.document.project.title
    window.document.open(path)
    window.offers.keeper.flush()
    assert not (path.parent / ".hingewright").exists()


def test_dialogs_begin_in_the_folder_used_last(window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[str] = []

    def asked(_parent: object, _title: str, where: str, _kinds: str) -> tuple[str, str]:
        begun.append(where)
        return str(tmp_path / "jobs" / "mine.hinge"), ""

    (tmp_path / "jobs").mkdir()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(asked))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", staticmethod(asked))
    assert window.save_as()
    window.ask_open()
    window.document.new()
    window.save_as()
    assert begun[0].startswith(str(Path.home()))
    assert begun[1] == str(tmp_path / "jobs")
    assert begun[2] == str(tmp_path / "jobs" / "Untitled hinge.hinge")


def test_outlines_that_are_opened_like_a_project_are_brought_in(
    window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "points.csv").write_text("0;0\n100;0\n100;50\n")
    taken: list[Path] = []
    monkeypatch.setattr(window.trace, "bring_in", lambda path: bool(taken.append(path)))
    answer_dialog(monkeypatch, "Open", tmp_path / "points.csv")
    window.ask_open()
    assert taken == [tmp_path / "points.csv"]
    assert window.area.open_name == "Trace"
    assert not window.area.notice.sentence


def test_save_as_then_open_gives_the_same_project(
    window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    nudge(window)
    answer_dialog(monkeypatch, "Save", tmp_path / "mine")
    assert window.save()
    assert window.document.path == tmp_path / "mine.hinge"
    assert not window.isWindowModified()
    assert window.windowTitle() == "mine.hinge[*] – Hingewright"
    saved = window.document.project
    window.document.new()
    answer_dialog(monkeypatch, "Open", tmp_path / "mine.hinge")
    window.ask_open()
    assert window.document.project == saved
    assert Settings().recent() == [tmp_path / "mine.hinge"]


def test_a_file_that_cannot_be_read_is_told_and_the_work_stays(window: Window, tmp_path: Path) -> None:
    bad = tmp_path / "bad.hinge"
    bad.write_bytes(b"\x00\xff\x17 binary noise")
    before = window.document.project
    assert not window.open_path(bad)
    assert window.document.project is before
    assert "bad.hinge" in window.area.notice.sentence
    assert window.area.notice.isVisible()
    assert Settings().recent() == []


def test_a_failed_save_is_told_and_the_work_stays_unsaved(window: Window, read_only: Path) -> None:
    nudge(window)
    kept = window.document.project
    assert not window._save_to(read_only / "mine.hinge")
    assert window.document.project is kept
    assert window.isWindowModified()
    assert window.area.notice.sentence


def test_the_notice_can_be_dismissed_by_mouse(window: Window, qtbot: QtBot) -> None:
    window.document.noticed.emit("Something to tell.")
    notice = window.area.notice
    assert notice.sentence == "Something to tell."
    qtbot.mouseClick(notice._button, Qt.MouseButton.LeftButton)
    assert notice.sentence == ""


def test_a_demo_opens_without_a_file_so_that_saving_asks_for_one(window: Window) -> None:
    window.menus.demos.aboutToShow.emit()
    demos = window.menus.demos.actions()
    assert demos
    demos[0].trigger()
    assert window.document.path is None
    assert not window.isWindowModified()


@pytest.mark.parametrize(("answer", "closes"), [(Button.Cancel, False), (Button.Discard, True), (Button.Save, True)])
def test_unsaved_work_is_asked_for(
    window: Window, answers: list[Button], answer: Button, closes: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    nudge(window)
    answers.append(answer)
    answer_dialog(monkeypatch, "Save", tmp_path / "kept.hinge")
    assert window.may_leave() is closes
    assert answers == []
    assert (tmp_path / "kept.hinge").exists() is (answer == Button.Save)


def test_a_cancelled_new_keeps_the_work(window: Window, answers: list[Button]) -> None:
    nudge(window)
    kept = window.document.project
    answers.append(Button.Cancel)
    window.new_project()
    assert window.document.project is kept


def test_nothing_is_asked_when_nothing_has_changed(window: Window, answers: list[Button]) -> None:
    window.new_project()  # a box would be an IndexError
    assert not window.document.project.pivots
    assert window.area.open_name == "Trace"


# ---------------------------------------------------------------------------------------------------------------- drops
def drop(window: Window, path: Path) -> bool:
    """Drop a file on the middle of the board, as the desktop does."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    left, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(400, 300), Qt.DropAction.CopyAction, data, left, keys)
    QApplication.sendEvent(window, enter)
    if not enter.isAccepted():
        return False
    QApplication.sendEvent(window, QDropEvent(QPointF(400, 300), Qt.DropAction.CopyAction, data, left, keys))
    return True


def test_a_hinge_dropped_on_the_window_opens(window: Window, tmp_path: Path) -> None:
    window.document.save(tmp_path / "one.hinge")
    window.document.new()
    assert drop(window, tmp_path / "one.hinge")
    assert window.document.path == tmp_path / "one.hinge"
    assert window.document.project.pivots


def test_the_board_leaves_drops_to_the_window(window: Window) -> None:
    assert not window.board.view.acceptDrops()
    assert not window.board.view.viewport().acceptDrops()


def test_noise_dropped_on_the_window_is_told(window: Window, tmp_path: Path, qtbot: QtBot) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0" * 50)
    before = window.document.project
    assert drop(window, tmp_path / "photo.jpg")
    qtbot.waitUntil(lambda: "photo.jpg" in window.area.notice.sentence, timeout=10_000)  # it is read meanwhile
    assert window.document.project is before


# -------------------------------------------------------------------------------------------------------- drawers, look
def test_a_drawer_opens_over_the_board_and_closes_again(window: Window, qtbot: QtBot) -> None:
    board_before = window.board.geometry()
    qtbot.mouseClick(window.rail.buttons["Pins"], Qt.MouseButton.LeftButton)
    assert window.pins.isVisible()
    assert window.board.geometry() == board_before  # over it, not beside it
    assert window.rail.buttons["Pins"].isChecked()
    qtbot.mouseClick(window.rail.buttons["Trace"], Qt.MouseButton.LeftButton)
    assert window.trace.isVisible()
    assert not window.pins.isVisible()
    qtbot.keyClick(window.trace, Qt.Key.Key_Escape)
    assert not window.trace.isVisible()
    assert not window.rail.buttons["Trace"].isChecked()


def test_what_was_seen_of_the_sheet_is_seen_beside_an_open_drawer(window: Window) -> None:
    view = window.board.view
    before = [view.to_px(pivot.at) for pivot in window.document.project.pivots]
    window.area.open_drawer("Pins")
    assert all(view.to_px(pivot.at).x() > window.pins.width() for pivot in window.document.project.pivots)
    window.area.open_drawer("")
    after = [view.to_px(pivot.at) for pivot in window.document.project.pivots]
    away = [max(abs(a.x() - b.x()), abs(a.y() - b.y())) for a, b in zip(after, before, strict=True)]
    assert max(away) < 1.5  # scroll bars count whole pixels


def test_the_sheet_turns_dark_and_stays_so(window: Window) -> None:
    window.menus.sheets["dark"].trigger()
    assert window.look.name == "dark"
    paper = window.checks.grab().toImage().pixelColor(window.checks.width() // 2, 4)
    assert paper.name() == window.look.paper
    assert Settings().preferences().sheet == "dark"
    window.menus.sheets["light"].trigger()
    assert window.look.name == "light"


def test_units_are_a_step_like_any_other(window: Window) -> None:
    window.menus.units["in"].trigger()
    assert window.document.project.display_units == "in"
    assert any('"' in row.sentence for row in window.checks.rows)
    window.document.undo()
    assert window.menus.units["mm"].isChecked()


def test_remove_takes_the_selected_pivot_out(window: Window) -> None:
    window.document.select(Selection("pivot", "Q"))
    window.menus.remove.trigger()
    assert all(pivot.id != "Q" for pivot in window.document.project.pivots)
    assert window.document.selection is None
    assert not window.menus.remove.isEnabled()


def test_delete_on_the_board_removes_what_is_selected(window: Window, qtbot: QtBot) -> None:
    window.document.select(Selection("mark", "rear corner"))
    qtbot.keyClick(window.board, Qt.Key.Key_Delete)
    assert window.document.project.marks == ()
    assert window.document.project.limits == ()


def test_esc_puts_away_one_thing_after_the_other(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Build")
    window.document.noticed.emit("Something to tell.")
    window.document.select(Selection("pivot", "Q"))
    qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert window.document.selection is None
    assert window.area.notice.isVisible()
    qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert not window.area.notice.isVisible()
    assert window.area.open_name == "Build"
    qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert window.area.open_name == ""


def test_keys_in_a_field_stay_there_but_undo_is_the_windows(window: Window, qtbot: QtBot) -> None:
    form = window.checks.entry.form
    assert isinstance(form, WantsForm)
    line = form.opening.line
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    line.selectAll()
    qtbot.keyClicks(line, "p")
    assert line.text() == "p"
    assert not window.strip.is_playing
    line.selectAll()
    qtbot.keyClicks(line, "60")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert window.document.project.travel.wanted_deg == 60.0
    qtbot.keyClick(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.project.travel.wanted_deg == 75.0
    qtbot.keyClick(window.board, Qt.Key.Key_P)
    assert window.strip.is_playing
    window.strip.stop()


def test_what_stands_in_a_field_is_saved_too(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    window.document.save(tmp_path / "x.hinge")
    form = window.checks.entry.form
    assert isinstance(form, WantsForm)
    qtbot.mouseClick(form.opening.line, Qt.MouseButton.LeftButton)
    form.opening.line.selectAll()
    qtbot.keyClicks(form.opening.line, "65")
    window.save()
    assert load(tmp_path / "x.hinge").travel.wanted_deg == 65.0
    assert not window.isWindowModified()


def test_the_panel_cannot_be_removed_and_says_so(window: Window) -> None:
    window.document.select(Selection("link", window.document.project.panel.id))
    window.menus.remove.trigger()
    assert window.document.project.panel
    assert window.area.notice.sentence


def test_every_control_has_a_name_and_a_tip(window: Window) -> None:
    from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit

    for name in ("Trace", "Pins", "Lift", "Build"):
        window.area.open_drawer(name)
    for selection in (Selection("pivot", "Q"), Selection("outline", window.document.project.outlines[0].id), None):
        window.document.select(selection)
        bare = [
            widget
            for kind in (QAbstractButton, QComboBox, QLineEdit)
            for widget in window.findChildren(kind)
            if not (widget.accessibleName() and widget.toolTip()) and not widget.objectName().startswith("qt_")
            and type(widget).__name__ != "QAbstractButton"  # corners of tables, Qt's own
        ]  # fmt: skip
        assert bare == []


def test_file_names_from_titles() -> None:
    assert file_stem("Engine/hatch: left*") == "Engine hatch left"
    assert file_stem("???") == "hinge"


def test_saved_files_are_json_that_loads(window: Window, tmp_path: Path) -> None:
    window.document.save(tmp_path / "x.hinge")
    assert json.loads((tmp_path / "x.hinge").read_text("utf-8"))["format"] == "hingewright"
    assert load(tmp_path / "x.hinge") == window.document.project


def test_a_window_without_a_project_says_what_is_missing(qtbot: QtBot, own_settings: None) -> None:
    window = Window(Document())
    qtbot.addWidget(window)
    window.show()
    assert window.checks.remarks.text()
    assert window.document.pose.deg == 0.0


def test_every_specimen_can_be_looked_at_from_all_sides(window: Window) -> None:
    """Half-drawn, locked, loose, sliding, empty: each is shown, each of its parts selected, swung and shut again."""
    for name, project in zip(cycle(window.area.drawers), specimens.ALL.values(), strict=False):
        window.area.open_drawer(name)
        window.document.new(project)
        lists = {"pivot": project.pivots, "link": project.links, "outline": project.outlines, "mark": project.marks}
        for kind, parts in lists.items():
            for part in parts[:1]:
                window.document.select(Selection(kind, part.id))
        window.strip.go_last()
        window.strip.go_first()
        shown = " ".join(row.sentence for row in window.checks.rows)
        assert "nan" not in shown.lower()
        assert window.checks.remarks.text() or window.document.analysis.state == "moves"
    QApplication.processEvents()

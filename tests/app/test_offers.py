"""What is asked about files, answered by mouse: work left behind, shared, changed and vanished files, saving over."""

from __future__ import annotations

import os
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QMessageBox

from app.faultlog import folder
from app.files import load, recovery, save
from app.files.backups import backups
from app.files.claims import claim, holder_of
from app.files.recovery import Copy, left_behind, set_aside_folder
from app.files.writers import this_process
from app.offers import moment
from kinematics import edits
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project

Button = QMessageBox.StandardButton
left_work = replace(demo_six_bar, title="left behind")
other = replace(demo_six_bar, title="by another hand")


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    (tmp_path / "bench").mkdir()
    path = tmp_path / "bench" / "a.hinge"
    save(demo_six_bar, path)
    return path


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> tuple[list[str], list[Button]]:
    """What boxes have asked, and what they are answered with; an unexpected box is an IndexError."""
    said: list[str] = []
    answers: list[Button] = []

    def exec_(box: QMessageBox) -> Button:
        said.append(box.text())
        return answers.pop(0)

    monkeypatch.setattr(QMessageBox, "exec", exec_)
    return said, answers


@pytest.fixture
def window(fresh_window: Window) -> Window:
    """A window of each test's own: it is closed, and others come after it or stand beside it."""
    return fresh_window


def leave(
    path: Path | None, project: Project, monkeypatch: pytest.MonkeyPatch, session: str = "0" * 16, **by: str
) -> Path:
    """Leave a copy as a crash does; by default one of this computer's last start."""
    with monkeypatch.context() as patch:
        writer = replace(this_process(), **(by or {"boot": "an earlier one"}))
        patch.setattr(recovery, "this_process", lambda: writer)
        return Copy(path, session).keep(project)


def wait_for(window: Window, words: str, qtbot: QtBot) -> None:
    """Wait until the notice asks something with these words."""
    notice = window.area.notice
    qtbot.waitUntil(lambda: notice.question is not None and words in notice.sentence, timeout=10_000)


def answer(window: Window, words: str, qtbot: QtBot) -> None:
    """Press the answer of these words."""
    (button,) = [each for each in window.area.notice.answers if each.text() == words]
    assert button.accessibleName()
    assert button.toolTip()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


# ---------------------------------------------------------------------------------------------------- work left behind
def test_taking_back_is_a_step_and_the_file_stays(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    before = file.read_bytes()
    place = leave(file, left_work, monkeypatch)
    window.open_path(file)
    wait_for(window, "Work on a.hinge was not saved when the program broke off", qtbot)
    answer(window, "Take it back", qtbot)
    assert window.document.project == left_work
    assert window.isWindowModified()
    assert file.read_bytes() == before
    window.offers.keeper.flush()
    assert not place.exists()  # a copy of this run has taken its place
    assert len(list(place.parent.glob("*.kept"))) == 1
    window.menus.undo.trigger()
    assert window.document.project == demo_six_bar
    window.document.redo()
    assert window.save()
    window.offers.keeper.flush()
    assert load(file) == left_work
    assert not list(place.parent.glob("*.kept"))
    assert window.area.notice.sentence == ""


def test_leaving_it_puts_it_with_the_earlier_saves(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    leave(file, left_work, monkeypatch)
    window.open_path(file)
    wait_for(window, "a.hinge", qtbot)
    answer(window, "Leave it", qtbot)
    window.offers.keeper.flush()
    assert window.document.project == demo_six_bar
    assert left_behind([file]) == ([], [])
    assert [load(each) for each in backups(file)] == [left_work]


def test_at_the_start_all_that_was_left_is_asked_one_after_the_other(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    """Files used last, and hinges without a file; the newest first."""
    window.settings.add_recent(file)
    monkeypatch.setattr(recovery.time, "time", lambda: 1e9)
    leave(file, left_work, monkeypatch)
    monkeypatch.setattr(recovery.time, "time", lambda: 2e9)
    leave(None, other, monkeypatch, "1" * 16)
    window.offers.start()
    wait_for(window, 'The hinge "by another hand", which has no file, was not saved', qtbot)
    assert moment(2e9) in window.area.notice.sentence
    answer(window, "Take it back", qtbot)
    assert (window.document.path, window.document.project) == (None, other)
    wait_for(window, "Work on a.hinge", qtbot)
    answer(window, "Leave it", qtbot)
    assert window.area.notice.question is None


def test_taking_back_work_of_another_file_opens_that_file(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    window.settings.add_recent(file)
    leave(file, left_work, monkeypatch)
    window.offers.start()
    wait_for(window, "a.hinge", qtbot)
    answer(window, "Take it back", qtbot)
    assert (window.document.path, window.document.project) == (file, left_work)
    window.offers.keeper.flush()
    qtbot.wait(20)
    assert window.area.notice.question is None  # opening has not found it once more
    window.document.undo()
    assert window.document.project == demo_six_bar


def test_unsaved_work_is_asked_for_before_and_cancel_asks_on(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, asked: tuple[list[str], list[Button]], qtbot: QtBot
) -> None:
    leave(None, left_work, monkeypatch)
    window.document.apply("Title", other)
    asked[1].append(Button.Cancel)
    window.offers.start()
    wait_for(window, "which has no file", qtbot)
    answer(window, "Take it back", qtbot)
    assert window.document.project == other
    assert window.area.notice.question is not None
    assert asked[1] == []


def test_work_whose_file_is_gone_is_taken_back_as_one_without(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    leave(file.parent / "gone" / "b.hinge", left_work, monkeypatch)
    window.open_path(file)
    window.offers.start()
    wait_for(window, "Work on b.hinge", qtbot)
    assert "Its file is gone." in window.area.notice.sentence
    answer(window, "Take it back", qtbot)
    assert (window.document.path, window.document.project) == (None, left_work)


def test_put_off_it_is_asked_again_when_its_file_is_opened(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    window.settings.add_recent(file)
    leave(file, left_work, monkeypatch)
    window.offers.start()
    wait_for(window, "a.hinge", qtbot)
    qtbot.mouseClick(window.area.notice._button, Qt.MouseButton.LeftButton)
    assert window.area.notice.sentence == ""
    window.open_path(file)
    wait_for(window, "a.hinge", qtbot)


def test_a_copy_from_another_computer_says_so(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    leave(file, left_work, monkeypatch, host="the other bench")
    window.open_path(file)
    wait_for(window, 'was kept by the computer "the other bench"', qtbot)
    assert "it may still be open there" in window.area.notice.sentence


def test_a_hinge_without_a_file_that_is_left_goes_to_the_data_folder(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    leave(None, left_work, monkeypatch)
    window.offers.start()
    wait_for(window, "which has no file", qtbot)
    answer(window, "Leave it", qtbot)
    window.offers.keeper.flush()
    assert [load(each) for each in set_aside_folder().iterdir()] == [left_work]


def test_nothing_left_nothing_asked(window: Window, file: Path, qtbot: QtBot) -> None:
    window.offers.start()
    window.open_path(file)
    window.offers.keeper.flush()
    qtbot.wait(20)
    assert window.area.notice.sentence == ""


# ---------------------------------------------------------------------------------------------- two windows on one file
def test_a_file_open_in_two_windows_is_told_and_a_copy_can_be_worked_on(
    window: Window, file: Path, qtbot: QtBot
) -> None:
    claim(file, "another window")
    window.open_path(file)
    wait_for(window, f"a.hinge is open in another window as well (process {os.getpid()})", qtbot)
    answer(window, "Work on a copy", qtbot)
    assert window.document.path is None
    assert window.document.project == demo_six_bar
    assert window.isWindowModified()
    window.offers.keeper.flush()
    holder = holder_of(file)
    assert holder is not None
    assert holder.session == "another window"


def test_two_windows_may_go_on_and_a_save_over_the_others_is_asked_for(
    window: Window, file: Path, asked: tuple[list[str], list[Button]], qtbot: QtBot
) -> None:
    claim(file, "another window")
    window.open_path(file)
    wait_for(window, "another window", qtbot)
    answer(window, "Work here too", qtbot)
    assert window.document.path == file
    save(other, file)  # the other window saves
    window.document.apply("Title", left_work)
    asked[1].append(Button.Cancel)
    assert not window.save()
    assert "has been changed on the disk" in asked[0][0]
    assert load(file) == other


def test_what_was_asked_of_one_file_is_not_asked_of_the_next(window: Window, file: Path, qtbot: QtBot) -> None:
    claim(file, "another window")
    window.open_path(file)
    wait_for(window, "another window", qtbot)
    window.document.new()
    assert window.area.notice.sentence == ""


# ------------------------------------------------------------------------------------------------- the file on the disk
def changed(window: Window, file: Path, qtbot: QtBot) -> None:
    """Have the file open, and changed by another program."""
    window.open_path(file)
    save(other, file)
    window.offers.watch.check()
    wait_for(window, "a.hinge has been changed on the disk", qtbot)


def test_a_changed_file_can_be_reloaded_and_undone(window: Window, file: Path, qtbot: QtBot) -> None:
    changed(window, file, qtbot)
    answer(window, "Reload it", qtbot)
    assert window.document.project == other
    assert not window.isWindowModified()
    window.menus.undo.trigger()
    assert window.document.project == demo_six_bar
    assert window.isWindowModified()


def test_keeping_mine_saves_over_it_unasked_and_leaves_a_backup(
    window: Window, file: Path, asked: tuple[list[str], list[Button]], qtbot: QtBot
) -> None:
    changed(window, file, qtbot)
    answer(window, "Keep mine", qtbot)
    assert window.isWindowModified()
    assert window.save()
    assert asked[0] == []
    assert load(file) == demo_six_bar
    assert load(backups(file)[0]) == other


@pytest.mark.parametrize(("given", "saves"), [(Button.Cancel, False), (Button.Save, True)])
def test_unanswered_a_save_asks_first(
    window: Window, file: Path, asked: tuple[list[str], list[Button]], qtbot: QtBot, given: Button, saves: bool
) -> None:
    changed(window, file, qtbot)
    asked[1].append(given)
    assert window.save() is saves
    assert "a.hinge has been changed on the disk since it was opened here." in asked[0]
    assert load(file) == (demo_six_bar if saves else other)
    assert not saves or load(backups(file)[0]) == other


def test_a_changed_file_that_cannot_be_read_is_told_and_mine_stays(window: Window, file: Path, qtbot: QtBot) -> None:
    changed(window, file, qtbot)
    file.write_bytes(b"\xff half")
    answer(window, "Reload it", qtbot)
    assert "a.hinge" in window.area.notice.sentence
    assert window.document.project == demo_six_bar


def test_changed_back_the_question_goes_away(window: Window, file: Path, qtbot: QtBot) -> None:
    content = file.read_bytes()
    changed(window, file, qtbot)
    file.write_bytes(content)
    window.offers.watch.check()
    qtbot.waitUntil(lambda: window.area.notice.question is None, timeout=10_000)


def test_a_file_that_is_gone_can_be_saved_again(window: Window, file: Path, qtbot: QtBot) -> None:
    window.open_path(file)
    file.unlink()
    window.offers.watch.check()
    wait_for(window, "a.hinge is gone from the disk", qtbot)
    assert window.isWindowModified()  # closing would ask
    answer(window, "Save it again", qtbot)
    assert load(file) == demo_six_bar
    assert not window.isWindowModified()


def test_on_a_drive_that_vanished_nothing_is_lost(
    window: Window, file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    window.open_path(file)
    file.parent.rename(tmp_path / "pulled out")
    window.offers.watch.check()
    wait_for(window, "a.hinge is gone from the disk", qtbot)
    pivot = window.document.project.pivots[0].id
    window.document.apply("Move", edits.move_pivot(window.document.project, pivot, (1.0, 2.0)))
    window.offers.keeper.flush()
    (kept,) = (tmp_path / "data/hingewright/kept").iterdir()
    assert recovery.read_copy(kept).project == window.document.project
    assert not window.save()
    assert "a.hinge" in window.area.notice.sentence
    assert window.isWindowModified()
    elsewhere = tmp_path / "b.hinge"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(lambda *_: (str(elsewhere), "")))
    window.document.noticed.emit("")
    answer(window, "Save elsewhere…", qtbot)
    assert load(elsewhere) == window.document.project
    window.offers.keeper.flush()
    assert not kept.exists()


# --------------------------------------------------------------------------------------------------------------- saving
@pytest.mark.parametrize(("given", "saves"), [(Button.Cancel, False), (Button.Save, True)])
def test_a_name_that_was_made_longer_is_not_written_over_unasked(
    window: Window, file: Path, asked: tuple[list[str], list[Button]], monkeypatch: pytest.MonkeyPatch,
    given: Button, saves: bool,
) -> None:  # fmt: skip
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(lambda *_: (str(file.with_suffix("")), "")))
    asked[1].append(given)
    assert window.save_as() is saves
    assert asked[0] == ["There is a file a.hinge already."]
    assert (load(file) == window.document.project) is saves


def test_saving_under_the_name_of_a_file_that_is_open_elsewhere_asks(
    window: Window, file: Path, asked: tuple[list[str], list[Button]]
) -> None:
    claim(file, "another window")
    asked[1].append(Button.Cancel)
    assert not window._save_to(file, is_agreed=True)
    assert "is open in another window as well" in asked[0][0]


def test_a_file_that_we_left_just_now_is_ours(window: Window, file: Path) -> None:
    claim(file, window.offers.keeper.session)
    assert window._save_to(file, is_agreed=True)


def test_an_earlier_save_is_taken_from_the_menu_as_a_step(window: Window, file: Path) -> None:
    window.open_path(file)
    window.document.apply("Title", other)
    window.save()
    window.menus.earlier.aboutToShow.emit()
    (action,) = window.menus.earlier.actions()
    assert action.text().startswith("a~1, ")
    action.trigger()
    assert window.document.project == demo_six_bar
    window.document.undo()
    assert window.document.project == other


def test_without_earlier_saves_the_menu_says_so(window: Window) -> None:
    window.menus.earlier.aboutToShow.emit()
    (action,) = window.menus.earlier.actions()
    assert not action.isEnabled()


# ------------------------------------------------------------------------------------------------------- log of faults
def test_the_log_of_faults_is_shown_and_the_hinge_put_there_only_when_asked(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    shown: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: shown.append(url.toLocalFile()))
    window.offers.show_log()
    assert "No fault is written down" in window.area.notice.sentence
    answer(window, "Show the folder", qtbot)
    assert shown == [str(folder())]
    assert list(folder().iterdir()) == []
    (folder() / "2024-01-01 10.00.00 00000000-1.txt").write_text("----\nKeyError\n")
    window.offers.show_log()
    assert f"written down in {folder()}" in window.area.notice.sentence
    answer(window, "Put this hinge with it", qtbot)
    assert load(folder() / "hinge of the fault.hinge") == window.document.project


def test_a_run_that_broke_off_is_told_at_the_next_start(window: Window, file: Path) -> None:
    window.offers.start([folder() / "2024-01-01 10.00.00 00000000-1.txt"])
    assert "The program broke off last time" in window.area.notice.sentence
    assert "2024-01-01 10.00.00" in window.area.notice.sentence

"""The document: steps, drags, the pose across analyses, files. The analyser is a stand-in that counts its calls."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import pytest

from app.document import FOLLOW_MS, Document, Selection, blank_project
from kinematics import edits
from kinematics.project import Link, Outline, Pivot, Project, Travel

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot


@dataclass(frozen=True)
class FakePose:
    """A pose that knows only where it is."""

    deg: float
    arc: float


@dataclass(frozen=True)
class FakeAnalysis:
    """Reaches as far as the project's wanted opening."""

    project: Project
    state: str = "moves"

    def pose(self, deg: float) -> FakePose:
        clamped = min(max(deg, 0.0), self.project.travel.wanted_deg)
        return FakePose(clamped, clamped * 2.0)

    def along(self, arc: float) -> FakePose:
        return FakePose(0.0, arc)


class Analyser:
    """Counts the projects it was given."""

    def __init__(self) -> None:
        self.seen: list[Project] = []
        self.state = "moves"

    def __call__(self, project: Project, steps: int = 181, near: object = None) -> Any:  # noqa: ANN401, ARG002
        self.seen.append(project)
        return FakeAnalysis(project, self.state)


def arm() -> Project:
    """A fixed link, a panel, one pin, one outline."""
    return Project(
        title="arm",
        links=(Link(id="body", kind="fixed"), Link(id="panel", kind="panel")),
        pivots=(Pivot(id="A", at=(0.0, 0.0), joins=("body", "panel")),),
        outlines=(Outline(id="skin", on="panel", points=((0.0, 0.0), (10.0, 0.0))),),
        travel=Travel(opens="anticlockwise", wanted_deg=60.0),
    )


@pytest.fixture
def analyser() -> Analyser:
    return Analyser()


@pytest.fixture
def document(qapp: object, analyser: Analyser) -> Document:
    return Document(arm(), analyser=analyser)


def moved(document: Document, x: float) -> Project:
    return edits.move_pivot(document.project, "A", (x, 0.0))


def x_of_a(document: Document) -> float:
    return document.project.pivot("A").at[0]


def test_one_drag_is_one_step(document: Document) -> None:
    document.begin("Move pivot A")
    for x in range(1, 9):
        document.preview(moved(document, float(x)))
    document.commit()
    assert x_of_a(document) == 8.0
    assert document.undo_label == "Move pivot A"
    document.undo()
    assert x_of_a(document) == 0.0
    assert not document.can_undo
    assert document.redo_label == "Move pivot A"
    document.redo()
    assert x_of_a(document) == 8.0


def test_a_hundred_queued_moves_cost_one_analysis_of_the_last(
    document: Document, analyser: Analyser, qtbot: QtBot
) -> None:
    told: list[Project] = []
    document.changed.connect(told.append)
    before = len(analyser.seen)
    document.begin("Move pivot A")
    with qtbot.waitSignal(document.analysed):
        for x in range(100):
            document.preview(moved(document, float(x + 1)))
    assert len(analyser.seen) - before == 1
    assert analyser.seen[-1].pivot("A").at == (100.0, 0.0)
    assert told == [document.project]


def test_during_a_drag_followers_come_after_the_board_and_not_at_every_move(document: Document, qtbot: QtBot) -> None:
    told: list[str] = []
    document.analysed.connect(lambda _: told.append("board"))
    document.followed.connect(lambda analysis: told.append(f"others {analysis.project.pivot('A').at[0]:g}"))
    document.apply("Move pivot A", moved(document, 1.0))
    assert told == ["board", "others 1"]
    document.begin("Move pivot A")
    with qtbot.waitSignal(document.followed):
        for x in (2.0, 3.0, 4.0):
            document.preview(moved(document, x))
            document.flush()
    assert told[2:] == ["board", "board", "board", "others 4"]
    document.preview(moved(document, 5.0))
    document.commit()
    assert told[-1] == "others 5"
    document.begin("Move pivot A")
    document.preview(moved(document, 6.0))
    document.flush()
    document.cancel()
    seen = len(told)
    assert told[-1] == "others 5"
    qtbot.wait(FOLLOW_MS + 10)
    assert len(told) == seen  # nothing of the drag that was given up comes later


def test_commit_does_not_wait_for_the_event_loop(document: Document) -> None:
    document.begin("Move pivot A")
    document.preview(moved(document, 5.0))
    assert document.analysis.project.pivot("A").at == (0.0, 0.0)
    document.commit()
    assert document.analysis.project.pivot("A").at == (5.0, 0.0)


def test_cancel_leaves_neither_step_nor_trace(document: Document) -> None:
    base = document.analysis
    document.begin("Move pivot A")
    document.preview(moved(document, 5.0))
    document.flush()
    document.cancel()
    assert x_of_a(document) == 0.0
    assert document.analysis is base
    assert not document.can_undo
    assert not document.is_modified
    assert document.drag_base is None


def test_undo_during_a_drag_gives_the_drag_up(document: Document) -> None:
    document.apply("Move pivot A", moved(document, 2.0))
    document.begin("Move pivot A")
    document.preview(moved(document, 5.0))
    document.undo()
    assert x_of_a(document) == 2.0
    assert document.can_undo


def test_a_drag_back_to_where_it_began_is_no_step(document: Document) -> None:
    document.begin("Move pivot A")
    document.preview(moved(document, 5.0))
    document.preview(moved(document, 0.0))
    document.commit()
    assert not document.can_undo
    assert not document.is_modified


def test_preview_outside_a_drag_is_a_fault_of_the_caller(document: Document) -> None:
    with pytest.raises(RuntimeError):
        document.preview(moved(document, 5.0))


def test_drag_base_is_the_analysis_from_before_the_drag(document: Document) -> None:
    base = document.analysis
    assert document.drag_base is None
    document.begin("Move pivot A")
    document.preview(moved(document, 5.0))
    document.flush()
    assert document.drag_base is base
    assert document.analysis is not base
    document.commit()
    assert document.drag_base is None


def test_a_new_step_forgets_what_was_undone(document: Document) -> None:
    document.apply("Move pivot A", moved(document, 1.0))
    document.undo()
    document.apply("Lock pivot A", edits.lock_pivot(document.project, "A", locked=True))
    assert not document.can_redo
    document.redo()
    assert document.project.pivot("A").locked


def test_apply_without_a_change_is_no_step(document: Document) -> None:
    document.apply("Move pivot A", moved(document, 0.0))
    assert not document.can_undo


def test_the_stack_has_no_bound_and_shares_what_did_not_change(document: Document) -> None:
    outlines = document.project.outlines
    for x in range(600):
        document.apply("Move pivot A", moved(document, float(x + 1)))
    for _ in range(600):
        document.undo()
    assert x_of_a(document) == 0.0
    document.redo()
    assert document.project.outlines is outlines


def test_the_pose_keeps_its_opening_and_stops_where_the_sweep_ends(document: Document) -> None:
    document.set_opening(50.0)
    document.apply("Set opening", edits.set_travel(document.project, wanted_deg=30.0))
    assert document.pose.deg == 30.0
    document.undo()
    assert document.pose.deg == 50.0


def test_a_panel_that_slides_keeps_its_place_along_the_branch(document: Document, analyser: Analyser) -> None:
    analyser.state = "slides"
    document.apply("Move pivot A", moved(document, 1.0))
    document.set_arc(7.0)
    assert document.pose.arc == 7.0
    document.apply("Move pivot A", moved(document, 2.0))
    assert document.pose.arc == 7.0


def test_selection_goes_with_what_was_selected(document: Document) -> None:
    told: list[object] = []
    document.selected.connect(told.append)
    document.select(Selection("pivot", "A"))
    document.apply("Remove pivot A", edits.remove_pivot(document.project, "A"))
    assert document.selection is None
    assert told == [Selection("pivot", "A"), None]


def test_selection_of_an_outline_point_ends_with_the_point(document: Document) -> None:
    document.apply("Insert point", edits.insert_outline_point(document.project, "skin", 2, (20.0, 0.0)))
    document.select(Selection("outline", "skin", 2))
    document.undo()
    assert document.selection is None


def test_save_and_open_round(document: Document, tmp_path: Path) -> None:
    document.apply("Move pivot A", moved(document, 3.5))
    assert document.is_modified
    assert document.save(tmp_path / "arm.hinge")
    assert not document.is_modified
    assert document.path == tmp_path / "arm.hinge"
    document.undo()
    assert document.is_modified
    document.redo()
    assert not document.is_modified
    document.new()
    assert document.path is None
    assert document.open(tmp_path / "arm.hinge")
    assert x_of_a(document) == 3.5
    assert not document.can_undo


def test_a_file_that_cannot_be_read_leaves_the_open_work(document: Document, tmp_path: Path) -> None:
    (tmp_path / "broken.hinge").write_text("{ not json")
    said: list[str] = []
    document.noticed.connect(said.append)
    document.apply("Move pivot A", moved(document, 3.5))
    before = document.project
    assert not document.open(tmp_path / "broken.hinge")
    assert document.project is before
    assert document.can_undo
    assert len(said) == 1
    assert "broken.hinge" in said[0]


def test_a_failed_save_says_so_and_keeps_the_work(document: Document, tmp_path: Path) -> None:
    said: list[str] = []
    document.noticed.connect(said.append)
    document.apply("Move pivot A", moved(document, 3.5))
    assert not document.save(tmp_path / "no such folder" / "arm.hinge")
    assert x_of_a(document) == 3.5
    assert document.is_modified
    assert document.path is None
    assert len(said) == 1


def test_the_blank_project_is_a_good_one() -> None:
    project = blank_project()
    assert project.fixed.id == "body"
    assert project.panel.id == "panel"
    assert replace(project, title="x").title == "x"


# ------------------------------------------------------------------------------------- the file, changed by other hands
def test_reloading_is_one_step_that_counts_as_saved(document: Document, tmp_path: Path) -> None:
    document.save(tmp_path / "arm.hinge")
    mine = document.project
    Document(moved(document, 9.0)).save(tmp_path / "arm.hinge")
    assert document.reload()
    assert x_of_a(document) == 9.0
    assert not document.is_modified
    assert document.undo_label == "Reload arm.hinge"
    document.undo()
    assert document.project == mine
    assert document.is_modified


def test_a_reload_that_cannot_be_says_so_and_keeps_the_work(document: Document, tmp_path: Path) -> None:
    said: list[str] = []
    document.noticed.connect(said.append)
    assert not document.reload()  # there is no file yet
    document.save(tmp_path / "arm.hinge")
    kept = document.project
    (tmp_path / "arm.hinge").write_text("{")
    assert not document.reload()
    assert document.project is kept
    assert len(said) == 1
    assert said[0].startswith("arm.hinge: ")


def test_a_file_that_is_disowned_or_left_makes_all_work_unsaved(document: Document, tmp_path: Path) -> None:
    document.save(tmp_path / "arm.hinge")
    document.disown_file()
    assert (document.is_modified, document.saved) == (True, None)
    assert document.path == tmp_path / "arm.hinge"
    document.save()
    assert (document.is_modified, document.saved) == (False, document.project)
    document.leave_file()
    assert (document.is_modified, document.path) == (True, None)


def test_a_save_without_a_backup_is_a_save_and_says_so(document: Document, tmp_path: Path) -> None:
    said: list[str] = []
    document.noticed.connect(said.append)
    document.save(tmp_path / "arm.hinge")
    (tmp_path / ".hingewright").write_text("a file stands where the folder should")
    document.apply("Move", moved(document, 3.0))
    assert document.save()
    assert not document.is_modified
    assert "could not be kept as a backup" in said[0]

"""What keys and the menu do: one edit, one step, or a sentence."""

from __future__ import annotations

import pytest

from app.board import actions
from app.document import Document, Selection
from tests import specimens

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def document() -> Document:
    return Document(specimens.demo_six_bar)


@pytest.fixture
def notices(document: Document) -> list[str]:
    heard: list[str] = []
    document.noticed.connect(heard.append)
    return heard


def test_a_pivot_is_locked_and_freed(document: Document) -> None:
    actions.toggle_lock(document, "pivot", "X")
    assert document.project.pivot("X").locked
    assert document.undo_label == "Lock pivot X"
    actions.toggle_lock(document, "pivot", "X")
    assert not document.project.pivot("X").locked
    assert document.undo_label == "Free pivot X"


def test_a_point_is_inserted_into_the_nearest_edge_at_the_pose_that_is_shown(document: Document) -> None:
    document.set_opening(40.0)
    column = document.analysis.links.index("hatch")
    actions.insert_point(document, "hatch skin", document.pose.place(column, (300.0, 310.0)))
    points = document.project.outline("hatch skin").points
    assert len(points) == 5
    assert points[2] == pytest.approx((300.0, 310.0), abs=1e-9)
    assert document.selection == Selection("outline", "hatch skin", 2)


def test_the_last_two_points_of_a_line_stay(document: Document, notices: list[str]) -> None:
    for _ in range(2):
        actions.delete_point(document, "hatch skin", 1)
    assert len(document.project.outline("hatch skin").points) == 2
    assert notices == []
    actions.delete_point(document, "hatch skin", 1)
    assert len(document.project.outline("hatch skin").points) == 2
    assert len(notices) == 1
    assert "hatch skin" in notices[0]


def test_an_outline_is_closed_and_opened(document: Document) -> None:
    actions.toggle_closed(document, "hatch skin")
    assert document.project.outline("hatch skin").closed
    assert document.undo_label == "Close hatch skin"
    actions.toggle_closed(document, "hatch skin")
    assert not document.project.outline("hatch skin").closed


def test_stepping_through_the_pivots_of_a_project_without_any(document: Document) -> None:
    document.new(specimens.empty)
    actions.step_pivot(document, 1)
    assert document.selection is None
    document.new(specimens.demo_six_bar)
    actions.step_pivot(document, -1)
    assert document.selection == Selection("pivot", "P2")

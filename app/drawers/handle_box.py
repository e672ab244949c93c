"""Where the hand lifts: clicked on the board, or typed."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox
from app.entry.form import push_button
from app.lengths import exact_length
from kinematics import loading
from kinematics.beginnings import first_handle

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project


class HandleBox(LiftBox):
    """The handle: its link and place."""

    title: ClassVar[str] = "Handle"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.told("The push is told along the path of the place where the hand takes hold.")
        self.click_button = push_button(
            "Click its place", "Click on the board where the hand takes hold (K).", self.click
        )
        self.front_button = push_button(
            "At the front edge", "Put the handle at the panel's foremost point.", self.put_in_front
        )
        self.beside(self.click_button, self.front_button)
        self.on = self.choice(
            "On",
            "Set the link of the handle",
            "The link that the hand lifts by: mostly the panel.",
            [(link.id, link.id) for link in document.project.links],
            lambda project, on: loading.put_handle(project, on, _at(project)),
        )
        self.x_field = self.optional_length(
            "x",
            "Move handle",
            "How far right of the origin the hand takes hold while the panel is shut.",
            lambda project: None if _has_none(project) else _at(project)[0],
            lambda project, x: _put(project, x, 0),
        )
        self.y_field = self.optional_length(
            "y",
            "Move handle",
            "How far above the origin the hand takes hold while the panel is shut.",
            lambda project: None if _has_none(project) else _at(project)[1],
            lambda project, y: _put(project, y, 1),
        )
        for field, name in ((self.x_field, "x"), (self.y_field, "y")):
            field.line.setAccessibleName(f"{name} of the handle")
            field.line.setPlaceholderText("not set")
        self.remove_button = self.button(
            "Remove handle", "Say no longer where the hand lifts: then no push can be told.", self._remove
        )

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say where it is."""
        project = analysis.project
        if _has_none(project):
            return "not set"
        handle = loading.handle_of(project)
        x, y = (
            exact_length(value, document.units, unit=unit) for value, unit in zip(handle.at, (False, True), strict=True)
        )
        return f"{x}, {y} on {handle.on}"

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the newest place."""
        super().show_analysis(analysis)
        project = analysis.project
        self.on.set_options((link.id, link.id) for link in project.links)
        self.on.choose(project.panel.id if _has_none(project) else loading.handle_of(project).on)
        self.remove_button.setEnabled(not _has_none(project))

    def click(self) -> None:
        """Let the builder click where the hand takes hold."""
        self.board.take_tool("Handle")

    def put_in_front(self) -> None:
        """Put it at the panel's foremost point."""
        put_in_front(self.document)

    def _remove(self) -> None:
        self.document.attempt("Remove handle", lambda project: loading.set_handle(project, None))


def put_in_front(document: Document) -> None:
    """Put the handle at the panel's foremost point: one step."""
    handle = first_handle(document.project)
    document.attempt("Set handle", lambda project: loading.put_handle(project, handle.on, handle.at))


def _has_none(project: Project) -> bool:
    return project.loads is None or project.loads.handle is None


def _at(project: Project) -> Point:
    """The handle's place; where there is none, the one that it would begin with."""
    return first_handle(project).at if _has_none(project) else loading.handle_of(project).at


def _put(project: Project, value: float | None, axis: int) -> Project:
    """The handle with a coordinate typed; emptied, no handle."""
    if value is None:
        return loading.set_handle(project, None)
    x, y = _at(project)
    on = project.panel.id if _has_none(project) else loading.handle_of(project).on
    return loading.put_handle(project, on, (value, y) if axis == 0 else (x, value))

"""The rows of the room among the wants: floor, roof, and how high the front edge is to stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kinematics import wanting

if TYPE_CHECKING:
    from app.entry.form import Form
    from kinematics.project import Project

FOREMOST = ""  # the value of the choice that names no mark


class RoomRows:
    """The rows of the room in a form; the front edge has some as soon as there is a floor."""

    def __init__(self, form: Form) -> None:
        project = form.document.project
        form.heading("Room: heights are y on the sheet")
        self.floor = form.optional_length(
            "Floor at",
            "Set the floor",
            "Height of the ground or deck that one stands on, as y on the sheet: below the origin it is negative. "
            "How high the front edge stands over it is told beneath the checks.",
            lambda project: None if project.room is None else project.room.floor,
            wanting.set_floor,
        )
        self.roof = form.optional_length(
            "Roof at",
            "Set the roof",
            "Height of the lowest thing above, as y on the sheet. Panel and links must stay under it over the whole "
            "travel.",
            lambda project: None if project.room is None else project.room.roof,
            wanting.set_roof,
        )
        for field in (self.floor, self.roof):
            field.line.setPlaceholderText("none")
        if has_floor(project):
            self._add_front(form)

    def _add_front(self, form: Form) -> None:
        marks = [(mark.id, mark.id) for mark in form.document.project.marks]
        edge = form.choice(
            "Front edge",
            "Set the front edge",
            "Which point is the front edge that a hand must reach: a mark, or the panel's own foremost point.",
            [(FOREMOST, "foremost point of the panel"), *marks],
            lambda project, mark: wanting.set_front_mark(project, mark or None),
        )
        form.on_refresh(lambda project: edge.choose(wanting.front_of(project).mark or FOREMOST))
        self.height = form.optional_length(
            "stands at least",
            "Want the front edge's height",
            "How high over the floor the front edge is to stand when fully open, so that nobody's head meets it.",
            lambda project: wanting.front_of(project).at_least,
            wanting.set_front_height,
        )
        self.height.line.setPlaceholderText("no want")

    @staticmethod
    def shape(project: Project) -> object:
        """Say when other rows are needed: when there is a floor or none, and when there are other marks."""
        return has_floor(project), tuple(mark.id for mark in project.marks) if has_floor(project) else ()


def has_floor(project: Project) -> bool:
    """Tell whether somebody entered a floor."""
    return project.room is not None and project.room.floor is not None

"""Exact entry of an outline: its name, what it rides on, how thick it is, and every one of its points in a table."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from app.entry.line_dialog import change_line
from app.entry.points import PointsForm
from kinematics import edits

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import Outline, Point, Project


class OutlineForm(PointsForm):
    """All of one outline."""

    def __init__(self, document: Document, outline_id: str) -> None:
        super().__init__(document, "outline", outline_id)
        self._add_values()
        self.add_table()
        self.button(
            "Change the line…",
            "Round a corner, run an arc or a smooth curve, cut, join, mirror it, leave points out, draw a line beside "
            "it; seen on the board before it is taken.",
            lambda: change_line(document, self._id, self._part(), self.window()),
        )
        self.button(
            "Remove outline",
            "Take this outline out (Del), and every gap want that names it.",
            lambda: document.attempt(
                f"Remove outline {self._id}", lambda project: edits.remove_outline(project, self._id)
            ),
        )
        self.end()

    def _add_values(self) -> None:
        self.rename("outline", self._id, edits.rename_outline)
        on = self.choice(
            "Rides on",
            f"Set what {self._id} rides on",
            "The link that this outline moves with.",
            [(link.id, link.id) for link in self.document.project.links],
            lambda project, link_id: edits.ride_outline(project, self._id, link_id),
        )
        self.on_refresh(lambda project: on.choose(self._of(project).on))
        self.closed = self.flag(
            "closed: a solid",
            f"Close {self._id}",
            "A closed outline is a solid: what lies inside touches it too. An open one is a line.",
            lambda project: self._of(project).closed,
            lambda project, closed: edits.close_outline(project, self._id, closed),
        )
        self.half_width = self.length(
            "Half width",
            f"Set half width of {self._id}",
            "Radius of a round pen along the line: half the sheet's thickness, or a seal. Gaps are measured from "
            "its edge.",
            lambda project: self._of(project).half_width,
            lambda project, mm: self._with(project, half_width=mm),
        )
        self.uncertain = self.length(
            "Off by up to ±",
            f"Set how far {self._id} may be off",
            "How far this line may stand from the thing itself, either way: the doubt of a tape, a photo, a worn edge. "
            "Clearances then read such as 7 ± 2 mm, and a want holds only if it holds at the low end.",
            lambda project: self._of(project).uncertain,
            lambda project, mm: self._with(project, uncertain=mm),
        )
        self.text(
            "Station",
            f"Set station of {self._id}",
            "The section across the body at which it was taken, such as centreline or corner. Outlines of "
            "different stations aren't compared "
            "unless you ask for it; empty: it is at all of them.",
            lambda project: self._of(project).station,
            lambda project, text: self._with(project, station=text),
        )

    @staticmethod
    def shape(project: Project, _id: str) -> object:
        """Say when other rows are needed: when there are other links."""
        return tuple(link.id for link in project.links)

    def _part(self) -> int | None:
        """The number of the point that is selected, if one is."""
        chosen = self.document.selection
        return chosen.part if chosen is not None and chosen.id == self._id else None

    def _of(self, project: Project) -> Outline:
        return project.outline(self._id)

    def _with(self, project: Project, **changes: Any) -> Project:  # noqa: ANN401  any field of an outline
        return edits.replace_outline(project, self._id, replace(self._of(project), **changes))

    def put_point(self, project: Project, place: int, at: Point) -> Project:
        """Put a point at a typed place."""
        return edits.move_outline_point(project, self._id, place, at)

    def with_point(self, project: Project, place: int, at: Point) -> Project:
        """Insert a point."""
        return edits.insert_outline_point(project, self._id, place, at)

    def without_point(self, project: Project, place: int) -> Project:
        """Take a point out."""
        return edits.delete_outline_point(project, self._id, place)

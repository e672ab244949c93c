"""Exact entry of a zone: the link whose pins it is for, and its corners in a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.document import Selection
from app.entry.points import PointsForm
from app.removing import remove
from kinematics import zoning

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import Point, Project


class ZoneForm(PointsForm):
    """All of one zone."""

    def __init__(self, document: Document, name: str) -> None:
        super().__init__(document, "zone", name)
        self.on = self.choice(
            "Pins of",
            f"Set whose pins the zone {name} is for",
            "The link whose pins must stand in this zone while the panel is shut; the zone swings with it.",
            [(link.id, link.id) for link in document.project.links],
            self._ride,
        )
        self._number = document.project.zone_place(name)
        self.on.activated.connect(self._select_again)
        self.on_refresh(lambda project: self.on.choose(self.line(project).on))
        self.told("With several zones of one link, each pin stands in any one of them.")
        self.add_table()
        self.button(
            "Remove zone",
            "Take this zone out (Del); the pins stay where they are.",
            lambda: remove(document, Selection("zone", name)),
        )
        self.end()

    @staticmethod
    def shape(project: Project, _name: str) -> object:
        """Say when other rows are needed: when there are other links."""
        return tuple(link.id for link in project.links)

    def put_point(self, project: Project, place: int, at: Point) -> Project:
        """Put a corner at a typed place."""
        return zoning.put_zone_point(project, self._place(project), place, at)

    def with_point(self, project: Project, place: int, at: Point) -> Project:
        """Insert a corner."""
        return zoning.insert_zone_point(project, self._place(project), place, at)

    def without_point(self, project: Project, place: int) -> Project:
        """Take a corner out."""
        return zoning.delete_zone_point(project, self._place(project), place)

    def _place(self, project: Project) -> int:
        return project.zone_place(self._id)

    def _ride(self, project: Project, link_id: str) -> Project:
        return zoning.ride_zone(project, self._place(project), link_id)

    def _select_again(self) -> None:
        """Let the zone stay selected under the name that it has with another link."""
        names = self.document.project.zone_names
        if self.document.selection is None and self._number < len(names):
            self.document.select(Selection("zone", names[self._number]))

"""Exact entry of a pivot, of a link and of a mark with its limits."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QGridLayout, QWidget

from app.entry.form import Form
from app.fields import named
from app.influence_words import influence_sentence
from app.lettering import breakable
from app.limit_words import limit_ways
from app.ticks import TickBox
from kinematics import edits
from kinematics.project import Limit
from kinematics.rear_edge import side_ahead

if TYPE_CHECKING:
    from app.document import Document
    from app.limit_words import LimitWay
    from kinematics.project import Pivot, Project

TELL_MS = 200  # how long after the last change a pin's influence is told


class PivotForm(Form):
    """A pivot's place, the links it joins, its name and lock."""

    def __init__(self, document: Document, pivot_id: str) -> None:
        super().__init__(document)
        self._id = pivot_id
        self.rename("pivot", pivot_id, edits.rename_pivot)
        self.x_field = self.length(
            "x",
            f"Move pivot {pivot_id}",
            "How far right of the origin the pivot stands while the panel is shut.",
            lambda project: self._of(project).at[0],
            lambda project, x: self._move(project, x, self._of(project).at[1]),
        )
        self.y_field = self.length(
            "y",
            f"Move pivot {pivot_id}",
            "How far above the origin the pivot stands while the panel is shut.",
            lambda project: self._of(project).at[1],
            lambda project, y: self._move(project, self._of(project).at[0], y),
        )
        self.x_field.line.setAccessibleName(f"x of pivot {pivot_id}")
        self.y_field.line.setAccessibleName(f"y of pivot {pivot_id}")
        self._joins: dict[str, TickBox] = {}
        self.row("Joins", self._join_boxes())
        self.locked = self.flag(
            "locked",
            f"Lock pivot {pivot_id}",
            "A locked pivot isn't moved by a drag, by nudges or by anything the program puts right for you.",
            lambda project: self._of(project).locked,
            lambda project, locked: edits.lock_pivot(project, self._id, locked),
        )
        self.matters = self.told("")
        self.matters.setAccessibleName(f"What pivot {pivot_id} does to the worst check")
        self._tell_later = QTimer(self)
        self._tell_later.setSingleShot(True)
        self._tell_later.setInterval(TELL_MS)
        self._tell_later.timeout.connect(self._tell_influence)
        self.on_refresh(lambda _: self._tell_later.start())
        self.button(
            "Remove pivot",
            "Take this pivot out (Del). The links it joined stay, and may then hang free.",
            lambda: document.attempt(f"Remove pivot {self._id}", lambda project: edits.remove_pivot(project, self._id)),
        )
        self.end()

    @staticmethod
    def shape(project: Project, _id: str) -> object:
        """Say when other rows are needed: when there are other links."""
        return tuple(link.id for link in project.links)

    def _tell_influence(self) -> None:
        """Say what this pin does to the worst check, once the hand is at rest."""
        from kinematics.influence import influence

        document = self.document
        if document.is_dragging or all(pivot.id != self._id for pivot in document.project.pivots):
            return
        sentence = influence_sentence(influence(document.analysis, self._id), document.units)
        self.matters.setText(breakable(sentence))

    def _of(self, project: Project) -> Pivot:
        return project.pivot(self._id)

    def _move(self, project: Project, x: float, y: float) -> Project:
        return edits.move_pivot(project, self._id, (x, y))

    def _join_boxes(self) -> QWidget:
        """A box for each link, two beside each other."""
        whole = QWidget()
        grid = QGridLayout(whole)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(1)
        for place, link in enumerate(self.document.project.links):
            box = TickBox(link.id)
            named(box, f"Joins {link.id}", f"Whether this pin goes through {link.id}. A pivot joins two links or more.")
            box.clicked.connect(self._rejoin)
            grid.addWidget(box, place // 2, place % 2)
            self._joins[link.id] = box
        self.on_refresh(self._show_joins)
        return whole

    def _show_joins(self, project: Project) -> None:
        joins = self._of(project).joins
        for link_id, box in self._joins.items():
            box.setChecked(link_id in joins)

    def _rejoin(self) -> None:
        old = self._of(self.document.project).joins
        now = {link_id for link_id, box in self._joins.items() if box.isChecked()}
        joins = (
            *(each for each in old if each in now),
            *(each for each in self._joins if each in now and each not in old),
        )
        if not self.document.attempt(
            f"Re-join pivot {self._id}", lambda project: edits.rejoin_pivot(project, self._id, joins)
        ):
            self._show_joins(self.document.project)


class LinkForm(Form):
    """A link's name, width and kind."""

    KINDS = (("link", "a link between"), ("panel", "the panel that opens"), ("fixed", "the fixed link (the body)"))

    def __init__(self, document: Document, link_id: str) -> None:
        super().__init__(document)
        self._id = link_id
        self.rename("link", link_id, edits.rename_link)
        self.width_field = self.length(
            "Width",
            f"Set width of {link_id}",
            "Width of the link's plate: a band around its pins, which is then watched against outlines. 0 is a "
            "bare line, not watched.",
            lambda project: project.link(self._id).width,
            lambda project, width: edits.set_width(project, self._id, width),
        )
        self.kind = self.choice(
            "Is",
            f"Set kind of {link_id}",
            "Exactly one link is fixed and one is the panel. Making this one the panel or the fixed link makes the "
            "other an ordinary link.",
            self.KINDS,
            lambda project, kind: edits.set_kind(project, self._id, kind),
        )
        self.on_refresh(lambda project: self.kind.choose(project.link(self._id).kind))
        self.pins = self.told("")
        self.on_refresh(self._tell_pins)
        if document.project.link(link_id).kind == "link":
            self.button(
                "Remove link",
                "Take this link out (Del), with its outlines and marks, and with the pivots that joined it to one "
                "other link only.",
                lambda: document.attempt(
                    f"Remove link {self._id}", lambda project: edits.remove_link(project, self._id)
                ),
            )
        self.end()

    @staticmethod
    def shape(project: Project, link_id: str) -> object:
        """Say when other rows are needed: when the kind changes."""
        return project.link(link_id).kind

    def _tell_pins(self, project: Project) -> None:
        pins = ", ".join(pivot.id for pivot in project.pivots_on(self._id))
        self.pins.setText(breakable(f"Pins: {pins}.") if pins else "No pin joins it yet: it hangs free.")


LIMIT_SIDES = ("dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most")
WHERE = {1: "to the left", -1: "to the right"}


class MarkForm(Form):
    """A mark's place, what it rides on, and how far it may move."""

    def __init__(self, document: Document, mark_id: str) -> None:
        super().__init__(document)
        self._id = mark_id
        self.rename("mark", mark_id, edits.rename_mark)
        self.x_field = self.length(
            "x",
            f"Move mark {mark_id}",
            "How far right of the origin the mark is while the panel is shut.",
            lambda project: project.mark(self._id).at[0],
            lambda project, x: edits.move_mark(project, self._id, (x, project.mark(self._id).at[1])),
        )
        self.y_field = self.length(
            "y",
            f"Move mark {mark_id}",
            "How far above the origin the mark is while the panel is shut.",
            lambda project: project.mark(self._id).at[1],
            lambda project, y: edits.move_mark(project, self._id, (project.mark(self._id).at[0], y)),
        )
        self.x_field.line.setAccessibleName(f"x of mark {mark_id}")
        self.y_field.line.setAccessibleName(f"y of mark {mark_id}")
        on = self.choice(
            "Rides on",
            f"Set what mark {mark_id} rides on",
            "The link that this mark moves with.",
            [(link.id, link.id) for link in document.project.links],
            lambda project, link_id: edits.ride_mark(project, self._id, link_id),
        )
        self.on_refresh(lambda project: on.choose(project.mark(self._id).on))
        limits = document.project.limits
        places: list[int | None] = [place for place, limit in enumerate(limits) if limit.mark == mark_id]
        for which in places or [None]:
            self._limit_rows(which)
        self.button(
            "Remove mark",
            "Take this mark out (Del), and every want on it.",
            lambda: document.attempt(f"Remove mark {self._id}", lambda project: edits.remove_mark(project, self._id)),
        )
        self.end()

    @staticmethod
    def shape(project: Project, mark_id: str) -> object:
        """Say when other rows are needed: when there are other links or limits, or the front is elsewhere."""
        limits = tuple(place for place, limit in enumerate(project.limits) if limit.mark == mark_id)
        return tuple(link.id for link in project.links), limits, side_ahead(project)

    def _limit_rows(self, which: int | None) -> None:
        """Rows for one limit on this mark; None: for one that isn't there yet."""
        self.heading("Never goes further from its shut place than")
        ahead = side_ahead(self.document.project)
        for way in limit_ways(ahead):
            self._way_row(which, way)
        if ahead:
            self.told(f"Back is {WHERE[ahead]}: the panel's rear edge is its end by the hinge.")
        self.angle(
            "from opening",
            f"Set limit on {self._id}",
            "The opening from which on this holds; 0 is from shut.",
            lambda project: self._limit(project, which).after_deg,
            lambda project, deg: self._set(project, which, after_deg=deg),
        )

    def _way_row(self, which: int | None, way: LimitWay) -> None:
        def read(project: Project) -> float | None:
            bound = getattr(self._limit(project, which), way.side)
            return None if bound is None else way.sign * bound + 0.0  # never −0

        def take(project: Project, mm: float | None) -> Project:
            return self._set(project, which, **{way.side: None if mm is None else way.sign * mm + 0.0})

        tip = (
            f"How far {way.name} the mark may go from its shut place; 0 is not at all, a negative length means that it "
            "must go so far the other way."
        )
        field = self.optional_length(way.name, f"Set limit on {self._id}", tip, read, take)
        field.line.setAccessibleName(f"{way.name}, at most, mark {self._id}")

    def _limit(self, project: Project, which: int | None) -> Limit:
        if which is not None and which < len(project.limits) and project.limits[which].mark == self._id:
            return project.limits[which]
        return Limit(self._id)

    def _set(self, project: Project, which: int | None, **changes: float | None) -> Project:
        """Change a limit; one that wants nothing any more is taken out."""
        limit = replace(self._limit(project, which), **changes)  # type: ignore[arg-type]  # only its float fields
        if all(getattr(limit, side) is None for side in LIMIT_SIDES):
            return edits.remove_limit(project, self._id, which) if which is not None else project
        return edits.set_limit(project, limit, which)

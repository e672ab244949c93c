"""What is wanted of lifting, each want a check; beside each stands what it comes to."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox, paragraph, say
from app.holding_words import wind_words
from app.quantities import FORCE
from app.words import FAILS, HOLDS, LIFT_KINDS, check_have
from kinematics import loading

if TYPE_CHECKING:
    from PySide6.QtWidgets import QFormLayout, QLabel

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.loads import WorstCase
    from kinematics.project import Project
    from kinematics.results import Check


class LiftWantsBox(LiftBox):
    """Pushes, self-rise, staying open; and the worst case in which it must stay."""

    title: ClassVar[str] = "Wants of lifting"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.comes_to: dict[tuple[str, str], QLabel] = {}
        self._form: QFormLayout | None = None
        self._build_pushes()
        self._build_staying()
        self._build_worst()
        self.told("Without friction, which comes and goes. What fails here is among the checks, with what is missing.")

    def _build_pushes(self) -> None:
        self.shut = self.optional_quantity(
            "Push when shut",
            "Want the push when shut",
            "Largest push at the handle that the shut panel may need.",
            FORCE,
            lambda project: loading.lift_wants_of(project).shut_at_most,
            lambda project, newtons: loading.want_lifting(project, shut_at_most=newtons),
        )
        self._come_to("push", "shut")
        self.anywhere = self.optional_quantity(
            "Push anywhere",
            "Want the largest push",
            "Largest push at the handle that any opening may need.",
            FORCE,
            lambda project: loading.lift_wants_of(project).at_most,
            lambda project, newtons: loading.want_lifting(project, at_most=newtons),
        )
        self._come_to("push", "largest")
        self.rests = self.optional_angle(
            "No self-rise before",
            "Want no self-rise",
            "The opening before which the panel must not rise by itself: else it jumps at whoever unlatches it, and "
            "leans on its latch all day.",
            lambda project: loading.lift_wants_of(project).rests_until_deg,
            lambda project, deg: loading.want_lifting(project, rests_until_deg=deg),
        )
        self._come_to("rests", "")

    def _build_staying(self) -> None:
        self.stays = self.flag(
            "stays open by itself",
            "Want that it stays open",
            "No hand is needed at full opening.",
            lambda project: loading.lift_wants_of(project).stays_open,
            lambda project, stays: loading.want_lifting(project, stays_open=stays),
        )
        self._come_to("push", "open")

    def _build_worst(self) -> None:
        self.worst = self.flag(
            "stays open at worst, too:",
            "Want that it stays open at worst",
            "The same in the cold, on a slope either way, in a gust, with one strut dead, all at once.",
            lambda project: loading.lift_wants_of(project).stays_open_in is not None,
            lambda project, wanted: (
                loading.want_worst(project) if wanted else loading.want_lifting(project, stays_open_in=None)
            ),
        )
        self._come_to("push", "worst")
        self.cold = self.warmth(
            "Struts at",
            "Set the worst temperature",
            "The coldest day on which it is to stay open. Empty: as warm as the struts are taken to be.",
            lambda project: _worst(project).temperature,
            lambda project, celsius: loading.want_worst(project, temperature=celsius),
        )
        self.slope = self.angle(
            "On a slope of",
            "Set the worst slope",
            "The slope of the ground, uphill or downhill, whichever is worse: 0 to 45 degrees.",
            lambda project: _worst(project).slope_deg,
            lambda project, deg: loading.want_worst(project, slope_deg=deg),
        )
        self.wind = paragraph()
        self.row("In a gust of", self.wind)
        self.dead = self.flag(
            "with one strut dead",
            "Set whether one strut is dead",
            "Any one of the gas struts may have lost its gas.",
            lambda project: _worst(project).one_dead,
            lambda project, dead: loading.want_worst(project, one_dead=dead),
        )

    def _come_to(self, kind: str, side: str) -> None:
        label = self.comes_to[kind, side] = paragraph()
        self.row("", label)
        self._form = self._rows  # all rows stand in one

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  the same in all units
        """Say how many of the wants hold."""
        checks = _checks(analysis)
        held = sum(check.ok for check in checks)
        return f"{held} of {len(checks)} hold" if checks else "none yet"

    def show_analysis(self, analysis: Analysis) -> None:
        """Tell what each want comes to."""
        super().show_analysis(analysis)
        found = {(check.kind, check.side): check for check in _checks(analysis)}
        for key, label in self.comes_to.items():
            check = found.get(key)
            say(label, [] if check is None else [self._told(check)])
            if self._form is not None:
                self._form.setRowVisible(label, check is not None)
        asked = loading.lift_wants_of(analysis.project).stays_open_in is not None
        for widget in (self.cold, self.slope, self.dead):
            widget.setEnabled(asked)
        say(self.wind, [wind_words(analysis.project, self.units)])

    def _told(self, check: Check) -> str:
        return (
            f"{HOLDS if check.ok else FAILS} {check_have(check, self.units) if check.have is not None else 'not told'}"
        )


def _checks(analysis: Analysis) -> list[Check]:
    return [check for check in analysis.checks if check.kind in LIFT_KINDS]


def _worst(project: Project) -> WorstCase:
    """What is asked of the worst case; what it would begin with, where nothing is."""
    return loading.lift_wants_of(project).stays_open_in or loading.WORST

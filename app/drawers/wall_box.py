"""The wall in the drawer Build: how it stands to the centreline, picked by picture and echoed in words; what follows.

What is typed is the angle as the builder knows it (`app.wall_words`); which way the wall goes is picked by picture. How
the angle was given is remembered by the box alone: the project keeps the angle off square.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar, TypeVar

from app.drawers.lift_box import HOW, LiftBox, say
from app.drawers.wall_cases import CASES, CaseCards
from app.entry.form import ChoiceBox
from app.fields import Field, named
from app.hardware import hardware
from app.lengths import format_angle, format_length
from app.setout.bevel_view import bevel_view
from app.setout.sheet import ViewSheet
from app.wall_told import wall_told
from app.wall_words import (
    EACH,
    FAR,
    GIVEN,
    GRINDING_CAUTION,
    LIES,
    NO_BASE,
    NO_PINS,
    bevel_sentences,
    each_of,
    echo_words,
    foot_sentences,
    given_of,
    meets_sentences,
    nearer_sentence,
    untrued_sentences,
    wedge_sentences,
)
from kinematics.faces import wall
from kinematics.mount_parts import Base
from kinematics.mounting import base_made
from kinematics.rear_edge import side_ahead
from kinematics.untrued import nearest_elsewhere, untrued, wall_meets
from kinematics.wall_edits import are_alike, begin_wall, drop_wall, set_alike, set_hand, set_wall
from kinematics.wall_feet import foot_of
from kinematics.wall_parts import HANDS
from kinematics.walling import FLAT, from_centre, outboard_seen, wall_plane, wedge

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtWidgets import QWidget

    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Project

Told = TypeVar("Told")
PICTURE = 150
ALIKE, OWN = "alike", "own"
TRUED = (("foot", "grinding the feet"), ("shim", "a tapered shim"))


class WallBox(LiftBox):
    """The cases, the angle, the echo, the picture, and what it all comes to."""

    title: ClassVar[str] = "Wall"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._given = EACH
        self.introduction = self.told(
            "The links swing in planes along the centreline, and the wall seldom runs square to it. Say how it stands, "
            "and the bases are made true on it."
        )
        self.begin_button = self.button(
            "Say how the wall stands", "Begin with a wall that is square; then pick the way it goes.", self._begin
        )
        self.body = LiftBox(document, board)
        self.wide(self.body)
        self._build_angles()
        self._build_rows()
        self.faults = self.body.text_row()
        self.headings = [self.body.heading("Bevel and wedge")]
        self.figures = self.body.text_row()
        self.headings.append(self.body.heading("The webs’ feet"))
        self.feet = self.body.text_row()
        self.headings.append(self.body.heading("Without it"))
        self.without = self.body.text_row()
        self.body.told(GRINDING_CAUTION)
        self.drop_button = self.body.button(
            "No more of the wall", "Take all that is said of it out again: it is square then.", self._drop
        )

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say how the wall stands."""
        wall = analysis.project.wall
        return "" if wall is None else echo_words(analysis.project.walled, document.units).removesuffix(".")

    # Rows ------------------------------------------------------------------------------------------------------------

    def _build_angles(self) -> None:
        body = self.body
        self.sides = body.choice(
            "Sides",
            "Whether both sides of the wall are alike",
            "Alike: one angle for both, mirrored about the centreline. Each its own: measure and type both.",
            [(ALIKE, "both alike, mirrored"), (OWN, "each its own")],
            lambda project, value: set_alike(project, value == ALIKE),
        )
        body.on_refresh(lambda project: self.sides.choose(ALIKE if are_alike(project) else OWN))
        self.cases = CaseCards()
        self.cases.picked.connect(self._pick)
        body.wide(self.cases)
        self.given = ChoiceBox(GIVEN)
        named(
            self.given,
            "How the angle is given",
            "Each half off square to the centreline; both halves together off one flat wall; or the angle included "
            "between both halves, as a bevel gauge laid into the corner reads it.",
        )
        self.given.activated.connect(self._choose_given)
        body.row("Given", self.given)
        self.off = self._angle_row("Angle", "Set how far the wall is off square", "left")
        self.own = {
            hand: self._angle_row(f"{hand.capitalize()} off square", f"Set how far the {hand} wall is off square", hand)
            for hand in HANDS
        }
        self.echo = body.text_row()
        self.echo.setObjectName("subheading")
        self.picture = ViewSheet(
            "The wall seen from above",
            "Both halves of the wall with their angles, the bases and their wedges. You stand at the foot and look at "
            "the wall; the arrow says what is ahead.",
            PICTURE,
        )
        body.wide(self.picture)

    def _angle_row(self, label: str, name: str, hand: str) -> Field[float]:
        """Add the row of an angle, given as the box's choice says; that of one side is always off square. Emptied, the
        wall is square.
        """

        def given() -> str:
            return self._given if label == "Angle" else EACH

        def edit(each: float) -> None:
            self.document.commit()
            project = self.document.project
            way = -1.0 if self._ways()[hand] < 0.0 else 1.0
            self.document.apply(name, set_hand(project, hand, off_deg=way * each))

        field = Field(
            name,
            f"In degrees and without a sign, such as 9.5: the picture says which way it goes. Empty: square. {HOW}",
            lambda text: each_of(text, given()) if text.strip() else 0.0,
            lambda each: format_angle(given_of(each, given()), self.units, fine=True),
            edit,
        )
        self.body.row(label, field)
        self.body.on_refresh(lambda project: field.set_value(abs(project.walled.side(hand).off_deg)))
        return field

    def _lean_row(self, hand: str) -> Field[float | None]:
        """Add the row of a lean.   hand : "" for both sides."""
        return self.body.optional_angle(
            f"{hand} lean".strip().capitalize(),
            f"Set how far the {hand} wall leans".replace("  ", " "),
            "How far its top leans away from the pins, off plumb; over them: negative. Empty: as it is drawn.",
            lambda project: project.walled.side(hand or "left").lean_deg,
            lambda project, value: set_hand(project, hand or "left", lean_deg=value),
        )

    def _centre_row(self, hand: str) -> Field[float | None]:
        """Add the row of the way from the centreline.   hand : "" for both sides."""
        return self.body.over_nothing(
            f"{hand} from centreline".strip().capitalize(),
            f"Set the way from the centreline to the {hand} base".replace("  ", " "),
            "From the centreline to the links' plane, square to it. Empty: half of what hinges are apart (Lift).",
            lambda project: project.walled.side(hand or "left").from_centre,
            lambda project, value: set_hand(project, hand or "left", from_centre=value),
        )

    def _build_rows(self) -> None:
        body = self.body
        self.leans = [self._lean_row(hand) for hand in ("", *HANDS)]
        self.centres = [self._centre_row(hand) for hand in ("", *HANDS)]
        for field in self.leans:
            field.line.setPlaceholderText("as drawn")
        self.trued = body.choice(
            "Made true by",
            "Set how the bases are made true",
            "Grind the feet of the webs to the bevel before they are welded, so that the base plate lies on the wall; "
            "or put a tapered shim between base plate and wall, and all is cut square.",
            TRUED,
            lambda project, value: set_wall(project, trued=value),
        )
        body.on_refresh(lambda project: self.trued.choose(project.walled.trued))
        self.over = body.over_nothing(
            "Wedge over",
            "Set the depth of the wedge",
            "Across, square to the centreline. Empty: from one outer side of the webs to the other; the plate's width "
            "for a shim.",
            lambda project: project.walled.depth,
            lambda project, value: set_wall(project, depth=value),
        )
        self.over.line.setPlaceholderText("as the base is")
        self.thin = body.length(
            "Thin end",
            "Set the shim’s thin end",
            "Thickness of the tapered shim where it is thinnest.",
            lambda project: project.walled.shim_least,
            lambda project, value: set_wall(project, shim_least=value),
        )
        self.level = body.length(
            "Level line at",
            "Set the level line",
            "Height (y) in the side view of the line that a laser throws on the wall: all heights are told from it.",
            lambda project: project.walled.level,
            lambda project, value: set_wall(project, level=value),
        )
        self.edge = body.optional_length(
            "Wall’s edge",
            "Set the height of the wall’s edge",
            "Height of the wall's upper edge over the level line. Empty: where the drawn wall ends.",
            lambda project: project.walled.edge,
            lambda project, value: set_wall(project, edge=value),
        )
        self.edge.line.setPlaceholderText("as drawn")

    # What is shown ---------------------------------------------------------------------------------------------------

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the wall and what it comes to."""
        super().show_analysis(analysis)
        project = analysis.project
        said = project.wall is not None
        self.introduction.setVisible(not said)
        self.begin_button.setVisible(not said)
        self.body.setVisible(said)
        if not said:
            return
        self.body.refresh(project)
        self._show_rows(project)
        say(self.echo, [echo_words(project.walled, self.units)])
        self._show_picture(project)
        self._show_figures(analysis)

    def _show_rows(self, project: Project) -> None:
        """Show the rows that fit: one angle or two, the shim's."""
        alike = are_alike(project)
        single: list[QWidget] = [self.given, self.off, self.leans[0], self.centres[0]]
        double: list[QWidget] = [*self.own.values(), *self.leans[1:], *self.centres[1:]]
        for widget in single:
            self.body.set_row(widget, alike)
        for widget in double:
            self.body.set_row(widget, not alike)
        self.body.set_row(self.thin, project.walled.trued == "shim")
        self.given.choose(self._given)
        spacing = None if project.loads is None else project.loads.spacing
        for field in self.centres:
            field.line.setPlaceholderText("not known" if spacing is None else format_length(0.5 * spacing, self.units))

    def _ways(self) -> dict[str, float]:
        """Which way each half goes: as the project says, else as is picked."""
        wall_told, picked = self.document.project.walled, dict(zip(HANDS, self.cases.case, strict=True))
        offs = {hand: wall_told.side(hand).off_deg for hand in HANDS}
        return {hand: off if abs(off) > FLAT else float(picked[hand]) for hand, off in offs.items()}

    def _seen(self, project: Project) -> tuple[int, int]:
        """+1 where the left hinge is to the right of one who faces the wall; +1 where ahead is towards him."""
        plane = wall_plane(project, project.mounted.base or Base(), "left")
        if plane is None:
            return 1, 1
        ahead = (1 if plane.out[0] >= 0.0 else -1) * (side_ahead(project) or 1)
        return outboard_seen(project, plane), ahead

    def _show_picture(self, project: Project) -> None:
        told, look = project.walled, self.board.look
        offs = told.side("left").off_deg, told.side("right").off_deg
        left, ahead = self._seen(project)
        ways = self._ways()
        case = tuple(1 if ways[hand] > 0.0 else -1 for hand in HANDS)
        self.cases.show_cases(CASES[:2] if are_alike(project) else CASES, (case[0], case[1]), (left, ahead), look)
        view = bevel_view(offs, left, ahead, told.trued, self.units)
        self.picture.show_view(view, look, f"{view.title}. {echo_words(told, self.units)}")

    def _show_figures(self, analysis: Analysis) -> None:
        """Say what is wrong, and what it comes to."""
        project, units = analysis.project, self.units
        base = project.mounted.base or Base()
        made, face = base_made(project, base, hardware()), wall(project, base)
        planes = _there(wall_plane(project, base, hand) for hand in HANDS)
        if made is None or face is None or not planes:
            say(self.faults, [NO_PINS if face is None else LIES])
            for label in (self.figures, self.feet, self.without):
                say(label, [])
            self._show_headings()
            return
        wrong = [] if project.mounted.base is not None else [NO_BASE]
        for plane in planes:
            wrong += meets_sentences(wall_meets(analysis, base, plane.hand), plane.hand, units)
        wrong += wall_told(project, base, units)
        wrong += [FAR] if from_centre(project, "left") is None else []
        say(self.faults, [each for each in wrong if each])
        wedges = _there(wedge(project, base, hand) for hand in HANDS)
        feet = _there(foot_of(project, made, hand) for hand in HANDS)
        say(self.figures, [*bevel_sentences(planes, units), *wedge_sentences(wedges, made, units)])
        say(self.feet, foot_sentences(feet, made, units))
        without = untrued_sentences(_there(untrued(analysis, base, hand) for hand in HANDS), units)
        alike = are_alike(project)
        nearer = [
            nearer_sentence(nearest_elsewhere(project, base, hand), units, "this" if alike else f"the {hand}")
            for hand in HANDS
        ]
        say(self.without, [*without, *dict.fromkeys(each for each in nearer if each)])
        self._show_headings()

    def _show_headings(self) -> None:
        """Show the headings that have something beneath them."""
        for heading, label in zip(self.headings, (self.figures, self.feet, self.without), strict=True):
            heading.setVisible(bool(label.text()))

    # Edits -----------------------------------------------------------------------------------------------------------

    def _begin(self) -> None:
        self.document.attempt("Say how the wall stands", begin_wall)

    def _drop(self) -> None:
        self.document.attempt(self.drop_button.text(), drop_wall)

    def _choose_given(self) -> None:
        """Show the same angle in another way; nothing is edited."""
        self._given = self.given.value
        self.off.set_value(abs(self.document.project.walled.side("left").off_deg))

    def _pick(self, left: int, right: int) -> None:
        """Take the way each half goes from a picture."""
        self.document.attempt("Set which way the wall goes", partial(_turned, ways={"left": left, "right": right}))
        self.show_analysis(self.document.analysis)


def _there(found: Iterable[Told | None]) -> list[Told]:
    """What there is."""
    return [each for each in found if each is not None]


def _turned(project: Project, ways: dict[str, int]) -> Project:
    """The project with each half going the way it should, by as much as before."""
    for hand in HANDS[:1] if are_alike(project) else HANDS:
        project = set_hand(project, hand, off_deg=ways[hand] * abs(project.walled.side(hand).off_deg))
    return project

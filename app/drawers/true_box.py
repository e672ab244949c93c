"""A photo made true, by hand: the corners of a known rectangle, or points in common. Part of the photos' box."""

from __future__ import annotations

from functools import partial
from math import dist
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.board.photo_hands import pick_pairs, pick_spots
from app.entry.form import ChoiceBox, push_button
from app.fields import Field, length_field, named
from app.photo_words import fit_words, laid_words
from kinematics import truing
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.board import Board
    from app.board.photo_hands import Spotted
    from app.document import Document
    from kinematics.project import Picture, Point, Project
    from kinematics.truing import Trued

INCH = 25.4
SHEETS = {
    "A4": ("a sheet of A4, 297 × 210 mm", (297.0, 210.0)),  # ISO 216
    "A3": ("a sheet of A3, 420 × 297 mm", (420.0, 297.0)),  # ISO 216
    "Letter": ("a sheet of Letter, 11 × 8 1/2 in", (11 * INCH, 8.5 * INCH)),  # ANSI/ASME Y14.1, size A
    "Tabloid": ("a sheet of Tabloid, 17 × 11 in", (17 * INCH, 11 * INCH)),  # ANSI/ASME Y14.1, size B
    "own": ("a rectangle of own size", (300.0, 300.0)),
}
WAYS = {
    "shape": "keeps its shape: scale, turn, shift",
    "size": "keeps its size: turn, shift",
    "true": "made true: 4 points or more",
}
CORNERS = ("one corner", "the next corner", "the third corner", "the last corner")


class TrueBox(QWidget):
    """Makes the chosen photo true, and says how well that went."""

    def __init__(self, document: Document, board: Board, chosen: Callable[[], Picture | None]) -> None:
        super().__init__()
        self._document, self._board, self._chosen = document, board, chosen
        self._size = list(SHEETS["own"][1])
        self._told_of: tuple[object, ...] = ()  # the place that the words speak of
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._build_sheet()
        self._build_points()
        self.told = QLabel()
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setWordWrap(True)
        self._column.addWidget(self.told)
        self.told.hide()

    def _build_sheet(self) -> None:
        self.sheet = ChoiceBox((key, words) for key, (words, _) in SHEETS.items())
        named(self.sheet, "Known rectangle", "What lies in the photo's plane, and whose corners can be seen sharply.")
        self.sheet.activated.connect(self._show_sizes)
        self._column.addWidget(self.sheet)
        self._sizes = QWidget()
        row = QHBoxLayout(self._sizes)
        row.setContentsMargins(0, 0, 0, 0)
        self.fields: list[Field[float]] = []
        for place, name in enumerate(("Width of the rectangle", "Height of the rectangle")):
            field = length_field(
                name, f"{name}, as it lies in the photo.", lambda: self._document.units, partial(self._set_size, place)
            )
            self.fields.append(field)
            row.addWidget(field)
        self._column.addWidget(self._sizes)
        self.corners = push_button(
            "Make true by its corners",
            "Click the four corners, in any order: the camera's slant is undone, the photo to scale.",
            self.pick_corners,
        )
        self.swap = push_button(
            "Swap its sides", "The sheet stood where it was taken to lie, or the other way.", self.swap_sides
        )
        row = QHBoxLayout()
        row.addWidget(self.corners)
        row.addWidget(self.swap)
        row.addStretch(1)
        self._column.addLayout(row)
        self._show_sizes()

    def _build_points(self) -> None:
        self.way = ChoiceBox(WAYS.items())
        named(
            self.way,
            "How common points move the photo",
            "A photo that is true already keeps its shape, or its size too; others are made true by four points.",
        )
        self._column.addWidget(self.way)
        self.points = push_button(
            "Lay on by common points",
            "Click a point of this photo, then where it belongs: on another photo, a pin, a mark or a line. Two points "
            "or more; Enter ends.",
            self.pick_points,
        )
        row = QHBoxLayout()
        row.addWidget(self.points)
        row.addStretch(1)
        self._column.addLayout(row)

    # Showing ---------------------------------------------------------------------------------------------------------

    def show_photo(self, picture: Picture) -> None:
        """Follow the chosen photo; words about another place than it has now go."""
        self.swap.setEnabled(len(picture.place.picks) == 4)
        if self._told_of and self._told_of != (picture.id, picture.place.matrix):
            self._told_of = ()
            self.told.hide()
        self._show_sizes()

    def _show_sizes(self) -> None:
        self._sizes.setVisible(self.sheet.value == "own")
        for field, value in zip(self.fields, self._size, strict=True):
            field.set_value(value)

    def _set_size(self, place: int, value: float) -> None:
        self._size[place] = value

    def _tell(self, name: str, words: str) -> None:
        self._told_of = (name, self._document.project.picture(name).place.matrix)
        self.told.setText(words)
        self.told.show()

    # Doing -----------------------------------------------------------------------------------------------------------

    def pick_corners(self) -> None:
        """Click the four corners of the rectangle."""
        picture = self._chosen()
        if picture is not None:
            sentences = [f"Corners: click {each} of {SHEETS[self.sheet.value][0]}." for each in CORNERS]
            done = partial(self._true_by_corners, picture.id)
            self._board.start_gesture(partial(pick_spots, picture_id=picture.id, sentences=sentences, on_done=done))

    def _true_by_corners(self, name: str, found: list[Spotted]) -> None:
        own = self.sheet.value == "own"
        size = (self._size[0], self._size[1]) if own else SHEETS[self.sheet.value][1]
        px, miss = [each.px for each in found], max(each.miss_px for each in found)
        turned = False if own else None  # own sizes are typed as they lie
        self._make_true(name, lambda project: truing.true_by_rectangle(project, name, px, size, turned, miss))

    def swap_sides(self) -> None:
        """Take the rectangle to stand that was taken to lie."""
        picture = self._chosen()
        if picture is None or len(picture.place.picks) != 4:
            return
        picks = picture.place.picks
        wide, high = dist(picks[0].at, picks[1].at), dist(picks[1].at, picks[2].at)
        px, miss, name = [pick.px for pick in picks], picture.place.miss_px, picture.id
        self._make_true(name, lambda project: truing.true_by_rectangle(project, name, px, (high, wide), False, miss))

    def _make_true(self, name: str, make: Callable[[Project], Trued]) -> None:
        try:
            self._document.commit()
            made = make(self._document.project)
        except HingewrightError as fault:
            self._document.refuse(str(fault))
            return
        if made.fit.mirrored:
            self._document.refuse(
                "These points go round the other way in the photo, as in a mirror. Look whether two changed places."
            )
            return
        self._document.apply(f"Make {name} true", made.project)
        self._tell(name, fit_words(made.fit, made.between, self._document.units))

    def pick_points(self) -> None:
        """Click points of the photo and where they belong."""
        picture = self._chosen()
        if picture is not None:
            done = partial(self._lay, picture.id)
            self._board.start_gesture(partial(pick_pairs, picture_id=picture.id, on_done=done))

    def _lay(self, name: str, pairs: list[tuple[Spotted, Point]]) -> None:
        px, at = [spotted.px for spotted, _ in pairs], [place for _, place in pairs]
        miss = max((spotted.miss_px for spotted, _ in pairs), default=0.5)
        if self.way.value == "true":
            self._make_true(name, lambda project: truing.true_by_points(project, name, px, at, miss))
            return
        try:
            self._document.commit()
            keep = self.way.value == "size"
            changed, laid = truing.lay_by_points(self._document.project, name, px, at, keep)
        except HingewrightError as fault:
            self._document.refuse(str(fault))
            return
        self._document.apply(f"Lay {name} on", changed)
        self._tell(name, laid_words(laid, self._document.units))

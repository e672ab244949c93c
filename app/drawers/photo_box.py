"""Photos beneath the board: bring them in, choose one, and say where it lies. Part of the drawer Trace.

What the hand does on the board is in `app.board.photo_hands`; what comes of picked points in `kinematics.truing`.
"""

from __future__ import annotations

from functools import partial
from math import isclose
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from app.board.gestures import placement_of
from app.board.photo_hands import drag_photo, pick_spots
from app.drawers.true_box import TrueBox
from app.entry.form import ChoiceBox, push_button
from app.fields import Field, length_field, named
from app.photo_words import photo_words, reduced_words
from app.pumped import Pumped
from kinematics import beneath, truing
from kinematics.errors import HingewrightError
from kinematics.pictures import inverse, laid, picture_of, pixel_size, through

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.board import Board
    from app.board.photo_hands import Spotted
    from app.document import Document
    from app.files.photos import Photo
    from kinematics.project import Picture, Point, Project

FIRST_WIDTH = 0.85  # of what the board shows


class PhotoBox(QWidget):
    """The photos of the project, and what can be done to the one that is chosen."""

    def __init__(self, document: Document, board: Board, ask_file: Callable[[], object]) -> None:
        super().__init__()
        self._document, self._board = document, board
        self._ends: tuple[Spotted, ...] = ()  # of a known length that is still to be typed
        self._refusal = self._noticed = ""  # what was told last of a photo that couldn't be read; and of all
        self._pixels: dict[str, float | None] = {}  # of each photo, how large its pixels were drawn last
        self._pumped = Pumped(self, lambda fault: self._refuse(str(fault)))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._build_ways_in(ask_file)
        self._own = QWidget()
        self._column.addWidget(self._own)
        self._build_own()
        document.changed.connect(self._show)
        document.restyled.connect(self._restyle)
        document.analysed.connect(self._keep_in_sight)
        document.noticed.connect(self._take_note)
        document.told.connect(self._take_note)
        self._show(document.project)

    # Building --------------------------------------------------------------------------------------------------------

    def _build_ways_in(self, ask_file: Callable[[], object]) -> None:
        self._row(
            self._column,
            push_button("Photo from a file…", "Lay a photo beneath the board, to trace over (Ctrl+Shift+I).", ask_file),
            push_button("Paste photo", "Lay the picture that was copied beneath the board.", self.paste),
        )
        self.reading = faint("")
        self._column.addWidget(self.reading)
        self.reading.hide()

    def _build_own(self) -> None:
        column = QVBoxLayout(self._own)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        self.which = ChoiceBox([])
        named(self.which, "Photo", "The photo that is moved, scaled and made true by what stands below.")
        self.which.activated.connect(self._choose)
        column.addWidget(self.which)
        self.told = faint("")
        column.addWidget(self.told)
        self.rides_on = ChoiceBox([])
        named(self.rides_on, "Photo rides on", "The link that the photo moves with; mostly the fixed link.")
        self.rides_on.activated.connect(
            lambda: self._edit("Set what {} rides on", beneath.ride_picture, self.rides_on.value)
        )
        column.addWidget(self.rides_on)
        self._build_fade(column)
        self._build_lay(column)
        self._build_scale(column)
        self.true = TrueBox(self._document, self._board, lambda: self.chosen)
        column.addWidget(self.true)
        self._build_rest(column)

    def _build_fade(self, column: QVBoxLayout) -> None:
        self.fade = QSlider(Qt.Orientation.Horizontal)
        self.fade.setRange(0, 100)
        self.fade.setPageStep(10)
        named(self.fade, "Fade", "How pale the photo is: left as it is, right not to be seen.")
        self.fade.sliderPressed.connect(lambda: self._document.begin(f"Fade {self._name}"))
        self.fade.valueChanged.connect(self._fade)
        self.fade.sliderReleased.connect(self._document.commit)
        row = QHBoxLayout()
        row.addWidget(QLabel("Fade"))
        row.addWidget(self.fade, 1)
        column.addLayout(row)

    def _build_lay(self, column: QVBoxLayout) -> None:
        column.addWidget(subheading("Lay"))
        self._row(
            column,
            push_button("Move", "Drag the photo about on the board; Esc ends it.", self.move_by_hand),
            push_button("Level", "Click two points that lie level; the photo is turned so.", self.level),
            push_button(
                "Plumb", "Click two points that stand plumb, one over the other; the photo is turned so.", self.plumb
            ),
        )

    def _build_scale(self, column: QVBoxLayout) -> None:
        self.scale = push_button(
            "Scale by two points",
            "Click two points whose distance you know, far apart; then type it.",
            self.pick_length,
        )
        self._row(column, self.scale)
        self.length: Field[float] = length_field(
            "Known distance", "How far the two points are apart.", lambda: self._document.units, self._scale
        )
        row = QHBoxLayout()
        row.addWidget(QLabel("their distance"))
        row.addWidget(self.length, 1)
        column.addLayout(row)

    def _build_rest(self, column: QVBoxLayout) -> None:
        self._row(
            column,
            push_button("Crop", "Drag a box around what is to be seen of the photo; it gets surer, too.", self.crop),
            push_button(
                "Show all of it", "Take the crop away.", lambda: self._edit("Show all of {}", truing.crop, None)
            ),
        )
        self.hide_button = push_button("Hide photo", "Leave the photo out, or show it again.", self._hide)
        self._row(
            column,
            self.hide_button,
            push_button(
                "Delete photo",
                "Take the photo out; what was traced stays.",
                lambda: self._edit("Delete {}", beneath.remove_picture),
            ),
        )

    @staticmethod
    def _row(column: QVBoxLayout, *made: QPushButton) -> None:
        row = QHBoxLayout()
        row.setSpacing(6)
        for each in made:
            row.addWidget(each)
        row.addStretch(1)
        column.addLayout(row)

    # Showing ---------------------------------------------------------------------------------------------------------

    @property
    def chosen(self) -> Picture | None:
        """The photo that is chosen."""
        return next((each for each in self._document.project.photos if each.id == self._name), None)

    @property
    def _name(self) -> str:
        return self.which.value

    def _restyle(self) -> None:
        """Show all once more, told in other words."""
        self._show(self._document.project)

    def _show(self, project: Project) -> None:
        if self._document.is_dragging:
            return
        names = [picture.id for picture in project.photos]
        self.which.set_options((name, name) for name in names)
        self._own.setVisible(bool(names))
        self.rides_on.set_options((link.id, f"rides on {link.id}") for link in project.links)
        self._show_chosen()

    def _choose(self) -> None:
        self._ends = ()
        self._show_chosen()

    def _show_chosen(self) -> None:
        picture = self.chosen
        if picture is None:
            return
        self.told.setText(photo_words(picture, self._document.units))
        self.rides_on.choose(picture.on)
        self.fade.blockSignals(True)
        self.fade.setValue(round(100 * picture.place.fade))
        self.fade.blockSignals(False)
        self.hide_button.setText("Show photo" if picture.hidden else "Hide photo")
        known = picture.place.lengths
        self.length.setEnabled(bool(known or self._ends))
        if known and not self._ends:
            self.length.set_value(known[-1].length)
        self.true.show_photo(picture)

    def _keep_in_sight(self) -> None:
        """Show all when a photo has got another size, by a step, its undo or its redo, while nothing else is drawn."""
        project = self._document.project
        now = {picture.id: pixel_size(picture.place) for picture in project.photos}
        pairs = [(self._pixels[name], now[name]) for name in now if name in self._pixels]
        self._pixels = now
        if not project.outlines and not project.pivots and any(resized(*pair) for pair in pairs):
            self._board.fit()

    # Bringing in -----------------------------------------------------------------------------------------------------

    def take_file(self, path: Path) -> None:
        """Bring a photo in from a file; read off the window's thread."""
        from app.files.photos import read_photo

        self._say(f"Reading {path.name}…")
        self._pumped.do(str(path), partial(read_photo, path), self._take)

    def paste(self) -> None:
        """Bring the copied picture in; a copied file too."""
        from pathlib import Path

        from app.files.photo_names import is_photo_name

        data = QGuiApplication.clipboard().mimeData()
        files = [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
        photos = [path for path in files if is_photo_name(path)]
        if photos:
            self.take_file(photos[0])
            return
        self.take_image(QGuiApplication.clipboard().image(), "pasted photo")

    def take_image(self, image: object, name: str) -> None:
        """Bring in an image out of another program."""
        from app.files.photos import photo_of_image

        try:
            self._take(photo_of_image(image if isinstance(image, QImage) else QImage(), name))
        except HingewrightError as fault:
            self._refuse(str(fault))

    def _take(self, photo: Photo) -> None:
        """Lay a photo in the middle of the board."""
        self._say("")
        project, camera = self._document.project, self._board.view.camera
        name = beneath.free_picture_id(project, photo.name)
        covered = self._board.covered_left
        middle = placement_of(self._document, project.fixed.id).back(
            (camera.middle[0] + covered / 2 / camera.scale, camera.middle[1])
        )
        room = camera.size[0] - covered, camera.size[1]
        width = FIRST_WIDTH * min(room[0], room[1] * photo.size[0] / photo.size[1]) / camera.scale
        place = laid(photo.size, middle, width)
        picture = picture_of(name, project.fixed.id, photo.media, photo.content, place)
        if self._document.attempt(f"Lay {name} beneath", lambda p: beneath.add_picture(p, picture)):
            self.which.choose(name)
            self._choose()
            if self._refusal and self._refusal == self._noticed:
                self._document.noticed.emit("")  # it was of another photo than the one that lies there now
            words = reduced_words(photo.came, photo.size)
            if words:
                self._document.noticed.emit(words)

    def _refuse(self, sentence: str) -> None:
        self._say("")
        self._refusal = sentence
        self._document.noticed.emit(sentence)

    def _take_note(self, sentence: str) -> None:
        self._noticed = sentence

    def _say(self, words: str) -> None:
        self.reading.setText(words)
        self.reading.setVisible(bool(words))

    # Changing --------------------------------------------------------------------------------------------------------

    def _edit(self, label: str, edit: Callable[..., Project], *values: object) -> None:
        name = self._name
        if name:
            self._document.attempt(label.format(name), lambda project: edit(project, name, *values))
            self._show(self._document.project)

    def _hide(self) -> None:
        picture = self.chosen
        if picture is not None:
            self._edit("Show {}" if picture.hidden else "Hide {}", beneath.hide_picture, not picture.hidden)

    def _fade(self, value: int) -> None:
        document, name = self._document, self._name
        if not name:
            return
        if document.is_dragging:
            document.preview(beneath.fade_picture(document.project, name, value / 100))
        else:
            self._edit("Fade {}", beneath.fade_picture, value / 100)

    def move_by_hand(self) -> None:
        """Drag the photo about."""
        if self._name:
            self._board.start_gesture(partial(drag_photo, picture_id=self._name), drags=True)

    def level(self) -> None:
        """Turn it by two points that lie level."""
        self._pick_two("Level: click {} of two points that lie level.", self._level)

    def plumb(self) -> None:
        """Turn it by two points that stand plumb."""
        self._pick_two("Plumb: click {} of two points, one over the other.", partial(self._level, upright=True))

    def _level(self, found: list[Spotted], upright: bool = False) -> None:
        ends = found[0].px, found[1].px
        self._edit("Turn {} plumb" if upright else "Level {}", beneath.level_picture, ends, upright)

    def pick_length(self) -> None:
        """Pick the two ends of a known length; then it is typed."""
        self._pick_two("Scale: click {} of a known distance.", self._ask_length, ("one end", "the other end"))

    def _ask_length(self, found: list[Spotted]) -> None:
        self._ends = tuple(found)
        (x0, y0), (x1, y1) = found[0].at, found[1].at
        self.length.setEnabled(True)
        self.length.set_value(round(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5, 1))
        self.length.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.length.line.selectAll()

    def _scale(self, length: float) -> None:
        picture = self.chosen
        if picture is None:
            return
        if self._ends:
            ends, miss = (self._ends[0].px, self._ends[1].px), max(each.miss_px for each in self._ends)
        elif picture.place.lengths:
            ends, miss = picture.place.lengths[-1].px, picture.place.miss_px
        else:
            return
        self._document.commit()
        scaled = beneath.scale_picture(self._document.project, picture.id, ends, length, miss)
        self._ends = ()
        self._document.apply(f"Scale {picture.id}", scaled)
        self._show(self._document.project)

    def _pick_two(
        self,
        sentence: str,
        then: Callable[[list[Spotted]], object],
        words: tuple[str, str] = ("the first", "the second"),
    ) -> None:
        if self._name:
            sentences = [sentence.format(each) for each in words]
            self._board.start_gesture(partial(pick_spots, picture_id=self._name, sentences=sentences, on_done=then))

    def crop(self) -> None:
        """Drag a box around what is to be seen."""
        picture = self.chosen
        if picture is None:
            return

        def done(corners: tuple[Point, ...]) -> None:
            if corners:
                self._crop(picture.id, corners)

        self._board.start_drawing_box(picture.on, done)

    def _crop(self, name: str, corners: tuple[Point, ...]) -> None:
        def cropped(project: Project) -> Project:
            place = project.picture(name).place
            px = [through(inverse(place.matrix), at) for at in corners]
            wide, high = place.size
            left, right = (min(max(edge(x for x, _ in px), 0.0), float(wide)) for edge in (min, max))
            top, bottom = (min(max(edge(y for _, y in px), 0.0), float(high)) for edge in (min, max))
            return truing.crop(project, name, (left, top, right, bottom))

        self._document.attempt(f"Crop {name}", cropped)


def resized(before: float | None, now: float | None) -> bool:
    """Whether a photo whose pixels had the one size (mm) and have the other is drawn larger or smaller."""
    return before is not None and now is not None and not isclose(before, now, rel_tol=1e-3)


def subheading(words: str) -> QLabel:
    """Make a small heading."""
    label = QLabel(words)
    label.setObjectName("subheading")
    return label


def faint(words: str) -> QLabel:
    """Make a paragraph in a low voice."""
    label = QLabel(words)
    label.setObjectName("faint")
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label

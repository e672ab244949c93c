"""A picture to show others: of which kind, how large, on light or dark paper.

The sweep as an animation takes long, so it is drawn in a process of its own, with progress, and can be stopped.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QLabel, QProgressBar, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.document import News
from app.drawing_job import DrawingJob
from app.entry.form import ChoiceBox, push_button
from app.exports import written
from app.fields import Field, named
from app.files.animation import MOST_PIXELS
from app.files.pictures import LARGEST_SIDE, LEAST_SIDE, picture_image, save_picture
from app.lengths import format_angle, quoted
from app.look import dark, light
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from app.look import Look

Size = tuple[int, int]
KINDS = (
    (".png", "picture (PNG)"),
    (".svg", "drawing (SVG)"),
    (".pdf", "page (PDF)"),
    (".gif", "animation of the sweep (GIF)"),
)
USUAL: dict[str, Size] = {".gif": (800, 500)}
STILL: Size = (1600, 1000)
QUICK = 4_000_000
"""Pixels that are drawn while the window waits, a moment; more are drawn in a process of their own."""
SIZES = "Type it as 1600 × 1000."


class PictureDialog(StayingDialog):
    """Asks what the picture is to be, and has it written or put on the clipboard.

    ask : asks for the name of a file: title, endings → path, or None where it was left.
    say : tells a sentence where the window tells its own; it stands in the dialog as well.
    """

    def __init__(
        self,
        document: Document,
        look: Look,
        ask: Callable[[str, tuple[str, ...]], Path | None],
        say: Callable[[str], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Picture or animation")
        self.setAccessibleName("Picture or animation")
        self._document, self._ask, self._notice = document, ask, say
        self._size: Size = STILL
        self.job: DrawingJob | None = None
        self._out = Path()
        self._build(look)
        document.posed.connect(self._tell)
        self._tell()

    # Layout -----------------------------------------------------------------------------------------------------------

    def _build(self, look: Look) -> None:
        column = QVBoxLayout(self)
        self.told = QLabel()
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setWordWrap(True)
        column.addWidget(self.told)
        rows = QFormLayout()
        rows.setHorizontalSpacing(14)
        column.addLayout(rows)
        self.kind = ChoiceBox(KINDS)
        self.kind.setMinimumWidth(230)
        named(self.kind, "Kind", "A picture for anywhere, a drawing that stays sharp, a page, or the sweep in motion.")
        self.kind.activated.connect(self._take_kind)
        self.sides = Field("Size", f"Width and height in pixels. {SIZES}", self._read_size, shown_size, self._take_size)
        self.sides.set_value(self._size)
        self.sheet = ChoiceBox((("light", "light: ink on paper"), ("dark", "dark: chalk on a dark sheet")))
        self.sheet.choose(look.name)
        named(self.sheet, "Sheet", "Light or dark paper in the picture; the window stays as it is.")
        for words, widget in (("Kind", self.kind), ("Size, pixels", self.sides), ("Sheet", self.sheet)):
            label = QLabel(words)
            label.setBuddy(widget.line if isinstance(widget, Field) else widget)
            rows.addRow(label, widget)
        self._build_end(column)

    def _build_end(self, column: QVBoxLayout) -> None:
        self.save = push_button("Save…", "Choose a name and write it.", self._save)
        self.copy = push_button("Copy", "Put the picture on the clipboard, to paste it elsewhere.", self._copy)
        self.bar = QProgressBar()
        named(self.bar, "Progress", "How much of the animation is drawn.")
        self.stop = push_button("Stop", "Leave it; nothing is written.", self._stop)
        self.said = QLabel()
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self.said.setWordWrap(True)
        self.said.hide()
        for widget in (self.said, self.save, self.copy, self.bar, self.stop):
            column.addWidget(widget)
        box = close_only()
        box.rejected.connect(self.reject)
        column.addWidget(box)
        self._show_busy(False)

    def _show_busy(self, busy: bool) -> None:
        self.bar.setVisible(busy)
        self.bar.setValue(0)
        self.stop.setVisible(busy)
        self.save.setEnabled(not busy)

    def _tell(self, _: object = None) -> None:
        """Say what the picture shows: the pose on the board now."""
        document = self._document
        if self.kind.value == ".gif":
            end = format_angle(document.analysis.opening.reached_deg, document.units)
            self.told.setText(f"The panel opens to {end} and shuts again, over and over.")
        else:
            at = self._at_deg()
            told = f"open {format_angle(at, document.units)}" if at else "shut"
            self.told.setText(f"The hinge as it stands on the board now: {told}.")
        self.copy.setEnabled(self.kind.value != ".gif")

    def _at_deg(self) -> float:
        document = self._document
        return min(max(document.pose.deg, 0.0), document.analysis.opening.reached_deg)

    # Taking over ------------------------------------------------------------------------------------------------------

    def _take_kind(self) -> None:
        if self._size in (STILL, *USUAL.values()) or self.kind.value == ".gif":
            self._size = USUAL.get(self.kind.value, STILL)
            self.sides.set_value(self._size)
        self._tell()

    def _read_size(self, text: str) -> Size:
        match = re.fullmatch(r"\s*(\d{1,6})\s*[xX×*;, ]\s*(\d{1,6})\s*", text)
        if match is None:
            raise HingewrightError(f"{quoted(text)} is no size", remedy=SIZES)
        size = int(match[1]), int(match[2])
        if not all(LEAST_SIDE <= side <= LARGEST_SIDE for side in size):
            raise HingewrightError(
                f"{shown_size(size)} is no size for a picture", remedy=f"Take {LEAST_SIDE} to {LARGEST_SIDE} a side."
            )
        if self.kind.value == ".gif" and size[0] * size[1] > MOST_PIXELS:
            raise HingewrightError(
                f"{shown_size(size)} is too large for an animation", remedy="Take up to 1920 × 1080."
            )
        return size

    def _take_size(self, size: Size) -> None:
        self._size = size

    # Writing ----------------------------------------------------------------------------------------------------------

    def _copy(self) -> None:
        self._say(copy_picture(self._document, self._look(), self._size))

    def _look(self) -> Look:
        return dark() if self.sheet.value == "dark" else light()

    def _save(self) -> None:
        kind = self.kind.value
        path = self._ask("Save the animation" if kind == ".gif" else "Save a picture", (kind,))
        if path is None:
            return
        if kind == ".gif" or (kind == ".png" and self._size[0] * self._size[1] > QUICK):
            self._start(path)
            return
        document = self._document
        try:
            save_picture(document.project, document.analysis, path, self._at_deg(), self._size, self._look())
        except HingewrightError as error:
            self._say(str(error))
            return
        self._say(written(path))

    def _start(self, path: Path) -> None:
        """Have it drawn in a process of its own."""
        words = ["--size", f"{self._size[0]}x{self._size[1]}", "--look", self.sheet.value]
        if path.suffix.lower() != ".gif":
            words += ["--at", repr(self._at_deg())]
        self.job, self._out = DrawingJob(self), path
        self.job.progressed.connect(self.bar.setValue)
        self.job.ended.connect(self._end)
        self._show_busy(True)
        try:
            self.job.start(self._document.project, path, words)
        except HingewrightError as error:
            self._end(str(error))

    def _stop(self) -> None:
        if self.job is not None:
            self.job.stop()

    def _end(self, sentence: str) -> None:
        job, self.job = self.job, None
        if job is None:
            return
        self._show_busy(False)
        self._say("Stopped; nothing was written." if job.is_stopped else sentence or written(self._out))
        job.deleteLater()

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))
        self._notice(sentence)

    def done(self, result: int) -> None:
        """Stop what is still being drawn when the dialog is put away."""
        if self.job is not None:
            self.job.wait()
        super().done(result)


def shown_size(size: Size) -> str:
    """A size as people write it."""
    return f"{size[0]} × {size[1]}"


def copy_picture(document: Document, look: Look, size: Size = STILL) -> str:
    """Put the hinge as it stands on the clipboard; gives the sentence that says so."""
    from PySide6.QtGui import QGuiApplication

    if size[0] * size[1] > QUICK:
        return f"{shown_size(size)} is too large for the clipboard: save it instead."
    deg = min(max(document.pose.deg, 0.0), document.analysis.opening.reached_deg)
    QGuiApplication.clipboard().setImage(picture_image(document.analysis, deg, size, look))
    return News(f"A picture of {shown_size(size)} pixels is on the clipboard: paste it where you like.")

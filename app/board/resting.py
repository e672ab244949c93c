"""What the board tells when the pointer rests on a pin: what it joins, and how far the worst check moves with it.

Nothing is reckoned while the pointer moves, while something is dragged or the panel runs; the tip comes when the
pointer has been still on a pin for a while, and goes as soon as it leaves.
"""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QTimer
from PySide6.QtWidgets import QToolTip

from app.board.hits import pivot_place
from app.influence_words import influence_sentence
from app.part_words import pivot_words

if TYPE_CHECKING:
    from app.board.board import Board
    from app.document import Document

REST_MS = 450
LINE = 64  # letters to a line of the tip: Qt breaks no plain tip, and one line of it would be as wide as the screen
BESIDE = QPoint(14, 10)  # pixels from the pin to its tip: the pin stays in sight


class Resting(QObject):
    """The tip at one board's pins."""

    def __init__(self, board: Board) -> None:
        super().__init__(board)
        self._board = board
        self._pin, self._told = "", False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(REST_MS)
        self._timer.timeout.connect(self._tell)
        board.view.hovered.connect(lambda _: self._look())
        board.view.pressed.connect(lambda *_: self._leave())
        board.document.analysed.connect(lambda _: self._leave())

    def _look(self) -> None:
        """Wait anew at another pin; leave where there is none."""
        hit = self._board.pointer.hit
        pin = hit.id if hit is not None and hit.kind == "pivot" and not self._board.pointer.is_busy else ""
        if pin != self._pin:
            self._leave()
            self._pin = pin
        if pin and not self._told:
            self._timer.start()

    def _leave(self) -> None:
        self._timer.stop()
        if self._told:
            QToolTip.hideText()
        self._pin, self._told = "", False

    def _tell(self) -> None:
        document, pin = self._board.document, self._pin
        if not pin or document.is_dragging or all(pivot.id != pin for pivot in document.project.pivots):
            return
        place = pivot_place(document.project, self._board.placements, pin)
        viewport = self._board.view.viewport()
        at = viewport.mapToGlobal(self._board.view.to_px(place).toPoint() + BESIDE)
        self._told = True
        QToolTip.showText(at, pin_tip(document, pin), viewport)


def pin_tip(document: Document, pin: str) -> str:
    """Say what a pin is and what it does to the worst check, as a tip of two paragraphs in short lines."""
    from kinematics.influence import influence

    told = influence_sentence(influence(document.analysis, pin), document.units)
    paragraphs = f"{pin}: {pivot_words(document.project.pivot(pin))}", told
    return "\n".join(fill(words, LINE, break_long_words=False, break_on_hyphens=False) for words in paragraphs)

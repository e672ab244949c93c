"""What stands on the glass over the sheet and doesn't move with it: scale bar, title block, hint. Places are pixels."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPen

from app import painter as put
from app.labels import Box
from app.lengths import format_angle
from app.sheet import scale_bar
from app.traces import touching_now
from app.words import gap_name, hidden_words

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from app.lengths import Units
    from app.look import Look
    from app.sheet import Camera
    from app.symbols import Spot
    from kinematics.analysis import Analysis
    from kinematics.results import Pose

FRAME = 7.0  # how far the frame stands from the edge of the glass
EDGE = 16.0
ROW = 18.0
HINT_ROOM = 260.0  # a hint in less than this would be a tower
HINT_PAD = 8.0
HAND_ROOM = 28.0  # a hint keeps so far from the hand, and from what is said beside it


@dataclass(slots=True)
class Glass:
    """The words and figures on the glass."""

    look: Look
    camera: Camera
    units: Units = "mm"
    title: str = ""
    opening: str = ""
    contact: str = ""
    hint: str = ""
    is_hint_high: bool = False
    covered_left: float = 0.0
    hidden: str = ""

    def tell(self, analysis: Analysis, pose: Pose, units: Units) -> None:
        """Take title, opening and contacts from the pose that is shown."""
        self.units, self.title = units, analysis.project.title
        has_slid = analysis.state == "slides" and pose.arc != 0.0
        self.opening = "moved" if has_slid else "shut" if pose.deg == 0.0 else f"open {format_angle(pose.deg, units)}"
        touching = touching_now(analysis, pose.deg)
        self.hidden = hidden_words(analysis.project)
        self.contact = "; ".join(f"{gap_name(gap.between)} touch here" for gap in touching[:2])

    def sheet(self) -> Box:
        """Give the part of the sheet that can be seen."""
        width, height = self.camera.size
        return Box(self.covered_left + FRAME, FRAME, width - FRAME, height - FRAME)

    def boxes(self) -> list[Box]:
        """Give what it takes up, so that labels keep clear."""
        hint = [self.hint_box()] if self.hint else []
        return [box for box in (self._bar_box(), self._title_box(), *hint) if box.right > box.left]

    def draw(self, painter: QPainter) -> None:
        """Draw it all."""
        self._draw_frame(painter)
        length, text = scale_bar(self.camera.scale, self.units)
        put.draw_scale_bar(
            painter, self.look, (self.covered_left + EDGE, self.camera.size[1] - EDGE), length * self.camera.scale, text
        )
        self._draw_title(painter)
        if self.hint:
            self._draw_hint(painter)

    def _draw_frame(self, painter: QPainter) -> None:
        seen = self.sheet()
        put.draw_edge(
            painter, QRectF(seen.left, seen.top, seen.right - seen.left, seen.bottom - seen.top), self.look.edge
        )

    def _rows(self) -> list[tuple[str, str, bool]]:
        rows = [
            (self.title, self.look.ink, True),
            (self.opening, self.look.ink, False),
            (self.contact, self.look.short, True),
            (self.hidden, self.look.faint, False),
        ]
        return [row for row in rows if row[0]]

    def _bar_box(self) -> Box:
        length, text = scale_bar(self.camera.scale, self.units)
        wide = max(length * self.camera.scale, put.words_size(f"0 – {text}", self.look.families, self.look.small_px)[0])
        bottom = self.camera.size[1] - EDGE
        left = self.covered_left + EDGE
        return Box(left, bottom - 28.0, left + wide, bottom)

    def _title_box(self) -> Box:
        sizes = [
            put.words_size(text, self.look.families, self.look.words_px, bold)[0] for text, _, bold in self._rows()
        ]
        right, bottom = self.camera.size[0] - FRAME - 0.5, self.camera.size[1] - FRAME - 0.5  # in the frame's corner
        seen, bar = self.sheet(), self._bar_box()
        room = min(0.6 * (seen.right - seen.left), right - bar.right - EDGE)  # the rest belongs to the scale bar
        wide = max(min(max(sizes, default=0.0) + 14.0, room), 40.0)
        return Box(right - wide, bottom - ROW * len(sizes) - 6.0, right, bottom)

    def _draw_title(self, painter: QPainter) -> None:
        box, rows = self._title_box(), self._rows()
        if not rows:
            return
        place = QRectF(box.left, box.top, box.right - box.left, box.bottom - box.top)
        painter.fillRect(place, put.face_brush(self.look.paper, 0.9))
        put.draw_edge(painter, place, self.look.edge)
        for row, (text, ink, bold) in enumerate(rows):
            top = place.top() + 3.0 + row * ROW
            if row:
                painter.setPen(QPen(QColor(self.look.grid_major), 1.0))
                painter.drawLine(QPointF(place.left() + 1, top), QPointF(place.right() - 1, top))
            painter.setPen(QColor(ink))
            painter.setFont(put.font(self.look.families, self.look.words_px, bold))
            room = QRectF(place.left() + 8.0, top, place.width() - 12.0, ROW)
            shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
            painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)

    def hint_box(self) -> Box:
        """Give the place of the hint at the sheet's foot: between scale bar and title block if two lines will do there,
        else above the two, in as many lines as it needs.
        """
        seen, bar, title = self.sheet(), self._bar_box(), self._title_box()
        left, right = bar.right + EDGE, (title.left if self._rows() else seen.right) - EDGE
        lines, half = self._hint_size(right - left)
        bottom = self.camera.size[1] - EDGE
        if right - left < HINT_ROOM or lines > 2:
            left, right = seen.left + EDGE, seen.right - EDGE
            lines, half = self._hint_size(right - left)
            bottom = min(bar.top, title.top if self._rows() else bar.top) - EDGE / 2
        middle = (left + right) / 2
        high = put.words_size(self.hint, self.look.families, self.look.words_px)[1]
        if self.is_hint_high:
            bottom = seen.top + EDGE + lines * high + 8.0
        return Box(middle - half, bottom - lines * high - 8.0, middle + half, bottom)

    def clear_of(self, spot: Spot) -> bool:
        """Let the hint change between head and foot of the sheet, where a hand at work comes near it; tells whether."""
        if not self.hint:
            self.is_hint_high = False
            return False
        box = self.hint_box()
        near = Box(box.left - HAND_ROOM, box.top - HAND_ROOM, box.right + HAND_ROOM, box.bottom + HAND_ROOM)
        if near.holds(spot):
            self.is_hint_high = not self.is_hint_high
        return near.holds(spot)

    def _hint_size(self, room: float) -> tuple[int, float]:
        """The hint's lines in a room of so many pixels, and half of its width."""
        wide = put.words_size(self.hint, self.look.families, self.look.words_px)[0]
        room = max(room - 2 * HINT_PAD, 80.0)
        lines = 1 if wide <= room else ceil(1.1 * wide / room)  # a tenth more, as lines break between words
        return lines, (min(wide, room) + 2 * HINT_PAD) / 2

    def _draw_hint(self, painter: QPainter) -> None:
        box = self.hint_box()
        place = QRectF(box.left, box.top, box.right - box.left, box.bottom - box.top)
        painter.setPen(QPen(QColor(self.look.selection), 1.2))
        painter.setBrush(put.face_brush(self.look.paper))
        painter.drawRect(place)
        painter.setPen(QColor(self.look.ink))
        painter.setFont(put.font(self.look.families, self.look.words_px))
        flags = int(Qt.AlignmentFlag.AlignCenter) | int(Qt.TextFlag.TextWordWrap)
        painter.drawText(place.adjusted(HINT_PAD, 0.0, -HINT_PAD, 0.0), flags, self.hint)

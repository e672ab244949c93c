"""The travel strip: what happens between shut and the end, a lane for each watched pair and one for the transmission
angle.

Along x runs the opening from shut; where the panel slides without turning, the place along its branch instead. A
ruler above carries the marks in words and the pose's pointer; a press or drag anywhere, the arrow keys, Home and End
swing the panel, Space lets it run. While a pivot is dragged the ranges stand still and only curves change; they are
set anew when the drag ends.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QEvent, QObject, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QMenu, QToolButton, QWidget

from app.columns import scrolling_column, tight_column
from app.fields import is_by_key, named
from app.icons import icon
from app.lanes import HIGHEST, LABEL_WIDTH, Lane
from app.lengths import format_angle
from app.ruler import HEIGHT as RULER_HEIGHT
from app.ruler import Ruler, Scale
from app.travel import lanes_of, marks_of, scale_of, slides, travel_note

if TYPE_CHECKING:
    from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent

    from app.document import Document
    from app.lanes import Beside
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.results import Pose

RUN_MS = 3500  # one way from shut to the end
FRAME_MS = 16
STEP, FINE = 1.0, 0.1  # degrees a key press


class TravelStrip(QFrame):
    """Shows the newest analysis and pose of a document; asks the document for other poses."""

    played = Signal(bool)
    swung = Signal()  # by hand, by keys or while it runs: the strip has asked for another pose
    filled = Signal()  # there is more or less to show than before

    def __init__(self, document: Document, look: Look, label_width: int = LABEL_WIDTH) -> None:
        super().__init__()
        self._label_width = label_width  # pixels before the lanes
        self.setObjectName("strip")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        named(
            self,
            "Travel strip",
            "The travel from shut to the end. Drag anywhere to swing the panel; arrow keys step by 1° (with Shift "
            "0.1°), Home is shut, End the end, "
            "Space lets it run.",
        )
        self._document, self._look = document, look
        self._lanes: list[Lane] = []
        self._beside: tuple[str, Beside | None] = "", None
        self._scale = Scale()
        self._posed: tuple[bool, float, str] | None = None  # as shown: whether it slides, place, reading
        self._forward = True
        self._clock = QElapsedTimer()
        self._timer = QTimer(self)
        self._timer.setInterval(FRAME_MS)
        self._timer.timeout.connect(self._run_on)
        self._build()
        document.followed.connect(self._show_analysis)
        document.posed.connect(self._show_pose)
        document.restyled.connect(self._show_afresh)
        document.selected.connect(self._show_selected)
        self._show_analysis(document.analysis)
        self._show_pose(document.pose)

    # Layout ----------------------------------------------------------------------------------------------------------

    def _build_top(self) -> None:
        self.play_button = QToolButton()
        self.play_button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.play_button.setIconSize(QSize(18, 18))
        self.play_button.clicked.connect(self.toggle_play)
        self._reading = QLabel()
        self._reading.setObjectName("reading")
        self.ruler = Ruler(self._look)
        self.ruler.asked.connect(self._ask)
        head = QWidget()
        head.setFixedWidth(self._label_width)
        head_row = QHBoxLayout(head)
        head_row.setContentsMargins(8, 4, 8, 4)
        head_row.addWidget(self.play_button)
        head_row.addWidget(self._reading, 1)
        self._top.addWidget(head)
        self._top.addWidget(self.ruler, 1)

    def _build(self) -> None:
        self._top = QHBoxLayout()
        self._top.setSpacing(0)
        self._build_top()
        self._note = QLabel()
        self._note.setObjectName("faint")
        self._note.setWordWrap(True)
        self._note.setContentsMargins(12, 2, 12, 2)
        self._scroll, self._column = scrolling_column()
        self._column.addStretch(0)
        self._scroll.verticalScrollBar().installEventFilter(self)
        whole = tight_column(self)
        whole.setContentsMargins(0, 1, 0, 0)
        whole.addLayout(self._top)
        whole.addWidget(self._note)
        whole.addWidget(self._scroll, 1)
        self._show_playing()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the ruler as wide as the lanes when their scroll bar comes or goes."""
        if event.type() in (QEvent.Type.Show, QEvent.Type.Hide):
            bar = self._scroll.verticalScrollBar()
            self._top.setContentsMargins(0, 0, bar.sizeHint().width() if event.type() == QEvent.Type.Show else 0, 0)
        return super().eventFilter(watched, event)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        self.ruler.set_look(look)
        for lane in self._lanes:
            lane.view.set_look(look)
        self._show_playing()
        self._show_analysis(self._document.analysis)

    # Showing ---------------------------------------------------------------------------------------------------------

    @property
    def lanes(self) -> tuple[Lane, ...]:
        """The lanes on show, from above to below."""
        return tuple(self._lanes)

    def _show_analysis(self, analysis: Analysis) -> None:
        figures = lanes_of(analysis, self._document.units, self._pin())
        before = len(self._lanes), self._note.text()
        still = self._document.is_dragging and len(figures) == before[0]
        while len(self._lanes) < len(figures):
            lane = Lane(self._look, self._label_width)
            lane.asked.connect(self._ask)
            lane.set_place(self.ruler.place)
            self._column.insertWidget(len(self._lanes), lane, 1)
            self._lanes.append(lane)
        while len(self._lanes) > len(figures):
            lane = self._lanes.pop()
            lane.hide()
            lane.deleteLater()
        if not still:
            self._scale = scale_of(analysis)
        for lane, each in zip(self._lanes, figures, strict=True):
            lane.show_figures(each, None if still else self._scale)
        self._put_beside()
        self.ruler.scale = self._scale
        self.ruler.units = self._document.units
        self.ruler.unit = "" if slides(analysis) else "°"
        self.ruler.reached = analysis.arc_range if slides(analysis) else (0.0, analysis.opening.reached_deg)
        self.ruler.marks = marks_of(analysis, self._document.units)
        self.ruler.update()
        note = travel_note(analysis)
        self._note.setText(note)
        self._note.setVisible(bool(note))
        self._scroll.setVisible(bool(figures))
        if (len(figures), note) != before:
            self.setMaximumHeight(self.height_for(HIGHEST))
            self.filled.emit()

    def show_beside(self, title: str, beside: Beside | None) -> None:
        """Draw a figure in the lane of a title beside its own; None: none."""
        self._beside = title, beside
        self._put_beside()

    def _put_beside(self) -> None:
        title, beside = self._beside
        for lane in self._lanes:
            here = lane.figures is not None and lane.figures.title == title
            lane.view.show_beside(beside if here else None)

    def _pin(self) -> str | None:
        """The pin whose force is asked for: the one that is selected."""
        chosen = self._document.selection
        return chosen.id if chosen is not None and chosen.kind == "pivot" else None

    def _show_selected(self) -> None:
        """Let the selected pin's force stand out, if forces are shown."""
        if self._document.analysis.loads is not None:
            self._show_analysis(self._document.analysis)

    def _show_afresh(self) -> None:
        """Show all once more, as it is told in other words."""
        self._posed = None
        self._show_analysis(self._document.analysis)
        self._show_pose(self._document.pose)

    def _show_pose(self, pose: Pose) -> None:
        is_sliding = slides(self._document.analysis)
        place = pose.arc if is_sliding else pose.deg
        reading = "" if is_sliding else format_angle(pose.deg, self._document.units)
        if (is_sliding, place, reading) == self._posed:  # as at most moves of a drag
            return
        self._posed = is_sliding, place, reading
        self.ruler.place, self.ruler.reading = place, reading
        self.ruler.update()
        is_shut = pose.deg == 0.0 and not (is_sliding and pose.arc)
        self._reading.setText(
            "shut" if is_shut else "moved" if is_sliding else f"open {format_angle(pose.deg, self._document.units)}"
        )
        self._name_pose()
        for lane in self._lanes:
            lane.set_place(place)

    def _name_pose(self) -> None:
        """Tell a screen reader where the panel is; not at every frame while it runs."""
        name = f"Travel strip, {self._reading.text()}"
        if not self.is_playing and name != self.accessibleName():
            self.setAccessibleName(name)

    def height_for(self, lane_height: int) -> int:
        """Give the height at which each lane is so high, or at which there is nothing to show but ruler and note."""
        note = self._note.heightForWidth(max(self.width(), self.minimumSizeHint().width())) if self._note.text() else 0
        return RULER_HEIGHT + max(note, 0) + len(self._lanes) * lane_height + 1

    # Asking ----------------------------------------------------------------------------------------------------------

    def _ask(self, place: float) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        self.stop()
        self._go(place)

    def _go(self, place: float) -> None:
        analysis = self._document.analysis
        if slides(analysis):
            self._document.set_arc(min(max(place, analysis.arc_range[0]), analysis.arc_range[1]))
        else:
            self._document.set_opening(min(max(place, 0.0), analysis.opening.reached_deg))
        self.swung.emit()

    def _ends(self) -> tuple[float, float]:
        analysis = self._document.analysis
        return analysis.arc_range if slides(analysis) else (0.0, analysis.opening.reached_deg)

    def _place(self) -> float:
        pose = self._document.pose
        return pose.arc if slides(self._document.analysis) else pose.deg

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show by a frame that the keyboard has come to the strip."""
        self._show_keyed(is_by_key(event))
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame away."""
        self._show_keyed(keyed=False)
        super().focusOutEvent(event)

    def _show_keyed(self, keyed: bool) -> None:
        self.setProperty("keyed", keyed)
        self.style().unpolish(self)
        self.style().polish(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows step, Home and End go to the ends, Space plays and stops."""
        first, last = self._ends()
        step = (FINE if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else STEP) * (
            1.0 if not slides(self._document.analysis) else (last - first) / 90
        )
        places = {
            Qt.Key.Key_Left: self._place() - step,
            Qt.Key.Key_Right: self._place() + step,
            Qt.Key.Key_Home: first,
            Qt.Key.Key_End: last,
        }
        key = Qt.Key(event.key())
        if key in places:
            self.stop()
            self._go(places[key])
        elif key == Qt.Key.Key_Space:
            self.toggle_play()
        else:
            super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu of the lane under the pointer, or of the strip."""
        under = self.childAt(event.pos())
        lane = next((lane for lane in self._lanes if under is not None and lane.isAncestorOf(under)), None)
        menu = self.menu_of(lane)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(event.globalPos())
        event.accept()

    def menu_of(self, lane: Lane | None) -> QMenu:
        """Make the menu of a lane, or with None of the strip alone."""
        menu = QMenu(self)
        figures = lane.figures if lane is not None else None
        if figures is not None:
            if figures.least is not None:
                place = figures.least[0]
                menu.addAction(f"Go to where it is least: {figures.least_words}", lambda: self._ask(place))
            for sign in figures.more.signs if figures.more is not None else ():
                if sign.go:
                    menu.addAction(sign.go, partial(self._ask, sign.place))
            words = f"{figures.title}: {figures.told}"
            menu.addAction("Copy these figures", lambda: QGuiApplication.clipboard().setText(words))
            menu.addSeparator()
        menu.addAction("Stop\tSpace" if self.is_playing else "Play\tSpace", self.toggle_play)
        menu.addAction("To shut\tHome", self.go_first)
        menu.addAction("To the end\tEnd", self.go_last)
        return menu

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press on the strip's paper gives it the keys."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        super().mousePressEvent(event)

    def go_first(self) -> None:
        """Show the panel shut."""
        self.stop()
        self._go(self._ends()[0] if not slides(self._document.analysis) else 0.0)

    def go_last(self) -> None:
        """Show the panel as far along as it goes."""
        self.stop()
        self._go(self._ends()[1])

    # Playing ---------------------------------------------------------------------------------------------------------

    @property
    def is_playing(self) -> bool:
        """Whether the panel is running to and fro."""
        return self._timer.isActive()

    def play(self) -> None:
        """Let the panel run to and fro, from where it is."""
        first, last = self._ends()
        if last <= first:
            return
        self._forward = self._place() < last - 1e-6
        self._clock.start()
        self._timer.start()
        self._show_playing()

    def stop(self) -> None:
        """Stop where it is."""
        if self._timer.isActive():
            self._timer.stop()
            self._name_pose()
            self._show_playing()

    def toggle_play(self) -> None:
        """Play, or stop."""
        if self.is_playing:
            self.stop()
        else:
            self.play()

    def _run_on(self) -> None:
        """One frame: as far as the clock says, turning round at the ends."""
        first, last = self._ends()
        way = (last - first) * self._clock.restart() / RUN_MS
        place = self._place() + (way if self._forward else -way)
        if place >= last:
            place, self._forward = last, False
        elif place <= first:
            place, self._forward = first, True
        self._go(place)

    def _show_playing(self) -> None:
        name, tip = (
            ("Stop", "Stop the panel where it is (Space).")
            if self.is_playing
            else ("Play", "Let the panel run to and fro (Space).")
        )
        self.play_button.setIcon(icon(name.lower(), self._look.ink))
        named(self.play_button, name, tip)
        self.played.emit(self.is_playing)

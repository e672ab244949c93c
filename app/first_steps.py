"""The first steps: three things to try, each told in place beside the very thing, ticked off when it is done.

Drag a pin on the board, drag along the travel strip, click a check. The callouts let the mouse through to what lies
beneath, and go while something is dragged; only the small × of each can be clicked, and Esc does the same. Where they
stand is chosen in `app.note_places`; a screen reader says them as they come. What was done stays done: it is
remembered, and once all three are, or they were put away, they don't come again unless asked for from the help.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRect, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent, QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QToolButton, QWidget

from app.board.hits import pivot_place
from app.fields import named
from app.note_places import Surroundings, Want, line_end, note_places
from app.shapes import placed
from app.sheet import is_another
from app.words import HOLDS

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.window import Window
    from kinematics.project import Project

KEPT = "first steps"  # name in the settings
AWAY = "away"
FOLLOW_MS = 120  # how often they look where their things are
TICKED_MS = 1500
WIDE, PAD, DISC = 216.0, 10.0, 11.0
SHUT_SIDE = 20


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to try. thing : where it is in the window, None where there is none.   sides : where its callout may
    stand, seen from there.
    """

    key: str
    words: str
    thing: Callable[[], QPoint | None]
    sides: tuple[tuple[float, float], ...]


class Callout(QWidget):
    """A number, a sentence and a line to the thing. The mouse goes through it."""

    def __init__(self, window: Window, number: int, step: Step) -> None:
        super().__init__(window)
        self._window, self._number, self.step = window, number, step
        self.is_done = False
        self._box = QRectF()
        self._tip = QPointF()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        named(self, f"First step {number}: {step.words}", step.words)
        self.shut = QToolButton(window)
        self.shut.setText("×")
        self.shut.setFixedSize(SHUT_SIDE, SHUT_SIDE)
        self.shut.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        named(
            self.shut,
            f"Put first step {number} away",
            f"{step.words} Click × or press Esc to put these away; Help, First steps shows them again.",
        )
        self.hide()
        self.shut.hide()

    def box_size(self) -> QSize:
        """Give the size of the box around the words."""
        room = QRectF(0, 0, WIDE - 2 * PAD - 2 * DISC - 8 - SHUT_SIDE / 2, 1000)
        words = QFontMetricsF(self.font()).boundingRect(room, int(Qt.TextFlag.TextWordWrap), self.step.words)
        return QSize(round(WIDE), round(max(words.height(), 2 * DISC) + 2 * PAD))

    def stand(self, box: QRect, tip: QPoint) -> None:
        """Stand with the box there and the line to `tip`, both in the window."""
        whole = box.united(QRect(tip, QSize(1, 1))).adjusted(-12, -12, 12, 12)
        moved = QRectF(box.translated(-whole.topLeft())), QPointF(tip - whole.topLeft())
        if whole != self.geometry() or moved != (self._box, self._tip):
            self._box, self._tip = moved
            self.setGeometry(whole)
            self.shut.move(box.right() - SHUT_SIDE - 2, box.top() + 3)
            self.update()

    def say(self) -> None:
        """Have a screen reader say it: nobody comes upon it by the keys, as it takes none."""
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def tick(self) -> None:
        """Show that it is done, and say so."""
        self.is_done = True
        named(self, f"First step {self._number} is done: {self.step.words}", self.step.words)
        self.say()
        self.shut.hide()
        self.update()

    def show_all(self, seen: bool) -> None:
        """Show callout and × or hide them."""
        self.setVisible(seen)
        self.shut.setVisible(seen and not self.is_done)
        if seen:
            self.raise_()
            self.shut.raise_()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the line, the box, the number (a tick once it is done) and the words."""
        look, painter = self._window.look, QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = QColor(look.ok if self.is_done else look.selection)
        painter.setPen(QPen(ink, 1.4))
        painter.drawLine(line_end(self._box, self._tip), self._tip)
        painter.setBrush(QColor(look.paper))
        painter.drawRoundedRect(self._box.adjusted(0.7, 0.7, -0.7, -0.7), 4.0, 4.0)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(self._tip, 7.0, 7.0)
        disc = QRectF(self._box.left() + PAD, self._box.top() + PAD, 2 * DISC, 2 * DISC)
        painter.setBrush(ink)
        painter.drawEllipse(disc)
        painter.setPen(QColor(look.paper))
        painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, HOLDS if self.is_done else str(self._number))
        painter.setPen(QColor(look.ink))
        words = self._box.adjusted(PAD + 2 * DISC + 8, PAD, -PAD - SHUT_SIDE / 2, -PAD)
        flags = int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap)
        painter.drawText(words, flags, self.step.words)
        painter.end()


class FirstSteps(QObject):
    """The three callouts of one window."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self.callouts: tuple[Callout, ...] = ()
        self._project = window.document.project
        self._held = False  # the board is being worked on
        self._asked: tuple[list[Want], Surroundings] | None = None
        self._places: dict[str, tuple[QRect, int]] = {}
        self._follow = QTimer(self)
        self._follow.setInterval(FOLLOW_MS)
        self._follow.timeout.connect(self.place)
        window.document.changed.connect(self._see_change)
        window.strip.swung.connect(lambda: self.done("swing"))
        window.checks.asked.connect(lambda _: self.done("check"))
        window.board.view.viewport().installEventFilter(self)

    # Coming and going ------------------------------------------------------------------------------------------------

    def offer(self) -> None:
        """Show what was not yet tried, unless it was put away."""
        kept = self._kept()
        if AWAY not in kept:
            self._show([step for step in self._steps() if step.key not in kept])

    def begin(self) -> None:
        """Show all three, whatever was done before."""
        self._window.settings.set_text(KEPT, "")
        self._show(self._steps())

    def put_away(self) -> None:
        """Take all away for good."""
        self._window.settings.set_text(KEPT, AWAY)
        self._drop()

    def _kept(self) -> set[str]:
        return set(self._window.settings.text(KEPT).split())

    def _show(self, steps: list[Step]) -> None:
        self._drop()
        numbers = {step.key: number for number, step in enumerate(self._steps(), 1)}
        self.callouts = tuple(Callout(self._window, numbers[step.key], step) for step in steps)
        for callout in self.callouts:
            callout.shut.clicked.connect(self.put_away)
        if self.callouts:
            self._project = self._window.document.project
            self._follow.start()
            self.place()
            for callout in self.callouts:
                callout.say()

    def _drop(self) -> None:
        self._follow.stop()
        for callout in self.callouts:
            _discard(callout)
        self.callouts = ()

    # What is done ----------------------------------------------------------------------------------------------------

    def done(self, key: str) -> None:
        """Tick a step off; a moment later its callout goes."""
        for callout in self.callouts:
            if callout.step.key == key and not callout.is_done:
                callout.tick()
                self._keep(key)
                QTimer.singleShot(TICKED_MS, self, lambda: self._retire(key))

    def _keep(self, key: str) -> None:
        kept = self._kept() | {key}
        over = kept.issuperset(step.key for step in self._steps())
        self._window.settings.set_text(KEPT, AWAY if over else " ".join(sorted(kept)))

    def _retire(self, key: str) -> None:
        gone = [callout for callout in self.callouts if callout.step.key == key and callout.is_done]
        self.callouts = tuple(callout for callout in self.callouts if callout not in gone)
        for callout in gone:
            _discard(callout)
        if not self.callouts:
            self._follow.stop()

    def _see_change(self, project: Project) -> None:
        """A pin that was moved, by the mouse or by keys, is the first step."""
        if not self.callouts or self._window.document.is_dragging:
            return
        before, self._project = self._project, project
        if not is_another(before, project) and moved_a_pin(before, project):
            self.done("drag")

    # Where they stand ------------------------------------------------------------------------------------------------

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Get out of the way while the mouse works on the board."""
        if event.type() in (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonRelease):
            self._held = event.type() == QEvent.Type.MouseButtonPress
            self.place()
        return super().eventFilter(watched, event)

    def place(self) -> None:
        """Put each callout beside its thing; one whose thing isn't to be seen is hidden."""
        things = {callout.step.key: None if self._held else callout.step.thing() for callout in self.callouts}
        wants = [
            Want(callout.step.key, thing, callout.box_size(), callout.step.sides)
            for callout in self.callouts
            if (thing := things[callout.step.key]) is not None
        ]
        around = self._around()
        if (wants, around) != self._asked:  # while all stands still there is nothing to look for
            self._asked = wants, around
            before = {key: side for key, (_, side) in self._places.items()}
            self._places = note_places(wants, around, before) if wants else {}
        for callout in self.callouts:
            thing = things[callout.step.key]
            if thing is not None:
                callout.stand(self._places[callout.step.key][0], thing)
            if callout.isHidden() != (thing is None):
                callout.show_all(thing is not None)

    def _around(self) -> Surroundings:
        window, viewport, notice = self._window, self._window.board.view.viewport(), self._window.area.notice
        board = QRect(viewport.mapTo(window, QPoint(0, 0)), viewport.size())
        board.setLeft(board.left() + round(window.board.covered_left))
        over = [each for each in (notice, window.area.drawer) if each is not None and each.isVisible()]
        bars = tuple(QRect(each.mapTo(window, QPoint(0, 0)), each.size()) for each in over)
        return Surroundings(window.rect(), board, tuple(self._pins()), bars)

    def _pins(self) -> list[QPoint]:
        """Where the pins that can be dragged are in the window, as far as they are seen."""
        board, viewport = self._window.board, self._window.board.view.viewport()
        document = self._window.document
        placements = placed(document.analysis, document.pose)
        free = [pivot.id for pivot in document.analysis.project.pivots if not (pivot.hidden or pivot.locked)]
        places = [pivot_place(document.analysis.project, placements, each) for each in free]
        spots = [board.view.to_px(at).toPoint() for at in places]
        covered = QRect(round(board.covered_left), 0, viewport.width(), viewport.height())
        seen = viewport.rect().intersected(covered).adjusted(10, 10, -10, -10)
        return [viewport.mapTo(self._window, spot) for spot in spots if seen.contains(spot)]

    # The three -------------------------------------------------------------------------------------------------------

    def _steps(self) -> list[Step]:
        below, above, right, left = (0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0)
        along = tuple((side * x, -1.0) for x in (1.0, 2.0, 3.0) for side in (1, -1))
        corners = ((1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0))
        return [
            Step(
                "drag", "Drag a pin, or Page Down and arrow keys. The checks' figures follow at once.", self._a_pin,
                (*corners, right, below, left, above),
            ),
            Step(
                "swing", "Drag along this strip, or F6 to it and arrow keys. The panel swings.", self._pointer,
                ((0.4, -1.0), above, *along),
            ),
            Step(
                "check", "Click a check, or F6 to it and Enter. The board goes to what it speaks of.", self._a_check,
                ((-1.0, 0.4), left, *corners),
            ),
        ]  # fmt: skip

    def _a_pin(self) -> QPoint | None:
        pins = self._pins()
        return min(pins, key=QPoint.y) if pins else None

    def _moves(self) -> bool:
        """Whether the panel opens at all: before it does, neither the strip nor a check leads anywhere."""
        return self._window.document.analysis.opening.reached_deg > 0.0

    def _pointer(self) -> QPoint | None:
        ruler, moves = self._window.strip.ruler, self._moves()
        if not moves or not ruler.isVisible() or self._window.strip.height() < ruler.height():
            return None
        x = min(max(ruler.scale.pixel(ruler.place, ruler.width()), 8.0), ruler.width() - 8.0)
        return ruler.mapTo(self._window, QPoint(round(x), ruler.height() - 20))

    def _a_check(self) -> QPoint | None:
        rows = self._window.checks.rows
        if not self._moves() or not rows or rows[0].visibleRegion().isEmpty():
            return None
        return rows[0].mapTo(self._window, QPoint(14, rows[0].height() // 2))


def moved_a_pin(before: Project, after: Project) -> bool:
    """Tell whether a pivot that both have stands elsewhere."""
    places = {pivot.id: pivot.at for pivot in before.pivots}
    return any(pivot.id in places and pivot.at != places[pivot.id] for pivot in after.pivots)


def _discard(callout: Callout) -> None:
    for each in (callout, callout.shut):
        each.hide()
        each.deleteLater()

"""The view: the sheet's camera, its squares, and the raw pointer.

*Camera*: Qt's scroll bars count whole pixels, so the exact camera is kept here and they follow it; zooming in and
out again comes back to the same place. What the pointer does is told by signals in mm of the board; what that means
is decided elsewhere (`app.board.hands`). Moves are not told one by one: the last of them is told in the next turn
of the event loop, so that slow work never queues up stale ones.
"""

from __future__ import annotations

import os
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPixmapCache,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView

from app import painter as put
from app.sheet import Camera, grid_steps, steps_between
from kinematics.values import LARGEST_COORDINATE

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.board.scene import Scene
    from kinematics.project import Point

# Qt would share every larger face among threads, and wait for them longer than it takes to paint it.
os.environ.setdefault("QT_NO_GUI_THREADPOOL", "1")

CLICK_PX = 4.0  # a press that moves less than this is a click
WHEEL_STEP = 1.2  # zoom of one notch
CACHE_KB = (
    64 * 1024
)  # pictures of what stands still: two sheets of 2560 × 1440 at scale 2 would not fit Qt's usual 10 MB
CURSORS = {
    "pivot": Qt.CursorShape.OpenHandCursor,
    "mark": Qt.CursorShape.OpenHandCursor,
    "point": Qt.CursorShape.SizeAllCursor,
    "link": Qt.CursorShape.PointingHandCursor,
    "outline": Qt.CursorShape.PointingHandCursor,
    "measure": Qt.CursorShape.PointingHandCursor,
    "corner": Qt.CursorShape.SizeAllCursor,
    "zone": Qt.CursorShape.PointingHandCursor,
    "mass": Qt.CursorShape.OpenHandCursor,
    "handle": Qt.CursorShape.OpenHandCursor,
    "end": Qt.CursorShape.OpenHandCursor,
    "plate grip": Qt.CursorShape.SizeAllCursor,
    "foot": Qt.CursorShape.SizeAllCursor,
    "device": Qt.CursorShape.PointingHandCursor,
}


class BoardView(QGraphicsView):
    """Shows the scene. Places are mm."""

    pressed = Signal(object, bool)  # Point, whether it is the second press of a double click
    moved = Signal(object)  # Point; with the button down
    released = Signal(object)  # Point
    hovered = Signal(object)  # Point | None: the pointer left
    clicked = Signal()  # a press that might have pushed the sheet came up where it went down
    touched = Signal()  # the mouse moves, or a button goes down
    menu_wanted = Signal(object, object)  # Point, QPoint on the screen
    zoomed = Signal()  # the scale or the size changed

    def __init__(self, scene: Scene) -> None:
        super().__init__(scene)
        QPixmapCache.setCacheLimit(max(QPixmapCache.cacheLimit(), CACHE_KB))
        self._sheet = scene
        self._camera = Camera(0.5, (0.0, 0.0), (1.0, 1.0))
        self.units = "mm"
        self.draw_over: Callable[[QPainter], None] | None = None
        self.draw_under: Callable[[QPainter], None] | None = None  # on the paper; kept until the view's cache is reset
        self._panning: QPointF | None = None
        self._pressed_at = QPointF()
        self._space = False
        self._held = False
        self.modifiers = Qt.KeyboardModifier.NoModifier  # of the last mouse event, or of the keys since
        self._move: QPointF | None = None
        self._pointed: QPointF | None = None  # where the pointer is over the board
        self.stand_in: Point | None = None  # where the keyboard's hand is, which stands in for the pointer
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self.flush)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        # A pose moves nearly everything: one whole repaint is cheaper than reckoning what changed.
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setCacheMode(QGraphicsView.CacheModeFlag.CacheBackground)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMouseTracking(True)
        self.viewport().setMouseTracking(True)
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    # Camera ----------------------------------------------------------------------------------------------------------

    @property
    def camera(self) -> Camera:
        """What is on the sheet."""
        return self._camera

    def set_camera(self, camera: Camera) -> None:
        """Show another part of the side view."""
        size = float(self.viewport().width()), float(self.viewport().height())
        rescaled = camera.scale != self._camera.scale or size != self._camera.size
        self._camera = replace(camera, size=size)
        if rescaled or self.transform().m11() != camera.scale:
            self.setTransform(self.transform().fromScale(camera.scale, -camera.scale))
        self.horizontalScrollBar().setValue(round(camera.middle[0] * camera.scale - size[0] / 2))
        self.verticalScrollBar().setValue(round(-camera.middle[1] * camera.scale - size[1] / 2))
        if rescaled:
            self.resetCachedContent()
            self._sheet.rescale(camera.scale)
            self.zoomed.emit()

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom about a place of the viewport, its middle if none is given."""
        spot = about if about is not None else QPointF(self.viewport().rect().center())
        self.set_camera(self._camera.zoomed(factor, (spot.x(), spot.y())))

    def pan(self, x: float, y: float) -> None:
        """Push the sheet by so many pixels, to the right and down."""
        camera = self._camera
        middle = camera.middle[0] - x / camera.scale, camera.middle[1] + y / camera.scale
        self.set_camera(replace(camera, middle=middle))

    def to_mm(self, spot: QPointF) -> Point:
        """Give the point of the board at a place of the viewport; beyond where the paper ends, a point of its edge."""
        place = self.viewportTransform().inverted()[0].map(spot)
        return _on_paper(place.x()), _on_paper(place.y())

    def to_px(self, point: Point) -> QPointF:
        """Give the place of the viewport where a point of the board stands."""
        return self.viewportTransform().map(QPointF(*point))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the middle where it is."""
        super().resizeEvent(event)
        self.set_camera(self._camera)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer; two fingers on a touch pad push the sheet, with Ctrl they zoom."""
        fingers = event.phase() != Qt.ScrollPhase.NoScrollPhase and not event.pixelDelta().isNull()
        if fingers and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.pan(event.pixelDelta().x(), event.pixelDelta().y())
        else:
            notches = (event.angleDelta().y() or event.angleDelta().x()) / 120.0
            self.zoom(WHEEL_STEP**notches, event.position())
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        """Zoom by pinching; tell when the pointer leaves.

        Qt asks for tips of its own, of which no item has one; its answer would take away the board's.
        """
        if event.type() == QEvent.Type.ToolTip:
            return True
        if isinstance(event, QNativeGestureEvent) and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
            self.zoom(max(1.0 + event.value(), 0.1), event.position())
            return True
        if event.type() == QEvent.Type.Leave and not self._held:
            self._pointed = None
            self.hovered.emit(None)
        return super().viewportEvent(event)

    # Pointer ---------------------------------------------------------------------------------------------------------

    @property
    def is_held(self) -> bool:
        """Whether the left button is down on something that isn't a pan."""
        return self._held

    def set_space(self, down: bool) -> None:
        """Space is held: the next drag pushes the sheet."""
        self._space = down

    def show_grabbing(self) -> None:
        """Show by the pointer's shape that something is held."""
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def push_sheet(self) -> None:
        """Let the drag that has just begun push the sheet: there is nothing to take under the pointer."""
        self._held = False
        self._panning = self._pressed_at

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The middle button, or the left one with Space, pushes the sheet; the others are told."""
        self.touched.emit()
        self.flush()
        self.modifiers = event.modifiers()
        self._pressed_at = event.position()
        left = event.button() == Qt.MouseButton.LeftButton
        if event.button() == Qt.MouseButton.MiddleButton or (left and self._space):
            self._panning = event.position()
        elif left:
            self._held = True
            self.pressed.emit(self.to_mm(event.position()), False)
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """The second press of a double click."""
        self.flush()
        self.modifiers = event.modifiers()
        if event.button() == Qt.MouseButton.LeftButton:
            self._held = True
            self.pressed.emit(self.to_mm(event.position()), True)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Keep the last move for the next turn of the event loop."""
        if event.position() != self._pointed:  # the desktop tells a move too where only a window came or went
            self.touched.emit()
        self.modifiers = event.modifiers()
        self._pointed = event.position()
        if self._panning is not None:
            by = event.position() - self._panning
            self.pan(by.x(), by.y())
            self._panning = event.position()
        else:
            self._move = event.position()
            self._timer.start()
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End what the press began."""
        self.flush()
        self.modifiers = event.modifiers()
        if self._panning is not None:
            self._panning = None
            if (event.position() - self._pressed_at).manhattanLength() < CLICK_PX:
                self.clicked.emit()
        elif event.button() == Qt.MouseButton.LeftButton and self._held:
            self._held = False
            self.released.emit(self.to_mm(event.position()))
        event.accept()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of what lies here."""
        self.menu_wanted.emit(self.to_mm(QPointF(event.pos())), event.globalPos())
        event.accept()

    def hover_again(self) -> None:
        """Tell where the pointer is now that the sheet was moved beneath it."""
        if self.stand_in is not None:
            self.hovered.emit(self.stand_in)
        elif not self._held:
            self.hovered.emit(None if self._pointed is None else self.to_mm(self._pointed))

    def flush(self) -> None:
        """Tell the last move now."""
        self._timer.stop()
        if self._move is None:
            return
        spot, self._move = self._move, None
        (self.moved if self._held else self.hovered).emit(self.to_mm(spot))

    # Paper -----------------------------------------------------------------------------------------------------------

    def drawBackground(self, painter: QPainter, rect: QRectF | QRect) -> None:
        """Squared paper, in the builder's units."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        look = self._sheet.look
        fine, coarse = grid_steps(self._camera.scale, self.units)
        lines = [
            (colour, steps_between(rect.left(), rect.right(), step), steps_between(rect.top(), rect.bottom(), step))
            for colour, step in ((look.grid, fine), (look.grid_major, coarse))
        ]
        put.draw_grid(painter, look, lines, QRectF(rect))
        if self.draw_under is not None:
            self.draw_under(painter)

    def drawForeground(self, painter: QPainter, rect: QRectF | QRect) -> None:  # noqa: ARG002  Qt's own name
        """What stands on the glass, not on the sheet: scale bar, title, hints."""
        if self.draw_over is not None:
            painter.save()
            painter.resetTransform()
            self.draw_over(painter)
            painter.restore()


def _on_paper(place: float) -> float:
    """A project holds no place farther out, however far the sheet was pushed."""
    return min(max(place, -LARGEST_COORDINATE), LARGEST_COORDINATE)

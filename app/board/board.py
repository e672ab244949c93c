"""The board: the side view that a builder takes in hand.

It shows the document's newest analysis at the pose that is looked at, and turns what the hand does into gestures
(`app.board.hands`) and edits (`app.board.actions`). It computes nothing of the mechanism and keeps nothing of the
project.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QEvent, QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.board import actions, hands, marking
from app.board.glass import Glass
from app.board.hits import Hit, hit
from app.board.keys import Keys
from app.board.menu import menu_at
from app.board.scene import Scene
from app.board.view import CURSORS, BoardView
from app.document import Selection
from app.shapes import Placement, placed, shapes
from app.sheet import extent, fitted, is_another
from app.traces import pivot_path, traces

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QShowEvent

    from app.document import Document
    from app.look import Look
    from app.sheet import Camera
    from kinematics.analysis import Analysis
    from kinematics.project import Point
    from kinematics.results import Pose

REACH_PX = 8.0  # half of a target: 16 px across
FLASH_MS = 1600
MARGINS = (64.0, 40.0, 64.0, 56.0)  # around what is fitted: room for labels, title block and scale bar
DRAWING_HINT = (
    "Click the points of the outline; double-click or Enter ends it, the first point closes it, Esc drops it."
)


class Board(QWidget):
    """The canvas over a document. A pivot's drag is told three times: grabbed, dragged (many times), dropped."""

    pivot_grabbed = Signal(str)
    pivot_dragged = Signal(str, object)  # id, Point
    pivot_dropped = Signal(str)

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._scene = Scene(look)
        self.view = BoardView(self._scene)
        self._glass = Glass(look, self.view.camera)
        self._gesture: hands.Gesture | None = None
        self._drawing = False
        self._hit: Hit | None = None
        self._keys = Keys(self)
        self._shown: Analysis | None = None
        self._posed: Pose | None = None
        self._placements: dict[str, Placement] = {}
        self._fit_wanted = True
        self._fitted: Camera | None = None  # as the last fit left it
        self.covered_left = 0.0  # pixels at the left edge that an open drawer hides; what is fitted keeps clear of them
        self._flash = QTimer(self)
        self._flash.setSingleShot(True)
        self._flash.timeout.connect(self._end_flash)
        self._build()
        self._connect()
        self._show_analysis(document.analysis)

    def _build(self) -> None:
        self.setObjectName("board")
        self.setAccessibleName("Board")
        self.setAccessibleDescription(
            "The side view. Drag a pivot to move it, drag a link or the panel to swing it. Page Up and Page Down "
            "select a pivot, arrow keys nudge it by 1 mm, with Shift by 0.1 mm; L locks it; F shows all, Shift+F "
            "the pins."
        )
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.view)
        self.view.draw_over = self._draw_glass

    def _connect(self) -> None:
        view, document = self.view, self._document
        view.pressed.connect(self._press)
        view.moved.connect(lambda at: self._send(hands.Move(at)))
        view.released.connect(lambda at: self._send(hands.Release(at)))
        view.hovered.connect(self._hover)
        view.clicked.connect(self._click)
        view.menu_wanted.connect(self._open_menu)
        view.zoomed.connect(self._on_zoomed)
        document.analysed.connect(self._show_analysis)
        document.posed.connect(self._show_pose)
        document.selected.connect(self._show_selection)
        document.restyled.connect(self._show_afresh)

    # What others ask for ---------------------------------------------------------------------------------------------

    @property
    def document(self) -> Document:
        """The open document."""
        return self._document

    @property
    def scene(self) -> Scene:
        """The items, by key."""
        return self._scene

    @property
    def is_drawing(self) -> bool:
        """Whether an outline is being drawn."""
        return self._drawing

    def sizeHint(self) -> QSize:
        """Give the size it would like."""
        return QSize(900, 640)

    def set_look(self, look: Look) -> None:
        """Take another look."""
        self._look = self._glass.look = look
        self._scene.set_look(look, self.view.viewport().devicePixelRatioF())
        self.view.resetCachedContent()
        self._show_afresh()

    def fit(self) -> None:
        """Show all: the layout shut, and the panel through its sweep."""
        analysis = self._document.analysis
        self._fit_wanted = False
        self._show_points(extent(analysis.project, analysis))
        self._fitted = self.view.camera

    @property
    def is_fitted(self) -> bool:
        """Whether the sheet lies as the last fit left it: nobody has zoomed or pushed it since."""
        camera, fitted_ = self.view.camera, self._fitted
        return fitted_ is not None and (camera.scale, camera.middle) == (fitted_.scale, fitted_.middle)

    def _on_zoomed(self) -> None:
        """In a window of another size, fit what was fitted again; else find new places for the words."""
        if self.is_fitted and self._fitted is not None and self._fitted.size != self.view.camera.size:
            self.fit()
        else:
            self._arrange()

    def fit_pins(self) -> None:
        """Come close to the linkage: all pins, shut and through the sweep."""
        paths = [path for path in self._document.analysis.pivot_paths.values() if len(path)]
        if paths:
            self._show_points(np.concatenate(paths))

    def _show_points(self, points: NDArray[np.float64]) -> None:
        size = float(self.view.viewport().width()), float(self.view.viewport().height())
        left, top, right, bottom = MARGINS
        self.view.set_camera(fitted(points, size, (left + self.covered_left, top, right, bottom)))
        self._arrange()

    def start_drawing_outline(self, link_id: str, on_done: hands.Done) -> None:
        """Let the builder draw an outline on a link by clicking; `on_done(points, closed)` gets shut coordinates,
        no points when it was dropped.
        """
        self.give_up()
        self._gesture = hands.draw_outline(self, link_id, on_done)
        next(self._gesture)
        self._drawing = True
        self._glass.hint = DRAWING_HINT
        self._set_cursor(None)
        self.setFocus()
        self.view.viewport().update()

    def show_place(self, point: Point | None, deg: float | None) -> None:
        """Go where a check speaks of: to its pose, with its place on the sheet, marked for a moment."""
        if deg is not None:
            self._document.set_opening(deg)
        if point is None:
            return
        camera = self.view.camera
        x, y = camera.to_px(point)
        if not (40 < x < camera.size[0] - 40 and 40 < y < camera.size[1] - 40):
            self.view.set_camera(type(camera)(camera.scale, point, camera.size))
        self._scene.show_shapes("flash", marking.flash_shapes(point, self._document.project.fixed.id, self._look))
        self._arrange()
        self._flash.start(FLASH_MS)

    def finish_drawing(self) -> None:
        """End the outline that is being drawn, as Enter does."""
        if self._drawing:
            self._send(hands.Enter())

    def give_up(self) -> bool:
        """Give up the gesture under way, as Esc does. Tells whether there was one."""
        gesture, self._gesture = self._gesture, None
        if gesture is None:
            return False
        gesture.close()
        self._end_drawing()
        return True

    # The desk that gestures work on ----------------------------------------------------------------------------------

    def grabbed(self, pivot_id: str) -> None:
        """Tell that a pivot was taken."""
        self.view.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        self.pivot_grabbed.emit(pivot_id)

    def dragged(self, pivot_id: str, at: Point) -> None:
        """Tell where it is."""
        self.pivot_dragged.emit(pivot_id, at)

    def dropped(self, pivot_id: str) -> None:
        """Tell that it was let go."""
        self.pivot_dropped.emit(pivot_id)

    def sketch(self, points: tuple[Point, ...], link_id: str) -> None:
        """Show an outline that is being drawn."""
        self._scene.show_shapes("sketch", marking.sketch_shapes(points, link_id, self._look))

    # Showing ---------------------------------------------------------------------------------------------------------

    def _show_analysis(self, analysis: Analysis) -> None:
        if analysis is self._shown:
            return
        other = self._shown is not None and is_another(self._shown.project, analysis.project)
        self._shown = analysis
        self._scene.show_shapes("project", shapes(analysis.project, self._look))
        self._scene.show_shapes("traces", traces(analysis, self._look, self._document.units))
        self._show_marking()
        if self.view.units != analysis.project.display_units:
            self.view.units = analysis.project.display_units
            self.view.resetCachedContent()
        self._posed = None
        self._show_pose(self._document.pose)
        if other or (self._fit_wanted and self.isVisible()):
            self.fit()

    def _show_afresh(self) -> None:
        """Show all once more, as it is told in other words or colours."""
        self._shown = None
        self._show_analysis(self._document.analysis)

    def _show_pose(self, pose: Pose) -> None:
        if pose is self._posed or self._shown is None:
            return
        self._posed = pose
        self._placements = placed(self._shown, pose)
        self._scene.place(self._placements)
        self._glass.tell(self._shown, pose, self._document.units)
        self._arrange()

    def _show_selection(self, _: Selection | None) -> None:
        self._show_marking()
        self._arrange()

    def _show_marking(self) -> None:
        if self._shown is None:
            return
        project, chosen = self._shown.project, self._document.selection
        found = marking.selection_shapes(project, chosen, self._look)
        if chosen is not None and chosen.kind == "pivot":
            found += pivot_path(self._shown, chosen.id, self._look)
        self._scene.show_shapes("selection", found)
        self._scene.named = frozenset(
            f"name of {each.kind}:{each.id}" for each in (chosen, self._hit) if each is not None
        )
        self._scene.show_shapes("hover", marking.hover_shapes(project, self._hit, self._look))

    def _arrange(self) -> None:
        camera = self._glass.camera = self.view.camera
        self._glass.covered_left = self.covered_left
        self._scene.arrange_words(camera, self._glass.sheet(), self._glass.boxes())
        self.view.viewport().update()

    def _draw_glass(self, painter: QPainter) -> None:
        self._glass.camera, self._glass.covered_left = self.view.camera, self.covered_left
        self._glass.draw(painter)

    def _end_flash(self) -> None:
        self._scene.show_shapes("flash", [])

    def showEvent(self, event: QShowEvent) -> None:
        """Fit the first time it is seen."""
        super().showEvent(event)
        self._match_screen()
        if self._fit_wanted:
            self.fit()

    def event(self, event: QEvent) -> bool:
        """Draw anew for a screen of another scale."""
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self._match_screen()
        return super().event(event)

    def _match_screen(self) -> None:
        if self._scene.ratio != self.view.viewport().devicePixelRatioF():
            self.set_look(self._look)

    # The pointer -----------------------------------------------------------------------------------------------------

    def hold_sheet(self, down: bool) -> None:
        """Let the next drag push the sheet, while Space is held."""
        self.view.set_space(down)
        if down:
            self.view.viewport().setCursor(Qt.CursorShape.OpenHandCursor)
        else:
            self._set_cursor(self._hit)

    def _reach(self) -> float:
        return REACH_PX / self.view.camera.scale

    def hit_at(self, at: Point) -> Hit | None:
        """Give what lies at a point of the board."""
        if self._shown is None:
            return None
        chosen = self._document.selection
        outline = chosen.id if chosen is not None and chosen.kind == "outline" else ""
        return hit(self._shown.project, self._placements, at, self._reach(), outline)

    def _press(self, at: Point, double: bool) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        self._document.commit()
        press = hands.Press(at, self._reach(), double)
        if self._drawing:
            self._send(press)
            return
        self.give_up()
        self._hit = self.hit_at(at)
        if double and self._hit is not None and self._hit.kind == "outline":
            actions.insert_point(self._document, self._hit.id, at)
            return
        self._gesture = self._gesture_for(press, self._hit)
        if self._gesture is None:
            self.view.push_sheet()
        else:
            next(self._gesture)

    def _gesture_for(self, press: hands.Press, found: Hit | None) -> hands.Gesture | None:
        """Choose what a press begins; None where nothing moves by the hand, so that it pushes the sheet."""
        project = self._document.project
        if found is None:
            return None
        if found.kind == "pivot":
            return hands.drag_pivot(self, press, found.id)
        if found.kind == "mark":
            return hands.drag_point(self, press, Selection("mark", found.id), project.mark(found.id).on)
        if found.kind == "point":
            return hands.drag_point(
                self, press, Selection("outline", found.id, found.part), project.outline(found.id).on
            )
        link_id = found.id if found.kind == "link" else project.outline(found.id).on
        return (
            None if link_id == project.fixed.id else hands.swing(self, press, Selection(found.kind, found.id), link_id)
        )

    def _send(self, event: hands.Event) -> None:
        if self._gesture is None:
            return
        try:
            self._gesture.send(event)
        except StopIteration:
            self._gesture = None
            self._end_drawing()

    def _click(self) -> None:
        """A click on what can't be moved selects it; on nothing, selects nothing."""
        found = self._hit
        self._document.select(
            Selection(found.kind, found.id) if found is not None and found.kind in ("outline", "link") else None
        )

    def _hover(self, at: Point | None) -> None:
        if self._drawing and at is not None:
            self._send(hands.Move(at))
            return
        found = None if at is None or self._drawing else self.hit_at(at)
        if found != self._hit:
            self._hit = found
            self._set_cursor(found)
            self._show_marking()
            self._arrange()

    def _set_cursor(self, found: Hit | None) -> None:
        shape = CURSORS[found.kind] if found is not None else Qt.CursorShape.ArrowCursor
        self.view.viewport().setCursor(Qt.CursorShape.CrossCursor if self._drawing else shape)

    def _end_drawing(self) -> None:
        self._drawing = False
        self._glass.hint = ""
        self._set_cursor(self._hit)
        self.view.viewport().update()

    def _open_menu(self, at: Point, where: QPoint) -> None:
        if not self._drawing and self._gesture is None:  # not under a hand that drags
            menu = menu_at(self, at)
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(where)

    # Keys ------------------------------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what the key says; what it doesn't know goes on to the window."""
        if not self._keys.press(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """End what the key began."""
        if not self._keys.release(event):
            super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """End what a key began with the focus."""
        self._keys.let_go()
        super().focusOutEvent(event)

"""The board: the side view that a builder takes in hand.

It shows the document's newest analysis at the pose that is looked at; what the hand does is turned into gestures
(`app.board.pointer`, `app.board.hands`) and edits (`app.board.actions`). It computes nothing of the mechanism and
keeps nothing of the project.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QPen
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.board import load_hands, marking, plate_hands
from app.board.borne import Borne
from app.board.built import Built
from app.board.cross import Cross
from app.board.fouled import Fouled
from app.board.glass import Glass
from app.board.hits import corner_hit, hit, zone_hit
from app.board.keys import Keys
from app.board.made import AsBuilt
from app.board.measured import Measured
from app.board.menu import menu_at
from app.board.photos import Photos
from app.board.pinched import Pinched
from app.board.pointer import DRAWING_HINT, Pointer
from app.board.pushed import Pushed
from app.board.resting import Resting
from app.board.scene import Scene
from app.board.toolbox import HAND, Toolbox
from app.board.tools import TOOLS
from app.board.view import BoardView
from app.fields import is_by_key
from app.shapes import Placement, placed, shapes
from app.sheet import extent, fitted, is_another
from app.traces import pivot_path, traces

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray
    from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QPainter, QShowEvent

    from app.board.boxes import Drawn
    from app.board.course import Way
    from app.board.gestures import Desk, Done, Gesture
    from app.board.hits import Hit
    from app.document import Document, Selection
    from app.look import Look
    from app.sheet import Camera
    from kinematics.analysis import Analysis
    from kinematics.project import Point
    from kinematics.results import Pose

FLASH_MS = 1600
MARGINS = (64.0, 40.0, 64.0, 56.0)  # around what is fitted: room for labels, title block and scale bar
HINT_ROOM = 48.0  # pixels at the foot: what a tool says there must not hide the pin that it asks for
DESCRIPTION = (
    "The side view. Drag a pivot to move it, drag a link or the panel to swing it. Page Up and Page Down "
    "select a pivot, arrow keys nudge it by 1 mm, with Shift by 0.1 mm; L locks it; F shows all, Shift+F "
    "the pins. Letters take up a tool: N link, V pivot, T third pin, S split, J join, X part, G gather, "
    "W corner, M mass, K handle, U strut, I spring, D distance, A angle, Y path, C clearance. With a tool in hand "
    "arrow keys move a cross, with Shift "
    "finer, with Ctrl ten times as far; Page Up and Page Down take it from pin to pin, Home to the middle; Enter "
    "clicks there, Esc leaves the tool. "
    "F6 goes on to the next part of the window."
)


class Board(QWidget):
    """The canvas over a document. A pivot's drag is told three times: grabbed, dragged (many times), dropped."""

    pivot_grabbed = Signal(str)
    pivot_dragged = Signal(str, object)  # id, Point
    pivot_dropped = Signal(str)
    way_turned = Signal(str)  # outlines are drawn with pieces of another kind

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._scene = Scene(look)
        self.view = BoardView(self._scene)
        self._glass = Glass(look, self.view.camera)
        self._said = self._crossed = ""  # at the board's foot: what can be done, where the cross stands
        self._measured = Measured(self._scene)
        self.is_keyed = False  # whether the keyboard was brought here by keys
        self.is_stale = False  # words have changed that have no places yet
        self.way: Way = "straight"  # how the pieces of outlines run that are drawn
        self.pointer = Pointer(self)
        self.pushed = Pushed(self)
        self.borne = Borne(self)
        self.built = Built(self)
        self._resting = Resting(self)
        self.toolbox = Toolbox(look)
        self.cross = Cross(self)
        self._keys = Keys(self)
        self._shown: Analysis | None = None
        self._posed: Pose | None = None
        self.placements: dict[str, Placement] = {}
        self._fit_wanted = True
        self._fitted: Camera | None = None  # as the last fit left it
        self._sizes: tuple[tuple[float, float], QSize] | None = None  # of board and window, as last seen
        self.covered_left = 0.0  # pixels at the left edge that an open drawer hides; what is fitted keeps clear of them
        self._flash = QTimer(self)
        self._flash.setSingleShot(True)
        self._flash.timeout.connect(self._end_flash)
        self._build()
        self.photos = Photos(self)
        self.view.draw_under = self.photos.draw_still
        self._connect()
        self._show_analysis(document.analysis)
        self.pinched = Pinched(self)
        self.pinched.show()
        self.fouled = Fouled(self)
        self.fouled.show()
        self.as_built = AsBuilt(self)
        self.as_built.show()

    def _build(self) -> None:
        self.setObjectName("board")
        self.setAccessibleName("Board")
        self.setAccessibleDescription(DESCRIPTION)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.view, 1)
        row.addWidget(self.toolbox)
        self.view.draw_over = self._draw_glass

    def _connect(self) -> None:
        view, document = self.view, self._document
        self.toolbox.chosen.connect(self.take_tool)
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
        return self.pointer.is_drawing

    def sizeHint(self) -> QSize:
        """Give the size it would like."""
        return QSize(900, 640)

    @property
    def look(self) -> Look:
        """How the sheet looks."""
        return self._look

    def set_look(self, look: Look) -> None:
        """Take another look."""
        self._look = self._glass.look = look
        self.toolbox.set_look(look)
        self._scene.set_look(look, self.view.viewport().devicePixelRatioF())
        self.view.resetCachedContent()
        self._show_afresh()
        self.pinched.show()
        self.fouled.show()
        self.as_built.show()

    def fit(self) -> None:
        """Show all: the layout shut, and the panel through its sweep; the photos while nothing else is there."""
        analysis = self._document.analysis
        self._fit_wanted = False
        photos = None if analysis.project.outlines or analysis.project.pivots else self.photos.extent()
        self._show_points(extent(analysis.project, analysis) if photos is None else photos)
        self._fitted = self.view.camera

    @property
    def is_fitted(self) -> bool:
        """Whether the sheet lies as the last fit left it: nobody has zoomed or pushed it since."""
        camera, fitted_ = self.view.camera, self._fitted
        return fitted_ is not None and (camera.scale, camera.middle) == (fitted_.scale, fitted_.middle)

    def _on_zoomed(self) -> None:
        """In a window of another size, fit what was fitted again, but never under a hand at work: where only the board
        has another size, as the strip beneath grows with what is built, the sheet stays where it is.
        """
        before, size, window = self._sizes, self.view.camera.size, self.window().size()
        self._sizes = size, window
        was_fitted, has_size = self.is_fitted, before is not None and before[0] != size
        works = self.pointer.is_busy or self._document.can_undo
        if before is not None and has_size and works and before[1] == window:
            self.view.pan((before[0][0] - size[0]) / 2, (before[0][1] - size[1]) / 2)
            self._fitted = self.view.camera if was_fitted else None
            self.arrange()
        elif was_fitted and self._fitted is not None and self._fitted.size != size:
            self.fit()
        else:
            self.arrange()

    def fit_pins(self) -> None:
        """Come close to the linkage: all pins, shut and through the sweep."""
        paths = [path for path in self._document.analysis.pivot_paths.values() if len(path)]
        if paths:
            self._show_points(np.concatenate(paths), HINT_ROOM)

    def look_at(self, points: Sequence[Point]) -> None:
        """Show these places (mm) whole."""
        self._show_points(np.array(points, dtype=np.float64))

    def _show_points(self, points: NDArray[np.float64], foot: float = 0.0) -> None:
        size = float(self.view.viewport().width()), float(self.view.viewport().height())
        left, top, right, bottom = MARGINS
        self.view.set_camera(fitted(points, size, (left + self.covered_left, top, right, bottom + foot)))
        self.view.hover_again()
        self.arrange()

    def start_drawing_outline(self, link_id: str, on_done: Done, hint: str = DRAWING_HINT) -> None:
        """Let the builder draw an outline on a link by clicking; `on_done(points, closed)` gets shut coordinates,
        no points when it was dropped. hint : what the board's foot says meanwhile.
        """
        self.pointer.draw_outline(link_id, on_done, hint)

    def set_way(self, way: Way) -> None:
        """Draw outlines with pieces of this kind, from the next piece on."""
        if way != self.way:
            self.way = way
            self.pointer.turn()
            self.way_turned.emit(way)

    def start_drawing_box(self, link_id: str, on_done: Drawn) -> None:
        """Let the builder drag a box on a link; `on_done(corners)` gets shut coordinates, none when it was dropped."""
        self.pointer.draw_box(link_id, on_done)

    def start_gesture(self, make: Callable[[Desk], Gesture], *, drags: bool = False) -> None:
        """Let a gesture of clicks, or of drags, stand until it is done or Esc gives it up."""
        self.pointer.let(make, drags=drags)

    def take_tool(self, name: str) -> None:
        """Take up the tool of a name (`app.board.tools`); any other name puts the one in hand away."""
        self.pointer.take_tool(next((tool for tool in TOOLS if tool.name == name), None))
        self.setFocus()

    def show_tool(self) -> None:
        """Show which tool is in hand: none of them while something is drawn."""
        tool = self.pointer.tool
        self.toolbox.show_tool("" if self.is_drawing else HAND if tool is None else tool.name)

    @property
    def snaps(self) -> bool:
        """Whether what is near draws the hand that moves or places something."""
        return self.pointer.desk.snaps

    def set_snaps(self, snaps: bool) -> None:
        """Let what is near draw the hand, or not."""
        self.pointer.desk.snaps = snaps

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
        self.arrange()
        self._flash.start(FLASH_MS)

    def finish_drawing(self) -> None:
        """End the outline that is being drawn, as Enter does."""
        if self.is_drawing:
            self.pointer.enter()

    def give_up(self) -> bool:
        """Give up the gesture under way, as Esc does. Tells whether there was one."""
        return self.pointer.give_up()

    def say(self, sentence: str) -> None:
        """Say at the board's foot what can be done; "": nothing."""
        if sentence != self._said:
            self._said = sentence
            self._glass.is_hint_high = self._glass.is_hint_high and bool(sentence)
            self._hint()

    def tell_cross(self, words: str) -> None:
        """Say at the board's foot where the keyboard's cross stands; "": there is none."""
        if words != self._crossed:
            self._crossed = words
            self._hint()
            self.setAccessibleDescription(f"{words} {self._said}" if words else DESCRIPTION)
            self.settle()

    def _hint(self) -> None:
        self._glass.hint = " ".join(each for each in (self._said, self._crossed) if each)
        self.is_stale = True

    def keep_hint_clear(self, at: Point) -> None:
        """Keep what is said at the foot, or head, of the sheet clear of a hand that places something."""
        self._glass.camera, self._glass.covered_left = self.view.camera, self.covered_left
        if self._glass.clear_of(self.view.camera.to_px(at)):
            self.is_stale = True

    # Showing ---------------------------------------------------------------------------------------------------------

    def _show_analysis(self, analysis: Analysis) -> None:
        if analysis is self._shown:
            return
        other = self._shown is not None and is_another(self._shown.project, analysis.project)
        if other and self.pointer.is_standing:
            self.give_up()
        self._shown = analysis
        self._measured.take(analysis)
        self._scene.show_shapes("project", shapes(analysis.project, self._look))
        self.built.put()
        self._scene.show_shapes("traces", traces(analysis, self._look, self._document.units))
        self._show_selected()
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
        self.placements = placed(self._shown, pose)
        self._scene.place(self.placements)
        self.photos.place(self.placements)
        self._glass.tell(self._shown, pose, self._document.units)
        self._measured.show(self._document)
        self.pushed.put()
        self.borne.put()
        self.arrange()

    def _show_selection(self, _: Selection | None) -> None:
        self._measured.show(self._document)
        self.show_marking()

    def show_marking(self) -> None:
        """Show what is selected and what lies under the pointer."""
        self._show_selected()
        self.pushed.put()
        self.borne.put()
        self.arrange()

    def _show_selected(self) -> None:
        if self._shown is None:
            return
        project, chosen = self._shown.project, self._document.selection
        found = marking.all_selected_shapes(project, self._document.selections, self._look)
        if chosen is not None and chosen.kind == "pivot":
            found += pivot_path(self._shown, chosen.id, self._look)
        self._scene.show_shapes("selection", found)
        self._scene.named = frozenset(
            f"name of {each.kind}:{each.id}" for each in (chosen, self.pointer.hit) if each is not None
        )
        self._scene.show_shapes("hover", marking.hover_shapes(project, self.pointer.hit, self._look))

    def arrange(self) -> None:
        """Find places for the words, and paint; on a sheet that isn't seen, once it is."""
        if not self.isVisible():
            self.is_stale = True
            return
        self.is_stale = False
        camera = self._glass.camera = self.view.camera
        self._glass.covered_left = self.covered_left
        project, chosen = self._document.analysis.project, self._document.selection
        grips = plate_hands.grip_boxes(project, self.placements, chosen, camera)
        self._scene.arrange_words(camera, self._glass.sheet(), [*self._glass.boxes(), *grips])
        self.view.viewport().update()

    def settle(self) -> None:
        """Find places for the words, if any have changed; where an analysis is to come, that will do it."""
        if self.is_stale and self._document.analysis.project is self._document.project:
            self.arrange()

    def _draw_glass(self, painter: QPainter) -> None:
        self._glass.camera, self._glass.covered_left = self.view.camera, self.covered_left
        self._glass.draw(painter)
        self.cross.draw(painter, self._look)
        self.photos.rest()
        if self.is_keyed:
            sheet = self._glass.sheet()
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._look.selection), 2.0))
            painter.drawRect(QRectF(QPointF(sheet.left, sheet.top), QPointF(sheet.right, sheet.bottom)))

    def _end_flash(self) -> None:
        self._scene.show_shapes("flash", [])

    def showEvent(self, event: QShowEvent) -> None:
        """Fit the first time it is seen."""
        super().showEvent(event)
        self._match_screen()
        if self._fit_wanted:
            self.fit()
        elif self.is_stale:
            self.arrange()

    def hideEvent(self, event: QHideEvent) -> None:
        """Put the tool away with the window."""
        if not event.spontaneous():  # the desktop's own hiding, as of a window made small, changes nothing
            self.give_up()
        super().hideEvent(event)

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
            self.pointer.set_cursor()

    def hit_at(self, at: Point) -> Hit | None:
        """Give what lies at a point of the board."""
        if self._shown is None:
            return None
        chosen = self._document.selection
        outline = chosen.id if chosen is not None and chosen.kind == "outline" else ""
        zone = chosen.id if chosen is not None and chosen.kind == "zone" else ""
        project, reach = self._shown.project, self.pointer.desk.reach
        corner = corner_hit(project, self.placements, at, reach, zone) if zone else None
        if corner is None and chosen is not None and chosen.kind == "device":
            corner = load_hands.end_hit(project, self.placements, at, reach, chosen.id)
        if chosen is not None and chosen.kind == "link":
            corner = plate_hands.grip_hit(project, self.placements, at, reach, chosen.id)
        if corner is not None:
            return corner
        found = hit(project, self.placements, at, reach, outline)
        if found is None or found.kind in ("link", "outline"):  # feet and loads lie over these
            spot = self.built.hit(at, reach) or load_hands.spot_hit(project, self.placements, at, reach)
            if spot is not None:
                return spot
            found = load_hands.body_hit(project, self.placements, at, reach) or found
        found = found or zone_hit(project, self.placements, at, reach)
        if found is None or found.kind in ("link", "outline", "zone", "device"):  # pins and such lie over measures
            return self._measured.hit(self.view, at, reach / 2) or found
        return found

    def _open_menu(self, at: Point, where: QPoint) -> None:
        if not self.pointer.is_busy:  # not under a hand that drags
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

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show by a frame that the keyboard has come to the board."""
        self.is_keyed = is_by_key(event)
        self.view.viewport().update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """End what a key began with the focus."""
        self._keys.let_go()
        self.pointer.let_go()
        self.is_keyed = False
        self.view.viewport().update()
        super().focusOutEvent(event)

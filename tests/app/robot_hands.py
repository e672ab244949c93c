"""The hands of the robot (`tests.app.robot`): what it may do to the window, each a real event or a real trigger.

A *gesture* is a method of `Hands` in `GESTURES`, with its weight. It draws all chance from `Hands.chance` and looks at
nothing but the window, so that the same chance on the same window is the same gesture. `Hands.inputs` counts presses,
keys, texts and triggers: no gesture may make more steps than that.
"""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QEvent, QMimeData, QModelIndex, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import (
    QAction,
    QContextMenuEvent,
    QDropEvent,
    QGuiApplication,
    QHelpEvent,
    QKeySequence,
    QMouseEvent,
    QWheelEvent,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QSplitterHandle,
    QTableView,
    QWidget,
)
from shiboken6 import isValid

from app.board.hits import pivot_place
from app.board.toolbox import HAND
from app.board.tools import TOOLS
from kinematics.loading import spots

if TYPE_CHECKING:
    import random
    from collections.abc import Callable
    from pathlib import Path

    from app.window import Window
    from kinematics.project import Point

Key, Buttons, Keys = Qt.Key, Qt.MouseButton, Qt.KeyboardModifier
ROOT = QModelIndex()
LEFT, NONE = Buttons.LeftButton, Keys.NoModifier
HELD = (NONE, NONE, NONE, NONE, Keys.ShiftModifier, Keys.ControlModifier, Keys.ShiftModifier | Keys.ControlModifier)
TEXTS = (
    "12", "3.5 mm", '1 1/2"', "-20", "0", "45", "75", "Q", "arm", "hatch skin", "rear corner", "a & b", "new name",
    "", "   ", "words", "9" * 40, "1e400", "0/0", "nan", "\u202e\x07½", "x" * 3000, "12\n30", "12; 13",
)  # fmt: skip
POINTS = ("0; 0\n100; 20\n180; 25", "lid\n-28; 267\n600; 297\n\n0; 0\n40; 0\n40; 30", "12", "words", "")
KEYS = (
    Key.Key_Escape, Key.Key_Return, Key.Key_Delete, Key.Key_Backspace, Key.Key_Tab, Key.Key_Backtab, Key.Key_Space,
    Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down, Key.Key_Home, Key.Key_End, Key.Key_PageUp, Key.Key_PageDown,
    Key.Key_F1, Key.Key_F2, Key.Key_F3, Key.Key_F5, Key.Key_F6, Key.Key_F10, Key.Key_Plus, Key.Key_Minus, Key.Key_Menu,
    *(Key(ord(letter)) for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ0159"),
)  # fmt: skip
ARROWS = (Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down)
SIZES = ((1280, 800), (1280, 800), (1000, 640), (1500, 950), (700, 500))


class Hands:
    """The hands at one window. `folder` holds the files that they open, write and spoil."""

    def __init__(self, window: Window, chance: random.Random, folder: Path) -> None:
        self.window, self.chance, self.folder = window, chance, folder
        self.inputs = 0
        self.told: list[str] = []

    def do_one(self) -> None:
        """Do one gesture, as chance has it."""
        weights = [weight for _, weight in GESTURES]
        gesture = self.chance.choices([each for each, _ in GESTURES], weights)[0]
        self.inputs = 1  # what stands in a field is taken over by whatever comes next
        self.told = [gesture.__name__.strip("_")]
        gesture(self)
        self.put_popups_away()
        self.answer_sheet()
        turn()

    def tell(self, words: object) -> None:
        """Note what was done, for who has to look for a fault."""
        self.told.append(str(words)[:80])

    # Parts of gestures -----------------------------------------------------------------------------------------------

    def a_thing(self) -> Point:
        """A place of the board on something that is drawn."""
        document, board = self.window.document, self.window.board
        project, placements = document.project, board.placements
        things: list[Callable[[], Point]] = [
            *(lambda name=each.id: pivot_place(project, placements, name) for each in project.pivots)
        ]
        for outline in project.outlines:
            column = project.link_index[outline.on]
            point = self.chance.choice(outline.points)
            things.append(lambda column=column, point=point: document.pose.place(column, point))
        for thing in (*project.marks, *spots(project)):
            column = project.link_index[thing.on]
            things.append(lambda column=column, at=thing.at: document.pose.place(column, at))
        return self.chance.choice(things)() if things else (0.0, 0.0)

    def a_spot(self, near: QPoint | None = None) -> QPoint:
        """A pixel of the board: on a thing, near one, near the last spot, or anywhere."""
        view, chance = self.window.board.view, self.chance
        port = view.viewport().rect()
        kind = chance.random()
        if near is not None and kind < 0.5:
            spot = near + QPoint(round(chance.gauss(0, 25)), round(chance.gauss(0, 25)))
        elif kind < 0.85:
            spot = view.to_px(self.a_thing()).toPoint()
            if chance.random() < 0.2:
                spot += QPoint(chance.randint(-12, 12), chance.randint(-12, 12))
        else:
            spot = QPoint(chance.randrange(port.width()), chance.randrange(port.height()))
        return QPoint(min(max(spot.x(), 1), port.width() - 2), min(max(spot.y(), 1), port.height() - 2))

    def move(self, widget: QWidget, spot: QPoint, buttons: Buttons = Buttons.NoButton, keys: Keys = NONE) -> None:
        """Move the pointer there."""
        place = QPointF(spot)
        there = QPointF(widget.mapToGlobal(spot))
        event = QMouseEvent(QEvent.Type.MouseMove, place, there, Buttons.NoButton, buttons, keys)
        QApplication.sendEvent(widget, event)
        turn()

    def drag_on(self, widget: QWidget, spots: list[QPoint], button: Buttons = LEFT, keys: Keys = NONE) -> None:
        """Press at the first spot, move along, let go at the last."""
        self.inputs += 1
        self.tell(f"{button.name} {keys.value:x} " + " ".join(f"{spot.x()},{spot.y()}" for spot in spots))
        QTest.mousePress(widget, button, keys, spots[0])
        for spot in spots[1:]:
            self.move(widget, spot, button, keys)
        QTest.mouseRelease(widget, button, keys, spots[-1])
        turn()

    def key(self, widget: QWidget | None, key: Key, keys: Keys = NONE) -> None:
        """Press and let go a key where the keyboard is."""
        self.inputs += 1
        self.tell(f"{keys.value:x}+{key.name}")
        target = QApplication.activePopupWidget() or QApplication.focusWidget() or widget or self.window
        QTest.keyClick(target, key, keys)
        turn()

    def type_into(self, widget: QWidget, text: str) -> None:
        """Put a text in as one pastes it, over what stands there."""
        self.inputs += 1
        self.tell(f"types {text[:30]!r}")
        QGuiApplication.clipboard().setText(text)
        if isinstance(widget, QLineEdit | QPlainTextEdit):
            widget.selectAll()
            QTest.keyClick(widget, Key.Key_Delete)
            widget.paste()

    def answer_sheet(self) -> None:
        """Take or leave what a sheet shows that lets nothing else be done."""
        sheet = QApplication.activeModalWidget()
        if isinstance(sheet, QDialog):
            self.tell("sheet taken" if (taken := self.chance.random() < 0.5) else "sheet left")
            (sheet.accept if taken else sheet.reject)()
            turn()

    def put_popups_away(self) -> None:
        """Choose from a menu that has come up, or dismiss it."""
        for _ in range(6):
            popup = QApplication.activePopupWidget()
            if popup is None:
                return
            if isinstance(popup, QMenu) and self.chance.random() < 0.7:
                self._choose_from(popup)
            if isValid(popup):  # a sheet that was chosen takes the menu away
                popup.close()
            turn()

    def _choose_from(self, menu: QMenu) -> None:
        chosen = actions_of(menu)
        if chosen:
            self._trigger(self.chance.choice(chosen))

    def _trigger(self, action: QAction) -> None:
        self.inputs += 1
        self.tell(f"[{action.text()}]")
        action.trigger()
        turn()

    def shown(self, kind: type[QWidget]) -> list[QWidget]:
        """All enabled controls of a kind that are to be seen, in this window and the sheets beside it."""
        windows = [self.window, *(each for each in self.window.findChildren(QDialog) if each.isVisible())]
        return [
            each
            for window in windows
            for each in window.findChildren(kind)
            if each.isVisibleTo(window) and each.isEnabled() and each.width() > 4 and each.height() > 4
        ]

    def a_shown(self, kind: type[QWidget]) -> QWidget | None:
        """One of them."""
        found = self.shown(kind)
        return self.chance.choice(found) if found else None

    # The board -------------------------------------------------------------------------------------------------------

    def drag(self) -> None:
        """Drag on the board, now and then with something else in the middle of it."""
        port, chance = self.window.board.view.viewport(), self.chance
        keys, spots = chance.choice(HELD), [self.a_spot()]
        for _ in range(chance.randint(1, 4)):
            spots.append(self.a_spot(spots[-1]))
        if chance.random() < 0.8:
            self.move(port, spots[0])
            self.drag_on(port, spots, LEFT if chance.random() < 0.93 else Buttons.MiddleButton, keys)
            return
        self.inputs += 1
        QTest.mousePress(port, LEFT, keys, spots[0])
        self.tell(f"press {spots[0].x()},{spots[0].y()}")
        self.move(port, spots[1], LEFT, keys)
        self._amid_drag()
        self.move(port, spots[-1], LEFT, keys)
        QTest.mouseRelease(port, LEFT, keys, spots[-1])

    def _amid_drag(self) -> None:
        """Do something else with the button down."""
        chance, board = self.chance, self.window.board
        kind = chance.randrange(5)
        if kind == 0:
            self.key(board, chance.choice(KEYS))
        elif kind == 1:
            self._trigger(chance.choice(actions_of(self.window.menuBar())))
        elif kind == 2:
            self.wheel_on(board.view.viewport(), self.a_spot())
        elif kind == 3:
            self.key(board, Key.Key_Z, Keys.ControlModifier)
        else:
            self._ask_menu(board.view.viewport(), self.a_spot())

    def click(self) -> None:
        """Click on the board, once or twice."""
        port, spot, keys = self.window.board.view.viewport(), self.a_spot(), self.chance.choice(HELD)
        self.move(port, spot)
        self.drag_on(port, [spot], LEFT, keys)
        if self.chance.random() < 0.3:
            self.inputs += 1
            self.tell("twice")
            QTest.mouseDClick(port, LEFT, keys, spot)
            QTest.mouseRelease(port, LEFT, keys, spot)

    def wheel_on(self, widget: QWidget, spot: QPoint) -> None:
        """Turn the wheel, or push two fingers."""
        notches, keys = self.chance.choice((-480, -120, -120, 120, 120, 480)), self.chance.choice(HELD)
        phase = self.chance.choice((Qt.ScrollPhase.NoScrollPhase, Qt.ScrollPhase.ScrollUpdate))
        pixels = QPoint(0, notches // 8) if phase == Qt.ScrollPhase.ScrollUpdate else QPoint()
        there = QPointF(widget.mapToGlobal(spot))
        event = QWheelEvent(QPointF(spot), there, pixels, QPoint(0, notches), Buttons.NoButton, keys, phase, False)
        QApplication.sendEvent(widget, event)
        self.tell(f"wheel {notches}")

    def wheel(self) -> None:
        """Zoom; come back when too little or too much is to be seen."""
        view = self.window.board.view
        self.wheel_on(view.viewport(), self.a_spot())
        if not 0.05 < view.camera.scale < 20:
            self.window.board.fit()

    def _ask_menu(self, widget: QWidget, spot: QPoint, *, by_key: bool = False) -> None:
        reason = QContextMenuEvent.Reason.Keyboard if by_key else QContextMenuEvent.Reason.Mouse
        QApplication.sendEvent(widget, QContextMenuEvent(reason, spot, widget.mapToGlobal(spot)))
        self.tell(f"menu {spot.x()},{spot.y()}")

    def menu(self) -> None:
        """The menu of what lies on the board."""
        self._ask_menu(self.window.board.view.viewport(), self.a_spot())

    def tool(self) -> None:
        """Take up a tool by button, letter or menu, and click about with it."""
        chance, board, tool = self.chance, self.window.board, self.chance.choice(TOOLS)
        if chance.random() < 0.5:
            board.setFocus()
            self.key(board, Key(ord(tool.key)))
        else:
            self.press_button(board.toolbox.buttons[tool.name])
        for _ in range(chance.randint(1, 5)):
            spot = self.a_spot()
            self.move(board.view.viewport(), spot)
            self.drag_on(board.view.viewport(), [spot, spot + QPoint(chance.choice((0, 0, 0, 30)), 0)])
        end = chance.randrange(4)
        if end == 0:
            self.key(board, Key.Key_Return)
        elif end == 1:
            self.press_button(board.toolbox.buttons[HAND])
        elif end == 2:
            self.key(board, Key.Key_Escape)

    def draw(self) -> None:
        """Draw an outline or a box by clicks, from the drawer Trace."""
        chance, port = self.chance, self.window.board.view.viewport()
        self.window.trace.draw_outline()
        spot = self.a_spot()
        for _ in range(chance.randint(1, 5)):
            spot = self.a_spot(spot)
            self.move(port, spot)
            self.drag_on(port, [spot])
        self.key(self.window.board, chance.choice((Key.Key_Return, Key.Key_Return, Key.Key_Escape, Key.Key_Z)))

    def nudge(self) -> None:
        """Arrow keys, one held down for a while."""
        board, key, keys = self.window.board, self.chance.choice(ARROWS), self.chance.choice(HELD[:5])
        board.setFocus()
        self.inputs += 1
        self.tell(f"nudge {key.name}")
        for _ in range(self.chance.randint(1, 3)):
            QTest.keyPress(board, key, keys)
        if self.chance.random() < 0.1:
            self.key(board, self.chance.choice(KEYS))
        QTest.keyRelease(board, key, keys)

    # Keys and menus --------------------------------------------------------------------------------------------------

    def some_key(self) -> None:
        """Any key, where the keyboard is."""
        self.key(None, self.chance.choice(KEYS), self.chance.choice(HELD))

    def command(self) -> None:
        """A command of the menus, by itself or by its key."""
        action = self.chance.choice(actions_of(self.window.menuBar()))
        if action.shortcut().isEmpty() or self.chance.random() < 0.5:
            self._trigger(action)
            return
        self.inputs += 1
        self.tell(f"{action.shortcut().toString()} for [{action.text()}]")
        QTest.keySequence(QApplication.focusWidget() or self.window, QKeySequence(action.shortcut()))

    def back(self) -> None:
        """Undo and redo some."""
        for _ in range(self.chance.randint(1, 4)):
            self._trigger(self.window.menus.undo)
        for _ in range(self.chance.randint(0, 5)):  # so that a long history stays
            self._trigger(self.window.menus.redo)

    # Controls --------------------------------------------------------------------------------------------------------

    def press_button(self, button: QWidget) -> None:
        """Click a button."""
        self.tell(f"button {button.accessibleName() or getattr(button, 'text', str)()}")
        self.inputs += 1
        QTest.mouseClick(button, LEFT, NONE, button.rect().center())
        turn()

    def button(self) -> None:
        """Any button that is to be seen."""
        button = self.a_shown(QAbstractButton)
        if button is not None:
            self.press_button(button)

    def field(self) -> None:
        """Type into any field; end it by Enter, Tab, Esc, or not at all."""
        line = self.a_shown(QLineEdit)
        if not isinstance(line, QLineEdit):
            return
        self.tell(line.accessibleName())
        QTest.mouseClick(line, LEFT)
        text = self.chance.choice(TEXTS)
        with suppress(ValueError, IndexError):  # most fields show a number: one near it
            text = f"{float(line.text().split()[0]) + self.chance.uniform(-5, 5):.3f}"
        self.type_into(line, text if self.chance.random() < 0.6 else self.chance.choice(TEXTS))
        end = self.chance.choice((Key.Key_Return, Key.Key_Return, Key.Key_Tab, Key.Key_Escape, None))
        if end is not None:
            self.key(line, end)

    def choice(self) -> None:
        """Choose in any list that drops down, by keys or the wheel."""
        box = self.a_shown(QComboBox)
        if isinstance(box, QComboBox):
            self.tell(box.accessibleName())
            box.setFocus()
            self.key(box, self.chance.choice((Key.Key_Down, Key.Key_Up, Key.Key_Home, Key.Key_End)))
            if self.chance.random() < 0.2 and isValid(box):  # what it chose may have made the form anew
                self.wheel_on(box, box.rect().center())

    def cell(self) -> None:
        """Click, edit or ask the menu of a cell in any list or table."""
        view, chance = self.a_shown(QAbstractItemView), self.chance
        model = view.model() if isinstance(view, QAbstractItemView) else None
        if not isinstance(view, QAbstractItemView) or model is None:
            return
        rows, columns = model.rowCount(ROOT), model.columnCount(ROOT) if isinstance(view, QTableView) else 1
        if not rows or not columns:
            return
        index = model.index(chance.randrange(rows), chance.randrange(columns))
        view.scrollTo(index, QAbstractItemView.ScrollHint.EnsureVisible)
        spot = view.visualRect(index).center()
        self.tell(f"{view.accessibleName()} {index.row()},{index.column()}")
        self.drag_on(view.viewport(), [spot], LEFT, chance.choice(HELD))
        kind = chance.randrange(4)
        if kind == 0:
            self._ask_menu(view.viewport(), spot)
        elif kind == 1:
            QTest.mouseDClick(view.viewport(), LEFT, NONE, spot)
            self._type_in_editor()
        elif kind == 2:
            self.key(view, chance.choice(KEYS), chance.choice((NONE, Keys.AltModifier)))

    def _type_in_editor(self) -> None:
        self.inputs += 1
        line = QApplication.focusWidget()
        if isinstance(line, QLineEdit):
            self.type_into(line, self.chance.choice(TEXTS))
            self.key(line, self.chance.choice((Key.Key_Return, Key.Key_Tab, Key.Key_Escape)))

    def anywhere(self) -> None:
        """Click, drag, hover, turn the wheel or ask for a menu or a tip anywhere on the window."""
        chance, window = self.chance, self.window
        at = QPoint(chance.randrange(window.width()), chance.randrange(window.height()))
        widget = window.childAt(at)
        if widget is None or isinstance(widget, QAbstractButton) or not widget.isEnabled():
            return
        self._do_at(widget, widget.mapFrom(window, at))

    def strip(self) -> None:
        """The same on the travel strip and its lanes."""
        strip, chance = self.window.strip, self.chance
        at = QPoint(chance.randrange(strip.width()), chance.randrange(strip.height()))
        widget = strip.childAt(at) or strip
        self._do_at(widget, widget.mapFrom(strip, at))

    def _do_at(self, widget: QWidget, spot: QPoint) -> None:
        self.tell(type(widget).__name__)
        kind = self.chance.randrange(6)
        if kind == 0:
            self.wheel_on(widget, spot)
        elif kind == 1:
            self._ask_menu(widget, spot, by_key=self.chance.random() < 0.3)
        elif kind == 2:
            self.move(widget, spot)
            QApplication.sendEvent(widget, QHelpEvent(QEvent.Type.ToolTip, spot, widget.mapToGlobal(spot)))
        else:
            far = spot + QPoint(self.chance.randint(-90, 90), self.chance.randint(-40, 40))
            self.drag_on(widget, [spot, far] if kind == 3 else [spot])

    # The window, its sheets and files --------------------------------------------------------------------------------

    def frame(self) -> None:
        """Another size of the window, another share of its parts, the sheets beside it closed."""
        kind = self.chance.randrange(3)
        if kind == 0:
            self.window.resize(*self.chance.choice(SIZES))
        elif kind == 1:
            handle = self.a_shown(QSplitterHandle)
            if handle is not None:
                far = QPoint(self.chance.randint(-200, 200), self.chance.randint(-200, 200))
                self.drag_on(handle, [handle.rect().center(), handle.rect().center() + far])
        else:
            for sheet in self.window.findChildren(QDialog):
                sheet.close()

    def a_file(self) -> Path:
        """A file in the robot's folder: good, bad, or not there yet."""
        names = ("a.hinge", "b.hinge", "c.hinge", "noise.hinge", "drawing.dxf", "points.csv", "a folder", "none.hinge")
        return self.folder / self.chance.choice(names)

    def drop(self) -> None:
        """Drop a file, or several, onto the window."""
        paths = [self.a_file() for _ in range(self.chance.randint(1, 2))]
        self.inputs += 10 * len(paths)  # each may bring a sheet up
        self.tell([path.name for path in paths])
        mime = QMimeData()
        mime.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
        place = QPointF(self.window.rect().center())
        self.window.dropEvent(QDropEvent(place, Qt.DropAction.CopyAction, mime, LEFT, NONE))

    def on_disk(self) -> None:
        """Another program changes the open file, or takes it away."""
        path, offers = self.window.document.path, self.window.offers
        if path is not None and path.parent == self.folder:
            if self.chance.random() < 0.3:
                path.unlink(missing_ok=True)
            else:
                (self.folder / "b.hinge").exists() and path.write_bytes((self.folder / "b.hinge").read_bytes())
            self.tell(path.name)
        offers.watch.check()
        offers.keeper.flush()

    # Sheets that wait ------------------------------------------------------------------------------------------------

    def answer(self, sheet: QDialog) -> int:
        """Do something in a sheet that waits for an answer, then end it."""
        chance = self.chance
        self.tell(f"sheet {sheet.windowTitle()}")
        is_gone_with_it = sheet.testAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        sheet.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)  # not before its answer is known
        sheet.show()
        turn()
        for text in sheet.findChildren(QPlainTextEdit):
            self.type_into(text, chance.choice(POINTS))
        for _ in range(chance.randint(1, 5)):
            if not sheet.isVisible():
                break
            self._do_in(sheet)
        self.put_popups_away()
        if sheet.isVisible():
            sheet.reject()
        if is_gone_with_it:
            sheet.deleteLater()
        return sheet.result()

    def _do_in(self, sheet: QDialog) -> None:
        controls = [
            each
            for each in sheet.findChildren(QWidget)
            if isinstance(each, QAbstractButton | QComboBox | QAbstractItemView)
            and each.isVisibleTo(sheet)
            and each.isEnabled()
        ]
        if not controls:
            return
        control = self.chance.choice(controls)
        if isinstance(control, QAbstractButton):
            self.press_button(control)
        elif isinstance(control, QComboBox):
            control.setFocus()
            self.key(control, Key.Key_Down)
        else:
            self.drag_on(control.viewport(), [QPoint(20, self.chance.randrange(max(control.height(), 1)))])


GESTURES: tuple[tuple[Callable[[Hands], None], float], ...] = (
    (Hands.drag, 22), (Hands.click, 10), (Hands.wheel, 4), (Hands.menu, 6), (Hands.tool, 9), (Hands.draw, 2),
    (Hands.nudge, 5), (Hands.some_key, 8), (Hands.command, 7), (Hands.back, 6), (Hands.button, 6), (Hands.field, 7),
    (Hands.choice, 3), (Hands.cell, 5), (Hands.anywhere, 6), (Hands.strip, 4), (Hands.frame, 1.5), (Hands.drop, 0.6),
    (Hands.on_disk, 0.6),
)  # fmt: skip


def turn() -> None:
    """Let the window do what waits to be done, and let what is to be deleted go, as a running loop does."""
    QApplication.processEvents()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def actions_of(menu: QWidget) -> list[QAction]:
    """All commands of a menu that can be given now, those of its submenus too."""
    found: list[QAction] = []
    if isinstance(menu, QMenu):
        menu.aboutToShow.emit()
    for action in menu.actions():
        inner = action.menu()
        if isinstance(inner, QMenu):
            found += actions_of(inner)
        elif action.isEnabled() and not action.isSeparator():
            found.append(action)
    return found


def is_finite(*values: object) -> bool:
    """Whether all numbers in there are finite; None passes."""
    return all(bool(np.all(np.isfinite(np.asarray(value)))) for value in values if value is not None)

"""One window for many tests: made once in a process, and brought back to how a new one stands before each use.

To build a window takes longer than what most tests do with it. `bring_back` leaves no trace of the test before: what a
new window hasn't made yet (drawers, help, list of parts) is taken away, and the rest is set as it was. Whether that is
so `tests.app.window_state` tells: one test looks after a window that was used hard, and with HINGEWRIGHT_THOROUGH=1
every use is looked at.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtWidgets import QApplication, QDialog, QMenu, QMenuBar, QScrollBar, QWidget

from app.document import Document
from app.layout_job import LayoutJob
from app.preferences import Preferences
from app.window import Window
from tests.app.sharing import demo
from tests.app.window_state import differences, state_of
from tests.thorough import THOROUGH

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtCore import QByteArray, QObject
    from pytestqt.qtbot import QtBot

    from app.board import Board

SIZE = 1280, 800


def made(qtbot: QtBot) -> Window:
    """A new window on the demo. Snapping is off: the tests' hand goes where it is told."""
    window = Window(Document(demo()))
    window.set_snaps(False)
    window.resize(*SIZE)
    with qtbot.waitExposed(window):
        window.show()
    return window


@dataclass
class OneWindow:
    """The window of one process of tests; `home` is the folder of its settings."""

    home: Path
    window: Window | None = None
    last: str = "nobody"
    _new: dict[str, Any] = field(default_factory=dict)
    _shares: tuple[QByteArray, ...] = ()
    _groups: tuple[str, ...] = ()

    def take(self, qtbot: QtBot, user: str) -> Window:
        """Give the window to a test: made now, or brought back."""
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(self.home))
        if self.window is None or not _is_open(self.window):
            self.window = made(qtbot)
            _settle(self.window)
            self._new = state_of(self.window)
            self._groups = tuple(self.window.board.scene._items)
            self._shares = tuple(each.saveState() for each in _splitters(self.window))
        else:
            self.bring_back(qtbot)
            if THOROUGH:
                assert self.changes() == [], f"{self.last} leaves something behind"
        self.last = user
        return self.window

    def give_back(self) -> None:
        """Take the window from a test. One that can't be put away is left alone: the next test has a new one."""
        window, self.window = self.window, None
        assert window is not None
        put_away(window)
        self.window = window

    def bring_back(self, qtbot: QtBot) -> None:
        """Let it stand as it stood when it was new."""
        window = self.window
        assert window is not None
        put_away(window)
        _take_away(window)
        _let_go(window.board, self._groups)
        _bring_back(window, self._shares)
        with qtbot.waitExposed(window):
            window.show()
        _settle(window)
        _give_keys(window)

    def changes(self) -> list[str]:
        """What it may be told from a new one by."""
        assert self.window is not None
        return differences(self._new, state_of(self.window))


def put_away(window: Window) -> None:
    """Stop what runs, close what was opened over the window, and hide it from the tests that use none."""
    assert _is_open(window), "A test that closes its window takes `fresh_window`."
    window.strip.stop()
    window.putting_right.leave()
    window.first_steps._drop()
    menus = [menu for menu in window.findChildren(QMenu) if not _is_of_the_bar(menu)]
    for opened in [*menus, *window.findChildren(QDialog)]:
        opened.close()
        opened.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # type: ignore[arg-type]
    window.hide()


def _is_open(window: Window) -> bool:
    return window.offers.keeper._is_open


def _is_of_the_bar(menu: QObject) -> bool:
    """Whether a menu is one of the window's own, not one that came up under the pointer."""
    above = menu.parent()
    return isinstance(above, QMenuBar) or (isinstance(above, QMenu) and _is_of_the_bar(above))


def _bring_back(window: Window, shares: tuple[QByteArray, ...]) -> None:
    document, board = window.document, window.board
    document.cancel()
    window.setWindowState(Qt.WindowState.WindowNoState)
    window.resize(*SIZE)
    window.shares._take_height(0)
    for splitter, share in zip(_splitters(window), shares, strict=True):
        splitter.restoreState(share)
    document.new(demo())  # before all that would show the last one once more: it may be what nobody can draw
    window.take_preferences(Preferences())
    for turn_on in (window.set_pinches, window.set_pushes):
        turn_on(True)
    for turn_off in (window.set_forces, window.set_mount, window.set_snaps):
        turn_off(False)
    window._trials._timer.stop()
    window.checks._shared, window.help._home = [], board
    window.checks.entry.show_wants()
    board.setFocus(Qt.FocusReason.OtherFocusReason)
    board.is_keyed = False
    window.settings._store.clear()
    window.settings.set_snaps(False)


def _splitters(window: Window) -> tuple[Any, ...]:
    return window.shares._side, window.shares._rows, window.checks.split


def _let_go(board: Board, groups: tuple[str, ...]) -> None:
    """Take the pointer off the board and all off the sheet, so that nothing is led by where its like has stood. The
    `groups` of what is drawn stay in their order: by it words get their places.
    """
    board.give_up()
    board.set_way("straight")
    board.view.set_space(False)
    QApplication.sendEvent(board.view.viewport(), QEvent(QEvent.Type.Leave))
    board._flash.stop()
    board._resting._timer.stop()
    board._keys._paused = None
    board.photos._rest.stop()
    board.photos._told.clear()
    board.photos._images.clear()
    scene = board.scene
    for group in [*scene._items]:
        scene.show_shapes(group, [])
    scene._items = {group: {} for group in groups}
    scene._places = {}
    board._shown = None


def _take_away(window: Window) -> None:
    """Take away what is made when it is first asked for: drawers, list of parts, help, what works beside the window."""
    window.area.open_drawer("")
    entry, desk, notice = window.checks.entry, window.help, window.area.notice
    entry.form = None
    entry.show_wants()
    for menu in (window.menus.recent, window.menus.demos, window.menus.earlier):
        menu.clear()
    gone: list[QWidget] = [*window.area.drawers.made.values()]
    window.area.drawers.made.clear()
    if entry._parts is not None:
        gone.append(entry._parts)
        entry._parts = None
    if desk._viewer is not None:
        window.removeDockWidget(desk._viewer)
        gone.append(desk._viewer)
        desk._viewer = None
    for job in window.document.findChildren(LayoutJob):
        job.close()
        job.setParent(None)
        job.deleteLater()
    for part in gone:
        part.hide()
        part.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # type: ignore[arg-type]
    notice._questions = []
    notice.show_sentence("")
    steps = window.first_steps
    steps._asked, steps._places, steps._project = None, {}, demo()


def _settle(window: Window) -> None:
    """Lay out what was laid out for other sizes, and give words their places as if none had stood anywhere before."""
    window.checks.build_line.show_count(0)  # as it is of the demo; counting is no test's but its own
    QApplication.processEvents()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # type: ignore[arg-type]
    for bar in (*window.checks.findChildren(QScrollBar), *window.strip.findChildren(QScrollBar)):
        bar.setValue(bar.minimum())
    board = window.board
    board.scene._places = {}
    board.fit()
    board.scene.rescale(board.view.camera.scale)


def _give_keys(window: Window) -> None:
    """Make it the active window: without a desktop, one that was hidden isn't when it is shown again."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        QApplication.setActiveWindow(window)

"""How the window stood: its place on the screens, the open drawer, and how near each file was looked at. Remembered
when the window closes, taken up at the next start; the shares of the parts are `app.shares`.

A screen that is there no more, or a settings file of noise, never puts the window where nobody can reach it: its frame
is brought back onto a screen.
"""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QRect, QSize, QTimer
from PySide6.QtGui import QGuiApplication

from app.shares import first_size
from app.sheet import LARGEST_SCALE, LEAST_SCALE

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from app.window import Window

GRIP = QSize(160, 40)  # as much of a title bar must be on a screen to take hold of it
VIEWS_MOST = 8
FARTHEST_MM = 1e6


class Standing(QObject):
    """Remembers and takes up how one window stands."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window, self._settings = window, window.settings
        application = QGuiApplication.instance()
        if isinstance(application, QGuiApplication):
            application.screenRemoved.connect(self._bring_back_soon)  # a method: it goes as the window goes

    def take_up(self) -> None:
        """Stand as the window stood when it was closed last."""
        window = self._window
        window.resize(first_size(window.screen().availableSize()))
        geometry = self._settings.state("window")
        if geometry is not None:
            window.restoreGeometry(geometry)
        self.bring_back()
        window.shares.restore(self._settings)
        window.area.open_drawer(self._settings.text("drawer"))

    def remember(self) -> None:
        """Remember how the window stands now."""
        self._settings.set_state("window", self._window.saveGeometry())
        self._window.shares.remember(self._settings)
        self._settings.set_text("drawer", self._window.area.open_name)
        self.remember_view()

    def _bring_back_soon(self) -> None:
        QTimer.singleShot(0, self, self.bring_back)  # Qt moves windows itself first

    def bring_back(self) -> None:
        """Bring the window onto a screen, should it stand where none is any more."""
        screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
        frame = self._window.geometry()
        wanted = within_reach(frame, screens)
        if wanted != frame and not self._window.isMaximized() and not self._window.isFullScreen():
            self._window.setGeometry(wanted)

    # How near a file is looked at ------------------------------------------------------------------------------------

    def remember_view(self) -> None:
        """Remember what of the open file is on the sheet; what was fitted will be fitted again."""
        path = self._window.document.path
        if path is None:
            return
        views = {key: view for key, view in self._views().items() if key != _key(path)}
        if not self._window.board.is_fitted:
            camera = self._window.board.view.camera
            views[_key(path)] = (camera.scale, *camera.middle)
        self._settings.set_text("views", json.dumps(dict(list(views.items())[-VIEWS_MOST:])))

    def show_view(self) -> None:
        """Show of the open file what was on the sheet last, once the board has its size."""
        QTimer.singleShot(0, self, self._show_view)

    def _show_view(self) -> None:
        path = self._window.document.path
        found = self._views().get(_key(path)) if path is not None else None
        if found is not None:
            view = self._window.board.view
            view.set_camera(replace(view.camera, scale=found[0], middle=(found[1], found[2])))

    def _views(self) -> dict[str, tuple[float, float, float]]:
        """Scale and middle by file, the newest last; what the settings say wrongly is left out."""
        try:
            stored = json.loads(self._settings.text("views") or "{}")
        except (ValueError, RecursionError):
            return {}
        pairs = stored.items() if isinstance(stored, dict) else ()
        return {key: (view[0], view[1], view[2]) for key, view in pairs if _is_view(view)}


def within_reach(frame: QRect, screens: Sequence[QRect]) -> QRect:
    """Give where a window may stand so that its title can be taken hold of and it fits on its screen: as it stands, if
    it may, else on the nearest screen. `screens`: their free parts, the main one first.
    """
    if not screens:
        return frame
    grip = QRect(frame.left(), frame.top(), frame.width(), GRIP.height())
    for screen in screens:
        seen = screen.intersected(grip)
        if seen.width() >= min(GRIP.width(), frame.width()) and seen.height() >= GRIP.height():
            return frame
    nearest = min(screens, key=lambda screen: (screen.center() - frame.center()).manhattanLength())
    size = frame.size().boundedTo(nearest.size())
    left = min(max(frame.left(), nearest.left()), nearest.right() + 1 - size.width())
    top = min(max(frame.top(), nearest.top()), nearest.bottom() + 1 - size.height())
    return QRect(left, top, size.width(), size.height())


def _key(path: Path) -> str:
    return path.absolute().as_uri()


def _is_view(view: object) -> bool:
    if not isinstance(view, list) or len(view) != 3:
        return False
    if not all(isinstance(each, (int, float)) and abs(each) <= FARTHEST_MM for each in view):  # no NaN is
        return False
    return bool(LEAST_SCALE <= view[0] <= LARGEST_SCALE)

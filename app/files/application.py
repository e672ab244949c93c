"""Qt's application for work without a window: fonts need one, whether anything is shown or not."""

from __future__ import annotations

import os
import sys

from PySide6.QtGui import QGuiApplication

_apps: list[QGuiApplication] = []


def ensure_application() -> None:
    """Make an application that asks for no screen, where there is none."""
    if QGuiApplication.instance() is None:
        if sys.platform.startswith("linux"):
            os.environ["QT_QPA_PLATFORM"] = os.environ.get("QT_QPA_PLATFORM") or "offscreen"
        _apps.append(QGuiApplication(["hingewright"]))

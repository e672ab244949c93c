"""Pointer to painted frame: a whole mouse gesture on the real window, in a process of its own.

    python -m tests.benchmarks.frames drag 1280x800         the pivot X of the demo dragged, not snapping; prints JSON
    python -m tests.benchmarks.frames snap 1280x800         the same, farther about, drawn by what is near
    python -m tests.benchmarks.frames full 1280x800         the pivot X of a full sheet (`hinges.workshop`) dragged
    python -m tests.benchmarks.frames photo 1280x800        the demo's, over a photo of 12 million pixels
    python -m tests.benchmarks.frames start <monotonic>     the program started as a user does; prints JSON when it is
    usable

A frame counts from the mouse move that is sent to the board's viewport until the board has been painted with the
analysis that follows from it (and with it all else that had to be painted). Beside the clock's time stands the
processor's, which what else runs on the machine hardly lengthens.
"""

from __future__ import annotations

import json
import math
import os
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
if __name__ == "__main__":  # nobody's own settings, window places or recent files
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME"):
        os.environ[name] = tempfile.mkdtemp()

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QGraphicsView

if TYPE_CHECKING:
    from kinematics.project import Project

REACH_PX = 3.5  # how far the pointer wanders; some 13 mm of the demo at the size of the first row
SNAP_PX = 14.0  # the same where it snaps: within a smaller circle it would stay where it is


class Paints(QObject):
    """Counts the paints of one widget."""

    def __init__(self, widget: QObject) -> None:
        super().__init__()
        self.count = 0
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: ARG002 (Qt's own name)
        if event.type() == QEvent.Type.Paint:
            self.count += 1
        return False


def mouse(view: QGraphicsView, kind: QEvent.Type, at: QPointF) -> None:
    """One mouse event to the viewport, the left button held except after its release."""
    port = view.viewport()
    held = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseButtonRelease else Qt.MouseButton.LeftButton
    button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else Qt.MouseButton.LeftButton
    event = QMouseEvent(kind, at, QPointF(port.mapToGlobal(at)), button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(port, event)


def settle(app: QApplication, seconds: float = 0.3) -> None:
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        app.processEvents()


def drag(width: int, height: int, scene: str = "drag", moves: int = 160) -> dict[str, Any]:
    """Drag a pivot along a small figure of eight; milliseconds of each frame. `scene`: as in the words above."""
    from app.document import Document
    from app.window import Window
    from tests.benchmarks.hinges import demo, workshop

    app = QApplication([])
    app.setApplicationName("Hingewright")
    app.setStyle("Fusion")
    project = workshop() if scene == "full" else demo()
    document = Document(over_photo(project) if scene == "photo" else project)
    window = Window(document)
    window.set_snaps(scene == "snap")
    reach = SNAP_PX if scene == "snap" else REACH_PX
    window.resize(width, height)
    window.show()
    settle(app)
    while len(window.board.photos.items) < len(document.project.photos):
        settle(app)
    view = window.board.view
    paints = Paints(view.viewport())
    analysed = [0]
    document.analysed.connect(lambda _: analysed.__setitem__(0, analysed[0] + 1))
    start = document.project.pivot("X").at
    home = view.to_px(start)
    mouse(view, QEvent.Type.MouseButtonPress, home)
    for px in (3.0, 6.0, 3.0):  # a press that hardly moves is a click
        mouse(view, QEvent.Type.MouseMove, home + QPointF(px, 0.0))
        settle(app)
    frames: list[float] = []
    busy: list[float] = []
    refused, spot = 0, home
    for k in range(1, moves + 1):
        t = 2 * math.pi * k / 75
        spot = home + QPointF(reach * math.sin(t), reach * math.sin(2 * t) / 2)
        seen, painted = analysed[0], paints.count
        began, spent = time.perf_counter(), time.process_time()
        mouse(view, QEvent.Type.MouseMove, spot)
        while (analysed[0] == seen or paints.count == painted) and time.perf_counter() < began + 0.5:
            app.processEvents()
            if analysed[0] == seen:
                painted = paints.count
        took, worked = 1e3 * (time.perf_counter() - began), 1e3 * (time.process_time() - spent)
        if analysed[0] > seen and paints.count > painted:
            frames.append(took)
            busy.append(worked)
        else:
            refused += 1  # the pivot can't be there: nothing follows
        settle(app, 0.004)
    mouse(view, QEvent.Type.MouseButtonRelease, spot)
    settle(app)
    ratio = view.devicePixelRatioF()
    return {
        "frames": frames,
        "busy": busy,
        "refused": refused,
        "pixels": [round(window.width() * ratio), round(window.height() * ratio)],
        "undo": document.undo_label,
        "moved": document.project.pivot("X").at != start,
    }


def over_photo(project: Project) -> Project:
    """The project over a photo of 4000 × 3000 pixels, of noise, that fills the board and is seen aslant."""
    import numpy as np
    from PySide6.QtGui import QImage

    from app.files.photos import photo_of_image
    from kinematics import beneath
    from kinematics.pictures import Place, picture_of

    pixels = np.random.default_rng(1).integers(0, 2**24, (750, 1000), dtype=np.uint32) | 0xFF000000
    image = QImage(pixels.tobytes(), 1000, 750, 4000, QImage.Format.Format_RGB32).scaled(4000, 3000)
    photo = photo_of_image(image, "photo")
    place = Place(((1.0, 0.1, -1500.0), (0.05, -1.0, 1500.0), (2e-5, 1e-5, 1.0)), photo.size)
    picture = picture_of("photo", project.fixed.id, photo.media, photo.content, place)
    return beneath.add_picture(project, picture)


def start(began: float) -> dict[str, Any]:
    """Run the command line's own way into the window; seconds until the board has shown the demo's analysis."""
    app = QApplication.instance() or QApplication([])
    told: dict[str, Any] = {}

    class FirstPaint(QObject):
        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            is_board = isinstance(watched.parent(), QGraphicsView) if watched.parent() is not None else False
            if event.type() == QEvent.Type.Paint and is_board and not told:
                told["seconds"] = -1.0
                QTimer.singleShot(0, done)  # after the paint itself, and whatever is due with it
            return False

    def done() -> None:
        told["seconds"] = time.monotonic() - began
        told["mb"] = resident_mb()
        app.quit()  # type: ignore[union-attr]

    watch = FirstPaint()
    app.installEventFilter(watch)
    from app.cli import main

    status = main([])
    return {**told, "status": status}


def resident_mb() -> float:
    """Memory of this process that is in RAM, MB (10⁶ bytes)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def main() -> None:
    """Do what the words ask for and print JSON."""
    if sys.argv[1] in ("drag", "snap", "full", "photo"):
        width, height = (int(part) for part in sys.argv[2].split("x"))
        result = drag(width, height, sys.argv[1])
        result["mb"] = resident_mb()
    else:
        result = start(float(sys.argv[2]))
    print(json.dumps(result))
    sys.stdout.flush()
    os._exit(0)  # how the process ends isn't what is measured


if __name__ == "__main__":
    main()

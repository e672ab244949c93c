"""Pointer to painted frame: a whole mouse gesture on the real window, in a process of its own.

    python -m tests.benchmarks.frames drag 1280x800         the pivot X of the demo dragged, not snapping; prints JSON
    python -m tests.benchmarks.frames snap 1280x800         the same, farther about, drawn by what is near
    python -m tests.benchmarks.frames full 1280x800         the pivot X of a full sheet (`hinges.workshop`) dragged
    python -m tests.benchmarks.frames photo 1280x800        the demo's, over a photo of 12 million pixels
    python -m tests.benchmarks.frames swing 1280x800        the demo's panel swung to 40° and back
    python -m tests.benchmarks.frames ride 1280x800         the same, the photo on the panel
    python -m tests.benchmarks.frames start <monotonic>     the program started as a user does; prints JSON when it is
    usable

A frame counts from the mouse move that is sent to the board's viewport until the board has been painted with the
analysis that follows from it (and with it all else that had to be painted). Beside the clock's time stands the
processor's, which what else runs on the machine hardly lengthens. Each move waits there until the one before it is done
with; so what follows the board, such as the words beside it, isn't in it. Hence the *stream*: moves that come as a
mouse tells them, whether the window keeps up or not. What counts is how old a move is when the board shows it,
whatever it had to wait for, and how many frames are shown in a second.
"""

from __future__ import annotations

import gc
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

from PySide6.QtCore import QEvent, QEventLoop, QObject, QPointF, Qt, QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QGraphicsView

if TYPE_CHECKING:
    from app.board.view import BoardView
    from app.document import Document
    from app.window import Window
    from kinematics.project import Project

REACH_PX = 3.5  # how far the pointer wanders; some 13 mm of the demo at the size of the first row
EVERY_S = 0.008  # a usual mouse tells 125 moves a second
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


def gesture(width: int, height: int, scene: str = "drag", moves: int = 160) -> dict[str, Any]:
    """A drag with the mouse on the real window; milliseconds of each frame. `scene`: as in the words above."""
    from app.document import Document
    from app.window import Window

    app = QApplication([])
    app.setApplicationName("Hingewright")
    app.setStyle("Fusion")
    document = Document(shown(scene))
    window = Window(document)
    window.set_snaps(scene == "snap")
    window.resize(width, height)
    window.show()
    settle(app)
    while len(window.board.photos.items) < len(document.project.photos):
        settle(app)
    gc.freeze()  # as `app.window.run` does
    view, before = window.board.view, document.project
    home, spots = way(document, view, scene, moves)
    press(app, view, home)
    frames, busy = paced(app, window, spots)
    ages, rate = streamed(app, window, spots)
    undo = document.undo_label
    mouse(view, QEvent.Type.MouseButtonRelease, spots[-1])
    settle(app)
    ratio = view.devicePixelRatioF()
    return {
        "frames": frames,
        "busy": busy,
        "ages": ages,
        "rate": rate,
        "refused": moves - len(frames),
        "pixels": [round(window.width() * ratio), round(window.height() * ratio)],
        "undo": undo or document.undo_label,
        "moved": document.project is not before or document.pose.deg != 0.0,
        "mb": resident_mb(),
        "redraw": redraw(app, window),
    }


def shown(scene: str) -> Project:
    """The project of a scene."""
    from tests.benchmarks.hinges import demo, workshop

    project = workshop() if scene == "full" else demo()
    on = {"photo": project.fixed.id, "ride": project.panel.id}
    return over_photo(project, on[scene]) if scene in on else project


def way(document: Document, view: BoardView, scene: str, moves: int) -> tuple[QPointF, list[QPointF]]:
    """Where the button goes down, and where the pointer goes then: pixels of the viewport.

    A pivot goes along a small figure of eight; a panel is swung, by the first point of its outline, to 40° and back.
    """
    turns = [2 * math.pi * k / 75 for k in range(1, moves + 1)]
    if scene in ("swing", "ride"):
        analysis, panel = document.analysis, document.project.panel.id
        front = next(outline.points[0] for outline in document.project.outlines if outline.on == panel)
        index = analysis.links.index(panel)
        poses = [analysis.pose(20.0 - 20.0 * math.cos(t)) for t in turns]
        return view.to_px(front), [view.to_px(pose.place(index, front)) for pose in poses]
    home, reach = view.to_px(document.project.pivot("X").at), SNAP_PX if scene == "snap" else REACH_PX
    return home, [home + QPointF(reach * math.sin(t), reach * math.sin(2 * t) / 2) for t in turns]


def press(app: QApplication, view: BoardView, home: QPointF) -> None:
    """Press, and begin a drag: a press that hardly moves is a click."""
    mouse(view, QEvent.Type.MouseButtonPress, home)
    for px in (3.0, 6.0, 3.0):
        mouse(view, QEvent.Type.MouseMove, home + QPointF(px, 0.0))
        settle(app)


def paced(app: QApplication, window: Window, spots: list[QPointF]) -> tuple[list[float], list[float]]:
    """Milliseconds of each frame by the clock and of processor; none of a move that nothing follows from, as where a
    pivot can't be.
    """
    view = window.board.view
    paints = Paints(view.viewport())
    posed = [0]
    window.document.posed.connect(lambda _: posed.__setitem__(0, posed[0] + 1))
    frames: list[float] = []
    busy: list[float] = []
    for spot in spots:
        seen, painted = posed[0], paints.count
        began, spent = time.perf_counter(), time.process_time()
        mouse(view, QEvent.Type.MouseMove, spot)
        while (posed[0] == seen or paints.count == painted) and time.perf_counter() < began + 0.5:
            app.processEvents()
            if posed[0] == seen:
                painted = paints.count
        took, worked = 1e3 * (time.perf_counter() - began), 1e3 * (time.process_time() - spent)
        if posed[0] > seen and paints.count > painted:
            frames.append(took)
            busy.append(worked)
        settle(app, 0.004)
    return frames, busy


def streamed(app: QApplication, window: Window, spots: list[QPointF]) -> tuple[list[float], float]:
    """Milliseconds from each move that is shown to its frame, where moves come every `EVERY_S`; frames a second."""
    view = window.board.view
    paints = Paints(view.viewport())
    due = [0.0, 0.0]  # when the hand was at the newest place: told, shown
    window.document.posed.connect(lambda _: due.__setitem__(1, due[0]))
    ages: list[float] = []
    began, told, shown, painted = time.perf_counter(), 0, 0.0, paints.count
    while told < len(spots):
        newest = min(int((time.perf_counter() - began) / EVERY_S), len(spots))
        if newest > told:  # of several Qt's own queue keeps the last
            told, due[0] = newest, began + newest * EVERY_S
            mouse(view, QEvent.Type.MouseMove, spots[told - 1])
        app.processEvents()
        if due[1] == shown:
            painted = paints.count
        elif paints.count > painted:
            shown, painted = due[1], paints.count
            ages.append(1e3 * (time.perf_counter() - shown))
    return ages, len(ages) / (time.perf_counter() - began)


def redraw(app: QApplication, window: Window) -> dict[str, list[float]]:
    """What it takes, after each of a few zooms, until the photos are drawn afresh: milliseconds of processor in all,
    and of the longest turn of the event loop, for which all else has to wait.
    """
    view, photos = window.board.view, window.board.photos
    found: dict[str, list[float]] = {"all": [], "longest": []}
    for factor in (1.2, 1.2, 1.2, 1 / 1.2, 1 / 1.2, 1 / 1.2) if photos.items else ():
        view.zoom(factor)
        view.viewport().repaint()
        photos.sharpen()
        turns: list[float] = []
        while not turns or any(item.is_coarse for item in photos.items.values()):
            spent = time.process_time()
            app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents)
            turns.append(1e3 * (time.process_time() - spent))
        spent = time.process_time()
        view.viewport().repaint()
        turns.append(1e3 * (time.process_time() - spent))
        found["all"].append(sum(turns))
        found["longest"].append(max(turns))
        settle(app, 0.05)
    return found


def over_photo(project: Project, on: str) -> Project:
    """The project over a photo of 4000 × 3000 pixels, of noise, that fills the board, is seen aslant and rides on a
    link.
    """
    import numpy as np
    from PySide6.QtGui import QImage

    from app.files.photos import photo_of_image
    from kinematics import beneath
    from kinematics.pictures import Place, picture_of

    pixels = np.random.default_rng(1).integers(0, 2**24, (750, 1000), dtype=np.uint32) | 0xFF000000
    image = QImage(pixels.tobytes(), 1000, 750, 4000, QImage.Format.Format_RGB32).scaled(4000, 3000)
    photo = photo_of_image(image, "photo")
    place = Place(((1.0, 0.1, -1500.0), (0.05, -1.0, 1500.0), (2e-5, 1e-5, 1.0)), photo.size)
    picture = picture_of("photo", on, photo.media, photo.content, place)
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
    if sys.argv[1] != "start":
        width, height = (int(part) for part in sys.argv[2].split("x"))
        result = gesture(width, height, sys.argv[1])
    else:
        result = start(float(sys.argv[2]))
    print(json.dumps(result))
    sys.stdout.flush()
    os._exit(0)  # how the process ends isn't what is measured


if __name__ == "__main__":
    main()

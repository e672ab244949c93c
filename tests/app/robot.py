"""A robot at the window: random gestures and commands, and after each of them all must be well.

    python -m tests.app.robot [--seed 1] [--gestures 10000] [--stay] [--only 3,17,204] [--tell]

It drags, clicks, types, presses keys, gives commands, answers sheets and spoils files (`tests.app.robot_hands`), on the
real window over the demo, in a folder of its own. After each gesture nothing may have raised, Qt may not have warned,
the analysis must be of the newest project and all its numbers finite, no drag may be left over, and there may be no
more new steps than there were presses and keys. At the end all is undone: that must give back the first project
exactly, and redoing all of it the last one.

Opening or beginning another hinge begins another history; with `--stay` every such wish is given up, so that all
gestures are one history.

Gesture N of a seed draws its chance from the seed and N alone. A run that fails prints its seed and its last gestures;
`--gestures N` replays up to there, and `--only` just the gestures that matter.
"""

from __future__ import annotations

import argparse
import math
import os
import random
import sys
import tempfile
import time
import traceback
import warnings
from collections import deque
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING
from unittest.mock import patch

if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QLocale, QSettings, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QDesktopServices
from PySide6.QtPrintSupport import QPrintDialog
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QMessageBox

from app.document import Document
from app.files import save
from app.files.project_file import read, written
from app.rail import SheetArea
from app.window import Window, demo
from kinematics.starts import start
from tests.app.robot_hands import Hands, is_finite, turn

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kinematics.analysis import Analysis
    from kinematics.project import Project

QUIET = "This plugin does not support "  # the offscreen platform has no desktop for sizes, raising and grabbing
READ_EVERY, REDO_EVERY = 50, 20
MOST_PARTS, MOST_POINTS = 45, 400
LAST = 12
HOMES = ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME")


class RobotError(AssertionError):
    """Something was not as it must be."""


class Watched(Document):
    """A document that knows what its history began with, and looks at it whenever another history begins."""

    def __init__(self, project: Project) -> None:
        self.first = project
        super().__init__(project)

    def _set_afresh(self, project: Project, path: Path | None) -> None:
        self.look_at_history()
        super()._set_afresh(project, path)
        self.first = project

    @property
    def steps(self) -> int:
        """How many steps can be undone."""
        return len(self._done)

    def look_at_history(self) -> None:
        """What undo leads back to must be what was first."""
        must(not self._done or self._done[0].project == self.first, "the history doesn't begin with the first project")


class Run:
    """One run of the robot. `faults` are the exceptions and warnings that nobody was told of otherwise."""

    def __init__(self, folder: Path, seed: int, stays: bool = False, tells: bool = False) -> None:
        self.folder, self.seed, self.stays, self.tells = folder, seed, stays, tells
        self.faults: list[str] = []
        self.last: deque[str] = deque(maxlen=LAST)
        self.first = demo()
        self._fill_folder()

    def _fill_folder(self) -> None:
        """Files to open: good ones and bad ones."""
        self.folder.mkdir(parents=True, exist_ok=True)
        save(self.first, self.folder / "a.hinge")
        save(start(self.first, "four-bar"), self.folder / "b.hinge")
        (self.folder / "noise.hinge").write_bytes(random.Random(1).randbytes(4000))
        (self.folder / "points.csv").write_text("lid\n0; 0\n100; 20\n180; 25\n\n0; 0\n40; 0\n40; 30\n")
        (self.folder / "drawing.dxf").write_text(DRAWING)
        (self.folder / "a folder").mkdir(exist_ok=True)

    def _open_window(self) -> None:
        self.document = Watched(self.first)
        self.window = Window(self.document)
        self.window.strip._clock = _Clock()  # type: ignore[assignment]
        self.window.strip._timer.setInterval(10**8)
        self.window.resize(1280, 800)
        self.window.show()
        self.window.activateWindow()
        turn()

    def go(self, gestures: Iterable[int]) -> None:
        """Do the gestures with these numbers. Raises RobotError, with what was done last, at the first fault."""
        number = 0
        with self._alone():
            try:
                self._open_window()
                for number in gestures:
                    self._do(number)
                self._undo_all()
            except Exception as fault:
                told = "\n  ".join(self.last)
                message = f"seed {self.seed}, gesture {number}: {type(fault).__name__}: {fault}\n  {told}"
                raise RobotError(message) from fault
            finally:
                with patch.object(Window, "may_leave", lambda _: True):
                    self.window.close()
                self.window.deleteLater()
                turn()

    def _do(self, number: int) -> None:
        """Do one gesture, and look whether all is well."""
        self._hands = hands = Hands(self.window, random.Random(f"{self.seed}/{number}"), self.folder)
        before, first = self.document.steps, self.document.first
        try:
            hands.do_one()
        finally:
            self.last.append(f"{number}: {'  '.join(hands.told)}")
            if self.tells:
                sys.stderr.write(self.last[-1] + "\n")
        if not self.window.isVisible():
            self._leave_window()
            return
        if self.window.strip.is_playing:
            self.window.strip._run_on()
        self._look(self.document)
        if self.document.first is first:
            must(self.document.steps <= before + hands.inputs, f"{self.document.steps - before} new steps")
        self._now_and_then(number)

    def _leave_window(self) -> None:
        """It was closed: begin with another one."""
        self.document.look_at_history()
        self.window.deleteLater()
        turn()
        self._open_window()

    def _look(self, document: Watched) -> None:
        must(not self.faults, "\n".join(self.faults))
        must(document.analysis.project is document.project, "the analysis is of another project")
        must(not document.is_dragging or self.window.board.pointer.is_standing, "a drag is left over")
        must(not self.window.board.view.is_held, "the board believes that the button is down")
        look_at(document.analysis)
        pose, camera = document.pose, self.window.board.view.camera
        must(is_finite(pose.deg, pose.arc, pose.turns, pose.shifts), "a pose that is no number")
        must(is_finite(camera.scale, camera.middle) and camera.scale > 0, "a camera that looks nowhere")

    def _now_and_then(self, number: int) -> None:
        """Things that need not be looked at each time."""
        document = self.document
        if number % READ_EVERY == 0:
            must(read(written(document.project), "") == document.project, "what is written reads otherwise")
        if number % REDO_EVERY == 0 and document.can_undo and not document.is_dragging:
            project = document.project
            document.undo()
            document.redo()
            must(document.project == project, "undo and redo lead elsewhere")
        project = document.project
        parts = sum(map(len, (project.links, project.pivots, project.outlines, project.marks, project.measures)))
        if parts > MOST_PARTS or sum(len(outline.points) for outline in project.outlines) > MOST_POINTS:
            for _ in range(30):  # else it would only get slower
                document.undo()

    def _undo_all(self) -> None:
        document = self.document
        document.commit()
        last, steps = document.project, document.steps
        for _ in range(steps):
            document.undo()
        must(document.project == document.first, "undoing all doesn't give back the first project")
        must(not document.can_undo, "something is left to undo")
        for _ in range(steps):
            document.redo()
        must(document.project == last, "redoing all doesn't give back the last project")
        self._look(document)

    # What the robot stands in ----------------------------------------------------------------------------------------

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Nobody is asked, nothing is opened outside, and every fault is caught."""
        places = {name: str(self.folder / "home" / name.lower()) for name in HOMES}
        hands = self._answers()
        with ExitStack() as stack:
            for each in (
                patch.dict(os.environ, places),
                patch.object(SheetArea, "slide_ms", 0),
                patch.object(QMessageBox, "exec", hands["box"]),
                patch.object(QDialog, "exec", hands["sheet"]),
                patch.object(QPrintDialog, "exec", lambda _: QDialog.DialogCode.Rejected),  # no paper is spent
                patch.object(QFileDialog, "getOpenFileName", staticmethod(hands["file"])),
                patch.object(QFileDialog, "getSaveFileName", staticmethod(hands["file"])),
                patch.object(QDesktopServices, "openUrl", staticmethod(lambda _: True)),
                patch.object(sys, "excepthook", self._note_exception),
                patch.object(sys, "unraisablehook", lambda each: self._note_exception(None, each.exc_value, None)),
            ):
                stack.enter_context(each)
            if self.stays:
                stack.enter_context(patch.object(Window, "may_leave", _stay))
            stack.enter_context(warnings.catch_warnings())
            warnings.simplefilter("error")
            QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, places["XDG_CONFIG_HOME"])
            before = qInstallMessageHandler(self._note_message)
            try:
                yield
            finally:
                qInstallMessageHandler(before)

    def _answers(self) -> dict[str, object]:
        key = QMessageBox.StandardButton

        def box(box: QMessageBox) -> int:
            there = [each for each in (key.Save, key.Discard, key.Cancel) if box.button(each) is not None]
            answer = self._hands.chance.choice(there)
            self._hands.tell(f"{box.text()} {answer.name}")
            return answer

        def file(*_: object) -> tuple[str, str]:
            path = self._hands.a_file()
            self._hands.tell(path.name)
            return ("" if self._hands.chance.random() < 0.2 else str(path)), ""

        def sheet(sheet: QDialog) -> int:
            return self._hands.answer(sheet)

        return {"box": box, "file": file, "sheet": sheet}

    def _note_exception(self, _kind: object, fault: BaseException | None, _where: object) -> None:
        self.faults.append("".join(traceback.format_exception(fault)))

    def _note_message(self, kind: QtMsgType, _context: object, message: str) -> None:
        if kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) and not message.startswith(QUIET):
            self.faults.append(f"Qt says: {message}")


class _Clock:
    """A clock that doesn't depend on how fast the machine is."""

    def start(self) -> None:
        """It needs no start."""

    def restart(self) -> int:
        """So many ms have passed."""
        return 160


def _stay(window: Window) -> bool:
    """The builder has thought better of it."""
    window._finish_typing()
    window.document.commit()
    return False


def must(holds: bool, else_: str) -> None:
    """Raise unless it holds."""
    if not holds:
        raise RobotError(else_)


def look_at(analysis: Analysis) -> None:
    """Every number that is shown must be one."""
    opening = analysis.opening
    must(is_finite(opening.wanted_deg, opening.reached_deg, opening.largest_deg), "an opening that is no number")
    must(is_finite(analysis.openings, analysis.turns, analysis.shifts), "a sweep that is no number")
    for gap in analysis.gaps:
        must(is_finite(gap.smallest, gap.at_deg, gap.at_points, gap.shut, *gap.lane), f"a gap that is none: {gap}")
    for check in analysis.checks:
        unloaded = check.kind == "strength" and check.have == math.inf  # told as "no load"
        figures = (None, None) if check.have is None or unloaded else (check.have, check.margin)  # without one it is −∞
        must(is_finite(check.want, *figures, check.deg, check.place), f"no check: {check}")
    through = analysis.transmission
    must(through is None or is_finite(through.angles, through.smallest_deg, through.at_deg), "no transmission angle")
    for paths in (analysis.mark_paths, analysis.pivot_paths):
        must(is_finite(*paths.values()), "a path that leads nowhere")


DRAWING = "\n".join(
    str(each)
    for tag in (
        (0, "SECTION"), (2, "ENTITIES"), (0, "LINE"), (8, "body"), (10, 0), (20, 0), (11, 30), (21, 0),
        (0, "CIRCLE"), (8, "pins"), (10, 5), (20, 5), (40, 2), (0, "ENDSEC"), (0, "EOF"),
    )
    for each in tag
)  # fmt: skip


def main(words: list[str]) -> int:
    """Let the robot loose; the exit status is 1 when something was amiss."""
    parser = argparse.ArgumentParser(description="Random gestures on the whole window.")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--gestures", type=int, default=10_000)
    parser.add_argument("--stay", action="store_true", help="never begin another hinge: one history")
    parser.add_argument("--only", default="", help="the numbers of the only gestures to be done")
    parser.add_argument("--tell", action="store_true", help="print each gesture")
    asked = parser.parse_args(words)
    app = QApplication(["robot"])
    app.setStyle("Fusion")
    QLocale.setDefault(QLocale.c())
    numbers = [int(each) for each in asked.only.split(",")] if asked.only else range(1, asked.gestures + 1)
    began = time.monotonic()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        run = Run(Path(folder), asked.seed, asked.stay, asked.tell)
        try:
            run.go(numbers)
        except RobotError as fault:
            sys.stdout.write(f"{fault}\n")
            return 1
        steps = run.document.steps
    sys.stdout.write(f"seed {asked.seed}: {len(numbers)} gestures, all is well; {steps} steps undone and redone, "
                     f"{time.monotonic() - began:.0f} s\n")  # fmt: skip
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

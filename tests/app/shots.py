"""Screenshots of the window, to be looked at: `python -m tests.app.shots [FOLDER]`, by default into `tests/shots/`.

    --readme     renews the README's pictures in resources/pictures instead

Each shot is a function that brings a window into a state; nothing is compared here. Drawn offscreen unless
QT_QPA_PLATFORM says otherwise; QT_SCALE_FACTOR=2 shows how it looks on a fine screen.
"""

from __future__ import annotations

import os
import sys
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QScrollArea

from app.document import Document, Selection
from app.drawers.lift_wants_box import LiftWantsBox
from app.drawers.mockup_box import MockupBox
from app.drawers.plates_box import PlatesBox
from app.drawers.weigh_box import Scales, WeighBox
from app.drawers.weights_box import WeightsBox
from app.window import Window, demo
from kinematics import edits, loading, plate_edits, wanting
from kinematics.parts import Attachment, Mass
from resources import find

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).parents[2]
PICTURES = ROOT / "resources/pictures"
SIZE = (1280, 800)


def half_open(window: Window) -> None:
    window.document.set_opening(40.0)


def dark(window: Window) -> None:
    window.set_sheet("dark")
    half_open(window)


def inches(window: Window) -> None:
    window.document.open(find("demos/potting bench.hinge"))
    window.document.set_opening(30.0)
    window.board.fit()


def selected(window: Window) -> None:
    half_open(window)
    window.document.select(Selection("pivot", "Q"))


def dragged(window: Window) -> None:
    """Amid a drag that breaks a check: changes stand beside the figures."""
    pivot = window.document.project.pivots[0]
    window.document.begin(f"Move pivot {pivot.id}")
    x, y = pivot.at
    window.document.preview(edits.move_pivot(window.document.project, pivot.id, (x - 6.0, y + 4.0)))
    window.document.flush()
    half_open(window)


def trace(window: Window) -> None:
    window.area.open_drawer("Trace")


def pins(window: Window) -> None:
    window.area.open_drawer("Pins")


def lift(window: Window) -> None:
    window.area.open_drawer("Lift")


def weighed(window: Window) -> None:
    """The panel on two supports, level and tilted, with both supports on the sheet."""
    window.area.open_drawer("Lift")
    box = window.lift.box(WeighBox)
    box.scales = Scales((116.0, 290.0), (950.0, 268.0), (8.0, 10.0, 8.2, 9.8), 254.0)
    box.show_analysis(window.document.analysis)
    settle()
    window.lift.findChildren(QScrollArea)[0].verticalScrollBar().setValue(230)


def lift_wants(window: Window) -> None:
    """Wants of lifting with what they come to, in inches and on a dark sheet; the links' plates weighed."""
    window.set_sheet("dark")
    window.document.apply("Inches", edits.set_units(window.document.project, "in"))
    window.area.open_drawer("Lift")
    window.lift.box(WeightsBox).add_plates()
    window.lift.box(LiftWantsBox)


def build(window: Window) -> None:
    window.area.open_drawer("Build")


def outlines_only(window: Window) -> None:
    """Where a builder chooses how to start."""
    project = window.document.project
    ends = [link for link in project.links if link.kind != "link"]
    window.document.new(replace(project, links=tuple(ends), pivots=(), limits=(), gaps=()))
    window.board.fit()
    pins(window)


def wants(window: Window) -> None:
    """Floor, roof and a shut gap wanted; pinch places; the wants given more of the column."""
    roomy = wanting.set_front_height(wanting.set_floor(window.document.project, -640.0), 1800.0)
    shut = wanting.set_shut_gap(wanting.set_roof(roomy, 1560.0), roomy.gaps[0].between, wanting.usual_shut(4.7625))
    window.document.apply("Want more", shut)
    window.checks.split.setSizes([240, 360])
    window.board.fit()
    half_open(window)


def keep_clear(window: Window) -> None:
    """Things in the way: one placed, one still to be drawn."""
    ticked = wanting.tick_thing(window.document.project, "knee")
    engine = wanting.box((250.0, -100.0), (700.0, 120.0))
    window.document.apply("Engine", wanting.place_thing(ticked, "engine", engine, ticked.fixed.id, 5.0))
    window.show_keep_clear()
    window.board.fit()


def parts(window: Window) -> None:
    """The list of parts beside the board, a pivot selected, on the dark sheet."""
    window.set_sheet("dark")
    window.document.set_opening(55.0)
    window.document.select(Selection("pivot", "P1"))
    window.checks.entry.show_parts()
    window.board.fit_pins()


def loads(window: Window) -> None:
    """Every kind of strut and spring, two masses and the handle; the strut selected, on the dark sheet."""
    window.set_sheet("dark")
    project = window.document.project
    body, panel, arm = project.fixed.id, project.panel.id, "arm"
    pin = project.pivot("O1").at
    made = (
        ("helper", "tension spring", Attachment(body, (30.0, 60.0)), Attachment(arm, (150.0, 225.0))),
        ("pusher", "compression spring", Attachment(body, (250.0, 40.0)), Attachment(panel, (500.0, 250.0))),
        ("winder", "torsion spring", Attachment(body, pin), Attachment(arm, pin)),
    )
    for name, kind, start, end in made:
        project = loading.add_device(project, loading.usual_device(name, kind, start, end, 190.0, 500.0))
    project = loading.add_mass(project, Mass("cross link", 1.2, (170.0, 180.0)))
    window.document.apply("Loads", project)
    half_open(window)
    window.document.select(Selection("device", "strut", 1))
    window.board.fit_pins()


def plates(window: Window) -> None:
    """Link plates, bowed, waisted and cut out, with the grips of the one that is selected; on the dark sheet."""
    window.set_sheet("dark")
    project = plate_edits.begin_plates(window.document.project)
    project = plate_edits.set_bow(project, "short link", plate_edits.sides_of(project, "short link")[0], 10.0)
    project = plate_edits.set_waist(project, "cross link", 14.0)
    project = plate_edits.add_cutout(project, "short link", *plate_edits.first_cutout(project, "arm"))
    project = plate_edits.add_cutout(project, "arm", *plate_edits.first_cutout(project, "arm"))
    window.document.apply("Plates", project)
    window.area.open_drawer("Build")
    window.build.sections[MockupBox].unfold(False)
    window.build.box(PlatesBox)
    window.document.select(Selection("link", "cross link", 0))
    window.board.fit_pins()


SHOTS: dict[str, Callable[[Window], None]] = {
    "board": half_open,
    "dark": dark,
    "inches": inches,
    "selected": selected,
    "dragged": dragged,
    "trace": trace,
    "pins": pins,
    "lift": lift,
    "weighed": weighed,
    "lift wants": lift_wants,
    "build": build,
    "outlines only": outlines_only,
    "wants": wants,
    "keep clear": keep_clear,
    "parts": parts,
    "loads": loads,
    "plates": plates,
}


README: dict[str, Callable[[Window], None]] = {"board": half_open, "starts": outlines_only, "parts": parts}


def shoot(bring: Callable[[Window], None], path: Path) -> None:
    """A window of its own, brought into a state, as a PNG."""
    window = Window(Document(demo()))
    window.set_sheet("light")
    window.area.slide_ms = 0
    window.resize(*SIZE)
    window.show()
    settle()
    bring(window)
    settle()
    path.parent.mkdir(parents=True, exist_ok=True)
    if not window.grab().save(str(path)):
        raise OSError(f"{path} can't be written")
    window.document.cancel()
    window.hide()
    window.deleteLater()
    settle()


def settle(turns: int = 5) -> None:
    """Let queued analyses and paints happen."""
    for _ in range(turns):
        QApplication.processEvents()


def main(words: list[str]) -> int:
    """Take every shot; the exit status."""
    folder = Path(next((word for word in words if not word.startswith("-")), ROOT / "tests/shots"))
    with tempfile.TemporaryDirectory() as home:
        for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
            os.environ[name] = home  # the shots neither read nor change the user's settings and copies
        application = QApplication(sys.argv[:1])
        application.setStyle("Fusion")
        shots = README if "--readme" in words else SHOTS
        folder = PICTURES if "--readme" in words else folder
        for name, bring in shots.items():
            shoot(bring, folder / f"{name}.png")
            sys.stdout.write(f"{folder / name}.png\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

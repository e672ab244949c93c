"""Contrast by the WCAG formula, on both sheets: of the colours as they are mixed, and of the window as it is painted.

Sources: W3C, Web Content Accessibility Guidelines (WCAG) 2.1, 2018: success criterion 1.4.3, text 4.5:1 against what
lies behind it (what is disabled is exempt); 1.4.11, marks and the edges and states of controls 3:1; "relative
luminance" and "contrast ratio" under Terms. `test_look` holds the colours of the board by themselves.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QMenuBar, QWidget

from app.checks import CheckRow
from app.document import Selection
from app.entry.form import ChoiceBox
from app.look import Look, dark, light
from app.painter import SCRAP
from app.shapes import FACE
from app.theme import EDGE_SHARE, blend, style_sheet
from app.ticks import TickBox
from kinematics import edits
from tests.app.sharing import begin_again
from tests.app.test_look import ROLES, contrast

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.window import Window

TEXT, MARK = 4.5, 3.0
LOOKS = pytest.mark.parametrize("look", [light(), dark()], ids=lambda look: look.name)


def grounds(look: Look) -> dict[str, tuple[str, tuple[str, ...]]]:
    """What words stand on, and the colours of the words that do; the shares are those of `theme` and `checks`."""
    return {
        "wash": (blend(look.ink, look.paper, 0.06), ("ink", "faint", "fault", "ok")),
        "row under the pointer": (blend(look.ink, look.paper, 0.08), ("ink", "faint", "fault", "ok")),
        "row with the keys": (blend(look.selection, look.paper, 0.08), ("ink", "faint", "fault", "ok")),
        "pressed": (blend(look.selection, look.paper, 0.16), ("ink", "fault", "ok")),
        "notice": (blend(look.fault, look.paper, 0.12), ("ink", "fault")),
    }


@LOOKS
def test_words_can_be_read_on_every_ground(look: Look) -> None:
    """1.4.3."""
    for name, (ground, inks) in grounds(look).items():
        for ink in inks:
            assert contrast(getattr(look, ink), ground) >= TEXT, f"{ink} on {name}"


@LOOKS
def test_edges_and_states_of_controls_can_be_seen(look: Look) -> None:
    """1.4.11: the rule beneath a field, the frame of a box to tick (in `faint`), what shows the keys and what is on."""
    assert contrast(blend(look.ink, look.paper, EDGE_SHARE), look.paper) >= MARK
    for role in ("faint", "selection"):
        assert contrast(getattr(look, role), look.paper) >= MARK
    assert contrast(look.selection, blend(look.selection, look.paper, 0.16)) >= MARK


def faces(look: Look) -> list[str]:
    """The faces of links on the sheet, of one and of two that lie over each other."""
    one = blend(look.link_fill, look.paper, FACE)
    return [one, blend(look.link_fill, one, FACE)]


@LOOKS
def test_words_can_be_read_on_their_scraps_of_paper(look: Look) -> None:
    """1.4.3: names, gaps and pinch places over the faces of links, even where two lie over each other."""
    for face in faces(look):
        scrap = blend(look.paper, face, SCRAP)
        for role in ("ink", "faint", "path", "gap", "short", "selection"):
            assert contrast(getattr(look, role), scrap) >= TEXT, role


@LOOKS
def test_every_colour_of_the_style_sheet_can_be_seen(look: Look) -> None:
    """1.4.3 and 1.4.11: whatever is written or filled; rules between things are no marks, and are left out."""
    sheet = style_sheet(look)
    words = re.findall(r"[ ;{]color: (#[0-9a-f]{6})", sheet)
    handles = re.findall(r"QScrollBar::handle[^{]*{ background: (#[0-9a-f]{6})", sheet)
    assert len(words) > 5
    assert len(handles) == 2
    assert all(contrast(colour, look.paper) >= TEXT for colour in words if colour != look.paper)
    assert all(contrast(colour, look.paper) >= MARK for colour in handles)


def test_every_colour_of_the_look_is_held_somewhere() -> None:
    """A new part that a colour plays needs its place in these tests, or its reason to stay behind."""
    held = {"ink", "faint", "path", "gap", "short", "ok", "fault", "selection"}  # words, 4.5:1, in `test_look`
    lines = {"edge", "fixed", "hatch", "panel", "link"}  # lines, 3:1, in `test_look`
    behind = {"paper", "grid", "grid_major", "ghost", "link_fill"}  # grounds, and what must not drown the rest
    assert set(ROLES) == held | lines | behind


@LOOKS
def test_marks_of_the_board_can_be_seen_on_the_faces_of_links(look: Look) -> None:
    """1.4.11: pins, paths and gaps lie over links."""
    face = faces(look)[0]
    for role in ("ink", "panel", "path", "gap", "short", "selection", "link"):
        assert contrast(getattr(look, role), face) >= MARK, role


# ----------------------------------------------------------------------------------------------------- as it is painted
STATES: dict[str, Callable[[Window], object]] = {
    "pivot": lambda window: window.document.select(Selection("pivot", "Q")),
    "a broken check": lambda window: window.document.apply(
        "Want", edits.set_gap(window.document.project, window.document.analysis.gaps[0].between, 14.0)
    ),
    "notice": lambda window: window.document.noticed.emit("Something is amiss. Mend it."),
    "Pins": lambda window: window.area.open_drawer("Pins"),
    "Trace": lambda window: window.area.open_drawer("Trace"),
    "parts": lambda window: window.checks.entry.show_parts(),
}


def strongest(image: QImage) -> float:
    """Contrast of what stands out most from the commonest colour, the ground: thin strokes are mixed with it."""
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    pixels = np.frombuffer(image.constBits(), dtype=np.uint32).reshape(image.height(), -1)[:, : image.width()]
    colours, counts = np.unique(pixels & 0xFFFFFF, return_counts=True)
    ground, *others = (f"#{colours[k]:06x}" for k in np.argsort(-counts))
    return max((contrast(colour, ground) for colour in others), default=1.0)


def has_words(widget: QWidget) -> bool:
    if isinstance(widget, ChoiceBox):
        return bool(widget.currentText())
    if isinstance(widget, CheckRow):
        return bool(widget.sentence)
    return isinstance(widget, QLabel | QAbstractButton | QLineEdit) and bool(widget.text().strip())


def pale_words(window: Window) -> list[str]:
    """All that can be read and acted on in a window but hardly stands out, with its contrast."""
    seen = [
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and has_words(widget)
        and widget.visibleRegion().boundingRect().isValid()
    ]
    assert len(seen) > 15
    return [
        f"{type(widget).__name__} {widget.accessibleName() or getattr(widget, 'text', str)()!r}: {found:.2f}"
        for widget in seen
        if (found := strongest(widget.grab().toImage())) < TEXT
    ]


@LOOKS
def test_all_words_of_the_window_as_they_are_painted(window: Window, look: Look) -> None:
    """1.4.3: whatever style sheet, palette and our own painting make of it, words stand out, in every state."""
    window.set_sheet(look.name)
    for state, turn_to in STATES.items():
        begin_again(window)
        turn_to(window)
        QApplication.processEvents()
        assert pale_words(window) == [], state
    bar = window.findChild(QMenuBar)
    assert bar is not None
    assert strongest(bar.grab().toImage()) >= TEXT


@LOOKS
def test_an_empty_box_can_be_seen_on_the_paper(window: Window, look: Look) -> None:
    """1.4.11: the frame of a box that isn't ticked, painted."""
    window.set_sheet(look.name)
    window.document.select(Selection("pivot", "Q"))
    QApplication.processEvents()
    box = next(box for box in window.findChildren(TickBox) if box.isVisible() and not box.isChecked())
    frame = box.grab().toImage().pixelColor(1, box.height() // 2)
    assert contrast(frame.name(), QColor(look.paper).name()) >= MARK

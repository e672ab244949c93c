"""How the window's room is shared: board and checks beside each other, the travel strip beneath, the checks above exact
entry; and what of it is remembered until the next start.

The strip takes what its lanes can use, and leaves the rest to the board: with nothing to show it is a ruler and a
sentence, with many lanes it has its usual height and scrolls. A height that was set by hand is a wish that is kept as
far as there are lanes for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from app.fields import in_tab_order

if TYPE_CHECKING:
    from app.checks import ChecksPanel
    from app.rail import Rail, SheetArea
    from app.settings import Settings
    from app.strip import TravelStrip

SIDE_WIDTH = 330
STRIP_HEIGHT = 230  # as much as the strip takes unasked
LANE_HEIGHT = 62  # at which a lane reads well
LEAST = QSize(1280, 800)
SHARE_OF_SCREEN = 0.8
FRAME = QSize(16, 56)  # about what a desktop puts around a window


class Shares:
    """The splitters between the parts; `whole` is the widget that holds all of them."""

    def __init__(self, rail: Rail, area: SheetArea, checks: ChecksPanel, strip: TravelStrip) -> None:
        self._strip, self._height = strip, 0
        self._checks = checks.split
        self._side = _splitter(Qt.Orientation.Horizontal, area, checks)
        self._side.setSizes([LEAST.width() - SIDE_WIDTH, SIDE_WIDTH])
        upper = QWidget()
        row = QHBoxLayout(upper)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(rail)
        row.addWidget(self._side, 1)
        self._rows = _splitter(Qt.Orientation.Vertical, upper, strip)
        self.whole = QWidget()
        column = QVBoxLayout(self.whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._rows)
        self._rows.splitterMoved.connect(lambda *_: self._take_height(self._rows.sizes()[1]))
        strip.filled.connect(self._fill)
        self._fill()

    def restore(self, settings: Settings) -> None:
        """Share as it was when the window was closed last."""
        for name, splitter in (("side", self._side), ("checks", self._checks)):
            state = settings.state(name)
            if state is not None:
                splitter.restoreState(state)
        self._take_height(settings.number("strip height"))
        self._fill()

    def remember(self, settings: Settings) -> None:
        """Keep how it is shared now."""
        settings.set_state("side", self._side.saveState())
        settings.set_state("checks", self._checks.saveState())
        settings.set_number("strip height", self._height)

    def _take_height(self, height: int) -> None:
        """Take a height of the strip as wished for by hand; 0 for none."""
        self._height = max(height, 0)

    def _fill(self) -> None:
        """Give the strip what it is wished to have, as far as its lanes can use it."""
        usual = min(self._strip.height_for(LANE_HEIGHT), STRIP_HEIGHT)
        height = min(self._height or usual, self._strip.maximumHeight())
        total = sum(self._rows.sizes()) or LEAST.height()
        self._rows.setSizes([total - height, height])


def _splitter(orientation: Qt.Orientation, first: QWidget, second: QWidget) -> QSplitter:
    """Put two parts side by side; the first takes what room comes or goes, neither can be pushed away."""
    splitter = QSplitter(orientation)
    splitter.setChildrenCollapsible(False)
    splitter.setHandleWidth(4)
    splitter.addWidget(first)
    splitter.addWidget(second)
    splitter.setStretchFactor(0, 1)
    splitter.setStretchFactor(1, 0)
    splitter.handle(1).setToolTip("Drag to share the room differently.")
    return splitter


def order_tabs(rail: Rail, area: SheetArea, checks: ChecksPanel, strip: TravelStrip) -> None:
    """Let Tab go through the window as the eye does: stages, what is asked, board and its tools, checks and entry,
    travel.
    """
    head = in_tab_order(rail, rail)
    area.drawer_made.connect(lambda drawer: in_tab_order(head, drawer))  # one at most is open: their order is the same
    before = in_tab_order(head, area.notice)
    QWidget.setTabOrder(before, area.board)
    before = area.board
    pages: tuple[QWidget, ...] = (area.board.toolbox, checks.upper, checks.entry)
    for page in pages:
        before = in_tab_order(before, page)
    QWidget.setTabOrder(before, strip)


def first_size(screen: QSize) -> QSize:
    """Give the size in which a window opens the first time, with its frame inside what a screen has to give."""
    wanted = (screen * SHARE_OF_SCREEN).expandedTo(LEAST)
    return wanted.boundedTo(screen - FRAME)

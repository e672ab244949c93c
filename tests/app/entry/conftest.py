"""The lower half of the checks by itself, on the demo."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.document import Document
from app.entry.panel import EntryPanel
from tests.app.sharing import demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(demo())


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> EntryPanel:
    panel = EntryPanel(document)
    qtbot.addWidget(panel)
    panel.resize(330, 560)
    with qtbot.waitExposed(panel):
        panel.show()
    return panel

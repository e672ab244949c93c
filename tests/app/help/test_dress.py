"""How a page is set: its words can be read on whatever they stand on."""

from __future__ import annotations

import pytest

from app.help.dress import wash
from app.look import Look, dark, light
from tests.app.test_look import contrast

TEXT = 4.5  # to one: W3C, WCAG 2.1 (2018), success criterion 1.4.3


@pytest.mark.parametrize("look", [light(), dark()], ids=lambda look: look.name)
def test_words_and_links_can_be_read_on_paper_and_in_cautions(look: Look) -> None:
    for ground in (look.paper, wash(look, caution=True), wash(look, caution=False)):
        for ink in (look.ink, look.selection):  # words; links have the selection's colour, by `theme.palette`
            assert contrast(ink, ground) >= TEXT

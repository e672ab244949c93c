"""Taking out what is selected: one step, and what can't be taken out says so."""

from __future__ import annotations

import pytest

from app.document import Document, Selection
from app.removing import remove
from tests.specimens import demo_six_bar, with_everything


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(with_everything)


@pytest.mark.parametrize("kind", ["pivot", "link", "outline", "mark"])
def test_each_kind_goes_with_one_step_and_comes_back(document: Document, kind: str) -> None:
    project = document.project
    parts = {
        "pivot": project.pivots, "outline": project.outlines, "mark": project.marks,
        "link": [link for link in project.links if link.kind == "link"],
    }[kind]  # fmt: skip
    chosen = Selection(kind, parts[0].id)
    document.select(chosen)
    assert remove(document, chosen)
    assert document.selection is None
    assert document.undo_label == f"Remove {kind} {chosen.id}"
    document.undo()
    assert document.project == project
    assert not document.can_undo


@pytest.mark.parametrize("kind", ["fixed", "panel"])
def test_the_two_ends_of_every_hinge_stay(qapp: object, kind: str) -> None:
    document, heard = Document(demo_six_bar), []
    document.noticed.connect(heard.append)
    link = next(link for link in document.project.links if link.kind == kind)
    assert not remove(document, Selection("link", link.id))
    assert document.project is demo_six_bar
    assert link.id in heard[0]
    assert not document.can_undo

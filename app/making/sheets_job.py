"""The sheets of the set drawn beside the window, as it takes seconds (`app.layout_job`)."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.layout_job import RESTS, STOPPED, WORKS, LayoutJob, job_of

if TYPE_CHECKING:
    from app.document import Document


class SheetsJob(LayoutJob):
    """The sheets of one document's newest layout."""

    runner: ClassVar[str] = "app.making.sheets_unit"
    cannot: ClassVar[str] = "The sheets can't be drawn"
    asks: ClassVar[str] = "Draw the sheets of this layout."
    words: ClassVar[dict[str, str]] = {
        WORKS: "Drawing the sheets…",
        RESTS: "They are drawn anew once you let go.",
        STOPPED: "Stopped. The sheets of this layout aren't drawn.",
    }


def sheets_job(document: Document) -> SheetsJob:
    """The one of a document, made when it is first asked for."""
    return job_of(document, SheetsJob)

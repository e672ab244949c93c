"""The stack worked out beside the window, as it takes seconds where many links cross (`app.layout_job`)."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.layout_job import STOPPED, WORKS, LayoutJob, job_of

if TYPE_CHECKING:
    from app.document import Document


class StackJob(LayoutJob):
    """The stack of one document's newest layout."""

    runner: ClassVar[str] = "app.stack.unit"
    cannot: ClassVar[str] = "The stack can't be worked out"
    asks: ClassVar[str] = "Work the layers and pins out for this layout."
    words: ClassVar[dict[str, str]] = {
        WORKS: "Working out layers and pins…",
        STOPPED: "Stopped. Layers and pins of this layout aren't worked out.",
    }


def stack_job(document: Document) -> StackJob:
    """The one of a document, made when it is first asked for."""
    return job_of(document, StackJob)

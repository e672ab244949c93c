"""Toe worked out beside the window, as it takes up to half a second (`app.layout_job`)."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.layout_job import STOPPED, WORKS, LayoutJob, job_of

if TYPE_CHECKING:
    from app.document import Document


class ToeJob(LayoutJob):
    """How parallel the hinges of one document's newest layout must be."""

    runner: ClassVar[str] = "app.toe.unit"
    cannot: ClassVar[str] = "It can't be worked out how parallel the hinges must be"
    asks: ClassVar[str] = "Work out how parallel the hinges of this layout must be."
    words: ClassVar[dict[str, str]] = {
        WORKS: "Opening both hinges in space…",
        STOPPED: "Stopped. It isn't known how parallel the hinges of this layout must be.",
    }


def toe_job(document: Document) -> ToeJob:
    """The one of a document, made when it is first asked for."""
    return job_of(document, ToeJob)

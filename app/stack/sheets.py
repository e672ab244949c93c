"""The sections on paper: every pin to one scale, with its sentences, as a PDF to take to the lathe."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.files.atomic import write_whole
from app.files.drafting import SMALL, THIN, TITLE, WORDS, Draft
from app.files.errors import FileError, fault_of, shown_name
from app.files.paper import MARGIN, PAPERS
from app.files.pictures import draw_shapes
from app.lengths import format_number
from app.look import light
from app.stack.section import ABOVE, BESIDE, camera_on, section_shapes, section_size
from app.stack_words import STACK_CAUTION, pin_sentences, pin_title, stack_sentences

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Project
    from kinematics.stacking import PinStack, StackMade

MM_PER_PX = 0.2
SCALES = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1)
"""Scales of drawings to ISO 5455, the largest first."""
HEAD, FOOT, GAP = 14.0, 10.0, 3.0
SHARE = 0.66
"""Of a pin's field that its section has."""
Page = tuple[tuple[float, float], "Callable[[Draft], None]"]


def save_sections(project: Project, stack: StackMade, path: Path | str, units: Units, paper: str = "A4") -> int:
    """Write the sections through all pins as a PDF; give the number of pages. Raises FileError, and then nothing is
    written.
    """
    from app.files.pdf import write_pages

    target = Path(path)
    if not stack.pins:
        raise FileError("there is no pin to draw a section through", shown_name(target), "Place pins first.")
    pages = section_pages(project, stack, units, paper)
    try:
        write_whole(target, write_pages(pages, f"{project.title or 'Hinge'}: sections through the pins"))
    except OSError as problem:
        raise FileError(f"the sections can't be written: {fault_of(problem)}", shown_name(target)) from problem
    return len(pages)


def section_pages(project: Project, stack: StackMade, units: Units, paper: str = "A4") -> list[Page]:
    """Sheets on their side, two pins on each, all at the largest standard scale at which the widest fits."""
    sheet = PAPERS[paper]
    wide, tall = max(sheet.wide, sheet.tall), min(sheet.wide, sheet.tall)
    field = (wide - 2 * MARGIN, 0.5 * (tall - 2 * MARGIN - HEAD - FOOT - GAP))
    room = (SHARE * field[0] - BESIDE * MM_PER_PX, field[1] - ABOVE * MM_PER_PX)
    scale = scale_for([section_size(project, pin) for pin in stack.pins], room)
    couples = [stack.pins[k : k + 2] for k in range(0, len(stack.pins), 2)]
    every = _Every(project, stack, units, scale, field)
    return [
        ((wide, tall), partial(every.draw, couple, f"{number} of {len(couples)}"))
        for number, couple in enumerate(couples, 1)
    ]


def scale_for(sizes: Sequence[tuple[float, float]], room: tuple[float, float]) -> float:
    """The largest standard scale at which all of these sizes (mm) fit a room; the smallest there is where none does."""
    wide, tall = (max(each) for each in zip(*sizes, strict=True))
    return next((scale for scale in SCALES if wide * scale <= room[0] and tall * scale <= room[1]), SCALES[-1])


@dataclass(frozen=True, slots=True)
class _Every:
    """What is the same on every sheet.   field : width and height for each pin, mm."""

    project: Project
    stack: StackMade
    units: Units
    scale: float
    field: tuple[float, float]

    @property
    def look(self) -> Look:
        """Ink on white."""
        return replace(light(), paper="#ffffff")

    def draw(self, couple: Sequence[PinStack], number: str, draft: Draft) -> None:
        """Draw one sheet."""
        units, (wide, tall) = self.units, self.field
        draft.words((MARGIN, MARGIN + TITLE), "Sections through the pins", TITLE, bold=True)
        told = " ".join([f"{self.project.title or 'Hinge'}:", *stack_sentences(self.stack, units)])
        draft.words((MARGIN, MARGIN + TITLE + 5.0), draft.shortened(told, wide, WORDS), WORDS)
        scale = f"Scale {scale_words(self.scale, units)}, sheet {number}"
        draft.words((MARGIN + wide, MARGIN + TITLE), scale, WORDS, align=1.0)
        for place, pin in enumerate(couple):
            self._pin(draft, pin, MARGIN + HEAD + place * (tall + GAP))
        draft.paragraph((MARGIN, MARGIN + HEAD + 2.0 * tall + GAP + 2.0), wide, STACK_CAUTION, SMALL)

    def _pin(self, draft: Draft, pin: PinStack, top: float) -> None:
        """One pin: its section, and beside it what is said of it."""
        wide, tall = self.field
        draft.box(MARGIN, top, wide, tall, THIN)
        place = (MARGIN + 0.5, top + 0.5, SHARE * wide - 1.0, tall - 1.0)
        size = (place[2] / MM_PER_PX, place[3] / MM_PER_PX)
        camera = camera_on(self.project, pin, size, self.scale / MM_PER_PX)
        shapes = section_shapes(self.project, self.stack, pin, (self.look, self.units), camera.scale)
        with draft.pixels(place, MM_PER_PX) as painter:
            draw_shapes(painter, shapes, {}, camera, self.look)
        left, room, below = MARGIN + SHARE * wide + 3.0, (1.0 - SHARE) * wide - 6.0, top + 3.0
        below += draft.paragraph((left, below), room, pin_title(pin, self.units), bold=True) + 1.5
        for sentence in pin_sentences(pin, self.units):
            below += draft.paragraph((left, below), room, sentence, SMALL) + 0.6


def scale_words(scale: float, units: Units) -> str:
    """Say a scale: "2 : 1"."""
    return f"{format_number(scale, units)} : 1" if scale >= 1.0 else f"1 : {format_number(1.0 / scale, units)}"

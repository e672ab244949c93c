"""What a PDF draws, read by two libraries that share no code with each other: straight lines and circles, in mm.

Places are mm from the page's lower left corner. A circle is read as the box of its curve.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property, partial
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

MM = 25.4 / 72

Spot = tuple[float, float]


@dataclass
class Page:
    """Size (mm), straight lines as pairs of ends, closed curves as boxes (left, low, right, high), and all words."""

    size: Spot
    lines: list[tuple[Spot, Spot]] = field(default_factory=list)
    rounds: list[tuple[float, float, float, float]] = field(default_factory=list)
    say: Callable[[], str] = str

    @cached_property
    def words(self) -> str:
        """All words, taken out when they are asked for: that takes longer than all lines."""
        return self.say()

    def lengths(self, upright: bool) -> list[float]:
        """Lengths of the lines along one side of the page, mm."""
        axis = 1 if upright else 0
        return [abs(b[axis] - a[axis]) for a, b in self.lines if abs(b[1 - axis] - a[1 - axis]) < 1e-3]

    def crosses(self, arm: float) -> list[Spot]:
        """Centres of the crosses with arms of `arm` mm."""
        level = [(a, b) for a, b in self.lines if abs(a[1] - b[1]) < 1e-3 and abs(abs(b[0] - a[0]) - 2 * arm) < 0.01]
        plumb = [(a, b) for a, b in self.lines if abs(a[0] - b[0]) < 1e-3 and abs(abs(b[1] - a[1]) - 2 * arm) < 0.01]
        return [
            ((a[0] + b[0]) / 2, (c[1] + d[1]) / 2)
            for a, b in level
            for c, d in plumb
            if abs((a[0] + b[0]) / 2 - c[0]) < 0.01 and abs((c[1] + d[1]) / 2 - a[1]) < 0.01
        ]


def by_pypdf(path: Path) -> list[Page]:
    """Follow the page's operators ourselves; pypdf takes them apart (ISO 32000-1, 8.5.2: m, l, c, re, h; 8.4.4: cm)."""
    pypdf = pytest.importorskip("pypdf")
    reader = pypdf.PdfReader(path, strict=True)
    found = []
    for page in reader.pages:
        box = page.mediabox
        assert page.get("/UserUnit", 1) == 1
        assert "/CropBox" not in page
        now = Page((float(box.width) * MM, float(box.height) * MM), say=page.extract_text)
        _follow(pypdf.generic.ContentStream(page.get_contents(), reader).operations, now)
        found.append(now)
    return found


def _follow(operations: list[tuple[Any, bytes]], page: Page) -> None:  # noqa: C901  one branch an operator
    matrix, stack, run, curved = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), [], [], False

    def placed(x: Any, y: Any) -> Spot:  # noqa: ANN401
        a, b, c, d, e, f = matrix
        x, y = float(x), float(y)
        return (a * x + c * y + e) * MM, (b * x + d * y + f) * MM

    for given, operator in operations:
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = _after(tuple(map(float, given)), matrix)
        elif operator == b"m":
            run, curved = [placed(*given)], False
        elif operator in (b"l", b"c"):
            curved = curved or operator == b"c"
            run.append(placed(*given[-2:]))
        elif operator == b"re":
            x, y, wide, tall = map(float, given)
            corners = [placed(x, y), placed(x + wide, y), placed(x + wide, y + tall), placed(x, y + tall)]
            run, curved = [*corners, corners[0]], False
        elif operator == b"h":
            run.append(run[0])
        elif operator == b"S":
            _keep(page, run, curved)
            run = []


def _after(first: tuple[float, ...], then: tuple[float, ...]) -> tuple[float, ...]:
    """One matrix (a, b, c, d, e, f; ISO 32000-1, 8.3.4) for two that follow each other."""
    a, b, c, d, e, f = first
    A, B, C, D, E, F = then
    return (*(a * A + b * C, a * B + b * D), *(c * A + d * C, c * B + d * D), *(e * A + f * C + E, e * B + f * D + F))


def _keep(page: Page, run: list[Spot], curved: bool) -> None:
    if curved:
        xs, ys = [x for x, _ in run], [y for _, y in run]
        page.rounds.append((min(xs), min(ys), max(xs), max(ys)))
    else:
        page.lines += list(pairwise(run))


def by_pdfminer(path: Path) -> list[Page]:
    """As pdfminer.six lays the pages out."""
    layout = pytest.importorskip("pdfminer.layout")
    high_level = pytest.importorskip("pdfminer.high_level")
    found = []
    for laid in high_level.extract_pages(path):
        said = "".join(each.get_text() for each in laid if isinstance(each, layout.LTTextContainer))
        now = Page((laid.width * MM, laid.height * MM), say=partial(str, said))
        for each in laid:
            if isinstance(each, layout.LTCurve):
                spots = [(x * MM, y * MM) for x, y in each.pts]
                if isinstance(each, layout.LTRect):
                    spots.append(spots[0])
                is_round = any(step[0] == "c" for step in each.original_path or [])
                _keep(now, spots, is_round)
        found.append(now)
    return found


READERS = {"pypdf": by_pypdf, "pdfminer": by_pdfminer}

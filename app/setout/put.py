"""Puts a view of the set-out down, in a window or on paper. QtGui only, no widgets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.files.pictures import draw_shapes

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from app.files.drafting import Draft
    from app.look import Look
    from app.setout.views import View

MM_PER_PX = 0.2
"""How large a pixel of the words is on paper: they are then some 2.2 mm high."""


def draw_view(painter: QPainter, view: View, size: tuple[float, float], look: Look, scale: float | None = None) -> None:
    """Draw a view within a size (pixels).   scale : pixels per mm; None: the largest that fits."""
    camera = view.camera(size, scale)
    draw_shapes(painter, view.shapes(look, camera.scale), {}, camera, look)


def draw_on_paper(
    draft: Draft, view: View, place: tuple[float, float, float, float], look: Look, scale: float | None = None
) -> None:
    """Draw a view within a rectangle of a page (left, top, wide, tall; mm).   scale : 0.1: 1 to 10; None: what fits."""
    size = place[2] / MM_PER_PX, place[3] / MM_PER_PX
    with draft.pixels(place, MM_PER_PX) as painter:
        draw_view(painter, view, size, look, None if scale is None else scale / MM_PER_PX)

"""The pictures of the help, drawn by the program's own painters in the sheet's look and the builder's units.

A *scene* is drawn as the board draws it, with its shapes, ghosts and dimensions. Parts of the window (the travel strip,
the checks) are the very widgets of the window, made for a small project, painted and put away; nothing is a screenshot
that could grow old. `picture` keeps what it drew, by name, look, units, width and scale of the screen.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache, partial
from typing import TYPE_CHECKING, TypeAlias

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter, QPen

from app import painter as put
from app.dimensions import dimensions
from app.files.pictures import draw_board
from app.help.scenes import SCENES, analysed, scene
from app.lengths import style_of
from app.preferences import Preferences
from app.setout.bevel_view import bevel_view
from app.setout.put import draw_view
from app.shapes import Layer, Shape, Symbol, placed, shapes
from app.sheet import Camera
from app.theme import palette, style_sheet
from app.traces import traces
from app.wall_words import AWAY, NEARER, thick_words
from kinematics import edits
from kinematics.measuring import Readings

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from app.document import Document
    from app.help.scenes import Scene
    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis

Rows: TypeAlias = "list[tuple[Callable[[QPainter], None], str]]"
LEAST_WIDTH, MOST_WIDTH = 240, 900
LANE_HEIGHT = 84
WALL_HEIGHT, WALL_DEG = 170, 11.0
LABEL_WIDTH = 150  # of the travel strip's words; the window, which is wider, gives them more
ROW = 34.0

SIGNS = (
    ("pin", "pivot: a pin through two links or more; drag it"),
    ("fixed pin", "pivot on the fixed link, which stands still"),
    ("lock", "locked: nothing moves this pivot unasked"),
    ("mark", "mark: a point whose path is shown"),
    ("eye", "an end of a strut or spring; drag it"),
    ("mass", "a weight's centre of gravity; in a ring: of all weights"),
    ("grip", "handle: where the hand lifts"),
    ("arrow", "against both ends of the smallest clearance"),
    ("contact", "here two outlines touch"),
    ("caution", "pinch place: a finger is caught here"),
)


def names() -> tuple[str, ...]:
    """Give the names of all pictures there are."""
    return (*SCENES, *WIDGETS, "signs", "tools", "walls")


def picture(name: str, look: Look, units: Units, width: int, ratio: float = 1.0) -> QImage:
    """Give a picture, `width` pixels wide on the sheet, with `ratio` pixels of the screen to each.

    Raises KeyError for a name that there isn't.
    """
    return _drawn(name, look, units, min(max(width, LEAST_WIDTH), MOST_WIDTH), ratio)


@lru_cache(maxsize=48)
def _drawn(name: str, look: Look, units: Units, width: int, ratio: float) -> QImage:
    if name == "signs":
        return _draw_signs(look, width, ratio)
    if name == "tools":
        return _draw_tools(look, width, ratio)
    if name == "walls":
        return _draw_walls(look, units, width, ratio)
    if name in WIDGETS:
        return _draw_widget(WIDGETS[name](look, units), look, width, ratio)
    return _draw_scene(scene(name), look, units, width, ratio)


def _paper(width: int, height: int, ratio: float, look: Look) -> QImage:
    image = QImage(QSize(round(width * ratio), round(height * ratio)), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(QColor(look.paper))
    return image


# -------------------------------------------------------------------------------------------------------------- scenes
def _draw_scene(found: Scene, look: Look, units: Units, width: int, ratio: float) -> QImage:
    height = round(width * found.tall)
    image = _paper(width, height, ratio, look)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    analysis = _in_units(found.analysis, units)
    placements = placed(analysis, analysis.pose(found.deg))
    camera = _camera(found, float(width), float(height))
    draw_board(painter, _shapes(found, analysis, look, units), placements, camera, look, style_of(units).units)
    painter.setBrush(put.NO_BRUSH)
    painter.setPen(QPen(QColor(look.edge), 1.0))
    painter.drawRect(QRectF(0.5, 0.5, width - 1.0, height - 1.0))
    painter.end()
    return image


def _in_units(analysis: Analysis, units: Units) -> Analysis:
    """Give an analysis whose project is told in these units; no figure changes."""
    return replace(analysis, project=edits.set_units(analysis.project, style_of(units).units))


def _camera(found: Scene, width: float, height: float) -> Camera:
    left, bottom, right, top = found.box
    scale = min(width / (right - left), height / (top - bottom))
    return Camera(scale, ((left + right) / 2, (bottom + top) / 2), (width, height))


def _shapes(found: Scene, analysis: Analysis, look: Look, units: Units) -> list[Shape]:
    drawn = shapes(analysis.project, look)
    if found.swept:
        drawn += traces(analysis, look, units)
    if found.more is not None:
        drawn += found.more(analysis, found.deg, look, units)
    if analysis.project.measures:
        drawn += dimensions(Readings(analysis), analysis.pose(found.deg), look, units)
    return drawn


# -------------------------------------------------------------------------------------------------------------- walls
def _draw_walls(look: Look, units: Units, width: int, ratio: float) -> QImage:
    """Draw a wall that falls away outboard and one that comes nearer, beneath each other, with what they are called."""
    image = _paper(width, 2 * WALL_HEIGHT, ratio, look)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for place, (off, words) in enumerate(((WALL_DEG, AWAY), (-WALL_DEG, NEARER))):
        painter.save()
        painter.translate(0.0, place * WALL_HEIGHT)
        painter.setFont(put.font(look.families, look.small_px))
        painter.setPen(QColor(look.ink))
        told = f"The wall {words}: {thick_words(off)}"
        painter.drawText(QRectF(8.0, 4.0, width - 16.0, 18.0), Qt.AlignmentFlag.AlignLeft, told)
        painter.translate(0.0, 22.0)
        draw_view(painter, bevel_view((off, off), 1, 1, "foot", units), (width, WALL_HEIGHT - 26.0), look)
        painter.restore()
    painter.end()
    return image


# ----------------------------------------------------------------------------------------------------- signs and tools
def _draw_signs(look: Look, width: int, ratio: float) -> QImage:
    """Draw the signs of the sheet, each with what it means."""

    def put_sign(painter: QPainter, glyph: str) -> None:
        painter.translate(QPointF(0.0, -6.0 if glyph == "fixed pin" else 0.0))
        for each in ("pin", "lock") if glyph == "lock" else (glyph,):
            put.draw_symbol(painter, Symbol("", "", (), each, look.ink, look.paper, Layer.PINS))

    rows: Rows = [(partial(put_sign, glyph=glyph), words) for glyph, words in SIGNS]
    return _draw_rows(rows, look, width, ratio)


def _draw_tools(look: Look, width: int, ratio: float) -> QImage:
    """Draw the pictures on the tools' buttons, each with its name, its letter and what it is for."""
    from app.board.tools import TOOLS
    from app.icons import paint_icon

    def put_icon(painter: QPainter, name: str) -> None:
        painter.translate(-12.0, -12.0)
        paint_icon(painter, f"tool {name}", QColor(look.ink))

    rows: Rows = [(partial(put_icon, name=tool.icon), f"{tool.name} ({tool.key}): {tool.tip}") for tool in TOOLS]
    return _draw_rows(rows, look, width, ratio)


def _draw_rows(rows: Rows, look: Look, width: int, ratio: float) -> QImage:
    """Draw rows of a sign and its words, which take as many lines as they need."""
    font, wrap = put.font(look.families, look.words_px), int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap)
    room, measure = QRectF(0.0, 0.0, width - 76.0, 1000.0), QFontMetricsF(font)
    heights = [max(ROW, measure.boundingRect(room, wrap, words).height() + 8.0) for _, words in rows]
    image = _paper(width, round(sum(heights) + 8.0), ratio, look)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    top = 4.0
    for (sign, words), height in zip(rows, heights, strict=True):
        painter.save()
        painter.translate(QPointF(34.0, top + height / 2))
        sign(painter)
        painter.restore()
        painter.setPen(QColor(look.ink))
        painter.setFont(font)
        painter.drawText(QRectF(68.0, top, width - 76.0, height), wrap, words)
        top += height
    painter.end()
    return image


# -------------------------------------------------------------------------------------------------- parts of the window
def _document(name: str, units: Units) -> Document:
    """A document on one of the projects, in the builder's units and habits."""
    from app.document import Document

    analysis, style = _in_units(analysed(name), units), style_of(units)
    document = Document(analysis.project, analyser=lambda *_: analysis)
    sign = "comma" if style.comma else "point"
    document.set_preferences(Preferences(fraction=style.fraction, decimals=style.decimals, sign=sign))
    return document


def _strip(name: str, share: float) -> Callable[[Look, Units], QWidget]:
    """The travel strip of a project, at a share of its travel."""

    def make(look: Look, units: Units) -> QWidget:
        from app.strip import TravelStrip

        document = _document(name, units)
        strip = TravelStrip(document, look, LABEL_WIDTH)
        document.setParent(strip)
        document.set_opening(share * document.analysis.opening.reached_deg)
        strip.setFixedHeight(strip.height_for(LANE_HEIGHT))
        return strip

    return make


def _checks(name: str) -> Callable[[Look, Units], QWidget]:
    """The rows of checks of a project, one beneath the other."""

    def make(look: Look, units: Units) -> QWidget:
        from PySide6.QtWidgets import QWidget

        from app.checks import CheckRow
        from app.columns import tight_column

        panel = QWidget()
        panel.setObjectName("side")
        column = tight_column(panel)
        for check in analysed(name).checks:
            row = CheckRow(look)
            row.show_check(check, None, units)
            column.addWidget(row)
        return panel

    return make


WIDGETS: dict[str, Callable[[Look, Units], QWidget]] = {
    "strip": _strip("four", 0.45),
    "strip-touching": _strip("single", 0.45),
    "strip-dead-point": _strip("stalling", 0.3),
    "checks-short": _checks("single"),
    "checks-held": _checks("four"),
}


def _draw_widget(widget: QWidget, look: Look, width: int, ratio: float) -> QImage:
    """Paint a widget that no window holds."""
    widget.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    widget.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
    widget.setPalette(palette(look))
    widget.setStyleSheet(style_sheet(look))
    widget.setFixedWidth(width)
    widget.show()
    widget.adjustSize()
    if widget.hasHeightForWidth():
        widget.setFixedHeight(widget.heightForWidth(width))
    image = _paper(width, widget.height(), ratio, look)
    painter = QPainter(image)
    widget.render(painter, QPointF(0, 0).toPoint())
    painter.end()
    widget.hide()
    widget.deleteLater()
    return image

"""Pictures of a hinge at one opening: PNG, SVG and PDF, drawn without a window or a screen.

The same shapes as on the board, put down by a QPainter on a sheet with a frame; beneath it a title strip with title,
opening, scale bar and the worst checks as sentences. A picture is laid out at a *plain size* of about 1280 × 800 and
scaled to the size asked, so that words and lines are as large on a poster as on a card.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QImage, QPageSize, QPaintDevice, QPainter, QPdfWriter, QPen

from app import painter as put
from app.built_shapes import built_shapes
from app.dimensions import dimensions
from app.files.application import ensure_application
from app.files.atomic import write_whole
from app.files.detail import Detail, detail, linkage, room_for_detail
from app.files.errors import FileError, fault_of, shown_name
from app.files.photo_beneath import draw_photos
from app.hatching import DEPTH_PX, PITCH_PX, hatch_lines
from app.labels import Box, arrange
from app.lengths import format_angle
from app.look import light
from app.made_picture import made_shapes
from app.shapes import SHUT, Hatch, Label, Placement, Shape, Stroke, Symbol, placed, shapes
from app.sheet import Camera, extent, fitted, grid_steps, scale_bar, steps_between
from app.traces import touching_now, traces
from app.words import AIDS_TO_JUDGEMENT, gap_name, hidden_words, worst_first
from kinematics.measuring import Readings

if TYPE_CHECKING:
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.project import Project

KINDS = (".png", ".svg", ".pdf")
LEAST_SIDE, LARGEST_SIDE = 64, 10_000
PLAIN = (1280.0, 800.0)
LEAST_SCALE = 0.6  # words on a picture smaller than this would be too small to read; rather show less
EDGE, ROW = 12.0, 19.0
MOST_CHECKS = 4
MARGINS = (60.0, 40.0, 60.0, 40.0)
POINTS_PER_PIXEL = 0.75  # PDF: 96 pixels to the inch


def save_picture(
    project: Project,
    analysis: Analysis,
    path: Path | str,
    at_deg: float | None = None,
    size: tuple[int, int] = (1600, 1000),
    look: Look | None = None,
) -> None:
    """Write a picture of a hinge at an opening.

    path : its ending says the kind: .png, .svg or .pdf.     at_deg : opening, degrees; None: shut.
    size : pixels; of an SVG and a PDF at 96 to the inch.     look : None: ink on paper.
    Raises FileError, one sentence, for another ending, an impossible size or opening, and what can't be written.
    """
    target = Path(path)
    _check(analysis, target, at_deg, size)
    ensure_application()
    sheet = _Sheet(project, analysis, at_deg or 0.0, look or light(), size)
    content = {".png": _png, ".svg": _svg, ".pdf": _pdf}[target.suffix.lower()](sheet, target)
    try:
        write_whole(target, content)
    except OSError as problem:
        raise FileError(f"the picture can't be written: {fault_of(problem)}", shown_name(target)) from problem


def _check(analysis: Analysis, target: Path, at_deg: float | None, size: tuple[int, int]) -> None:
    name = shown_name(target)
    if target.suffix.lower() not in KINDS:
        kind = f'"{target.suffix}" is' if target.suffix else "a name without an ending is"
        raise FileError(
            f"{kind} no kind of picture", name, "Let the name end in .png, .svg or .pdf, or .gif for an animation."
        )
    if not all(LEAST_SIDE <= side <= LARGEST_SIDE for side in size):
        raise FileError(
            f"{size[0]} × {size[1]} is no size for a picture",
            name,
            f"Take {LEAST_SIDE} to {LARGEST_SIDE} pixels a side.",
        )
    reached = analysis.opening.reached_deg
    if at_deg is not None and not (isfinite(at_deg) and -1e-9 <= at_deg <= reached + 1e-6):
        raise FileError(
            f"there is no pose at {format_angle(at_deg)}", name, f"The panel goes from 0° to {format_angle(reached)}."
        )


class Stills:
    """Pictures of one sweep, all of one size and in one frame."""

    def __init__(
        self, analysis: Analysis, degs: tuple[float, ...], size: tuple[int, int], look: Look | None = None
    ) -> None:
        ensure_application()
        self._sheet = _Sheet(analysis.project, analysis, 0.0, look or light(), size, over=degs)

    def at(self, deg: float) -> QImage:
        """The picture at an opening."""
        image = QImage(QSize(*self._sheet.size), QImage.Format.Format_RGB32)
        _paint(replace(self._sheet, deg=deg), image)
        return image


def picture_image(
    analysis: Analysis, deg: float, size: tuple[int, int] = (1600, 1000), look: Look | None = None
) -> QImage:
    """A picture of a hinge at an opening, as an image: for the clipboard."""
    return Stills(analysis, (), size, look).at(deg)


# --------------------------------------------------------------------------------------------------------------- kinds
def _png(sheet: _Sheet, target: Path) -> bytes:
    image = QImage(QSize(*sheet.size), QImage.Format.Format_RGB32)
    if image.isNull():
        raise FileError("there is not enough memory for a picture of this size", shown_name(target))
    _paint(sheet, image)
    device = _Device()
    image.save(device.buffer, "PNG")  # type: ignore[call-overload]  # the stub wants bytes, Qt takes a str
    return device.content()


def _svg(sheet: _Sheet, _target: Path) -> bytes:
    from PySide6.QtSvg import QSvgGenerator

    device, writer = _Device(), QSvgGenerator()
    writer.setOutputDevice(device.buffer)
    writer.setResolution(96)
    writer.setSize(QSize(*sheet.size))
    writer.setViewBox(QRectF(0, 0, *sheet.size))
    writer.setTitle(sheet.project.title)
    _paint(sheet, writer)
    return device.content()


def _pdf(sheet: _Sheet, _target: Path) -> bytes:
    device = _Device()
    writer = QPdfWriter(device.buffer)
    writer.setTitle(sheet.project.title)
    writer.setCreator("Hingewright")
    points = QSizeF(sheet.size[0] * POINTS_PER_PIXEL, sheet.size[1] * POINTS_PER_PIXEL)
    writer.setPageSize(QPageSize(points, QPageSize.Unit.Point))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(96)
    _paint(sheet, writer)
    return device.content()


class _Device:
    """Takes what Qt writes."""

    def __init__(self) -> None:
        self._bytes = QByteArray()
        self.buffer = QBuffer(self._bytes)
        self.buffer.open(QIODevice.OpenModeFlag.WriteOnly)

    def content(self) -> bytes:
        """All that was written."""
        self.buffer.close()
        return bytes(self._bytes.data())


# --------------------------------------------------------------------------------------------------------------- sheet
@dataclass(slots=True)
class _Sheet:
    """What is to be drawn, and how large.

    over : openings that are shown in the same frame: the detail holds the hinge at all of them; none: at this one.
    places : of the words in the last picture, of whole and detail, so that they don't jump from one to the next.
    """

    project: Project
    analysis: Analysis
    deg: float
    look: Look
    size: tuple[int, int]
    over: tuple[float, ...] = ()
    places: tuple[dict[str, int], dict[str, int]] = field(default_factory=lambda: ({}, {}))

    @property
    def scale(self) -> float:
        """Pixels of the picture to one at its plain size."""
        return max(min(self.size[0] / PLAIN[0], self.size[1] / PLAIN[1]), LEAST_SCALE)

    @property
    def plain_size(self) -> tuple[float, float]:
        """Its size before it is scaled."""
        return self.size[0] / self.scale, self.size[1] / self.scale


def _paint(sheet: _Sheet, device: QPaintDevice) -> None:
    painter = QPainter(device)
    try:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(sheet.scale, sheet.scale)
        _draw_sheet(painter, sheet)
    finally:
        painter.end()


def _draw_sheet(painter: QPainter, sheet: _Sheet) -> None:
    wide, high = sheet.plain_size
    checks = worst_first(sheet.analysis.checks[:MOST_CHECKS], sheet.project.display_units)
    strip = min(EDGE + ROW * max(len(checks), 3) + 34.0, high * 0.45)
    area = QRectF(EDGE, EDGE, wide - 2 * EDGE, high - 2 * EDGE - strip)
    painter.fillRect(QRectF(0, 0, wide, high), QColor(sheet.look.paper))
    pose = sheet.analysis.pose(sheet.deg)
    placements = placed(sheet.analysis, pose)
    camera, near = _cameras(sheet, area)
    painter.save()
    painter.translate(area.topLeft())
    painter.setClipRect(QRectF(0, 0, area.width(), area.height()))
    measured = dimensions(Readings(sheet.analysis), pose, sheet.look, sheet.project.display_units)
    found = [
        *shapes(sheet.project, sheet.look),
        *built_shapes(sheet.project, sheet.look),
        *made_shapes(sheet.analysis, sheet.deg, sheet.look, sheet.project.display_units),
        *traces(sheet.analysis, sheet.look),
        *measured,
    ]
    _draw_paper(painter, camera, sheet.look, sheet.project.display_units)
    draw_photos(painter, sheet.project, placements, camera)
    draw_shapes(painter, found, placements, camera, sheet.look, sheet.places[0])
    if near is not None:
        _draw_detail(painter, found, placements, near, sheet)
    painter.restore()
    _clear_around(painter, area, QRectF(0, 0, wide, high), sheet.look)
    painter.setBrush(put.NO_BRUSH)
    painter.setPen(QPen(QColor(sheet.look.edge), 1.0))
    painter.drawRect(area)
    _draw_strip(painter, sheet, camera, QRectF(area.left(), area.bottom(), area.width(), strip), checks)


def _clear_around(painter: QPainter, area: QRectF, whole: QRectF, look: Look) -> None:
    """Lay paper around the picture: an SVG isn't clipped to it, and a strut may reach out into the title strip."""
    for left, top, right, bottom in (
        (whole.left(), whole.top(), whole.right(), area.top()),
        (whole.left(), area.bottom(), whole.right(), whole.bottom()),
        (whole.left(), area.top(), area.left(), area.bottom()),
        (area.right(), area.top(), whole.right(), area.bottom()),
    ):
        painter.fillRect(QRectF(QPointF(left, top), QPointF(right, bottom)), QColor(look.paper))


def _cameras(sheet: _Sheet, area: QRectF) -> tuple[Camera, Detail | None]:
    """Give the camera of the whole, moved aside where there is room for a detail, and the detail."""
    points, size = extent(sheet.project, sheet.analysis), (area.width(), area.height())
    left, top, right, bottom = _margins(area)
    room = room_for_detail(points, size, (left, top, right, bottom))
    beside = fitted(points, size, (left, top, right + room, bottom))
    poses = (placed(sheet.analysis, sheet.analysis.pose(deg)) for deg in sheet.over or (sheet.deg,))
    near = detail(np.concatenate([linkage(each, sheet.analysis) for each in poses]), beside, room)
    return (beside if near is not None else fitted(points, size, (left, top, right, bottom))), near


def _margins(area: QRectF) -> tuple[float, float, float, float]:
    """Room around the picture: less on a small one."""
    share = min(1.0, area.width() / 600.0, area.height() / 400.0)
    left, top, right, bottom = MARGINS
    return left * share, top * share, right * share, bottom * share


def draw_board(
    painter: QPainter, found: list[Shape], placements: dict[str, Placement], camera: Camera, look: Look, units: str
) -> None:
    """Draw shapes, carried by their links' placements, on squared paper that fills the camera's size."""
    _draw_paper(painter, camera, look, units)
    draw_shapes(painter, found, placements, camera, look)


def _draw_paper(painter: QPainter, camera: Camera, look: Look, units: str) -> None:
    left, top = camera.to_mm((0.0, 0.0))
    right, bottom = camera.to_mm(camera.size)
    fine, coarse = grid_steps(camera.scale, units)
    lines = [
        (
            colour,
            [camera.to_px((x, 0.0))[0] for x in steps_between(left, right, step)],
            [camera.to_px((0.0, y))[1] for y in steps_between(bottom, top, step)],
        )
        for colour, step in ((look.grid, fine), (look.grid_major, coarse))
    ]
    put.draw_grid(painter, look, lines, QRectF(0, 0, *camera.size))


def _is_near(shape: Shape, camera: Camera) -> bool:
    return not isinstance(shape, Stroke) or camera.scale >= shape.near


def draw_shapes(
    painter: QPainter,
    found: list[Shape],
    placements: dict[str, Placement],
    camera: Camera,
    look: Look,
    places: dict[str, int] | None = None,
) -> None:
    """Draw shapes, carried by their links' placements, on whatever paper is there.

    places : of the words in the last picture; brought up to date.
    """
    drawn = [shape for shape in found if not isinstance(shape, Label) and _is_near(shape, camera)]
    for shape in sorted(drawn, key=lambda each: each.layer):
        _draw_shape(painter, shape, placements, camera)
    _draw_labels(painter, found, placements, camera, look, {} if places is None else places)


def _draw_detail(
    painter: QPainter, found: list[Shape], placements: dict[str, Placement], near: Detail, sheet: _Sheet
) -> None:
    look = sheet.look
    painter.save()
    painter.translate(near.box.left, near.box.top)
    frame = QRectF(0, 0, *near.camera.size)
    painter.fillRect(frame, QColor(look.paper))
    painter.setClipRect(frame)
    draw_shapes(painter, found, placements, near.camera, look, sheet.places[1])
    painter.setClipping(False)
    painter.setBrush(put.NO_BRUSH)
    painter.setPen(QPen(QColor(look.edge), 1.0))
    painter.drawRect(frame)
    words = f"the hinge, {near.times:g} times as large"
    room = QRectF(8.0, frame.height() - ROW - 3.0, frame.width() - 16.0, ROW)
    painter.fillRect(QRectF(0.5, room.top() - 2.0, frame.width() - 1.0, ROW + 4.0), QColor(look.paper))
    _line(painter, room, words, look, look.faint, look.small_px)
    painter.restore()


def _draw_shape(
    painter: QPainter, shape: Stroke | Hatch | Symbol, placements: dict[str, Placement], camera: Camera
) -> None:
    where = placements.get(shape.link, SHUT)
    if isinstance(shape, Symbol):
        for point in shape.at:
            painter.save()
            painter.translate(QPointF(*camera.to_px(where.carry(point))))
            put.draw_symbol(painter, shape)
            painter.restore()
        return
    painter.setPen(put.line_pen(shape.pen, cosmetic=False))
    if isinstance(shape, Hatch):
        painter.setBrush(put.NO_BRUSH)
        depth, pitch = DEPTH_PX / camera.scale, PITCH_PX / camera.scale
        lines = hatch_lines(shape.points, shape.closed, shape.side, depth, pitch)
        painter.drawPath(put.segments_path((camera.to_px(a), camera.to_px(b)) for a, b in lines))
        return
    painter.setBrush(put.face_brush(shape.fill, shape.veil))
    own = shape.at or where
    painter.drawPath(put.line_path((camera.to_px(own.carry(point)) for point in shape.points), shape.closed))


def _draw_labels(
    painter: QPainter,
    found: list[Shape],
    placements: dict[str, Placement],
    camera: Camera,
    look: Look,
    places: dict[str, int],
) -> None:
    sheet = Box(2.0, 2.0, camera.size[0] - 2.0, camera.size[1] - 2.0)
    boxes = arrange(found, placements, camera, lambda label: put.label_size(label, look), sheet, (), places)
    places.update({key: place for key, (_, place) in boxes.items()})
    labels = [label for label in found if isinstance(label, Label) and label.key in boxes]
    for tied in (True, False):  # a leader goes beneath the words of others
        for label in (each for each in labels if each.leader is tied):
            painter.save()
            painter.translate(QPointF(*camera.to_px(placements.get(label.link, SHUT).carry(label.at))))
            put.draw_label(painter, label, look, boxes[label.key][0], (0.0, 0.0))
            painter.restore()


# --------------------------------------------------------------------------------------------------------- title strip
def _draw_strip(painter: QPainter, sheet: _Sheet, camera: Camera, strip: QRectF, checks: list[str]) -> None:
    look = sheet.look
    painter.setPen(QPen(QColor(look.edge), 1.0))
    painter.drawRect(strip)
    foot = 30.0
    split = strip.left() + strip.width() * 0.36
    painter.drawLine(QPointF(split, strip.top()), QPointF(split, strip.bottom() - foot))
    painter.drawLine(QPointF(strip.left(), strip.bottom() - foot), QPointF(strip.right(), strip.bottom() - foot))
    left = QRectF(strip.left() + 10.0, strip.top() + 6.0, split - strip.left() - 20.0, strip.height() - foot - 12.0)
    _draw_title(painter, sheet, camera, left)
    for row, sentence in enumerate(checks):
        ink = look.ink if sheet.analysis.checks[row].ok else look.short
        place = QRectF(split + 10.0, strip.top() + 6.0 + row * ROW, strip.right() - split - 20.0, ROW)
        if place.bottom() <= strip.bottom() - foot:
            _line(painter, place, sentence, look, ink, look.words_px, bold=not sheet.analysis.checks[row].ok)
    painter.setPen(QColor(look.faint))
    painter.setFont(put.font(look.families, look.small_px - 2.0))
    place = QRectF(strip.left() + 10.0, strip.bottom() - foot, strip.width() - 20.0, foot)
    flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap
    painter.drawText(place, int(flags), AIDS_TO_JUDGEMENT)


def _draw_title(painter: QPainter, sheet: _Sheet, camera: Camera, place: QRectF) -> None:
    look = sheet.look
    title = sheet.project.title or "Untitled hinge"
    _line(
        painter, QRectF(place.left(), place.top(), place.width(), 22.0), title, look, look.ink, look.title_px, bold=True
    )
    pose = "shut" if sheet.deg == 0.0 else f"open {format_angle(sheet.deg)}"
    touching = [gap_name(gap.between) for gap in touching_now(sheet.analysis, sheet.deg)]
    words = f"{pose}: {'; '.join(touching)} touch here" if touching else pose
    left_out = hidden_words(sheet.project)
    words = f"{words}; {left_out}" if left_out else words
    ink = look.short if touching else look.ink
    _line(painter, QRectF(place.left(), place.top() + 22.0, place.width(), ROW), words, look, ink, look.words_px)
    length, text = scale_bar(camera.scale, sheet.project.display_units, min(160.0, place.width()))
    put.draw_scale_bar(painter, look, (place.left(), place.bottom()), length * camera.scale, text)


def _line(painter: QPainter, place: QRectF, text: str, look: Look, ink: str, px: float, bold: bool = False) -> None:
    """Draw one line of words, cut where there is no room."""
    painter.setPen(QColor(ink))
    painter.setFont(put.font(look.families, px, bold))
    shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(place.width()))
    painter.drawText(place, int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter), shown)

"""Drawings of the whole hinge in the side view, at an opening, by the shapes that the board has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.build_sheet.picture import LOOK, Picture, box_points, face, measure, words
from app.holding_shapes import holding_shapes
from app.mount_shapes import mount_shapes
from app.pinch_marks import pinch_marks
from app.shapes import Layer, Pen, Stroke, drawn_contour, placed, shapes
from app.shut_shapes import entry_shapes

if TYPE_CHECKING:
    from app.build_sheet.facts import Facts
    from app.build_sheet.picture import Asked
    from app.shapes import Placement, Shape
    from kinematics.contours import Contour
    from kinematics.project import Point
    from kinematics.results import Pose

NEAR = 90.0
"""Mm round a place that is shown near."""
PLAIN = ("zone:", "name of zone:")
"""What is left out of drawings: it helps to lay out, not to build."""


def pose(asked: Asked) -> Picture:
    """The hinge at an opening.   of : deg."""
    facts = asked.facts
    at = facts.analysis.pose(float(asked.of)) if facts.moves else facts.analysis.pose(0.0)
    return Picture(tuple(_whole(facts)), _seen(facts, at), placed(facts.analysis, at), (104.0, 26.0, 40.0, 26.0))


def near(asked: Asked) -> Picture:
    """The links alone at an opening, as large as there is room.   of : deg."""
    return _near(asked, with_devices=False)


def helped(asked: Asked) -> Picture:
    """The links with struts and springs at an opening.   of : deg."""
    return _near(asked, with_devices=True)


def _near(asked: Asked, *, with_devices: bool) -> Picture:
    facts = asked.facts
    at = facts.analysis.pose(float(asked.of)) if facts.moves else facts.analysis.pose(0.0)
    where = placed(facts.analysis, at)
    spots = [where[pivot.joins[0]].carry(pivot.at) for pivot in facts.project.pivots]
    loads = facts.project.loads
    if with_devices and loads is not None:
        spots += [where[end.on].carry(end.at) for each in loads.devices for end in (each.from_end, each.to_end)]
    found = _whole(facts)
    found += pinch_marks(facts.pinches, facts.project.fixed.id, LOOK, facts.units) if at.deg > 0.0 else []
    return Picture(tuple(found), box_points(spots), where, (46.0, 38.0, 46.0, 56.0))


def _whole(facts: Facts) -> list[Shape]:
    """All that the project shows, without what only helps to lay out."""
    found = [*shapes(facts.project, LOOK), *holding_shapes(facts.analysis, LOOK, facts.units)]
    return [each for each in found if not each.key.startswith(PLAIN)]


def _seen(facts: Facts, at: Pose) -> tuple[Point, ...]:
    """The panel, its pins and what they stand on near them, as they stand."""
    project, where = facts.project, placed(facts.analysis, at)
    spots = [where[pivot.joins[0]].carry(pivot.at) for pivot in project.pivots]
    for outline in project.outlines:
        if outline.on != project.fixed.id:
            spots += [where[outline.on].carry(point) for point in outline.points]
    loads = project.loads
    if loads is not None:
        spots += [where[end.on].carry(end.at) for each in loads.devices for end in (each.from_end, each.to_end)]
        if loads.prop_rod is not None and at.deg > 0.0:
            spots += [where[end.on].carry(end.at) for end in (loads.prop_rod.from_end, loads.prop_rod.to_end)]
    return box_points(spots)


def packers(asked: Asked) -> Picture:
    """The panel shut, with a packer in each gap."""
    facts = asked.facts
    at = facts.analysis.pose(0.0)
    found = _whole(facts)
    for number, gap in enumerate(facts.packers):
        if gap.shut_points is None:
            continue
        a, b = (complex(*point) for point in gap.shut_points)
        way = (b - a) / abs(b - a) if abs(b - a) > 1e-9 else 1.0
        half = 1j * way * max(6.0, 0.6 * abs(b - a))
        corners = [(z.real, z.imag) for z in (a - half, b - half, b + half, a + half)]
        found.append(face(f"packer {number}", corners, LOOK.path, 0.7, Layer.GAPS))
        told = f"packer {facts.fine(None if gap.shut is None else round(gap.shut, 2))}"
        middle = 0.5 * (a + b)
        found.append(words(f"packer {number} words", (middle.real, middle.imag), told, (1.0, 1.0), 3, bold=True))
    return Picture(tuple(found), _seen(facts, at), placed(facts.analysis, at), (110.0, 40.0, 60.0, 26.0))


def stop(asked: Asked) -> Picture:
    """The stop at its opening, near."""
    facts = asked.facts
    loads = facts.project.loads
    if loads is None or loads.stop is None:
        return Picture(())
    deg = min(loads.stop.at_deg, facts.analysis.opening.reached_deg)
    at = facts.analysis.pose(deg)
    where = placed(facts.analysis, at)
    found, made = _whole(facts), facts.stop
    if made is not None:
        found.append(_riding("stop block", made.faces, made.block))
        found.append(_riding("stop part", made.carries, _round(made.at, 0.5 * made.part.diameter)))
    centre = (
        where[made.carries].carry((made.at.real, made.at.imag)) if made else _pivot(facts, where, loads.stop.between)
    )
    return Picture(tuple(found), _around(centre, NEAR), where)


def _pivot(facts: Facts, where: dict[str, Placement], between: tuple[str, str]) -> Point:
    """Where the pin stands that joins two links."""
    pivot = next((each for each in facts.project.pivots if set(between) <= set(each.joins)), facts.project.pivots[0])
    return where[pivot.joins[0]].carry(pivot.at)


def _riding(key: str, link: str, contour: Contour) -> Stroke:
    """A contour that rides on a link."""
    pen = Pen(LOOK.ink, LOOK.line)
    return Stroke(key, link, drawn_contour(contour), pen, Layer.DEVICES, closed=True, fill=LOOK.link_fill, veil=0.45)


def _round(at: complex, radius: float) -> Contour:
    from kinematics.contours import circle

    return circle(at, radius)


def _around(centre: Point, by: float) -> tuple[Point, ...]:
    return (centre[0] - by, centre[1] - 0.6 * by), (centre[0] + by, centre[1] + 0.6 * by)


def latch(asked: Asked) -> Picture:
    """Striker and latch shut, with the striker's way."""
    facts = asked.facts
    loads = facts.project.loads
    if loads is None or loads.latch is None:
        return Picture(())
    at = facts.analysis.pose(0.0)
    found = [*_whole(facts), *entry_shapes(facts.analysis, LOOK, facts.units)]
    return Picture(tuple(found), _around(loads.latch.at, NEAR), placed(facts.analysis, at))


def mounts(asked: Asked) -> Picture:
    """Base and bracket where they are, shut, with what can be set on them."""
    facts = asked.facts
    at = facts.analysis.pose(0.0)
    found = _whole(facts)
    drawn = mount_shapes(facts.project, LOOK)
    found += drawn
    spots = [pivot.at for pivot in facts.project.pivots]
    spots += [point for shape in drawn if isinstance(shape, Stroke) for point in shape.points]
    told = (("base", facts.base, "slots up and down"), ("bracket", facts.bracket, "slots fore and aft"))
    for key, made, slots in told:
        if made is not None:
            middle = made.seat.drawn(0.5 * (made.foot[0] + made.foot[1]) + 0j)
            found += _ways(key, middle, made.seat.along, made.seat.out, (slots, "shims"))
    return Picture(tuple(found), box_points(spots), placed(facts.analysis, at), (60.0, 40.0, 60.0, 30.0))


def _ways(key: str, at: complex, along: complex, out: complex, told: tuple[str, str]) -> list[Shape]:
    """Two double arrows at a place, with what goes that way."""
    found: list[Shape] = []
    for way, said, size in ((along, told[0], 26.0), (out, told[1], 14.0)):
        ends = at - size * way, at + size * way
        found += measure(
            f"{key} {said}", (ends[0].real, ends[0].imag), (ends[1].real, ends[1].imag), said, (way.real, way.imag)
        )
    return found

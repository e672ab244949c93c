"""Bodies that want a hinge: the problems on which the search is timed. All invented; no layout of pins comes with them.

Each is a body behind and beneath the rear edge of a panel, with wants of its own; they differ in size, in how tight the
shut gap is, in how many wants there are, and in how much room pins get. `SIX_ONLY` names those in which only six bars
are asked for. What has been found for them is nowhere kept: a search begins from nothing.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from app.files import load
from kinematics.project import GapWant, Limit, Link, Mark, Outline, Pivot, Project, Room, Travel, Zone
from resources import find

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from kinematics.project import Point


def _project(
    title: str,
    body: Iterable[Point],
    panel: Iterable[Point],
    wanted_deg: float,
    *,
    gap: float,
    closed_panel: bool = False,
    more: tuple[Outline, ...] = (),
    wants: tuple[GapWant, ...] = (),
    limits: tuple[Limit, ...] = (),
    zones: tuple[Zone, ...] = (),
    room: Room | None = None,
) -> Project:
    skin = tuple(panel)
    return Project(
        title=title,
        links=(Link("body", "fixed"), Link("panel", "panel")),
        outlines=(Outline("body line", "body", tuple(body)), Outline("skin", "panel", skin, closed_panel), *more),
        marks=(Mark("rear corner", "panel", skin[1] if not closed_panel else skin[0]),),
        limits=limits,
        travel=Travel("anticlockwise", wanted_deg),
        gaps=(GapWant(("body line", "skin"), gap), *wants),
        zones=zones,
        room=room,
    )


def _bonnet(length: float, lip: float, gap: float, sill: float) -> tuple[list[Point], list[Point]]:
    """A body line (screen, ledge, wall) and the skin of a panel that shuts in front of it, rear corner at (−gap, 0)."""
    body = [
        (-0.3 * length, 0.45 * length),
        (-2.0 * gap, 0.02 * length),
        (-2.0 * gap, -lip - sill),
        (0.02 * length, -lip - sill),
        (0.02 * length, -0.5 * length),
    ]
    skin = [(-gap, -lip), (-gap, 0.0), (0.5 * length, -0.01 * length), (length, -0.05 * length)]
    return body, skin


def _mirrored(project: Project) -> Project:
    """The same body seen from its other side: the panel opens clockwise."""

    def turned(at: Point) -> Point:
        return (-at[0], at[1])

    return replace(
        project,
        outlines=tuple(replace(o, points=tuple(turned(at) for at in o.points)) for o in project.outlines),
        marks=tuple(replace(mark, at=turned(mark.at)) for mark in project.marks),
        limits=tuple(
            replace(
                limit,
                dx_at_least=None if limit.dx_at_most is None else -limit.dx_at_most,
                dx_at_most=None if limit.dx_at_least is None else -limit.dx_at_least,
            )
            for limit in project.limits
        ),
        zones=tuple(replace(zone, points=tuple(turned(at) for at in zone.points)) for zone in project.zones),
        travel=replace(project.travel, opens="clockwise"),
    )


def _bare(name: str) -> Project:
    """A demo without its links and pins."""
    demo = load(find(f"demos/{name}.hinge"))
    return replace(
        demo, links=tuple(link for link in demo.links if link.kind != "link"), pivots=(), loads=None, measures=()
    )


def _box(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _plain_bonnet() -> Project:
    body, skin = _bonnet(900.0, 30.0, 14.0, 20.0)
    return _project("wide cavity", body, skin, 60.0, gap=6.0)


def _tight_gap() -> Project:
    body, skin = _bonnet(700.0, 25.0, 7.0, 10.0)
    limit = Limit("rear corner", dx_at_least=-2.0)
    return _project("tight shut gap", body, skin, 70.0, gap=5.0, limits=(limit,))


def _never_back() -> Project:
    body, skin = _bonnet(1000.0, 40.0, 10.0, 15.0)
    return _project(
        "rear corner never back", body, skin, 80.0, gap=8.0, limits=(Limit("rear corner", dx_at_least=-0.5),)
    )


def _rising() -> Project:
    body, skin = _bonnet(800.0, 30.0, 12.0, 15.0)
    limits = (Limit("rear corner", dx_at_least=-3.0), Limit("rear corner", dy_at_least=20.0, after_deg=30.0))
    return _project("rear corner rises", body, skin, 65.0, gap=8.0, limits=limits)


def _far_opening() -> Project:
    body, skin = _bonnet(600.0, 20.0, 12.0, 20.0)
    return _project("opens to 105", body, skin, 105.0, gap=6.0)


def _half_turn() -> Project:
    body = [(-12.0, -5.0), (-12.0, -60.0), (8.0, -60.0), (8.0, -300.0)]
    skin = _box(0.0, -12.0, 420.0, 0.0)
    return _project("flap that lies back", body, skin, 150.0, gap=3.0, closed_panel=True)


def _small_lid() -> Project:
    body = [(-3.0, 60.0), (-3.0, -14.0), (6.0, -14.0), (6.0, -90.0)]
    skin = _box(0.0, -8.0, 180.0, 0.0)
    project = _project("small box lid", body, skin, 85.0, gap=1.5, closed_panel=True)
    return replace(project, pin_spacing=14.0)


def _great_cover() -> Project:
    body, skin = _bonnet(2800.0, 80.0, 30.0, 40.0)
    return _project("great engine cover", body, skin, 55.0, gap=20.0, limits=(Limit("rear corner", dx_at_least=-8.0),))


def _rippled() -> Project:
    """Two lines of 200 points, as a photo gives them."""
    body, skin = _bonnet(900.0, 30.0, 14.0, 20.0)

    def rippled(line: list[Point], seed: float) -> list[Point]:
        spread: list[Point] = []
        total = sum(math.dist(a, b) for a, b in pairwise(line))
        for (ax, ay), (bx, by) in pairwise(line):
            count = max(2, round(200 * math.hypot(bx - ax, by - ay) / total))
            for k in range(count):
                along = k / count
                off = 1.2 * math.sin(seed + 0.37 * len(spread)) * (0.0 if k == 0 else 1.0)
                spread.append((ax + (bx - ax) * along + 0.3 * off, ay + (by - ay) * along + off))
        return [*spread, line[-1]]

    return _project("traced from a photo", rippled(body, 0.3), rippled(skin, 1.1), 65.0, gap=6.0)


def _under_a_shelf() -> Project:
    body, skin = _bonnet(560.0, 20.0, 12.0, 12.0)
    shelf = Outline("shelf", "body", _box(-60.0, 420.0, 90.0, 440.0), closed=True)
    return _project(
        "under a shelf", body, skin, 80.0, gap=6.0, more=(shelf,), wants=(GapWant(("shelf", "skin"), 12.0),)
    )


def _under_a_roof() -> Project:
    body, skin = _bonnet(800.0, 30.0, 14.0, 20.0)
    return _project("under a roof", body, skin, 62.0, gap=6.0, room=Room(roof=740.0))


def _four_wants() -> Project:
    body, skin = _bonnet(900.0, 30.0, 14.0, 20.0)
    pipe = Outline("pipe", "body", _box(95.0, -250.0, 135.0, -210.0), closed=True)
    lamp = Outline("lamp", "body", _box(-160.0, 330.0, -90.0, 380.0), closed=True)
    frame = Outline("frame", "panel", ((40.0, -70.0), (240.0, -75.0)))
    wants = (GapWant(("pipe", "frame"), 15.0), GapWant(("lamp", "skin"), 25.0), GapWant(("body line", "frame"), 8.0))
    return _project("four wants", body, skin, 70.0, gap=8.0, more=(pipe, lamp, frame), wants=wants)


def _zoned() -> Project:
    body, skin = _bonnet(1000.0, 40.0, 14.0, 20.0)
    zones = (Zone("body", _box(40.0, -260.0, 200.0, -80.0)), Zone("panel", _box(20.0, -70.0, 260.0, -30.0)))
    return _project("zones, wide", body, skin, 65.0, gap=6.0, zones=zones)


def _tight_zones() -> Project:
    body, skin = _bonnet(1000.0, 40.0, 14.0, 20.0)
    zones = (Zone("body", _box(50.0, -170.0, 150.0, -90.0)), Zone("panel", _box(30.0, -75.0, 130.0, -35.0)))
    limit = Limit("rear corner", dx_at_least=-3.0)
    return _project("zones, tight", body, skin, 75.0, gap=8.0, zones=zones, limits=(limit,))


def _narrow_wall() -> Project:
    """Room for pins on the wall in a narrow strip low down only."""
    body, skin = _bonnet(1100.0, 45.0, 12.0, 15.0)
    zones = (Zone("body", _box(40.0, -240.0, 90.0, -120.0)), Zone("panel", _box(25.0, -85.0, 160.0, -45.0)))
    limit = Limit("rear corner", dx_at_least=-4.0)
    return _project("a narrow strip of wall", body, skin, 75.0, gap=9.0, zones=zones, limits=(limit,))


def _six_bars_only() -> Project:
    """Wall pins near the edge, panel pins far from it."""
    body, skin = _bonnet(1200.0, 45.0, 12.0, 15.0)
    zones = (Zone("body", _box(40.0, -150.0, 150.0, -70.0)), Zone("panel", _box(30.0, -80.0, 110.0, -40.0)))
    limits = (Limit("rear corner", dx_at_least=-1.0), Limit("rear corner", dy_at_least=30.0, after_deg=20.0))
    return _project("close pins, high rise", body, skin, 75.0, gap=9.0, zones=zones, limits=limits)


def _square_posts() -> Project:
    """A post of the wall and a bracket of the panel, each hardly larger than two pins need."""
    body, skin = _bonnet(1000.0, 40.0, 13.0, 15.0)
    zones = (Zone("body", _box(45.0, -150.0, 105.0, -90.0)), Zone("panel", _box(30.0, -85.0, 100.0, -40.0)))
    limits = (
        Limit("rear corner", dx_at_least=-2.0, dy_at_least=-2.0),
        Limit("rear corner", dy_at_least=25.0, after_deg=25.0),
    )
    return _project("post and bracket", body, skin, 80.0, gap=9.0, zones=zones, limits=limits)


def _out_of_the_trough() -> Project:
    """The rear edge must rise out of a trough before it may come ahead, and then must come ahead."""
    body = [(-300.0, 400.0), (-22.0, 30.0), (-22.0, -80.0), (34.0, -80.0), (34.0, -14.0), (46.0, -14.0), (46.0, -500.0)]
    skin = [(-10.0, -45.0), (-10.0, 0.0), (500.0, -8.0), (1000.0, -50.0)]
    limit = Limit("rear corner", dx_at_least=12.0, after_deg=40.0)
    zones = (Zone("body", _box(70.0, -240.0, 190.0, -70.0)), Zone("panel", _box(60.0, -70.0, 240.0, -30.0)))
    return _project("out of a trough", body, skin, 72.0, gap=7.0, limits=(limit,), zones=zones)


def _locked_pin() -> Project:
    body, skin = _bonnet(900.0, 30.0, 14.0, 20.0)
    project = _project("one pin is given", body, skin, 65.0, gap=6.0)
    links = (*project.links, Link("arm", "link", 28.0))
    pin = Pivot("boss", (120.0, -130.0), ("body", "arm"), locked=True)
    return replace(project, links=links, pivots=(pin,))


def _bands() -> Project:
    """Links must keep off a tank."""
    body, skin = _bonnet(900.0, 30.0, 14.0, 20.0)
    tank = Outline("tank", "body", _box(60.0, -420.0, 400.0, -190.0), closed=True)
    project = _project("links clear a tank", body, skin, 65.0, gap=6.0, more=(tank,))
    links = (*project.links, Link("arm", "link", 24.0))
    return replace(project, links=links, gaps=(*project.gaps, GapWant(("arm", "tank"), 5.0)))


PROBLEMS: dict[str, Callable[[], Project]] = {
    "launch hatch": lambda: _bare("launch hatch"),
    "potting bench": lambda: _bare("potting bench"),
    "launch hatch, mirrored": lambda: _mirrored(_bare("launch hatch")),
    "wide cavity": _plain_bonnet,
    "tight shut gap": _tight_gap,
    "rear corner never back": _never_back,
    "rear corner rises": _rising,
    "opens to 105": _far_opening,
    "lies back": _half_turn,
    "small box lid": _small_lid,
    "great cover": _great_cover,
    "traced from a photo": _rippled,
    "under a shelf": _under_a_shelf,
    "under a roof": _under_a_roof,
    "four wants": _four_wants,
    "zones, wide": _zoned,
    "zones, tight": _tight_zones,
    "narrow strip of wall": _narrow_wall,
    "close pins, high rise": _six_bars_only,
    "post and bracket": _square_posts,
    "out of a trough": _out_of_the_trough,
    "one pin is given": _locked_pin,
    "links clear a tank": _bands,
}

"""A strut that was found on the board and in the strip, and where ends may be: beside the work, which stays as it is.

The strut is drawn as it will be once it is taken, over all, at the opening that is looked at; zones are thin dashed
regions that ride on their links. Shown no more, the board is as before.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from app.lanes import Beside
from app.lift_lanes import EFFORT
from app.load_shapes import device_shapes, load_placements
from app.shapes import SHUT, Layer, Pen, Shape, Stroke, Symbol, placed
from app.trials.picture import moved
from kinematics.loads import Loads
from kinematics.struts.fitting import device_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.board.board import Board
    from app.look import Look
    from app.shapes import Placement as Place
    from app.strip import TravelStrip
    from kinematics.parts import Zone
    from kinematics.struts.results import Placement

GROUP = "strut found"
ZONES = "zones for struts"


def strut_shapes(placement: Placement, links: dict[str, Place], fixed: str, look: Look) -> list[Shape]:
    """Give the strut at an opening on the fixed link, in the colour of what is pointed at; links : where they stand."""
    device = device_of(placement, "found")
    places = {**links, **load_placements(Loads(devices=(device,)), links)}
    found: list[Shape] = []
    for each in device_shapes(device, look):
        at = places.get(each.link, SHUT)
        if isinstance(each, Stroke):
            pen = replace(each.pen, colour=look.selection)
            found.append(replace(each, link=fixed, points=moved(each.points, at), pen=pen, layer=Layer.GAPS))
        elif isinstance(each, Symbol):
            found.append(replace(each, link=fixed, at=moved(each.at, at), ink=look.selection, layer=Layer.GAPS))
    return [replace(each, key=f"{GROUP}:{each.key}") for each in found]


def zone_shapes(zones: Iterable[Zone], look: Look) -> list[Shape]:
    """Give zones for ends of struts."""
    pen = Pen(look.selection, look.thin, (4.0, 3.0))
    return [Stroke(f"{ZONES}:{k}", zone.on, zone.points, pen, Layer.GAPS, closed=True) for k, zone in enumerate(zones)]


def _beside(placement: Placement, low: float) -> Beside:
    """Its push over the opening, where one is told."""
    xs, ys = np.array(placement.openings), np.array(placement.efforts)
    told = np.isfinite(ys)
    return Beside(xs[told], ys[told], low)


class StrutShown:
    """Shows one strut, or none, and the zones, or none; follows the opening and the look.

    strip : where its push is drawn beside the one there is; None: nowhere.
    """

    def __init__(self, board: Board, strip: TravelStrip | None = None) -> None:
        self._board, self._strip = board, strip
        self.low = 0.0  # N, the least push of all that may be shown: the lane keeps its range from one to the next
        self._placement: Placement | None = None
        self._zones: tuple[Zone, ...] = ()
        board.document.posed.connect(self._draw)
        board.document.restyled.connect(self._draw)

    def show(self, placement: Placement | None) -> None:
        """Show this one from now on; None: none."""
        if placement is not self._placement:
            self._placement = placement
            self._draw()
            if self._strip is not None:
                self._strip.show_beside(EFFORT, None if placement is None else _beside(placement, self.low))

    def show_zones(self, zones: tuple[Zone, ...]) -> None:
        """Show these zones from now on."""
        if zones != self._zones:
            self._zones = zones
            self._draw()

    def close(self) -> None:
        """Take all off the board, for good."""
        self.show_zones(())
        self.show(None)
        self._board.document.posed.disconnect(self._draw)
        self._board.document.restyled.disconnect(self._draw)

    def _draw(self, *_: object) -> None:
        scene, document = self._board.scene, self._board.document
        project, look = document.project, scene.look
        known = set(project.link_index)
        zones = [zone for zone in self._zones if zone.on in known]
        found = self._placement
        shapes: list[Shape] = []
        if found is not None and {found.from_on, found.to_on} <= known:
            shapes = strut_shapes(found, placed(document.analysis, document.pose), project.fixed.id, look)
        changed = False
        for group, there in ((GROUP, shapes), (ZONES, zone_shapes(zones, look))):
            if there or scene.has(group):
                scene.show_shapes(group, there)
                changed = True
        if changed:
            self._board.view.viewport().update()

"""The measures on the board: read anew at every pose, and found under the pointer by their lines and figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.hits import Hit, edge_hit
from app.board.items import LabelItem
from app.dimensions import dimensions
from app.shapes import Shape, Stroke

if TYPE_CHECKING:
    from PySide6.QtCore import QPointF

    from app.board.scene import Scene
    from app.board.view import BoardView
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.measuring import Readings
    from kinematics.project import Point


class Measured:
    """Shows the measures of the newest analysis. Costs nothing where there are none."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._readings: Readings | None = None
        self._shapes: list[Shape] = []

    def take(self, analysis: Analysis) -> None:
        """Read from this analysis from now on."""
        self._readings = None
        if analysis.project.measures:
            from kinematics.measuring import Readings

            self._readings = Readings(analysis)

    def show(self, document: Document) -> None:
        """Show every measure as it reads at the pose; those that are selected stand out."""
        if self._readings is None:
            if self._shapes:
                self._shapes = []
                self._scene.show_shapes("measures", [])
            return
        chosen = [each.id for each in document.selections if each.kind == "measure"]
        self._shapes = dimensions(self._readings, document.pose, self._scene.look, document.units, chosen)
        self._scene.show_shapes("measures", self._shapes)

    def hit(self, view: BoardView, at: Point, reach: float) -> Hit | None:
        """Give the measure whose line or figure lies at a place of the board."""
        spot = view.to_px(at)
        for shape in self._shapes:
            name = shape.key.split(":", 1)[1]
            if isinstance(shape, Stroke) and edge_hit(shape.points, at, closed=False)[1] <= reach:
                return Hit("measure", name.removesuffix(":arc"))
            item = self._scene.item(shape.key)
            if isinstance(item, LabelItem) and item.isVisible() and self._holds(view, item, spot):
                return Hit("measure", name.removesuffix(":label"))
        return None

    @staticmethod
    def _holds(view: BoardView, item: LabelItem, spot: QPointF) -> bool:
        """Whether a figure's box holds a place of the viewport."""
        off = spot - view.viewportTransform().map(item.scenePos())
        return item.box.holds((off.x(), off.y()))

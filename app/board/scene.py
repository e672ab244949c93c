"""The scene: keeps an item for every key, moves the links' frames, and finds a place for the words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QGraphicsScene

from app.board.items import (
    Frame,
    HatchItem,
    Item,
    LabelItem,
    StrokeItem,
    SymbolItem,
    fits,
    layer_of,
    make,
    move,
    own_placement,
)
from app.labels import Box, arrange
from app.painter import label_size
from app.shapes import SHUT, Label, Layer, Placement, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from app.look import Look
    from app.sheet import Camera

SIZE = 4.0e5  # mm: coordinates end at 1e5, and the sheet may be pushed about beyond


class Scene(QGraphicsScene):
    """The items of the board, by group and key."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        # everything moves; an index would only be kept in vain
        self.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
        self.setSceneRect(-SIZE, -SIZE, 2 * SIZE, 2 * SIZE)
        self.look = look
        self._items: dict[str, dict[str, Item]] = {}
        self._frames: dict[tuple[str, Layer], Frame] = {}
        self._placements: Mapping[str, Placement] = {}
        self._places: dict[str, int] = {}
        self._scale = 1.0
        self.ratio = 1.0
        self.named: frozenset[str] = frozenset()  # keys of names that are shown even where there is little room

    def set_look(self, look: Look, ratio: float) -> None:
        """Take another look, or another screen: all items go, the next shapes make them anew.

        ratio : of the screen's pixels to the sheet's.
        """
        self.look, self.ratio = look, ratio
        for group in list(self._items):
            self.show_shapes(group, [])

    def show_shapes(self, group: str, shapes: Iterable[Shape]) -> None:
        """Show these shapes and no others of this group; items whose shape didn't change stay as they are."""
        before = self._items.get(group, {})
        after: dict[str, Item] = {}
        for shape in shapes:
            item = before.get(shape.key)
            if item is not None and item.shape_shown == shape:
                pass  # most of them stay as they are
            elif item is not None and fits(item, shape):
                item.take(shape)  # type: ignore[arg-type]  # `fits` has told that they belong together
            else:
                item = self._add(shape)
            after[shape.key] = item
        for key, item in before.items():
            if after.get(key) is not item:
                self.removeItem(item)
        self._items[group] = after

    def has(self, group: str) -> bool:
        """Whether a group shows anything."""
        return bool(self._items.get(group))

    def shown(self, key: str) -> Shape | None:
        """Give the shape that stands under a key, whatever its group."""
        return next((items[key].shape_shown for items in self._items.values() if key in items), None)

    def item(self, key: str) -> Item | None:
        """Give the item of a key, whatever its group."""
        return next((items[key] for items in self._items.values() if key in items), None)

    def place(self, placements: Mapping[str, Placement]) -> None:
        """Move every link to where it stands."""
        self._placements = placements
        for (link, _), frame in self._frames.items():
            move(frame, placements.get(link, SHUT))

    def rescale(self, scale: float) -> None:
        """Tell the items that depend on the zoom (pixels per mm)."""
        self._scale = scale
        for items in self._items.values():
            for item in items.values():
                if isinstance(item, HatchItem | StrokeItem | SymbolItem):
                    item.rescale(scale)

    def arrange_words(self, camera: Camera, sheet: Box, taken: Iterable[Box] = ()) -> None:
        """Give all labels their places for this camera. `taken`: what stands on the sheet already, pixels."""
        shapes = [self._asked(item) for items in self._items.values() for item in items.values()]
        found = arrange(shapes, self._placements, camera, self._measure, sheet, taken, self._places)
        self._places = {key: place for key, (_, place) in found.items()}
        for items in self._items.values():
            for item in items.values():
                if isinstance(item, LabelItem):
                    here = found.get(item.shape_shown.key)
                    item.setVisible(here is not None)
                    if here is not None:
                        item.put_at(here[0])

    def _asked(self, item: Item) -> Shape:
        """Give the shape of an item; a name that was asked for is shown however little room there is."""
        shape = item.shape_shown
        return replace(shape, span=0.0) if isinstance(shape, Label) and shape.key in self.named else shape

    def _measure(self, label: Label) -> tuple[float, float]:
        return label_size(label, self.look)

    def _add(self, shape: Shape) -> Item:
        item = make(shape, self.look, self.ratio)
        link = "" if own_placement(shape) is not None else shape.link
        item.setParentItem(self._frame(link, layer_of(shape)))
        if isinstance(item, HatchItem | StrokeItem | SymbolItem):
            item.rescale(self._scale)
        return item

    def _frame(self, link: str, layer: Layer) -> Frame:
        frame = self._frames.get((link, layer))
        if frame is None:
            frame = self._frames[link, layer] = Frame(layer)
            self.addItem(frame)
            move(frame, self._placements.get(link, SHUT))
        return frame

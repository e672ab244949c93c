"""Room: the floor under the panel and the roof above it, as a builder enters them. Heights are y on the sheet, mm.

The *floor* is whatever one stands on while the panel is opened: ground or deck. The *roof* is the lowest thing above
the panel: of a garage, a trailer, a boat shed. The *front edge* is the end of the panel that swings, which a hand must
reach; how high it stands is read at the largest opening reached. `kinematics.headroom` works these figures out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class FrontEdge:
    """Which point the front edge is, and what is wanted of it.

    mark : a mark's id; None is the point of the panel's outlines that lies furthest ahead.
    at_least : least height (mm) over the floor at the largest opening reached; None wants nothing.
    """

    mark: str | None = None
    at_least: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        if self.mark is not None:
            values.identifier(self.mark, "front edge", "mark")
        if self.at_least is not None:
            put(self, at_least=values.not_negative(self.at_least, "front edge", "at_least"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Room:
    """Heights (y, mm) of floor and roof, None where there is none; a front edge needs a floor."""

    floor: float | None = None
    roof: float | None = None
    front_edge: FrontEdge | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in ("floor", "roof"):
            height = getattr(self, name)
            if height is not None:
                put(self, **{name: values.number(height, "room", name, values.LARGEST_COORDINATE)})
        if self.floor is not None and self.roof is not None and self.floor >= self.roof:
            what = f"the floor is at {self.floor:g} mm and the roof at {self.roof:g} mm, not above it"
            raise ProjectError(what, "room", "Heights are y on the sheet, upwards.")
        if self.front_edge is not None and self.floor is None:
            what = "front_edge wants a height over the floor, but there is no floor"
            raise ProjectError(what, "room", "Give the floor, or leave the front edge out.")
        keep(self)

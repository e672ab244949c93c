"""How plates load a pin, from where they stand along it.

One link *holds* the pin. Where its plates stand on both sides of all others the pin is in double shear, else in single.
*Apart* is what lies between the faces of plates that press on each other: a washer, or more where a layer is left free.
A layer is as thick as the thickest plate in it (one that is left empty as the thinnest of all), and from one to the
next it is a washer. Heights are mm along the pins, from the lower face of layer 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence


@dataclass(frozen=True, slots=True)
class Bearing:
    """How a pin is loaded, as strength wants it: shear "single" or "double", mm of the inner plates together, of each
    outer plate, and between their faces.
    """

    shear: str
    outer_link: str
    inner: float
    outer: float
    apart: float


class Faces(NamedTuple):
    """A plate on a pin: whose it is, its lower and its upper face."""

    link: str
    low: float
    high: float


def holding(told: str | None, joins: Sequence[str], counts: Mapping[str, int], brackets: Collection[str]) -> str:
    """The link that holds a pin: the one that is told, else the only one that is built of a pair of plates, else the
    fixed link or the panel, else the first that the pivot joins.

    counts : plates of each link, one where none is given.   brackets : the fixed link and the panel.
    """
    if told in joins:
        return str(told)
    pairs = [link for link in joins if counts.get(link, 1) > 1]
    return pairs[0] if len(pairs) == 1 else usual_outer(joins, brackets)


def usual_outer(joins: Sequence[str], brackets: Collection[str]) -> str:
    """The link whose plates are outside where nobody says which; brackets : the fixed link and the panel."""
    return next((link for link in joins if link in brackets), joins[0])


def heights_of(
    thick: Mapping[str, float], layers: Mapping[str, tuple[int, ...]], washer: float
) -> tuple[tuple[float, float], ...]:
    """(low, high) of each layer.   thick : of each link's plates.   layers : in which they run."""
    count = max((layer for on in layers.values() for layer in on), default=0)
    heights, low = [], 0.0
    for layer in range(1, count + 1):
        here = [thick[link] for link, on in layers.items() if layer in on]
        high = low + max(here, default=min(thick.values()))
        heights.append((low, high))
        low = high + washer
    return tuple(heights)


def bearing_of(plates: Sequence[Faces], holder: str) -> Bearing | None:
    """How the plates on a pin, in order from below, load it; None where one link alone is on it."""
    outer = [plate for plate in plates if plate.link == holder]
    inner = [plate for plate in plates if plate.link != holder]
    if not outer or not inner:
        return None
    thick = sum(plate.high - plate.low for plate in inner)
    low, high = min(plate.low for plate in inner), max(plate.high for plate in inner)
    if outer[0].high <= low and outer[-1].low >= high:
        apart = max(low - outer[0].high, outer[-1].low - high)
        return Bearing("double", holder, thick, min(plate.high - plate.low for plate in outer), apart)
    away = [max(one.low - other.high, other.low - one.high) for one in outer for other in inner]
    return Bearing("single", holder, thick, outer[0].high - outer[0].low, max(*away, 0.0))


def bearing_in_layers(
    sheets: Mapping[str, float], layers: Mapping[str, tuple[int, ...]], washer: float, joins: Sequence[str], holder: str
) -> Bearing | None:
    """How a pin is loaded where layers are given; None where they don't say it of all links.

    sheets : thickness of each link's plates.   joins : the links on the pin.
    """
    if any(link not in layers for link in (*sheets, *joins)):
        return None
    heights = heights_of(sheets, layers, washer)
    on = sorted((layer, link) for link in joins for layer in layers[link])
    faces = [Faces(link, heights[layer - 1][0], heights[layer - 1][0] + sheets[link]) for layer, link in on]
    return bearing_of(faces, holder)

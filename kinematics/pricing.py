"""What cut parts come to by a builder's own prices: for the metal in them, the cutter's way, and each pierce."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.build_parts import Prices

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.cutting import Part
    from kinematics.project import Project


def estimate(parts: Iterable[tuple[Part, int]], prices: Prices) -> float:
    """What parts come to, so many of each, in the prices' currency; what is left of the sheet isn't reckoned."""
    return math.fsum(count * price_of(part, prices) for part, count in parts)


def price_of(part: Part, prices: Prices) -> float:
    """What one part comes to."""
    return prices.per_kg * part.mass + prices.per_metre * part.cut_length / 1e3 + prices.per_pierce * part.pierces


def priced(project: Project, **changes: Any) -> Project:  # noqa: ANN401  fields of Prices
    """The project with other prices; without any once all are nothing. Raises ProjectError for what is no price."""
    prices = replace(project.plating.prices or Prices(), **changes)
    told = None if prices == Prices() else prices
    return project if told == project.plating.prices else replace(project, plates=replace(project.plating, prices=told))

"""Sheet that is bent and welded: how long a blank must be, how tightly it may be bent, how thick a weld should be.

Terms. Bent by an *angle* (deg, 90 for a right angle), a sheet keeps its length along a *neutral line*, which lies `k`
of the thickness above the inner face (k 0.5: in the middle). The *allowance* is the length of that line in the bend.
The *setback* is how far the bend begins before the sharp corner that the outer faces would have. A blank is as long as
its legs to that corner, less the *deduction*, 2 · setback − allowance. A fillet weld's *throat* is the height of the
triangle that is its section, its *leg* √2 times as long.

Sources: the neutral line by DIN 6935:2011, k = 0.325 + 0.25 · log10(radius / thickness), 0.5 from five times the
thickness on (from memory; it writes 2·k). Throats √(thickest) − 0.5 to 0.7 · thinnest: DIN 18800-1:1990, 519; and
that one below 3 mm isn't reckoned to carry: EN 1993-1-8:2005, 4.5.2 (both from memory). Least radii and flanges are
common practice, no source: the shop that bends says what its tools can do.
"""

from __future__ import annotations

import math

STEEPEST = 165.0
"""Deg: beyond it the corner of the outer faces runs away, and a bend is a hem."""
STEEL_RADIUS, ALUMINIUM_RADIUS = 1.0, 2.5
"""Least inner radius over the thickness: mild and stainless steel; hard aluminium, along the rolling."""
LIGHT = 4000.0
"""kg/m³: lighter sheet is taken for aluminium."""
FLANGE = 4.0
"""Least flange outside, over the thickness, besides the radius: a tool must still hold it."""
HOLE_OFF = 2.0
"""Least way from a hole's edge to the beginning of a bend over the thickness: nearer it is drawn long."""
CARRIES = 3.0
"""Mm of throat below which a fillet weld isn't reckoned to carry."""
STEP = 0.5
"""Mm to which throats are given."""


def k_factor(radius: float, thickness: float) -> float:
    """Where the neutral line lies, as a share of the thickness from the inner face."""
    return min(max(0.325 + 0.25 * math.log10(radius / thickness), 0.05), 0.5)


def allowance(angle_deg: float, radius: float, thickness: float, k: float) -> float:
    """Mm of sheet within a bend."""
    return math.radians(angle_deg) * (radius + k * thickness)


def setback(angle_deg: float, radius: float, thickness: float) -> float:
    """Mm from where a bend begins to the corner of the outer faces."""
    return (radius + thickness) * math.tan(math.radians(min(angle_deg, STEEPEST)) / 2.0)


def deduction(angle_deg: float, radius: float, thickness: float, k: float) -> float:
    """Mm by which a blank is shorter than its two legs to the corner of the outer faces."""
    return 2.0 * setback(angle_deg, radius, thickness) - allowance(angle_deg, radius, thickness, k)


def least_radius(thickness: float, density: float) -> float:
    """The inner radius (mm) below which sheet may crack, by what the sheet weighs (kg/m³)."""
    return thickness * (ALUMINIUM_RADIUS if density < LIGHT else STEEL_RADIUS)


def least_flange(radius: float, thickness: float) -> float:
    """The shortest flange (mm, outside) that can be bent."""
    return FLANGE * thickness + radius


def throats(one: float, other: float) -> tuple[float, float]:
    """The least and the most throat (mm) of a fillet between sheets of two thicknesses."""
    thin, thick = sorted((one, other))
    return max(math.sqrt(thick) - 0.5, 0.0), 0.7 * thin


def usual_throat(one: float, other: float) -> float:
    """The throat (mm) of a fillet between sheets of two thicknesses where nobody says: the most, in half mm."""
    least, most = throats(one, other)
    return max(math.floor(most / STEP + 1e-9) * STEP, least, STEP)


def leg(throat: float) -> float:
    """The leg (mm) of a fillet."""
    return throat * math.sqrt(2.0)

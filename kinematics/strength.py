"""Strength of pins, plates and bushings: stresses from forces, by formulas a handbook has. Plain values in and out.

Terms. A *stress* is a force over an area, MPa (N/mm²). *Safety against yielding* is the yield strength (or 0.2 % proof)
over the stress; in shear a ductile metal yields at 1/√3 of it (distortion energy). The stack of a joint: an *inner*
plate of thickness t and two *outer* ones (double shear) or one (single), *washers* of thickness g between two plates.

A pin in double shear takes it that each plate presses on it evenly along its length; then its moment is largest in its
middle, F·(t_inner + 4·g + 2·t_outer)/8. In single shear it takes it that the outer plate holds the pin fast, as a stub,
and that the inner one presses evenly on its free end: the outer plate presses back along a straight line, that balances
force and moment, and the pin's moment is largest somewhat inside it.

A plate pulled through a hole tears across its *net section*, beside the hole, or its end shears out along two planes
from the hole's sides to the edge. A plate pushed at its ends *buckles* sideways: by Euler where it is slender, by
Johnson's parabola where it is short; which one holds follows from where both meet, at half the yield strength.

All forces N, lengths mm, moments N·mm, strengths MPa. Nothing here knows fatigue, shock, wear or corrosion.

Sources: clevis pins, stub pins, eyes: Roloff/Matek, Maschinenelemente, chapter 9 (from memory); shear-out, Euler and
Johnson: Shigley's Mechanical Engineering Design, chapters 4 and 8 (from memory); the closed forms derive from the
models named.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

SHEAR_SHARE = 1.0 / math.sqrt(3.0)
"""Shear yield over yield in tension (distortion energy, von Mises)."""
SLENDER = 200.0
"""Slenderness (length over radius of gyration) beyond which struts in compression aren't built (AISC 360, user note to
E2; from memory)."""


# ------------------------------------------------------------------------------------------------------------------ pin
def pin_shear(force: float, diameter: float, planes: int) -> float:
    """Mean shear stress of a pin cut in one plane or in two: 4·F/(planes·π·d²)."""
    return 4.0 * force / (planes * math.pi * diameter**2)


def double_shear_moment(force: float, inner: float, outer: float, washer: float = 0.0) -> float:
    """Largest moment of a pin with an inner plate between two outer ones: F·(t_inner + 4·g + 2·t_outer)/8."""
    return force * (inner + 4.0 * washer + 2.0 * outer) / 8.0


def single_shear_moment(force: float, inner: float, outer: float, washer: float = 0.0) -> float:
    """Largest moment of a pin that the outer plate holds fast, loaded evenly by the inner one.

    With the load at a = g + t_inner/2 from the outer plate's face and k = 1 + 2·a/t_outer, it lies t_outer/(3·k) inside
    the plate: M = F·t_outer·((k − 1)/2 + 1/(6·k) − 1/(54·k²)).
    """
    k = 1.0 + 2.0 * (washer + 0.5 * inner) / outer
    return force * outer * (0.5 * (k - 1.0) + 1.0 / (6.0 * k) - 1.0 / (54.0 * k**2))


def bending_stress(moment: float, diameter: float) -> float:
    """Largest bending stress of a round pin: 32·M/(π·d³)."""
    return 32.0 * moment / (math.pi * diameter**3)


# ---------------------------------------------------------------------------------------------------------------- holes
def bearing(force: float, diameter: float, length: float) -> float:
    """Pressure of a pin in a hole over its projected area: F/(d·l)."""
    return force / (diameter * length)


def stub_bearing(force: float, diameter: float, held: float, arm: float) -> float:
    """Largest pressure where a plate of thickness `held` holds a stub pin, loaded `arm` (mm) from the plate's face.

    At the face, F/(d·t)·(4 + 6·a/t): the even part, and the straight one that balances the moment.
    """
    return bearing(force, diameter, held) * (4.0 + 6.0 * arm / held)


def net_tension(force: float, width: float, hole: float, thickness: float) -> float:
    """Mean tension beside a hole: F/((b − d)·t); inf where the hole leaves nothing."""
    left = (width - hole) * thickness
    return force / left if left > 0.0 else math.inf


def tear_out(force: float, edge: float, hole: float, thickness: float) -> float:
    """Mean shear in the two planes from a hole's sides to the edge, F/(2·t·(e − d/2)); inf where nothing is left."""
    left = 2.0 * thickness * (edge - 0.5 * hole)
    return force / left if left > 0.0 else math.inf


# ------------------------------------------------------------------------------------------------------------- bushings
def sliding_speed(turn_deg: float, seconds: float, diameter: float) -> float:
    """Mean sliding speed (m/s) of a pin that turns by so much in so long: ω·d/2."""
    return math.radians(turn_deg) / seconds * diameter / 2.0 / 1000.0


# --------------------------------------------------------------------------------------------------------------- plates
def plate_stress(axial: float, moment: float, height: float, thickness: float) -> float:
    """Largest stress of a flat plate's section, height × thickness, bent in its plane: |N|/(h·t) + 6·|M|/(t·h²).

    inf where nothing is left of the section.
    """
    if height <= 0.0 or thickness <= 0.0:
        return math.inf
    return abs(axial) / (height * thickness) + 6.0 * abs(moment) / (thickness * height**2)


def flat_bending(moment: float, width: float, thickness: float) -> float:
    """Bending stress of a flat plate bent out of its plane: 6·M/(b·t²)."""
    return 6.0 * moment / (width * thickness**2)


def second_moment(breadth: float, height: float) -> float:
    """Second moment of area of a rectangle about its middle: b·h³/12 (mm⁴)."""
    return breadth * height**3 / 12.0


@dataclass(frozen=True, slots=True)
class Buckling:
    """The mean stress (MPa) at which a plate buckles, its slenderness, the limit between the laws, and the law's
    name: "Euler" or "Johnson".
    """

    stress: float
    slenderness: float
    limit: float
    law: str

    @property
    def is_too_slender(self) -> bool:
        """Whether it is more slender than struts are built."""
        return self.slenderness > SLENDER


def buckling(
    length: float, width: float, thickness: float, yield_mpa: float, modulus_mpa: float, end: float = 1.0
) -> Buckling:
    """When one flat plate, pushed at two pins, buckles: about its thinner way, which is out of its plane as a rule.

    end : effective length over the distance of the pins; 1: both ends free to turn, which pins with play are.
    Slenderness λ = end·L/(t/√12). Euler π²·E/λ² beyond λ₁ = √(2·π²·E/Re), Johnson Re·(1 − Re·λ²/(4·π²·E)) below.
    """
    radius = min(width, thickness) / math.sqrt(12.0)
    slender = end * length / radius
    limit = math.sqrt(2.0 * math.pi**2 * modulus_mpa / yield_mpa)
    if slender > limit:
        return Buckling(math.pi**2 * modulus_mpa / slender**2, slender, limit, "Euler")
    stress = yield_mpa * (1.0 - yield_mpa * slender**2 / (4.0 * math.pi**2 * modulus_mpa))
    return Buckling(stress, slender, limit, "Johnson")


# --------------------------------------------------------------------------------------------------------------- safety
def safety(strength: float, stress: float) -> float:
    """Strength over stress; inf where there is no stress, 0 where there is no end of it."""
    if math.isinf(stress):
        return 0.0
    return strength / stress if stress > 0.0 else math.inf


def worse_share(hinges: int, uneven: float | None) -> float:
    """The share of all loads that the worse hinge carries; the better ones share the rest.

    uneven : 0.5 to 1; None: 0.6 of two, as panels twist and seldom stand true (common practice, no source). Lifted by
    one corner a panel may hang on one hinge alone: 1. Never less than an even share.
    """
    return max(0.6 if uneven is None else uneven, 1.0 / hinges)

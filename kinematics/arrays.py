"""Names for the arrays that pass between modules, and how to make them read-only.

Points of the side view are complex numbers inside `kinematics`: x + iy, in mm. A turn by an angle is then a product
with exp(i·angle), and a whole linkage at many poses is one matrix product.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from collections.abc import Iterable

Floats = npt.NDArray[np.float64]
Complexes = npt.NDArray[np.complex128]
Ints = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]
NOTHING = 1e-30
"""Coordinates smaller than this (mm) have squares that a computer can't tell from nothing."""
Array = TypeVar("Array", bound=npt.NDArray[Any])


def frozen(array: Array) -> Array:
    """The same array, made read-only, as every array in a result is."""
    array.flags.writeable = False
    return array


def as_complex(points: Iterable[tuple[float, float]]) -> Complexes:
    """Points (x, y) as x + iy, shape (n,); what is next to nothing (mm) is nothing, or GEOS would divide by zero."""
    flat = np.array(list(points), dtype=np.float64).reshape(-1, 2)
    flat = np.where(np.abs(flat) < NOTHING, 0.0, flat)
    return np.asarray(flat[:, 0] + 1j * flat[:, 1])


def as_point(z: complex) -> tuple[float, float]:
    """One complex point as (x, y)."""
    return (float(z.real), float(z.imag))

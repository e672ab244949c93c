"""Least moves: the shortest way to a place where some linear wants hold, and the least they must give if there is none.

*Least distance*: min |z| subject to G·z ≥ h. With E = [Gᵀ; hᵀ] and f = (0, …, 0, 1), let u ≥ 0 be the least squares
solution of E·u ≈ f and r its residual E·u − f; then z = −r_head / r_last, and where r is 0 the wants contradict each
other. *Least give*: each want may be missed by some amount ≥ 0; the least total amount is a linear programme, whose
multipliers say which rows stand against each other.

Sources: C. L. Lawson, R. J. Hanson, Solving Least Squares Problems, 1974, ch. 23 (LDP and NNLS); linear programming
duality, any text on it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from kinematics.arrays import Floats, Ints

UNIT = 10.0
"""mm that count as 1 within: the residual's last part is 1 / (1 + |z|²), which shall not get lost."""
KEPT = 1e-6
"""mm by which a row may be missed and still counts as kept."""


def least_distance(G: Floats, h: Floats) -> Floats | None:
    """The shortest z with G·z ≥ h, (n,); None where there is none (or none was found)."""
    from scipy.optimize import nnls  # noqa: PLC0415  70 MB that the window needs for nothing else

    if (h <= 0.0).all():
        return np.zeros(G.shape[1])
    E = np.concatenate([G, h[:, None] / UNIT], axis=1).T
    f = np.zeros(len(E))
    f[-1] = 1.0
    try:
        u, norm = nnls(E, f, maxiter=30 * E.shape[1])
    except RuntimeError:  # too many rows that say the same
        return None
    r = E @ u - f
    if norm < 1e-7 or r[-1] >= 0.0:
        return None
    z = np.asarray(-UNIT * r[:-1] / r[-1])
    return z if (G @ z >= h - KEPT * max(1.0, float(np.abs(h).max()))).all() else None


def least_give(G: Floats, h: Floats, wants: Ints, low: Floats, high: Floats) -> tuple[Floats, Floats, Floats] | None:
    """How much each want must give, at least in sum, so that some z within low … high keeps all rows.

    wants : (m,) to which want each row belongs, 0, 1, …   Returns what each gives (wants,), the rows' multipliers
    (m,), 0 or more, and z (n,); None where the programme found nothing.
    """
    from scipy.optimize import linprog  # noqa: PLC0415  70 MB that the window needs for nothing else

    count, n = int(wants.max(initial=-1)) + 1, G.shape[1]
    slack = np.zeros((len(h), count))
    slack[np.arange(len(h)), wants] = 1.0
    found = linprog(
        np.concatenate([np.zeros(n), np.ones(count)]),
        A_ub=-np.concatenate([G, slack], axis=1),
        b_ub=-h,
        bounds=[*zip(low.tolist(), high.tolist(), strict=True), *[(0.0, None)] * count],
        method="highs",
    )
    if found.status != 0 or found.x is None or found.ineqlin is None:
        return None
    return np.asarray(found.x[n:]), np.asarray(-found.ineqlin.marginals), np.asarray(found.x[:n])

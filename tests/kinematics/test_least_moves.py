"""The least-distance and least-give problems, against solutions by hand and against another solver."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize

from kinematics.least_moves import least_distance, least_give


def test_a_line_by_hand() -> None:
    """The point of x + 2y ≥ 10 nearest to the origin is (2, 4)."""
    found = least_distance(np.array([[1.0, 2.0]]), np.array([10.0]))
    assert found is not None
    assert found == pytest.approx([2.0, 4.0], abs=1e-9)


def test_a_corner_by_hand() -> None:
    """Lines x ≥ 3 and x + y ≥ 7: the foot on the second line, (3.5, 3.5), keeps the first, which isn't felt."""
    found = least_distance(np.array([[1.0, 0.0], [1.0, 1.0]]), np.array([3.0, 7.0]))
    assert found is not None
    assert found == pytest.approx([3.5, 3.5], abs=1e-9)


def test_what_holds_already_moves_nothing() -> None:
    found = least_distance(np.array([[1.0, 2.0]]), np.array([-1.0]))
    assert found is not None
    assert not found.any()


def test_a_contradiction_has_no_way() -> None:
    assert least_distance(np.array([[1.0, 0.0], [-1.0, 0.0]]), np.array([5.0, -2.0])) is None


@pytest.mark.parametrize("seed", range(12))
def test_random_problems_against_another_solver(seed: int) -> None:
    """SLSQP shares nothing with it; 1e-5 is what that one is asked for."""
    dice = np.random.default_rng(seed)
    G, h = dice.normal(size=(14, 6)), dice.normal(1.0, 2.0, 14)
    found = least_distance(G, h)
    other = minimize(
        lambda z: z @ z,
        np.zeros(6),
        jac=lambda z: 2.0 * z,
        constraints={"type": "ineq", "fun": lambda z: G @ z - h, "jac": lambda _: G},
        method="SLSQP",
        options={"ftol": 1e-12, "maxiter": 300},
    )
    if found is None:
        assert not other.success
    else:
        assert (G @ found >= h - 1e-5).all()
        assert found == pytest.approx(other.x, abs=1e-5)


def test_the_least_give_of_two_that_contradict_each_other() -> None:
    """Wants x ≥ 5 and x ≤ 2 miss each other by 3; y ≥ 1 has no part in it."""
    G, h = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0]]), np.array([5.0, -2.0, 1.0])
    low, high = np.full(2, -10.0), np.full(2, 10.0)
    found = least_give(G, h, np.array([0, 1, 2]), low, high)
    assert found is not None
    given, against, z = found
    assert given.sum() == pytest.approx(3.0)
    assert against[:2] == pytest.approx([1.0, 1.0])
    assert against[2] == pytest.approx(0.0)
    assert z[1] >= 1.0 - 1e-9


def test_rows_of_one_want_give_together() -> None:
    """Both rows are of one want, which gives as much as the worse of them misses."""
    G, h = np.array([[1.0], [1.0]]), np.array([14.0, 12.0])
    found = least_give(G, h, np.array([0, 0]), np.array([-10.0]), np.array([10.0]))
    assert found is not None
    assert found[0] == pytest.approx([4.0])

"""The strokes behind fixed lines: at 45°, on their side, as deep as asked, inside closed lines."""

from __future__ import annotations

import math

import numpy as np
import pytest

from app.hatching import MOST, hatch_lines

UP = ((0.0, 0.0), (0.0, 100.0))


@pytest.mark.parametrize(("side", "xs"), [(1, (-8.0, 0.0)), (-1, (0.0, 8.0))])
def test_an_upright_line_is_hatched_on_the_side_asked(side: int, xs: tuple[float, float]) -> None:
    """It runs up, so left of it is x < 0. Spaced 5 mm across, strokes at 45° meet an upright line every 5·√2 mm."""
    lines = np.array(hatch_lines(UP, False, side, 8.0, 5.0))
    assert (lines[..., 0].min(), lines[..., 0].max()) == pytest.approx(xs, abs=1e-9)
    assert (lines[..., 1].min() >= -1e-9, lines[..., 1].max() <= 100.0 + 1e-9) == (True, True)
    assert len(lines) == pytest.approx((100.0 + 8.0) / (5.0 * math.sqrt(2.0)), abs=1.0)


def test_all_strokes_lean_alike_whatever_the_line_does() -> None:
    bent = ((0.0, 0.0), (0.0, 100.0), (60.0, 130.0), (200.0, 40.0))
    lines = np.array(hatch_lines(bent, False, -1, 8.0, 5.0))
    along = lines[:, 1] - lines[:, 0]
    assert np.abs(along[:, 0] - along[:, 1]).max() < 1e-9


def test_strokes_stand_as_far_apart_as_asked() -> None:
    lines = np.array(hatch_lines(UP, False, 1, 8.0, 5.0))
    rows = np.unique(((lines[:, 0, 0] - lines[:, 0, 1]) / math.sqrt(2.0)).round(9))
    assert np.diff(rows) == pytest.approx(5.0)


def test_a_closed_line_is_hatched_along_its_inside() -> None:
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    lines = np.array(hatch_lines(square, True, 0, 8.0, 5.0)).reshape(-1, 2)
    assert lines.min() == pytest.approx(0.0, abs=1e-9)
    assert lines.max() == pytest.approx(100.0, abs=1e-9)
    deep = np.minimum(lines, 100.0 - lines).min(axis=1)
    assert deep.max() == pytest.approx(8.0, abs=1e-9)


def test_a_thin_solid_is_hatched_whole() -> None:
    bar = ((0.0, 0.0), (100.0, 0.0), (100.0, 3.0), (0.0, 3.0))
    lines = np.array(hatch_lines(bar, True, 0, 8.0, 5.0))
    assert np.abs(lines[:, 1, 1] - lines[:, 0, 1]).max() == pytest.approx(3.0)


@pytest.mark.parametrize(
    "points",
    [
        ((0.0, 0.0), (0.0, 0.0)),
        ((0.0, 0.0), (10.0, 0.0), (0.0, 0.0)),
        ((0.0, 0.0), (50.0, 50.0), (50.0, 0.0), (0.0, 50.0)),
    ],
    ids=["a point", "there and back", "a bow tie"],
)
@pytest.mark.parametrize("closed", [False, True])
def test_lines_that_are_hardly_lines_raise_nothing(points: tuple[tuple[float, float], ...], closed: bool) -> None:
    lines = np.array(hatch_lines((*points, points[-1]), closed, 0 if closed else 1, 8.0, 5.0))
    assert np.isfinite(lines).all()


def test_a_line_far_larger_than_any_sheet_is_left_bare() -> None:
    far = ((0.0, 0.0), (0.0, 5.0 * MOST * 2))
    assert hatch_lines(far, False, 1, 8.0, 5.0) == ()

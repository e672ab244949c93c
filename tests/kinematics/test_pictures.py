"""Pictures: what is refused and in which words; matrices that lead there and back."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from math import pi
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.errors import ProjectError
from kinematics.pictures import (
    MOST_BYTES,
    Length,
    Pick,
    Picture,
    Place,
    check_sum,
    inverse,
    laid,
    picture_of,
    product,
    similarity,
    through,
)
from tests import strategies

if TYPE_CHECKING:
    from collections.abc import Callable

PLACE = laid((400, 200), (0.0, 0.0), 800.0)
PHOTO = picture_of("side", "body", "image/png", b"not looked at here", PLACE)
LEANING = ((2.0, 0.3, 10.0), (0.1, 1.5, 20.0), (0.001, 0.002, 1.0))

REFUSED: dict[str, tuple[Callable[[], object], tuple[str, ...]]] = {
    "no name": (lambda: replace(PHOTO, id=""), ("picture", "0 characters")),
    "media": (lambda: replace(PHOTO, media="image/gif"), ('picture "side"', "image/gif", "image/png")),
    "sum": (lambda: replace(PHOTO, sha256="00"), ('picture "side"', "64")),
    "capital sum": (lambda: replace(PHOTO, sha256="A" * 64), ('picture "side"', "64")),
    "sum of numbers": (lambda: replace(PHOTO, sha256=7), ('picture "side"', "sha256 is 7")),
    "no data": (lambda: replace(PHOTO, data=""), ('picture "side"', "empty")),
    "too much": (lambda: replace(PHOTO, data="A" * (MOST_BYTES * 4 // 3 + 5)), ("8 MB",)),
    "hidden": (lambda: replace(PHOTO, hidden=0), ("hidden", "true or false")),
    "two rows": (lambda: place(matrix=((1, 0, 0), (0, 1, 0))), ("matrix", "three rows")),
    "short row": (lambda: place(matrix=((1, 0), (0, 1, 0), (0, 0, 1))), ("matrix, row 1", "three numbers")),
    "NaN": (lambda: place(matrix=((1, 0, 0), (0, float("nan"), 0), (0, 0, 1))), ("matrix, row 2", "finite")),
    "flat": (lambda: place(matrix=((1, 2, 3), (2, 4, 7), (0, 0, 1))), ("flattens",)),
    "zero": (lambda: place(matrix=((0, 0, 0),) * 3), ("flattens",)),
    "size": (lambda: place(size=(400,)), ("size", "width and height")),
    "size 0": (lambda: place(size=(400, 0)), ("size", "greater than 0")),
    "half a pixel": (lambda: place(size=(400, 1.5)), ("size", "whole")),
    "size 5000": (lambda: place(size=(5000, 1)), ("5000 × 1", "4096")),
    "fade": (lambda: place(fade=1.01), ("fade", "from 0 to 1")),
    "crop of three": (lambda: place(crop=(0, 0, 1)), ("crop", "left, top")),
    "crop of nothing": (lambda: place(crop=(5, 0, 5, 9)), ("crop", "nothing")),
    "crop beyond": (lambda: place(crop=(0, 0, 401, 9)), ("crop", "beyond")),
    "uncertain": (lambda: place(uncertain=-1), ("uncertain", "negative")),
    "pick": (lambda: Pick((0, 0), (1e6, 0)), ("pick", "x of at")),
    "length": (lambda: Length(((0, 0), (1, 1)), 0.0), ("length", "greater than 0")),
    "length of a point": (lambda: Length(((1, 1), (1, 1)), 5.0), ("length", "different")),
    "length of three": (lambda: Length(((1, 1), (1, 2), (1, 3)), 5.0), ("length", "pair")),
}


def place(**fields: Any) -> Place:  # noqa: ANN401
    return replace(PLACE, **fields)


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_picture_is_refused_in_one_sentence(name: str) -> None:
    build, words = REFUSED[name]
    with pytest.raises(ProjectError) as refused:
        build()
    sentence = str(refused.value)
    assert [word for word in words if word not in sentence] == [], sentence
    assert "\n" not in sentence


def test_the_photo_is_known_by_its_sum_and_not_compared_by_its_text() -> None:
    assert PHOTO.content == b"not looked at here"
    assert PHOTO.sha256 == sha256(b"not looked at here").hexdigest()
    assert replace(PHOTO, data="AAAA") == PHOTO
    assert replace(PHOTO, sha256="0" * 64) != PHOTO


@pytest.mark.parametrize(("data", "words"), [("AAAA", "damaged"), ("noise!", "no base64"), ("ä", "no base64")])
def test_noise_is_told(data: str, words: str) -> None:
    check_sum(PHOTO)
    with pytest.raises(ProjectError, match=words) as refused:
        check_sum(replace(PHOTO, data=data))
    assert 'picture "side"' in str(refused.value)


def test_a_photo_is_laid_upright_around_its_middle() -> None:
    assert through(PLACE.matrix, (0.0, 0.0)) == (-400.0, 200.0)
    assert through(PLACE.matrix, (400.0, 200.0)) == (400.0, -200.0)
    assert PLACE.shown_box == (0.0, 0.0, 400.0, 200.0)
    assert place(crop=[1, 2, 3, 4]).shown_box == (1.0, 2.0, 3.0, 4.0)
    assert (PLACE.is_true, place(matrix=LEANING).is_true) == (False, True)


@given(strategies.places(), st.tuples(strategies.numbers(0.0, 4096.0), strategies.numbers(0.0, 4096.0)))
def test_a_matrix_leads_there_and_back(made: Place, at: tuple[float, float]) -> None:
    back = through(inverse(made.matrix), through(made.matrix, at))
    # By how much the figures on the way exceed the pixel itself is lost of sixteen digits.
    size = max(1.0, max(map(abs, made.matrix[0] + made.matrix[1])) / made.matrix[0][0])
    assert np.allclose(back, at, rtol=0.0, atol=1e-9 * size)


def test_matrices_do_what_numpy_says() -> None:
    turned = similarity(2.0, pi / 6, about=(3.0, 4.0), shift=(10.0, 0.0))
    assert np.allclose(product(turned, LEANING), np.array(turned) @ np.array(LEANING), rtol=1e-14)
    assert np.allclose(inverse(LEANING), np.linalg.inv(np.array(LEANING)), rtol=1e-12)
    assert through(turned, (3.0, 4.0)) == pytest.approx((13.0, 4.0), abs=1e-12)
    assert np.hypot(*np.subtract(through(turned, (4.0, 4.0)), (13.0, 4.0))) == pytest.approx(2.0)


def test_a_point_on_the_horizon_has_no_place() -> None:
    with pytest.raises(ProjectError, match="horizon"):
        through(LEANING, (-1000.0, 0.0))


def test_arrays_are_taken() -> None:
    assert place(matrix=np.array(LEANING)).matrix == LEANING
    assert isinstance(PHOTO, Picture)

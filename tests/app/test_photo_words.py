"""What is told of a photo: in the builder's units, with what to do where it is unsure."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from app.photo_words import fit_words, laid_words, photo_words, reduced_words
from kinematics.perspective import lay_on, plane
from kinematics.pictures import laid, picture_of

PHOTO = picture_of("side", "body", "image/png", b"photo", laid((400, 200), (0.0, 0.0), 800.0))
CORNERS = [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)]


def test_a_photo_says_how_sure_it_is() -> None:
    assert photo_words(PHOTO, "mm") == (
        "400 × 200 pixels, not to scale yet: pick a known length, or the corners of a sheet."
    )
    sure = replace(PHOTO, place=replace(PHOTO.place, uncertain=1.6))
    assert photo_words(sure, "mm").endswith("may be off by ±1.6 mm where it is least sure, lens and depth not counted.")
    assert "to scale: 2 mm a pixel in the middle" in photo_words(sure, "mm")
    unsure = replace(PHOTO, place=replace(PHOTO.place, uncertain=25.4, matrix=((1, 0, 0), (0, -1, 0), (1e-4, 0, 1))))
    assert '±1" where' in photo_words(unsure, "in")
    assert "made true" in photo_words(unsure, "in")
    assert "Crop it" in photo_words(unsure, "in")


def test_a_fit_says_how_well_its_points_suit() -> None:
    four = plane(CORNERS, CORNERS)
    assert "Four points always suit" in fit_words(four, 1.25, "mm")
    assert "±1.2 mm" in fit_words(four, 1.25, "mm") or "±1.3 mm" in fit_words(four, 1.25, "mm")
    middle = [*CORNERS, (200.0, 150.0), (100.0, 100.0)]
    bad = plane(middle, [*middle[:4], (208.0, 156.0), middle[5]])
    words = fit_words(bad, 1.0, "mm")
    assert "by 6 points: the worst, point 5, is off by" in words


def test_common_points_say_how_well_they_suit() -> None:
    assert "two points, which always suit" in laid_words(lay_on(CORNERS[:2], CORNERS[:2]), "mm")
    moved = np.add(CORNERS, [(0, 0), (0, 0), (0, 8), (0, 0)])
    assert "the worst, point 3, is off by" in laid_words(lay_on(CORNERS, moved), "mm")


def test_a_reduced_photo_is_told() -> None:
    assert reduced_words((8000, 6000), (4096, 3072)) == (
        "The photo was reduced from 8000 × 6000 to 4096 × 3072 pixels (51 %)."
    )
    assert reduced_words((40, 30), (40, 30)) == ""

"""Photos made true: a rectangle comes out as it is, the photo stays where it lies, the error is over what is shown."""

from __future__ import annotations

from dataclasses import replace
from math import dist

import numpy as np
import pytest

from kinematics import beneath, truing
from kinematics.perspective import PlaneError, project
from kinematics.pictures import laid, picture_of, through
from kinematics.project import Link, Project, Travel
from tests.kinematics.test_perspective import BOX, NINE, camera, clicked

SIZE = (4000, 3000)
PHOTO = picture_of("side", "body", "image/png", b"photo", laid(SIZE, (0.0, 0.0), 2000.0))
PROJECT = Project(
    links=(Link("body", "fixed"), Link("lid", "panel")), travel=Travel("anticlockwise", 75.0), pictures=(PHOTO,)
)
VIEW = camera(4, 0.5, 0.4)
SHEET = np.array([(-300.0, -200.0), (300.0, -200.0), (300.0, 200.0), (-300.0, 200.0)])


def seen(points: np.ndarray) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in clicked(project(VIEW, points))]


def test_a_sheet_comes_out_as_large_as_it_is_where_it_lay() -> None:
    px = seen(SHEET)
    made = truing.true_by_rectangle(PROJECT, "side", px, (600.0, 400.0))
    place = made.project.picture("side").place
    corners = [through(place.matrix, at) for at in px]
    sides = [dist(corners[one], corners[(one + 1) % 4]) for one in range(4)]
    assert sides == pytest.approx([600.0, 400.0, 600.0, 400.0], abs=1e-6)
    before = np.mean([through(PHOTO.place.matrix, at) for at in px], axis=0)
    assert np.mean(corners, axis=0) == pytest.approx(before, abs=1e-6)
    assert place.is_true
    assert {pick.px for pick in place.picks} == set(px)
    # Far from the sheet it is much less sure than between its corners, and says so.
    assert place.uncertain is not None
    assert place.uncertain > 2 * made.between
    assert made.between < 0.6


def test_cropping_to_what_is_traced_makes_it_surer() -> None:
    made = truing.true_by_rectangle(PROJECT, "side", seen(SHEET), (600.0, 400.0)).project
    low, high = np.min(seen(SHEET), axis=0), np.max(seen(SHEET), axis=0)
    near = truing.crop(made, "side", (*low, *high))
    one, other = near.picture("side").place.uncertain, made.picture("side").place.uncertain
    assert one is not None
    assert other is not None
    assert one < other / 2
    again = truing.crop(near, "side", None)
    assert again.picture("side").place.uncertain == pytest.approx(other)
    unscaled = truing.crop(PROJECT, "side", (0.0, 0.0, 9.0, 9.0)).picture("side").place
    assert (unscaled.uncertain, unscaled.crop) == (None, (0.0, 0.0, 9.0, 9.0))


def test_the_stated_error_covers_what_is_traced_all_over_the_photo() -> None:
    inside = 0
    for seed in range(40):
        view = camera(seed, 0.5, 0.4)
        px = [(float(x), float(y)) for x, y in clicked(project(view, BOX))]
        made = truing.true_by_points(PROJECT, "side", px, [tuple(at) for at in BOX])
        place = made.project.picture("side").place
        spots = truing._spots(place)
        true = project(np.linalg.inv(view), spots)
        off = np.hypot(*(project(np.array(place.matrix), spots) - true).T).max()
        assert place.uncertain is not None
        inside += off <= place.uncertain
    assert inside >= 38


def test_a_second_photo_is_laid_on_the_first_by_common_points() -> None:
    first = truing.true_by_points(PROJECT, "side", seen(NINE), [tuple(at) for at in NINE]).project
    turned = replace(PHOTO, id="open", place=laid(SIZE, (50.0, -20.0), 1300.0))
    both = replace(first, pictures=(*first.pictures, turned))
    px = [(500.0, 500.0), (3000.0, 600.0), (1000.0, 2500.0)]
    wanted = [(x * 0.25, -y * 0.25) for x, y in px]
    wanted[2] = (wanted[2][0], wanted[2][1] + 2.0)
    done, found = truing.lay_by_points(both, "open", px, wanted)
    place = done.picture("open").place
    assert found.misfits.max() < 2.0
    assert dist(through(place.matrix, px[0]), wanted[0]) == pytest.approx(found.misfits[0], abs=1e-9)
    assert done.picture("side") is first.picture("side")
    with pytest.raises(PlaneError, match="1 common points"):
        truing.lay_by_points(both, "open", px[:1], wanted[:1])


def test_the_error_of_a_scaled_photo_grows_by_the_misfit() -> None:
    from kinematics import beneath

    scaled = beneath.scale_picture(PROJECT, "side", ((0.0, 0.0), (4000.0, 0.0)), 2000.0)
    before = scaled.picture("side").place
    px = [(0.0, 0.0), (4000.0, 0.0), (0.0, 3000.0)]
    at = [through(before.matrix, point) for point in px]
    moved = [(x + 10.0, y + (3.0 if place == 2 else 0.0)) for place, (x, y) in enumerate(at)]
    done, found = truing.lay_by_points(scaled, "side", px, moved, keep_scale=True)
    assert before.uncertain is not None
    off = float(np.sqrt(np.mean(found.misfits**2)))
    assert done.picture("side").place.uncertain == pytest.approx(before.uncertain + off)
    assert off > 0.5


def laid_with_misfit(whole: Project) -> tuple[Project, float]:
    """Lay the photo on places that three of its points fit badly; gives what they fit by too."""
    place = whole.picture("side").place
    px = [(500.0, 500.0), (3500.0, 500.0), (500.0, 2500.0)]
    at = [through(place.matrix, point) for point in px]
    done, found = truing.lay_by_points(whole, "side", px, [*at[:2], (at[2][0], at[2][1] + 30.0)], keep_scale=True)
    return done, float(np.sqrt(np.mean(found.misfits**2)))


@pytest.mark.parametrize("made_true", [True, False])
def test_no_crop_takes_the_misfit_of_common_points_away(made_true: bool) -> None:
    if made_true:
        whole = truing.true_by_rectangle(PROJECT, "side", seen(SHEET), (600.0, 400.0)).project
    else:
        whole = beneath.scale_picture(PROJECT, "side", ((0.0, 0.0), (4000.0, 0.0)), 2000.0)
    laid_on, off = laid_with_misfit(whole)
    assert off > 5.0
    box = (*np.min(seen(SHEET), axis=0), *np.max(seen(SHEET), axis=0))
    plain, cropped = (truing.crop(each, "side", box).picture("side").place for each in (whole, laid_on))
    assert plain.uncertain is not None
    assert cropped.uncertain == pytest.approx(plain.uncertain + off, rel=1e-6)
    again = truing.crop(truing.crop(laid_on, "side", box), "side", None).picture("side").place
    assert again.uncertain == pytest.approx(laid_on.picture("side").place.uncertain, rel=1e-6)


def test_a_line_traced_over_a_photo_that_was_laid_on_has_the_misfit_too() -> None:
    whole = truing.true_by_rectangle(PROJECT, "side", seen(SHEET), (600.0, 400.0)).project
    laid_on, off = laid_with_misfit(whole)
    before, after = (
        truing.traced_within(place, [through(place.matrix, at) for at in seen(SHEET * 0.9)])
        for place in (whole.picture("side").place, laid_on.picture("side").place)
    )
    assert before is not None
    assert after == pytest.approx(before + off, rel=1e-6)


def test_a_traced_line_is_told_by_where_it_lies() -> None:
    made = truing.true_by_rectangle(PROJECT, "side", seen(SHEET), (600.0, 400.0))
    place = made.project.picture("side").place
    on_sheet = [through(place.matrix, at) for at in seen(SHEET * 0.9)]
    beside = [through(place.matrix, at) for at in seen(SHEET * 2.0)]
    near, far = truing.traced_within(place, on_sheet), truing.traced_within(place, beside)
    assert near is not None
    assert far is not None
    assert place.uncertain is not None
    assert made.between * 0.5 < near < far <= place.uncertain + 1e-9
    # What the hand misses counts where it is more than the photo's own pixel.
    handed = truing.traced_within(place, on_sheet, 50.0)
    assert handed is not None
    assert 50.0 < handed < 50.0 + near


def test_a_line_beyond_the_photo_or_over_one_without_a_scale_is_not_told() -> None:
    made = truing.true_by_rectangle(PROJECT, "side", seen(SHEET), (600.0, 400.0)).project
    low, high = np.min(seen(SHEET), axis=0), np.max(seen(SHEET), axis=0)
    cropped = truing.crop(made, "side", (*low, *high)).picture("side").place
    beside = [through(cropped.matrix, at) for at in seen(SHEET * 2.0)]
    assert truing.traced_within(cropped, beside) is None
    assert truing.traced_within(PHOTO.place, [(0.0, 0.0), (10.0, 0.0)]) is None
    scaled = beneath.scale_picture(PROJECT, "side", ((0.0, 0.0), (4000.0, 0.0)), 2000.0).picture("side").place
    assert scaled.uncertain is not None
    assert truing.traced_within(scaled, [(0.0, 0.0)], 2.0) == pytest.approx(scaled.uncertain + 2.0)

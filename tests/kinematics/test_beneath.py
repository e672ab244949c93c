"""Edits of the photos beneath the board: a known length comes out right, what was picked goes along."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kinematics import beneath, edits
from kinematics.errors import ProjectError
from kinematics.pictures import Length, Pick, laid, picture_of, through
from kinematics.project import Link, Project, Travel

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.values import Point

PHOTO = picture_of("side", "body", "image/png", b"photo", laid((400, 200), (0.0, 0.0), 800.0))
PROJECT = Project(
    links=(Link("body", "fixed"), Link("lid", "panel"), Link("arm")),
    travel=Travel("anticlockwise", 75.0),
    pictures=(PHOTO, {"id": "noise"}),
)
LEANING = ((0.5, 0.1, -100.0), (0.05, -0.5, 50.0), (1e-4, 2e-4, 1.0))
px = st.tuples(st.floats(0.0, 400.0), st.floats(0.0, 200.0))

EDITS: dict[str, Callable[[Project], Project]] = {
    "rename": lambda p: beneath.rename_picture(p, "side", "left"),
    "ride": lambda p: beneath.ride_picture(p, "side", "lid"),
    "hide": lambda p: beneath.hide_picture(p, "side"),
    "fade": lambda p: beneath.fade_picture(p, "side", 0.25),
    "crop": lambda p: beneath.crop_picture(p, "side", (0.0, 0.0, 10.0, 10.0)),
    "move": lambda p: beneath.move_picture(p, "side", (1.0, 2.0)),
    "turn": lambda p: beneath.turn_picture(p, "side", 0.1, (0.0, 0.0)),
    "scale": lambda p: beneath.scale_picture(p, "side", ((0.0, 0.0), (9.0, 9.0)), 5.0),
    "level": lambda p: beneath.level_picture(p, "side", ((0.0, 0.0), (9.0, 9.0))),
    "true": lambda p: beneath.make_true(p, "side", LEANING, [], 0.3),
}


@pytest.mark.parametrize("name", EDITS)
def test_an_edit_changes_one_picture_and_shares_all_else(name: str) -> None:
    after = EDITS[name](PROJECT)
    assert after.pictures != PROJECT.pictures
    assert after.photos[0].data is PHOTO.data
    assert after.pictures[1] is PROJECT.pictures[1]
    assert replace(after, pictures=PROJECT.pictures) == PROJECT
    if name not in ("turn", "scale", "move", "level"):  # done twice they are the same, the others go on
        again = EDITS[name](beneath.rename_picture(after, "left", "side") if name == "rename" else after)
        assert again is after or name == "rename"


def test_pictures_come_and_go() -> None:
    two = beneath.add_picture(PROJECT, replace(PHOTO, id="open"))
    assert [each.id for each in two.photos] == ["side", "open"]
    assert beneath.remove_picture(two, "open").pictures == PROJECT.pictures
    assert beneath.drop_carried(two).pictures == two.photos
    assert beneath.drop_carried(beneath.drop_carried(two)) == beneath.drop_carried(two)
    assert beneath.free_picture_id(two, "side") == "side 2"
    assert beneath.free_picture_id(two, "noise") == "noise 2"
    with pytest.raises(ProjectError, match='no picture "noise"'):
        beneath.remove_picture(two, "noise")
    with pytest.raises(ProjectError, match="twice"):
        beneath.add_picture(PROJECT, PHOTO)
    with pytest.raises(ProjectError, match="nobody defines"):
        beneath.ride_picture(PROJECT, "side", "nobody")


def test_a_picture_follows_its_link() -> None:
    on_arm = beneath.ride_picture(PROJECT, "side", "arm")
    assert edits.rename_link(on_arm, "arm", "rocker").photos[0].on == "rocker"
    gone = edits.remove_link(on_arm, "arm")
    assert gone.pictures == ({"id": "noise"},)
    assert edits.rename_link(PROJECT, "arm", "rocker").pictures is PROJECT.pictures


def test_nothing_changed_gives_the_project_itself() -> None:
    assert beneath.fade_picture(PROJECT, "side", PHOTO.place.fade) is PROJECT
    assert beneath.move_picture(PROJECT, "side", (0.0, 0.0)) is PROJECT
    assert beneath.rename_picture(PROJECT, "side", "side") is PROJECT


@given(px, px, st.floats(1.0, 1e4), st.booleans())
def test_a_known_length_comes_out_right(start: Point, end: Point, length: float, lean: bool) -> None:
    assume(hypot(end[0] - start[0], end[1] - start[1]) > 1.0)
    before = beneath.make_true(PROJECT, "side", LEANING, [], None) if lean else PROJECT
    after = beneath.scale_picture(before, "side", (start, end), length).photos[0].place
    ends = [through(after.matrix, at) for at in (start, end)]
    assert hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]) == pytest.approx(length, rel=1e-9)
    assert ends[0] == pytest.approx(through(before.photos[0].place.matrix, start), abs=1e-6)
    assert after.lengths == (Length((start, end), length),)


@given(px, px, st.booleans())
def test_a_line_is_made_level_or_plumb(start: Point, end: Point, upright: bool) -> None:
    assume(hypot(end[0] - start[0], end[1] - start[1]) > 1.0)
    after = beneath.level_picture(PROJECT, "side", (start, end), upright).photos[0].place.matrix
    (x0, y0), (x1, y1) = through(after, start), through(after, end)
    off, along = (x1 - x0, y1 - y0) if upright else (y1 - y0, x1 - x0)
    assert abs(off) < 1e-9 * abs(along)
    # By the smaller way: the photo never comes to stand on its head.
    top, bottom = through(after, (200.0, 0.0)), through(after, (200.0, 200.0))
    assert top[1] - bottom[1] > -1e-6


def test_what_it_was_made_from_goes_along() -> None:
    picks = [Pick((0.0, 0.0), (10.0, 0.0)), Pick((400.0, 0.0), (310.0, 0.0))]
    true = beneath.make_true(PROJECT, "side", LEANING, picks, 0.4)
    turned = beneath.turn_picture(true, "side", pi / 2, (10.0, 0.0)).photos[0].place
    assert [pick.px for pick in turned.picks] == [(0.0, 0.0), (400.0, 0.0)]
    assert turned.picks[1].at == pytest.approx((10.0, 300.0))
    assert turned.uncertain == 0.4
    moved = beneath.move_picture(true, "side", (5.0, -5.0)).photos[0].place
    assert [pick.at for pick in moved.picks] == [(15.0, -5.0), (315.0, -5.0)]
    for px_at in ((0.0, 0.0), (123.0, 45.0)):
        x, y = through(LEANING, px_at)
        assert through(moved.matrix, px_at) == pytest.approx((x + 5.0, y - 5.0))


def test_a_short_length_makes_the_photo_less_sure() -> None:
    far = beneath.scale_picture(PROJECT, "side", ((0.0, 0.0), (400.0, 0.0)), 800.0).photos[0].place
    near = beneath.scale_picture(PROJECT, "side", ((0.0, 0.0), (40.0, 0.0)), 80.0).photos[0].place
    assert far.uncertain == pytest.approx(2.0 * (hypot(400, 200) / 400 + 0.5))
    assert near.uncertain == pytest.approx(2.0 * (hypot(400, 200) / 40 + 0.5))
    assert beneath.scale_uncertain(PHOTO.place) is None


@pytest.mark.parametrize("edit", [beneath.level_picture, lambda p, id, at: beneath.scale_picture(p, id, at, 5.0)])
def test_two_points_that_are_one_are_told(edit: Callable[..., Project]) -> None:
    with pytest.raises(ProjectError, match="two points are the same"):
        edit(PROJECT, "side", ((7.0, 7.0), (7.0, 7.0)))


def test_a_distance_of_nothing_is_told() -> None:
    with pytest.raises(ProjectError, match="greater than 0"):
        beneath.scale_picture(PROJECT, "side", ((0.0, 0.0), (9.0, 9.0)), 0.0)

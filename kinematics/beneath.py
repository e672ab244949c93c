"""Edits of the photos beneath the board: lay one, scale it, level it, make it true, move it, fade, crop, take it off.

Moving, turning and scaling work on mm, after the photo's own matrix, so a photo whose perspective was undone stays
true. What the place was made from goes along: picked points keep their pixels and get their new mm, known lengths grow
with the scale. As in `kinematics.edits`, what isn't touched is shared, and an edit that changes nothing gives back the
project itself.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, hypot, pi, remainder
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.pictures import CLICK_PX, Length, Pick, Picture, Place, product, similarity, through
from kinematics.values import positive

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.pictures import Crop, Matrix
    from kinematics.project import Project
    from kinematics.values import Point


def add_picture(project: Project, picture: Picture) -> Project:
    """Lay a photo beneath the board, over those that are there."""
    return replace(project, pictures=(*project.pictures, picture))


def remove_picture(project: Project, id: str) -> Project:
    """Take a photo away; what was traced from it stays."""
    gone = project.picture(id)
    return replace(project, pictures=tuple(each for each in project.pictures if each is not gone))


def drop_carried(project: Project) -> Project:
    """Take out the entries of a file that are no pictures."""
    photos = project.photos
    return project if len(photos) == len(project.pictures) else replace(project, pictures=photos)


def rename_picture(project: Project, id: str, new_id: str) -> Project:
    """Give a photo another name."""
    return _changed(project, project.picture(id), replace(project.picture(id), id=new_id))


def ride_picture(project: Project, id: str, on: str) -> Project:
    """Let a photo ride on another link."""
    return _with(project, id, on=on)


def hide_picture(project: Project, id: str, hidden: bool = True) -> Project:
    """Leave a photo out of the picture, or show it again."""
    return _with(project, id, hidden=hidden)


def fade_picture(project: Project, id: str, fade: float) -> Project:
    """Fade a photo: 0 shows it as it is, 1 not at all."""
    return _placed(project, id, fade=fade)


def crop_picture(project: Project, id: str, crop: Crop | None) -> Project:
    """Show a part of a photo: left, top, right, bottom in pixels; None shows all again. The rest is kept."""
    return _placed(project, id, crop=crop)


def move_picture(project: Project, id: str, shift: Point) -> Project:
    """Shift a photo by so many mm."""
    return _done(project, id, similarity(1.0, 0.0, shift=shift))


def turn_picture(project: Project, id: str, turn_rad: float, about: Point) -> Project:
    """Turn a photo about a point (mm), anticlockwise."""
    return _done(project, id, similarity(1.0, turn_rad, about))


def scale_picture(
    project: Project, id: str, px: tuple[Point, Point], length: float, miss_px: float = CLICK_PX
) -> Project:
    """Scale a photo so that two of its points (pixels) are so many mm apart; the first stays where it is.

    How far a traced point may be off is then what two clicks to the pixel cost over the photo's shown part.
    """
    picture = project.picture(id)
    place, length = picture.place, positive(length, "scale", "the distance")
    start, end = (through(place.matrix, point) for point in px)
    drawn = hypot(end[0] - start[0], end[1] - start[1])
    if drawn == 0:
        raise ProjectError("the two points are the same", "scale", "Pick two that lie far from each other.")
    scaled = moved(place, similarity(length / drawn, 0.0, start), length / drawn)
    known = replace(scaled, lengths=(Length(px, length),), miss_px=miss_px)
    return _with(project, id, place=replace(known, uncertain=scale_uncertain(known)))


def scale_uncertain(place: Place) -> float | None:
    """How far (mm) a point may be off that is traced from a photo scaled by two points; None without a length.

    Each end of the length may be off along it by what a click misses, and so the length by twice that; over the
    diagonal of what is shown that grows in proportion. The traced point adds its own miss.
    """
    if not place.lengths:
        return None
    known = place.lengths[-1]
    (x0, y0), (x1, y1) = known.px
    left, top, right, bottom = place.shown_box
    span_px = hypot(x1 - x0, y1 - y0)
    per_px = known.length / span_px
    return per_px * place.miss_px * (2 * hypot(right - left, bottom - top) / span_px + 1)


def level_picture(project: Project, id: str, px: tuple[Point, Point], upright: bool = False) -> Project:
    """Turn a photo so that the line through two of its points (pixels) lies level, or with `upright` stands plumb.

    It turns by the smaller way (at most a quarter), about the first point.
    """
    start, end = (through(project.picture(id).place.matrix, point) for point in px)
    if start == end:
        raise ProjectError("the two points are the same", "level", "Pick two that lie far from each other.")
    aim = pi / 2 if upright else 0.0
    return turn_picture(project, id, remainder(aim - atan2(end[1] - start[1], end[0] - start[0]), pi), start)


def set_place(project: Project, id: str, place: Place) -> Project:
    """Give a photo another place (`kinematics.truing` makes them of picked points)."""
    return _with(project, id, place=place)


def make_true(project: Project, id: str, matrix: Matrix, picks: Iterable[Pick], uncertain: float | None) -> Project:
    """Give a photo the matrix that was fitted to picked points (`kinematics.perspective`), with what it came from."""
    return _placed(project, id, matrix=matrix, picks=tuple(picks), lengths=(), uncertain=uncertain)


def moved(place: Place, by: Matrix, scale: float = 1.0) -> Place:
    """The place taken through a similarity of mm, with what it was made from."""
    return replace(
        place,
        matrix=product(by, place.matrix),
        picks=tuple(replace(pick, at=through(by, pick.at)) for pick in place.picks),
        lengths=tuple(replace(each, length=each.length * scale) for each in place.lengths),
        uncertain=None if place.uncertain is None else place.uncertain * scale,
    )


def free_picture_id(project: Project, stem: str) -> str:
    """Give a name that no picture has, shown or carried: the stem itself, else "stem 2", "stem 3", …"""
    taken = {each.id if isinstance(each, Picture) else each.get("id") for each in project.pictures}
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem} {number}", number + 1
    return name


def _done(project: Project, id: str, by: Matrix) -> Project:
    picture = project.picture(id)
    return _with(project, id, place=moved(picture.place, by))


def _placed(project: Project, id: str, **fields: Any) -> Project:  # noqa: ANN401  fields of a place
    picture = project.picture(id)
    return _with(project, id, place=replace(picture.place, **fields))


def _with(project: Project, id: str, **fields: Any) -> Project:  # noqa: ANN401  fields of a picture
    return _changed(project, project.picture(id), replace(project.picture(id), **fields))


def _changed(project: Project, old: Picture, new: Picture) -> Project:
    if new == old:
        return project
    return replace(project, pictures=tuple(new if each is old else each for each in project.pictures))

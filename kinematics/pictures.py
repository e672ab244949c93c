"""Pictures: photos that lie beneath the board, to be traced over.

A picture rides on a link, as an outline does. Its *place* says where each of its points lies: a projective 3 × 3
matrix takes *pixels* (x to the right, y down, from the upper left corner of the photo; the first pixel's middle is 0.5,
0.5) to mm (shut coordinates, y up): (x, y) goes to (X/W, Y/W) with (X, Y, W) = matrix · (x, y, 1). A photo that is only
scaled, turned and shifted has 0, 0, 1 in the last row; one whose perspective is undone has not.

What the place was made from stays with it, so that it can be mended later: *picks* are points of the photo whose place
is known, *lengths* are distances known between two points of the photo. `uncertain` says by how much (mm) a point
traced from the photo may be off: what picking to the pixel costs, over the part of the photo that is used. Lens and
depth are not in it.

The photo itself is kept as its file has it, base64 text, and known by its sha256 sum: two pictures are equal when their
sums are, so that comparing projects never reads the text. Whether text and sum belong together is looked at when a file
is read (`check_sum`), not at each edit. An entry of a file that is no sound picture is carried along as it came, shown
by nobody and lost by nobody.
"""

from __future__ import annotations

import binascii
from dataclasses import dataclass, field
from hashlib import sha256 as sha256_sum
from math import cos, dist, isclose, sin
from typing import TYPE_CHECKING, Any

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.values import Point

Row = tuple[float, float, float]
Matrix = tuple[Row, Row, Row]
Crop = tuple[float, float, float, float]

MEDIA = ("image/jpeg", "image/png")
HEX = frozenset("0123456789abcdef")
MOST_PX = 4096
"""Longest side of a kept photo, pixels."""
MOST_BYTES = 8_000_000
"""Largest kept photo, as a file."""
USUAL_FADE = 0.5
CLICK_PX = 0.5
"""A click to the pixel misses by up to this much, in x and in y."""


@dataclass(frozen=True, slots=True)
class Pick:
    """A point of the photo whose place is known. px : pixels.     at : mm, shut."""

    px: Point
    at: Point
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        put(self, px=values.point(self.px, "pick", "px"), at=values.point(self.at, "pick", "at"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Length:
    """A distance known between two points of the photo. px : the two, pixels.     length : mm, > 0."""

    px: tuple[Point, Point]
    length: float
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        ends = values.points(self.px, "length", "px", least=2)
        if len(ends) != 2 or ends[0] == ends[1]:
            raise ProjectError("px is no pair of two different points", "length")
        put(self, px=ends, length=values.positive(self.length, "length", "length"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a photo lies and how it is shown.

    matrix : 3 × 3, pixels to mm; its scale as a whole means nothing.     size : width and height, pixels.
    fade : 0 shows the photo as it is, 1 not at all.     crop : left, top, right, bottom of what is shown, pixels; None
    shows all.     picks, lengths : what the matrix was made from.     miss_px : by how much their clicks may miss,
    pixels of the photo.     uncertain : mm, None where nobody knows.
    """

    matrix: Matrix
    size: tuple[int, int]
    fade: float = USUAL_FADE
    crop: Crop | None = None
    picks: tuple[Pick, ...] = ()
    lengths: tuple[Length, ...] = ()
    uncertain: float | None = None
    miss_px: float = CLICK_PX
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        put(self, matrix=_matrix(self.matrix), size=_size(self.size), picks=tuple(self.picks))
        put(self, lengths=tuple(self.lengths), fade=values.not_negative(self.fade, "place", "fade"))
        if self.fade > 1:
            raise ProjectError(f"fade is {self.fade:g}, but goes from 0 to 1", "place")
        if self.crop is not None:
            put(self, crop=_crop(self.crop, self.size))
        if self.uncertain is not None:
            put(self, uncertain=values.not_negative(self.uncertain, "place", "uncertain"))
        put(self, miss_px=values.not_negative(self.miss_px, "place", "miss_px"))
        keep(self)

    @property
    def shown_box(self) -> Crop:
        """Left, top, right, bottom of what is shown, pixels."""
        return self.crop or (0.0, 0.0, float(self.size[0]), float(self.size[1]))

    @property
    def is_true(self) -> bool:
        """Whether a perspective was undone: without it, the last row is 0, 0, w."""
        return any(self.matrix[2][:2])


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo beneath the board.

    on : the link that it rides on.     media : "image/jpeg" or "image/png".     sha256 : the sum of the photo's bytes,
    64 hexadecimal digits.     data : those bytes in base64.     hidden : not drawn.
    """

    id: str
    on: str
    media: str
    sha256: str
    data: str = field(compare=False, repr=False)
    place: Place
    hidden: bool = False
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        where = f"picture {shown(self.id)}"
        values.identifier(self.id, where)
        values.identifier(self.on, where, "on")
        values.one_of(self.media, where, "media", MEDIA)
        values.text(self.sha256, where, "sha256")
        if len(self.sha256) != 64 or not HEX.issuperset(self.sha256):
            raise ProjectError(f"sha256 is {shown(self.sha256)}, where 64 of 0…9, a…f are expected", where)
        if not values.text(self.data, where, "data"):
            raise ProjectError("data is empty, where the photo in base64 is expected", where)
        if len(self.data) > MOST_BYTES * 4 // 3 + 4:
            raise ProjectError(f"the photo has more than the {MOST_BYTES / 1e6:.0f} MB that are kept", where)
        values.flag(self.hidden, where, "hidden")
        keep(self)

    @property
    def content(self) -> bytes:
        """The photo's bytes; ProjectError when `data` is no base64."""
        return _decoded(self.data, f"picture {shown(self.id)}")


def picture_of(id: str, on: str, media: str, content: bytes, place: Place) -> Picture:
    """Make a picture of a photo's bytes."""
    data = binascii.b2a_base64(content, newline=False).decode("ascii")
    return Picture(id, on, media, sha256_sum(content).hexdigest(), data, place)


def check_sum(picture: Picture) -> None:
    """Make sure that a picture's text is base64 and has its sum; ProjectError says that it was damaged."""
    if _right.get(picture.sha256) == picture.data:
        return
    if sha256_sum(picture.content).hexdigest() != picture.sha256:
        what = "its sha256 is not the sum of its data, so the photo was damaged or changed"
        raise ProjectError(what, f"picture {shown(picture.id)}", "Open the photo's own file again.")
    _right[picture.sha256] = picture.data
    for oldest in list(_right)[:-MOST_RIGHT]:
        _right.pop(oldest, None)


MOST_RIGHT = 3
_right: dict[str, str] = {}
"""Of the photos looked at last, sum and text: what is saved is read back, and comparing is quicker than summing."""


def _decoded(data: str, where: str) -> bytes:
    try:
        return binascii.a2b_base64(data, strict_mode=True)
    except ValueError:  # no base64, or no ASCII
        raise ProjectError("data is no base64, so the photo can't be read", where) from None


# ------------------------------------------------------------------------------------------------- matrices and points
LEAST_DEPTH = 0.08
"""Nearer to the horizon than this share of the middle's depth, a photo shows nothing of use."""


def middle_depth(place: Place) -> float:
    """The third number of the matrix's product, in the middle of the picks, or of what is shown."""
    left, top, right, bottom = place.shown_box
    spots = [pick.px for pick in place.picks] or [(left, top), (right, bottom)]
    row = place.matrix[2]
    return sum(row[0] * x + row[1] * y + row[2] for x, y in spots) / len(spots)


def ahead(place: Place) -> list[Point]:
    """The corners (pixels) of what can be drawn: what is shown of the photo, less what lies at the horizon or behind.

    The depth is 0 on the horizon and falls evenly towards it.
    """
    left, top, right, bottom = place.shown_box
    box = [(left, top), (right, top), (right, bottom), (left, bottom)]
    row, middle = place.matrix[2], middle_depth(place)

    def above(at: Point) -> float:
        return (row[0] * at[0] + row[1] * at[1] + row[2]) / middle - LEAST_DEPTH

    found: list[Point] = []
    for one, other in zip(box, [*box[1:], box[0]], strict=True):
        here, there = above(one), above(other)
        if here >= 0:
            found.append(one)
        if here * there < 0:
            share = here / (here - there)
            found.append((one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])))
    return found


def laid(size: tuple[int, int], middle: Point, width: float) -> Place:
    """Place a photo upright with its middle at a point (mm) and so many mm wide; a first guess, to be scaled."""
    scale = width / size[0]
    x, y = middle[0] - width / 2, middle[1] + scale * size[1] / 2
    return Place(((scale, 0.0, x), (0.0, -scale, y), (0.0, 0.0, 1.0)), size)


def through(matrix: Matrix, at: Point) -> Point:
    """Take a point through a matrix; ProjectError where it lies on the horizon, which has no place."""
    x, y, w = (row[0] * at[0] + row[1] * at[1] + row[2] for row in matrix)
    if abs(w) <= 1e-12 * max(abs(x), abs(y), 1e-300):
        raise ProjectError("this point lies on the photo's horizon", remedy="Take one nearer to the rectangle.")
    return x / w, y / w


def pixel_size(place: Place) -> float | None:
    """The width of a pixel in the photo's middle, whatever is shown of it, mm; None where that lies on the horizon."""
    x, y = place.size[0] / 2, place.size[1] / 2
    try:
        return dist(through(place.matrix, (x - 0.5, y)), through(place.matrix, (x + 0.5, y)))
    except ProjectError:
        return None


def shows(place: Place, at: Point) -> bool:
    """Whether a point (mm) lies on what is shown of a photo."""
    left, top, right, bottom = place.shown_box
    try:
        x, y = through(inverse(place.matrix), at)
    except ProjectError:  # beyond the horizon
        return False
    return left <= x <= right and top <= y <= bottom


def product(left: Matrix, right: Matrix) -> Matrix:
    """The matrix that does `right` first, then `left`."""
    columns = tuple(zip(*right, strict=True))
    rows = (tuple(sum(a * b for a, b in zip(row, column, strict=True)) for column in columns) for row in left)
    first, second, third = rows
    return (_row(first), _row(second), _row(third))


def inverse(matrix: Matrix) -> Matrix:
    """The matrix that leads back, mm to pixels."""
    (a, b, c), (d, e, f), (g, h, i) = matrix
    adjugate = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    determinant = a * adjugate[0][0] + b * adjugate[1][0] + c * adjugate[2][0]
    if determinant == 0:
        raise ProjectError("the matrix flattens the photo to a line", "place")
    first, second, third = (tuple(value / determinant for value in row) for row in adjugate)
    return (_row(first), _row(second), _row(third))


def similarity(scale: float, turn_rad: float, about: Point = (0.0, 0.0), shift: Point = (0.0, 0.0)) -> Matrix:
    """The matrix that scales and turns (anticlockwise) about a point, then shifts; mm to mm."""
    c, s = scale * cos(turn_rad), scale * sin(turn_rad)
    x, y = about
    return ((c, -s, x + shift[0] - c * x + s * y), (s, c, y + shift[1] - s * x - c * y), (0.0, 0.0, 1.0))


def _row(row: Any) -> Row:  # noqa: ANN401  three numbers
    x, y, w = row
    return (x, y, w)


def _matrix(value: object) -> Matrix:
    """Check a matrix: three rows of three finite numbers that don't flatten the photo."""
    rows = value.tolist() if hasattr(value, "tolist") else value
    if not isinstance(rows, (list, tuple)) or len(rows) != 3:
        raise ProjectError(f"matrix is {shown(value)}, where three rows of three numbers are expected", "place")
    made = []
    for number, row in enumerate(rows, 1):
        if not isinstance(row, (list, tuple)) or len(row) != 3:
            raise ProjectError(f"matrix, row {number} is {shown(row)}, where three numbers are expected", "place")
        made.append(_row(tuple(values.number(each, "place", f"matrix, row {number}") for each in row)))
    matrix = (made[0], made[1], made[2])
    if _is_flat(matrix):
        raise ProjectError("matrix flattens the photo to a line", "place", "Scale the photo anew.")
    return matrix


def _is_flat(matrix: Matrix) -> bool:
    """Tell whether three rows are linearly dependent, measured against their own lengths."""
    (a, b, c), (d, e, f), (g, h, i) = matrix
    parts = (a * e * i, b * f * g, c * d * h, -c * e * g, -a * f * h, -b * d * i)
    return isclose(sum(parts), 0.0, abs_tol=1e-12 * max(map(abs, parts)) + 1e-300)


def _size(value: object) -> tuple[int, int]:
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise ProjectError(f"size is {shown(value)}, where width and height in pixels are expected", "place")
    size = values.count(value[0], "place", "size"), values.count(value[1], "place", "size")
    if max(size) > MOST_PX:
        raise ProjectError(f"size is {size[0]} × {size[1]}, beyond the {MOST_PX} pixels of a kept photo", "place")
    return size


def _crop(value: object, size: tuple[int, int]) -> Crop:
    """Check a crop: four numbers, something is left within the photo."""
    if not isinstance(value, (list, tuple)) or len(value) != 4:
        raise ProjectError(f"crop is {shown(value)}, where left, top, right, bottom are expected", "place")
    left, top, right, bottom = (values.number(each, "place", "crop") for each in value)
    if not (0 <= left < right <= size[0] and 0 <= top < bottom <= size[1]):
        raise ProjectError("crop leaves nothing of the photo, or reaches beyond it", "place")
    return left, top, right, bottom

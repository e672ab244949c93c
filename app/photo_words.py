"""What is told of a photo beneath the board, in the builder's units."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from app.lengths import format_length, format_number
from kinematics.errors import HingewrightError
from kinematics.pictures import through

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.perspective import Fit, Laid
    from kinematics.pictures import Picture, Place

UNSURE = 3.0  # mm: more than builders like to see in a gap (common practice, no source)
SURER = " Crop it to what you trace; come near to click corners, and take ones that lie far apart."


def photo_words(picture: Picture, units: Units) -> str:
    """Say what is known of a photo: its pixels, its scale, how sure a traced point is."""
    place = picture.place
    pixels = f"{place.size[0]} × {place.size[1]} pixels"
    if place.uncertain is None:
        return f"{pixels}, not to scale yet: pick a known length, or the corners of a sheet."
    made = "made true" if place.is_true else "to scale"
    surer = SURER if place.uncertain > UNSURE else ""
    return (
        f"{pixels}, {made}: {_per_pixel(place, units)} a pixel in the middle. What is traced from it may be off by "
        f"±{format_length(place.uncertain, units)} where it is least sure, lens and depth not counted.{surer}"
    )


def _per_pixel(place: Place, units: Units) -> str:
    left, top, right, bottom = place.shown_box
    x, y = (left + right) / 2, (top + bottom) / 2
    try:
        here, beside = through(place.matrix, (x, y)), through(place.matrix, (x + 1.0, y))
    except HingewrightError:
        return "unknown"
    return format_length(hypot(beside[0] - here[0], beside[1] - here[1]), units, fine=True)


def fit_words(fit: Fit, sure_within: float, units: Units) -> str:
    """Say how well picked points suit the plane that was made of them."""
    sure = f"right to ±{format_length(sure_within, units)} between them, 49 times in 50, as far as clicks go"
    if len(fit.at) == 4:
        return f"Made true by four points: {sure}. Four points always suit; more would check them."
    worst = f"the worst, point {fit.worst + 1}, is off by {format_length(float(fit.misfits[fit.worst]), units)}"
    return f"Made true by {len(fit.at)} points: {worst}, all of them by {_rms(fit.left_over, units)}; {sure}."


def laid_words(laid: Laid, units: Units) -> str:
    """Say how well common points suit, once one photo lies on the other."""
    count = len(laid.misfits)
    if count == 2:
        return "Laid on by two points, which always suit; more would check them."
    worst = int(laid.misfits.argmax())
    off = format_length(float(laid.misfits[worst]), units)
    return f"Laid on by {count} points: the worst, point {worst + 1}, is off by {off}."


def _rms(mm: float, units: Units) -> str:
    return f"{format_length(mm, units)} (root mean square)"


def reduced_words(came: tuple[int, int], size: tuple[int, int]) -> str:
    """Say that a photo was made smaller; "" where it wasn't."""
    if came == size:
        return ""
    share = format_number(round(100 * size[0] / came[0]))
    return f"The photo was reduced from {came[0]} × {came[1]} to {size[0]} × {size[1]} pixels ({share} %)."

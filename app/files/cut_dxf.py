"""A part for the cutter as a DXF drawing: true arcs, closed contours, no line twice.

The layer `CUT` holds a closed polyline with bulges for each contour, or a circle where it is one; `MARK` the part's
name and its bend lines; nothing else is in the drawing. Coordinates are in the unit that the header names: mm
($INSUNITS 4, $MEASUREMENT 1) or inches (1 and 0). The release is that of 2000, which every cutter's program reads.
Source of names and codes: the public DXF reference.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from app.files.cut_parts import CUT, MARK, MM_PER, mark_of
from kinematics.cutting import is_round

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

    from kinematics.contours import Contour
    from kinematics.cutting import Part

INSUNITS = {"mm": 4, "in": 1}
MEASUREMENT = {"mm": 1, "in": 0}
RELEASE = "R2000"
CUT_COLOUR, MARK_COLOUR = 7, 5  # white or black as the sheet is, and blue


def cut_dxf(part: Part, units: str = "mm") -> bytes:
    """The drawing of one part.   units : "mm" or "in", of its coordinates.

    The same part gives the same bytes, without date or number of the drawing: files that differ are parts that differ.
    """
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]  # ezdxf exports it lazily
    dated = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        return _written(part, units)
    finally:
        options.write_fixed_meta_data_for_testing = dated


def _written(part: Part, units: str) -> bytes:
    import ezdxf

    document = ezdxf.new(RELEASE, units=INSUNITS[units])  # type: ignore[attr-defined]  # ezdxf exports it lazily
    document.header["$MEASUREMENT"] = MEASUREMENT[units]
    document.layers.remove("Defpoints")  # it comes with every new drawing
    document.layers.add(CUT, color=CUT_COLOUR)
    document.layers.add(MARK, color=MARK_COLOUR)
    space, per = document.modelspace(), MM_PER[units]
    _add_contour(space, part.outer, per)
    for hole in part.holes:
        _add_circle(space, hole.at, hole.diameter / 2.0, per)
    for cutout in part.cutouts:
        _add_contour(space, cutout, per)
    _add_marks(space, part, per)
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode(document.encoding, errors="dxfreplace")


def _add_contour(space: Modelspace, contour: Contour, per: float) -> None:
    if is_round(contour):
        one, other = contour.corners.tolist()
        _add_circle(space, (one + other) / 2.0, abs(one - other) / 2.0, per)
        return
    corners = contour.corners / per
    rows = list(zip(corners.real.tolist(), corners.imag.tolist(), contour.bulges.tolist(), strict=True))
    space.add_lwpolyline(rows, format="xyb", close=True, dxfattribs={"layer": CUT})


def _add_circle(space: Modelspace, at: complex, radius: float, per: float) -> None:
    space.add_circle((at.real / per, at.imag / per), radius / per, dxfattribs={"layer": CUT})


def _add_marks(space: Modelspace, part: Part, per: float) -> None:
    """The part's name, and a line for each bend."""
    from ezdxf.enums import TextEntityAlignment

    for start, end in part.bends:
        ends = ((start.real / per, start.imag / per), (end.real / per, end.imag / per))
        space.add_line(*ends, dxfattribs={"layer": MARK})
    mark = mark_of(part)
    text = space.add_text(_plain(mark.text), height=mark.height / per, dxfattribs={"layer": MARK})
    text.set_placement((mark.at.real / per, mark.at.imag / per), align=TextEntityAlignment.MIDDLE_CENTER)


def _plain(text: str) -> str:
    """The words without what a drawing's text takes for a sign of its own: `%%` and `^`."""
    return text.replace("%%", "%").replace("^", "-").replace("\\", "-")

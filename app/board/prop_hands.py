"""A prop put between two links by clicks: where it hangs, and its seat, with the panel as it stands. No widgets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board import marking
from app.board.gestures import placement_of
from app.board.guiding import Guide
from app.board.load_tools import attached, picked_end
from app.board.picking import picked
from app.lengths import format_angle
from kinematics import holding_edits

if TYPE_CHECKING:
    from collections.abc import Generator

    from app.board.gestures import Desk, Event
    from app.board.picking import Pick
    from app.shapes import Shape

HARDLY_OPEN = 1.0
"""Deg of opening below which the prop is for the wanted opening instead."""
SEAT = "Prop: now click its seat{}, with the panel as it stands. Esc leaves."
OPEN_FIRST = " (swing the panel first, if it is to hold elsewhere than at {})"


def put_prop(desk: Desk) -> Generator[None, Event, None]:
    """Put a prop; it is for the opening that is shown, or for the wanted one while the panel is as good as shut."""
    document = desk.document
    fixed = document.project.fixed.id
    hangs = yield from picked_end(
        desk, "Prop: click where it hangs, on paper for the body.", "the prop's first end", fixed
    )
    here = placement_of(document, hangs.on).carry(hangs.at)

    def show(second: Pick) -> list[Shape]:
        return marking.sketch_shapes((here, second.at), fixed, desk.look)

    wanted, shown = document.project.travel.wanted_deg, document.pose.deg
    is_open = shown >= HARDLY_OPEN
    at_deg = round(shown, 1) if is_open else wanted
    aside = "" if is_open else OPEN_FIRST.format(format_angle(wanted, document.units))
    place, _ = yield from picked(desk, SEAT.format(aside), Guide(desk, about=here), show)
    seat = yield from attached(desk, place, "the prop's seat", "")
    document.attempt("Put prop", lambda project: holding_edits.put_prop(project, hangs, seat, at_deg))

"""Remarks: what the builder must know about the linkage as a whole, in sentences."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from kinematics.devices import bounds
from kinematics.plate_shapes import plate_remarks
from kinematics.weighing import adrift
from kinematics.zoning import zone_remarks

if TYPE_CHECKING:
    from kinematics.devices import Stop
    from kinematics.project import Project
    from kinematics.sweep import Sweep


AT_SHUT = 1e-6
"""An opening (rad) no larger than this is none."""


def remarks(project: Project, sweep: Sweep) -> tuple[str, ...]:
    """Sentences on what is missing, locked, loose or hanging free; none where all is well."""
    return (
        *_on_the_panel(project, sweep),
        *_on_links(sweep),
        *_on_the_end(project, sweep),
        *_on_things(project),
        *zone_remarks(project),
        *adrift(project),
        *plate_remarks(project),
    )


def _on_the_panel(project: Project, sweep: Sweep) -> tuple[str, ...]:
    free, panel = sweep.freedom, f"“{project.panel.id}”"
    still = f" ({listed(free.still)} can't move)" if len(free.still) > 1 else ""
    said = {
        "moves": "",
        "slides": (
            f"At shut {panel} moves without turning, so it does not open. Its links can be dragged to see how it goes."
        ),
        "locked": f"{panel} is locked: its links leave it no way to move{still}. Take a pivot or a link away.",
        "loose": (
            f"{panel} is loose: at one opening it could stand in many places."
            " Add a link, or join two links by another pivot."
        ),
    }[free.state]
    if project.panel.id in free.unjoined:
        said = (
            f"Nothing joins {panel} to “{project.fixed.id}” yet:"
            " join them by pivots, over links between them or directly."
        )
    return (said,) if said else ()


def _on_links(sweep: Sweep) -> list[str]:
    free = sweep.freedom
    going = free.state in ("moves", "slides")
    found = []
    hanging = tuple(name for name in free.free if name not in free.unjoined)
    if going and len(hanging) == 1:
        found.append(
            f"{listed(hanging)} hangs free: the panel moves without it;"
            " it is drawn as if held to the link that it hangs on."
        )
    elif going and hanging:
        found.append(
            f"{listed(hanging)} hang free: the panel moves without them;"
            " they are drawn as if held to the links that they hang on."
        )
    stray = tuple(name for name in free.unjoined if name != sweep.closure.links[sweep.closure.panel])
    if stray:
        found.append(f"{listed(stray)} {'is' if len(stray) == 1 else 'are'} not joined to the rest.")
    if going and free.still:
        found.append(f"{listed(free.still)} can't move.")
    return found


def _on_the_end(project: Project, sweep: Sweep) -> list[str]:
    found = []
    if sweep.fork_openings:
        places = listed_numbers(tuple(math.degrees(opening) for opening in sweep.fork_openings))
        found.append(
            f"At {places} links come into line and the linkage could go on in another way: a real one may flip there."
            " Move a pin, or guide it past that place."
        )
    if sweep.stop is not None:
        found.append(_on_the_stop(project, sweep, sweep.stop))
    elif sweep.freedom.state == "moves" and sweep.reached <= AT_SHUT:
        found.append(
            f"“{sweep.closure.links[sweep.closure.panel]}” is at a dead point when shut: it can't turn further that"
            " way. Let it open the other way, or move a pin."
        )
    if sweep.given_up:
        found.append(
            f"Beyond {sweep.largest_deg:.1f}° the motion is too fine to be followed, though it may go on:"
            " are two pins of a link almost in one place?"
        )
    if sweep.branch.curve.redundant and sweep.freedom.state == "moves":
        found.append(
            "There are more links than the motion needs (twin arms):"
            " it moves only as long as their lengths agree exactly."
        )
    return found


def _on_the_stop(project: Project, sweep: Sweep, stop: Stop) -> str:
    """Say which strut stops the motion, and what to change."""
    strut = next(each for each in project.loads.devices if each.id == stop.device) if project.loads else None
    low, high = (0.0, 0.0) if strut is None else bounds(strut)
    name = f"the strut “{stop.device}”"
    if sweep.reached <= AT_SHUT and not low <= stop.shut <= high:
        off, how = (stop.shut - high, "too far apart") if stop.drawn_out else (low - stop.shut, "too near each other")
        return f"When shut {name} doesn't fit: its pins are {off:.2f} mm {how}. Move an end, or take another strut."
    how = "drawn out to its full length" if stop.drawn_out else "pushed in as far as it goes"
    return (
        f"At {sweep.reached_deg:.1f}° {name} is {how} and stops the motion:"
        " move an end of it, or take one of another stroke."
    )


def _on_things(project: Project) -> list[str]:
    """Things to keep clear of that nobody has drawn: nothing watches them yet."""
    if not project.keep_clear:
        return []
    drawn = {outline.id for outline in project.outlines}
    missing = tuple(name for name in project.keep_clear if name not in drawn)
    if not missing:
        return []
    verb, them = ("is", "it") if len(missing) == 1 else ("are", "them")
    return [f"{listed(missing)} {verb} to be kept clear of but not drawn yet, so nothing watches {them}."]


def listed_numbers(degrees: tuple[float, ...]) -> str:
    """Openings to a tenth of a degree, one after another."""
    return " and ".join(f"{deg:.1f}°" for deg in degrees)


def listed(names: tuple[str, ...]) -> str:
    """Names as a builder would list them: “A”, “B” and “C”."""
    quoted = [f"“{name}”" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}"

"""What a builder reads of a search for struts: what is asked, how it stands, what stands in the way, each find.

No Qt here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_angle, format_force, format_length, format_number, style_of
from app.struts.table import class_name
from app.words import check_name, check_want

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.lengths import Units
    from kinematics.results import Check
    from kinematics.struts.collecting import StrutCollector
    from kinematics.struts.results import Placement, StrutSize

LIFTING = ("push", "rests")
ORDER = {"shut": 0, "largest": 1, "": 2, "open": 3, "worst": 4}  # by side, as one thinks of them
WAYS = {
    "shut": "the push at the handle when shut",
    "largest": "the largest push at the handle",
    "rests": "that it doesn't rise by itself",
    "open": "that it stays open by itself",
    "worst": "that it stays open in the worst case",
}
"""Wants as they stand in the way."""
USUAL_TOLD = (
    "Nothing is wanted of lifting yet, so what is usual is looked for (common practice, no source). Say what you want "
    "in the drawer Lift."
)
CHECKED = "Kept off body and panel, coarsely; links and brackets aren't looked at."
CHECKED_WHOLLY = (
    "Checked: every want of lifting over the whole travel, that no strut comes to its end, and coarsely that its line "
    "keeps off what is drawn of body and panel, whatever the station. Not checked: links and other struts in its way, "
    "brackets, and what pins and brackets must bear."
)
CAUTION = (
    "⚠ A gas strut is under pressure: never open, heat or drill it. Cold, worn or let go it may drop or throw the "
    "panel: prop that while you fit or try one. The data of the strut's maker go first."
)
FEW = 0.02
"""Where less than this share of the pairs drawn has a size that fits, that is told."""


# ------------------------------------------------------------------------------------------------------ what is asked
def asked_words(checks: Iterable[Check], units: Units) -> list[str]:
    """Every want of lifting, a line each; checks : of an analysis that has them."""
    lifting = sorted(
        (each for each in checks if each.kind in LIFTING), key=lambda each: ORDER.get(each.side, len(ORDER))
    )
    return [f"{check_name(each, units)}: {check_want(each, units)}" for each in lifting]


def zone_words(link: str, drawn: bool) -> str:
    """Where ends on a link may be: "on hatch as drawn", "on hatch as usual"."""
    return f"on {link} as {'drawn' if drawn else 'usual'}"


def size_words(size: StrutSize) -> str:
    """Say a size as it is sold, which is in mm everywhere: "8/18, 150 mm stroke"."""
    return f"{class_name(size)}, {size.stroke:g} mm stroke"


def force_words(newtons: float, units: Units) -> str:
    """Say the force of a strut as it is printed on it, which is in N everywhere, and in the builder's units."""
    printed = format_force(newtons, "mm")
    return printed if style_of(units).units == "mm" else f"{printed} ({format_force(newtons, units)})"


# ------------------------------------------------------------------------------------------------------ how it stands
def progress_words(seconds: float, tried: int, good: int, units_done: int, running: bool) -> str:
    """How the search goes: "1 s: 210 000 placements tried, 190 000 a second; 5 meet every want"."""
    if not units_done:
        return "Starting…" if running else "Stopped before anything was tried."
    rate = f", {_grouped(round(tried / seconds))} a second" if seconds >= 0.5 else ""
    meet = {0: "none meets every want yet", 1: "1 meets every want"}.get(good, f"{good} meet every want")
    return f"{seconds:.0f} s: {_grouped(tried)} placements tried{rate}; {meet}"


def _grouped(number: int) -> str:
    return f"{number:,}".replace(",", " ")


def way_words(collector: StrutCollector, units: Units) -> str:
    """Why nothing meets every want yet, and how near it comes; "" where something does."""
    if not collector.units or any(each.ok for each in collector.kept):
        return ""
    if collector.fitting < FEW * 0.01 * collector.drawn or not collector.fitting:
        return "None of the sizes ticked fits between the two zones: tick others, or draw the zones nearer or wider."
    if collector.looked and collector.unclear == collector.looked:
        return "What would lift the panel lies in the way of what is drawn: draw the zones elsewhere."
    near = "" if not collector.kept else f" The nearest, below, {_misses(collector.kept[0], units)}."
    if not collector.in_the_way:
        return f"No placement meets more than some of the wants; two or more are always missed.{near}"
    name, count = collector.in_the_way.most_common(1)[0]
    share = 100.0 * count / max(collector.in_the_way.total(), 1)
    told = f"of the placements that miss one want alone, {share:.0f} % miss this one"
    return f"Most in the way is the want {_of(WAYS[name])}: {told}.{near}"


def _of(way: str) -> str:
    """A want behind its noun: "of the push …", "that it stays …"."""
    return way if way.startswith("that") else f"of {way}"


def _misses(placement: Placement, units: Units) -> str:
    """By how much a placement falls short, and of what."""
    if placement.margin < 0.0:
        by = format_force(-placement.margin, units, fine=placement.margin > -0.05)
        return f"misses the want {_of(WAYS[placement.way])} by {by}"
    names = " and ".join(check_name(each, units) for each in placement.short)
    return f"falls short of “{names}”" if names else "comes to its end within the travel"


# ---------------------------------------------------------------------------------------------------------- each find
def card_words(placement: Placement, units: Units) -> tuple[str, str, str]:
    """Give the lines of a card: what it is, how it lifts, where it goes."""
    size = placement.size
    title = f"{placement.count} × {size_words(size)}, {force_words(placement.force, units)}"
    if not placement.ok:
        title = f"✗ {title}"
    return title, _lifting(placement, units), _places(placement, units)


def _lifting(placement: Placement, units: Units) -> str:
    if not placement.ok:
        return f"{_misses(placement, units)}."[:1].upper() + f"{_misses(placement, units)}."[1:]
    efforts = placement.efforts
    said = [f"Shut {format_force(efforts[0], units)}, at most {format_force(max(efforts), units)}"]
    rises = next((deg for deg, push in zip(placement.openings, efforts, strict=True) if push < 0.0), None)
    rests = next((check.have for check in placement.checks if check.kind == "rests"), rises)
    if rises is not None and rests is not None:
        said.append(f"rises from {format_angle(rests, units)}")
    if efforts[-1] < 0.0:
        said.append(f"open, {format_force(-efforts[-1], units)} pull it down")
    worst = next((check.have for check in placement.checks if check.side == "worst"), None)
    if worst is not None:
        said.append(f"at worst {format_force(-worst, units)}" if worst <= 0.0 else "at worst it needs the prop")
    return "; ".join(said) + "."


def _places(placement: Placement, units: Units) -> str:
    size = placement.size
    span, room = (
        f"{short_length(low, units)} to {short_length(high, units)}"
        for low, high in ((placement.shortest, placement.longest), (size.extended - size.stroke, size.extended))
    )
    start, end = (
        f"{on} ({short_length(at[0], units)}, {short_length(at[1], units)})"
        for on, at in ((placement.from_on, placement.from_at), (placement.to_on, placement.to_at))
    )
    pins = "" if placement.pin is None else f"; pins to {format_force(placement.pin, units)}"
    return f"{start} to {end}{pins}; {span} of {room}{'' if style_of(units).units == 'in' else ' mm'}."


def short_length(mm: float, units: Units) -> str:
    """A length for a card: whole mm where it is one or nearly, else as lengths are told; no unit but inches' sign."""
    if style_of(units).units == "in":
        return format_length(mm, units)
    return (
        format_number(round(mm) + 0.0, units)
        if abs(mm) >= 100.0 or mm == round(mm)
        else format_length(mm, units, unit=False)
    )


def step_words(step: float) -> str:
    """Say in which steps forces come, N as struts are sold everywhere."""
    return f"every {step:g} N"

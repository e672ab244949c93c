"""What is bought for bracket, base and stop: bolts, nuts, washers, shims, and the bar that holds webs in line.

How long a bolt must be, the program can't tell: it doesn't know how thick skin and wall are. So a row says what is
known to lie beneath its head, and the builder adds his own. Where a slot lies beneath a head, a large washer bridges
it. Designations of metric parts are from memory: ISO 4017 (hexagon head screws, threaded to the head), ISO 7040 (nuts
that hold by themselves), ISO 7089 and ISO 7093-1 (washers, plain and large), ISO 2338 (parallel pins); of inch ones
ASME B18.2.1 and B18.21.1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.parts_list import HINGES, Bought, mm_words, spare
from kinematics.mounting import base_made, bracket_made

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.hardware import Hardware
    from kinematics.mounting import BaseMade, BracketMade
    from kinematics.project import Project
    from kinematics.threads import Thread

BAR_ENDS = 100.0
"""Mm by which the bar through both hinges is longer than they are apart."""


def mount_bought(project: Project, tables: Hardware) -> list[Bought]:
    """Everything that mounts want besides what is cut, of all hinges; nothing of what nobody said."""
    told, found = project.mounted, list[Bought]()
    hinges = HINGES if project.loads is None else project.loads.hinges
    bracket = None if told.bracket is None else bracket_made(project, told.bracket, tables)
    base = None if told.base is None else base_made(project, told.base, tables)
    if bracket is not None:
        found += _bracket(project.panel.id, bracket, hinges)
    if base is not None:
        found += _base(project.fixed.id, base, hinges)
        found += _bars(project, base)
    if told.stop_part is not None and project.loads is not None and project.loads.stop is not None:
        found += _stop(project, hinges)
    return found


def _bracket(link: str, made: BracketMade, hinges: int) -> Iterable[Bought]:
    """Bolts with nuts through flange, shims, doubler and skin."""
    part, count = made.part, len(made.bolts) * hinges
    known = part.thickness + part.shims_most + part.doubler
    yield _bolt(link, made.thread, f"{mm_words(known)} mm, the panel's skin, 2 washers and nut", count)
    yield _nut(link, made.thread, count)
    if part.fore_aft > 0.0:  # then slots lie beneath the heads
        yield _washer(link, made.thread, count, wide=True)
    yield _washer(link, made.thread, count if part.fore_aft > 0.0 else 2 * count, wide=False)
    yield from _shims(link, (made.foot[1] - made.foot[0], made.flange), (part.shims, part.shims_most), hinges)


def _base(link: str, made: BaseMade, hinges: int) -> Iterable[Bought]:
    """Bolts through base plate, shims and wall, into the backing plate or with nuts."""
    part, count = made.part, len(made.bolts) * hinges
    ends = f"{mm_words(part.backing)} mm in the backing plate" if part.backing else "2 washers and nut"
    known = part.plate + part.shims_most
    yield _bolt(link, made.thread, f"{mm_words(known)} mm, the wall, {ends}", count)
    if not part.backing:
        yield _nut(link, made.thread, count)
        yield _washer(link, made.thread, count, wide=False)
    yield _washer(link, made.thread, count, wide=part.up_down > 0.0)
    yield from _shims(link, (made.height, part.width), (part.shims, part.shims_most), hinges)


def _bolt(link: str, thread: Thread, through: str, count: int) -> Bought:
    name = f"ISO 4017 - {thread.name} - 8.8" if _is_metric(thread) else f"ASME B18.2.1 hex - {thread.name} - grade 5"
    return Bought("bolt", (link,), name, f"long enough for {through}", count, spare(count, 2))


def _nut(link: str, thread: Thread, count: int) -> Bought:
    name = f"ISO 7040 - {thread.name} - 8" if _is_metric(thread) else f"self-locking nut {thread.name}"
    return Bought("nut", (link,), name, "", count, spare(count, 2))


def _washer(link: str, thread: Thread, count: int, *, wide: bool) -> Bought:
    size = mm_words(thread.diameter)
    if _is_metric(thread):
        name = f"{'ISO 7093-1' if wide else 'ISO 7089'} - {size} - 200 HV"
    else:
        name = f"ASME B18.21.1 Type A {'wide' if wide else 'narrow'} - {thread.name.partition('-')[0]} in"
    return Bought("washer", (link,), name, "", count, spare(count, 2))


def _shims(link: str, size: tuple[float, float], thick: tuple[float, float], hinges: int) -> Iterable[Bought]:
    """Plates between the seat and what it lies on, with the same bolt holes."""
    drawn, most = thick
    if most > 0.0:
        high = f"{mm_words(drawn)} mm as drawn, up to {mm_words(most)} mm"
        words = f"{mm_words(size[0])} x {mm_words(size[1])} mm, {high}"
        yield Bought("shim plates", (link,), "sheet, cut with the holes of its plate", words, hinges, 0)


def _bars(project: Project, made: BaseMade) -> Iterable[Bought]:
    """One bar a pin through both hinges' webs, while they are tacked."""
    spacing = None if project.loads is None else project.loads.spacing
    long = f"{mm_words(spacing + BAR_ENDS)} mm long" if spacing is not None else "long enough for both hinges"
    for size in sorted({diameter for _, diameter in made.bars}):
        pins = tuple(pin for pin, diameter in made.bars if diameter == size)
        yield Bought("bar for tacking", pins, f"round bar {mm_words(size)}, straight", long, len(pins), 0)


def _stop(project: Project, hinges: int) -> Iterable[Bought]:
    part, loads = project.mounted.stop_part, project.loads
    if part is None or loads is None or loads.stop is None:
        return
    size, links = mm_words(part.diameter), loads.stop.between
    if part.kind == "pin":
        yield Bought("stop pin", links, f"ISO 2338 - {size} m6 - St", "through the plate and the block", hinges, 0)
        return
    yield Bought("stop screw", links, f"ISO 4017 - M{size} - 8.8", "through the block and its nut", hinges, 0)
    yield Bought("nut", links, f"ISO 4032 - M{size} - 8", "to lock the stop's screw", hinges, 0)


def _is_metric(thread: Thread) -> bool:
    return thread.name.startswith("M")

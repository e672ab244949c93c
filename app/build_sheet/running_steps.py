"""Steps with the panel moving: cycle, adjust, struts, stop, prop, latch, and the last look."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.build_sheet.step import PRACTICE, Drawing, Step, Table
from app.holding_words import prop_sentences, stop_sentences
from app.lengths import format_coordinate
from app.mount_words import adjuster_name, left_words, moved_words, rate_words
from app.mount_words import stop_sentences as stop_part_sentences
from app.quantities import RATE
from app.shut_words import shut_cautions, shut_sentences
from app.words import AIDS_TO_JUDGEMENT, gap_name, pinch_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.build_sheet.facts import Facts
    from kinematics.parts import Device

MOST_GAPS, MOST_PINCHES = 8, 6
CYCLES = 10
"""Openings before anything is trusted (common practice, no source)."""


def cycle(facts: Facts) -> Iterator[Step]:
    """Open it for the first time."""
    if not facts.moves:
        return
    analysis = facts.analysis
    rows = tuple(
        (gap_name(gap.between), facts.mm(gap.smallest), facts.deg(gap.at_deg))
        for gap in analysis.gaps[:MOST_GAPS]
        if gap.smallest is not None
    )
    reached = analysis.opening.reached_deg
    loads = facts.project.loads
    bare = ", without struts or springs" if loads is not None and loads.devices else ""
    does: list[str | Table] = [
        f"Open it by hand, slowly, to {facts.deg(reached)} and back{bare}. Stop at the least rub and look."
    ]
    if rows:
        does += ["Feel the gaps with a strip of card where they are least:", Table(("between", "least", "at"), rows)]
    does += _push(facts)
    cautions = ["Panel overhead: one lifts, one watches the hinges, a prop stands ready. Never under it alone."]
    if facts.pinches:
        told = "; ".join(
            f"{gap_name(each.between)} {pinch_words(each, facts.units)}" for each in facts.pinches[:MOST_PINCHES]
        )
        cautions.append(f"Pinch places, where a finger fits and is then crushed (EN ISO 13854): {told}.")
    yield Step(
        "cycle",
        "Cycle it",
        ("a second person", "prop", "card, feeler gauges", "chalk"),
        tuple(does),
        (
            f"It opens to {facts.deg(reached)} and comes back, {CYCLES} times, without a rub or a click ({PRACTICE}).",
            "The gaps are no less than listed.",
            "Left and right move alike: the front edge stays level.",
        ),
        tuple(cautions),
        (
            Drawing("near", f"{0.5 * reached}", "Half open.", tall=60.0),
            Drawing("near", f"{reached}", "Open.", tall=64.0),
        ),
    )


def _push(facts: Facts) -> list[str]:
    """What it weighs at the handle with all that helps, where that is told."""
    told = facts.analysis.loads
    if told is None or told.largest is None:
        return []
    push, at = facts.force(told.largest.force), facts.deg(told.largest.deg)
    if facts.project.loads is not None and facts.project.loads.devices:
        return [
            f"Once struts and springs are on, the largest push at the handle is {push}, at {at}; till then it is more."
        ]
    return [f"The largest push at the handle is {push}, at {at}."]


def adjust(facts: Facts) -> Iterator[Step]:
    """Bring the gaps to what was drawn."""
    told = facts.adjusting
    if told is None or not told.effects:
        return
    heads = ("adjuster, 1 mm" if not facts.mm(0.0).endswith('"') else "adjuster, for 1", "rear corner", "front edge")
    rows = tuple(
        (
            adjuster_name(each),
            moved_words(each.rear, facts.units),
            moved_words(each.front, facts.units),
            rate_words(each.shut[0] if each.shut else None, facts.units),
            left_words(each, facts.units),
        )
        for each in told.effects
    )
    gap = gap_name(told.gaps[0].between) if told.gaps else "shut gap"
    does: list[str | Table] = [
        "Turn one adjuster, on both hinges alike, then shut and look. Figures are x, y: to the right as drawn, and up.",
        Table((*heads, f"shut gap {gap}", "can still go"), rows),
        "Tighten the bolts crosswise. Draw a line of paint across each bolt's head and plate: a turned bolt shows.",
    ]
    rows_gaps = tuple(
        (gap_name(each.between), facts.fine(None if each.shut is None else round(each.shut, 2)))
        for each in facts.packers[:MOST_GAPS]
    )
    if rows_gaps:
        does.append(Table(("shut gap", "as drawn"), rows_gaps))
    yield Step(
        "adjust",
        "Adjust",
        ("spanners", "shims", "gap gauges or the packers", "paint pen"),
        tuple(does),
        ("Shut gaps are as drawn, left and right.", "All bolts are tight and marked."),
        ("Prop the panel before you loosen a bolt under it.",),
        (Drawing("mounts", caption="Where slots and shims are: base and bracket.", tall=66.0),),
    )


def struts(facts: Facts) -> Iterator[Step]:
    """Gas struts and springs."""
    devices = () if facts.project.loads is None else facts.project.loads.devices
    if not devices:
        return
    rows = tuple(_device(facts, each) for each in devices)
    gas = any(each.kind == "gas strut" for each in devices)
    does: list[str | Table] = [Table(("what", "count", "end on", "end on", "sizes"), rows)]
    if gas:
        does += [
            "Fit struts with the panel propped fully open: there they are longest and push least.",
            "Rod down when the panel is shut, so that the oil keeps the seal wet (a strut maker's guide).",
        ]
    cautions = []
    if gas:
        cautions += [
            (
                "A gas strut is under pressure even when it is long: never open, heat, drill or weld one; take it "
                "off only with the panel open and propped."
            ),
            "Cold, worn or let go, struts drop the panel: never rely on them alone under it.",
        ]
    if any(each.kind != "gas strut" for each in devices):
        cautions.append("A spring under load flies: hold it with a tool, face turned away.")
    yield Step(
        "struts",
        "Fit struts and springs",
        (*tuple(f"{each.count} × {each.kind} “{each.id}”" for each in devices), "prop"),
        tuple(does),
        (
            f"It opens to {facts.deg(facts.analysis.opening.reached_deg)} before a strut is at its end.",
            "Struts stand clear of everything through the whole travel, their fittings too.",
        ),
        tuple(cautions),
        (Drawing("helped", "0", "Shut, with what helps to lift.", tall=66.0),),
    )


def _device(facts: Facts, each: Device) -> tuple[str, ...]:
    """A row: where its ends are and how long it is."""
    ends = [f"{end.on}, {_place(facts, end.on, end.at)}" for end in (each.from_end, each.to_end)]
    if each.kind == "gas strut":
        least = (each.extended or 0.0) - (each.stroke or 0.0)
        sizes = f"{facts.mm(least)} to {facts.mm(each.extended)} from pin to pin, {facts.force(each.force)}"
    elif each.rate:
        sizes = f"{RATE.format(each.rate, facts.units)}, {facts.mm(each.free)} free"
    else:
        sizes = each.kind
    return f"{each.id} ({each.kind})", str(each.count), *ends, sizes


def stop(facts: Facts) -> Iterator[Step]:
    """The stop, at its opening."""
    loads, told = facts.project.loads, facts.holding
    if loads is None or loads.stop is None:
        return
    does: list[str | Table] = [
        (
            f"It acts at {facts.deg(loads.stop.at_deg)}, {facts.mm(loads.stop.arm)} from the pin that joins "
            f"{loads.stop.between[0]} and {loads.stop.between[1]}."
        )
    ]
    if told is not None:
        does += stop_sentences(facts.analysis, told, facts.units)
    made, needs = facts.stop, ["protractor or angle gauge", "marking blue"]
    if made is not None:
        does += stop_part_sentences(made, facts.units)
        needs = [f"{facts.hinges} stop blocks, {facts.hinges} {made.part.kind}s", *needs]
        if made.part.kind == "pin":
            does.append("The pin's hole is cut with its plate. Clamp the block, open to the stop, then fix it.")
    else:
        does.append("Make the two faces as you like; they meet flat at that opening.")
    yield Step(
        "stop",
        "Fit the stop",
        tuple(needs),
        tuple(does),
        (
            (
                f"The faces meet at {facts.deg(loads.stop.at_deg)} within {facts.deg(1.0)}, left and right together, "
                "and blue shows over most of both."
            ),
            "Nothing else touches before they do.",
        ),
        ("Open against the stop slowly: thrown open, its faces bear many times what is told.",),
        (Drawing("stop", caption="At the stop's opening.", tall=62.0),),
    )


def prop(facts: Facts) -> Iterator[Step]:
    """The stay."""
    loads, told = facts.project.loads, facts.holding
    if loads is None or loads.prop_rod is None:
        return
    rod = loads.prop_rod
    does: list[str | Table] = [
        (
            f"It hangs on {rod.from_end.on}, {_place(facts, rod.from_end.on, rod.from_end.at)}, and is set on "
            f"{rod.to_end.on}, {_place(facts, rod.to_end.on, rod.to_end.at)}, with the panel open by "
            f"{facts.deg(rod.at_deg)}."
        )
    ]
    if told is not None:
        does += prop_sentences(facts.analysis, told, facts.units)
    yield Step(
        "prop",
        "Fit the prop",
        ("rod, its pivot, a socket or hook for its seat", "a clip to stow it by"),
        tuple(does),
        (
            f"Set, it holds the panel at {facts.deg(rod.at_deg)} within {facts.deg(1.0)}.",
            "It can't be knocked out of its seat by hand or by a gust on the panel.",
            "Stowed, it neither rattles nor touches anything.",
        ),
        (
            "A prop that slips drops the panel: look that it sits before you lean in.",
            "Stand clear of the pinch places while the panel is let down off it.",
        ),
        (Drawing("pose", f"{rod.at_deg}", "The prop set.", tall=70.0),),
    )


def _place(facts: Facts, link: str, at: tuple[float, float]) -> str:
    """A place on a link as a tape finds it: how far from its two nearest pins; without two pins by x and y."""
    pins = sorted(facts.project.pivots_on(link), key=lambda pin: math.dist(pin.at, at))[:2]
    if len(pins) < 2:
        return f"x; y {'; '.join(format_coordinate(mm, facts.units) for mm in at)} (panel shut)"
    return " and ".join(f"{facts.mm(math.dist(pin.at, at))} from {pin.id}" for pin in pins)


def latch(facts: Facts) -> Iterator[Step]:
    """The latch, with what it holds."""
    loads = facts.project.loads
    if loads is None or loads.latch is None:
        return
    at = _place(facts, loads.latch.on, loads.latch.at)
    does: list[str | Table] = [
        (
            f"The striker sits on {loads.latch.on}, {at}. Fit it loose, shut the panel slowly, and let the catch "
            "centre it; then tighten."
        ),
        *shut_sentences(facts.analysis, facts.units),
    ]
    yield Step(
        "latch",
        "Fit the latch",
        ("latch and striker", "marking blue or putty", "spanners"),
        tuple(does),
        (
            "It latches by the push that is told, and the gaps don't move as it does.",
            "The striker enters without touching the catch's sides.",
            "It opens from outside and, where somebody can be shut in, from inside.",
        ),
        ("Fingers clear of the front edge when it shuts.", *shut_cautions(facts.project)),
        (Drawing("latch", caption="Striker and latch, the panel shut.", tall=44.0),),
    )


def last(facts: Facts) -> Iterator[Step]:
    """The last look, always."""
    if not facts.project.pivots:
        return
    short = sum(not check.ok for check in facts.analysis.checks)
    does = [
        "After the first ten openings, and again after a month, look at pins, clips, bolts, welds and gaps.",
        "Write down what was built otherwise than drawn, and put it into the program: sweep and gaps follow.",
    ]
    if short:
        does.append(
            f"The layout falls short of {short} of its own checks: they stand in the report. Mend them before this is "
            "built."
        )
    yield Step(
        "last",
        "Look it all over",
        ("this sheet",),
        (*does, AIDS_TO_JUDGEMENT),
        ("Every box above is ticked.", "Date, and by whom: ____________________________"),
    )

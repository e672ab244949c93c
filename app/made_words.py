"""What is said of hinges as built: what was read, what follows, left against right, and what brings it back.

What is measured with a caliper is said with two digits after the point, and so are small shifts; gaps as everywhere.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.lengths import format_angle, format_length
from app.mount_words import NAMES
from app.words import check_sentence, gap_name
from kinematics.built_beside import broken, paired_gaps
from kinematics.pin_lengths import LEAST_FLOAT, MOST_FLOAT

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.built_beside import Apart, Beside, PinBeside
    from kinematics.made_parts import AsMade
    from kinematics.made_shapes import Misfit, Reading
    from kinematics.putting_back import PutBack, Redrilled

MADE_CAUTION = (
    "These figures are worth what was measured: a caliper over two pins is good to 0.05 mm, a tape to 1 mm. Measure "
    "twice before anything is filled or drilled, and prop the panel while pins are out."
)
FILL_CAUTION = (
    "A hole moved by less than its width cuts into the old one: weld or plug that first, dress it flush, centre-punch, "
    "and drill in steps; a thin plate is made anew in the same time. A weld near a bushing or a hard pin takes its "
    "temper; take them out first."
)
NOT_MEASURED = "Nothing is measured yet: the hinge is as drawn."
ALL_WELL = "Gaps and travel that hold as drawn hold as built, and the shut gaps are as drawn: nothing needs adjusting."
KINDS = {"distance": "{0}–{1}", "x": "{0} along", "y": "{0} height", "off": "{0} off {2}"}
FACES = {"fixed": "wall", "panel": "skin"}
FAR_OFF = 10.0
"""Mm from the drawing at which a reading is doubted aloud: another pin may have been meant."""
SEEN = 0.05


def reading_name(reading: Reading, face: str = "face") -> str:
    """Say what a reading is of, its link left out: "O1–X", "O1 off wall"."""
    return KINDS[reading.kind].format(reading.pins[0], reading.pins[-1], face)


def fine(mm: float, units: Units) -> str:
    """Say a length as a caliper shows it."""
    return format_length(round(mm, 2), units, fine=True)


def made_gist(as_made: AsMade) -> str:
    """Say which hinges were measured."""
    said = [made.hand for made in as_made.hands if made.is_said]
    return f"{' and '.join(said)} measured" if said else ""


def misfit_sentence(misfit: Misfit, units: Units) -> str:
    """Say that a reading is contradicted by others."""
    reading = misfit.reading
    read, fits = fine(reading.made or 0.0, units), fine(misfit.fits, units)
    return f"{reading.link}: {reading_name(reading)} reads {read}, the others together ask for {fits}."


def built_sentences(drawn: Analysis, now: Beside, units: Units) -> list[str]:
    """Say what one hinge comes to: why nothing can be told, or what no longer holds, and readings that contradict."""
    if now.fault:
        return [now.fault]
    if now.built is None or now.analysis is None:
        return []
    said = [misfit_sentence(each, units) for each in now.built.misfits]
    lost = broken(drawn, now.analysis)
    said += [f"✗ {check_sentence(check, units)}." for check in lost]
    if not now.built.rests and now.built.motions:
        said.append("Nothing holds the shut panel's front, so it is taken to keep its turn.")
    if not lost:
        said.append("Every check that holds as drawn holds as built.")
    return said


def gap_sentences(drawn: Analysis, now: Analysis, units: Units, before: Analysis | None = None) -> list[str]:
    """Say each watched gap, shut and smallest, as drawn and as built; with `before`, what it was until then too."""
    said = []
    was = {} if before is None else {(gap.between, gap.after_deg): gap for gap in before.gaps}
    for gap, new in paired_gaps(drawn, now):
        if not gap.wanted:
            continue
        old = was.get((gap.between, gap.after_deg))
        figures = []
        for word, key in (("shut", "shut"), ("smallest", "smallest")):
            value, then = getattr(new, key), getattr(gap, key)
            until = "" if old is None else f"{format_length(getattr(old, key), units)} now, "
            figures.append(f"{word} {format_length(value, units)} ({until}{format_length(then, units)} drawn)")
        said.append(f"{gap_name(gap.between)}: {', '.join(figures)}.")
    return said


def float_words(pin: PinBeside, units: Units) -> str:
    """Say a pin's end float as built, and what it means."""
    had, left = (fine(mm, units) for mm in pin.end_float)
    said = f"Pin {pin.pivot}: end float {left} ({had} drawn)"
    if pin.end_float[1] < 0.0:
        return f"✗ {said}: it doesn't go on. Take {fine(LEAST_FLOAT - pin.end_float[1], units)} or more out."
    if pin.end_float[1] < LEAST_FLOAT - 1e-9:
        return f"! {said}: it may bind. Take {fine(LEAST_FLOAT - pin.end_float[1], units)} or more out."
    if pin.end_float[1] > MOST_FLOAT + 1e-9:
        return f"! {said}: loose. Put {fine(pin.end_float[1] - MOST_FLOAT, units)} or more of shims in."
    return f"{said}."


def apart_sentences(told: Apart | None, units: Units) -> list[str]:
    """Say how left and right differ, and what that does to the panel."""
    if told is None:
        return []
    shifts = max(abs(told.rear), abs(told.front), told.worst)
    if shifts < SEEN:
        return ["Left and right hold the panel at one place."]
    said = [
        (
            f"Shut, beside where the left hinge would have them, the right one would have the rear corner "
            f"{_way(told.rear, units)}, the front edge {_way(told.front, units)}."
        ),
        (
            f"Held to one turn they are {fine(told.worst, units)} apart at most, at "
            f"{format_angle(told.at_deg, units)}: panel, mounts and play must bear that, or it binds."
        ),
    ]
    if told.askew is not None and told.twisted is not None:
        said.append(
            f"So the shut panel stands askew, its front edge {fine(told.askew, units)} to the side, and "
            f"twisted, its front corners {fine(told.twisted, units)} out of level with each other (to first "
            f"order, panel and links stiff)."
        )
    return said


def _way(shift: complex, units: Units) -> str:
    """Say a shift: "1 mm right and 0.4 mm up"."""
    if abs(shift) < SEEN:
        return "at the same place"
    along = f"{fine(abs(shift.real), units)} {'right' if shift.real >= 0.0 else 'left'}"
    up = f"{fine(abs(shift.imag), units)} {'up' if shift.imag >= 0.0 else 'down'}"
    if abs(shift.real) < SEEN:
        return up
    return along if abs(shift.imag) < SEEN else f"{along} and {up}"


# ------------------------------------------------------------------------------------------------------- what to do
def turn_words(by: dict[str, float], units: Units) -> str:
    """Say what to turn and how far: "Shims, front bolts: 1.10 mm more"."""
    said = []
    for key, mm in by.items():
        name, more, less = NAMES[key]
        said.append(f"{name}: {fine(abs(mm), units)} {more if mm > 0.0 else less}")
    return "; ".join(said)


def put_back_sentences(drawn: Analysis, now: Beside, found: PutBack, units: Units) -> list[str]:
    """Say which adjusters to turn and what follows, before and after."""
    after = found.after.analysis
    if after is None or now.analysis is None:
        return []
    if not found.by:
        return ["No adjuster brings it nearer."]
    all_back = "This brings gaps and travel back" if broken(drawn, after) else "This brings it back"
    what = all_back if found.meets else "Adjusters alone don't bring it all back; nearest comes"
    said = [f"{what}. {turn_words(found.by, units)}.", *gap_sentences(drawn, after, units, now.analysis)]
    return [*said, *(f"✗ Still: {check_sentence(check, units)}." for check in broken(drawn, after))]


def redrill_sentences(drawn: Analysis, now: Beside, found: Redrilled | None, units: Units) -> list[str]:
    """Say which hole to fill and drill anew, where, and what follows."""
    if now.analysis is None:
        return []
    if found is None:
        return ["No single hole that is moved by 8 mm or less brings every want back: make the worst plate anew."]
    link, pivot = found.hole
    places = [f"{fine(then, units)} from {other} ({fine(is_, units)} now)" for other, is_, then in found.distances]
    if not places or link in (drawn.project.fixed.id, drawn.project.panel.id):
        places.append(f"{_way(found.by, units)} of where it is, with the panel shut")
    still = [f"✗ Still: {check_sentence(check, units)}." for check in broken(drawn, found.after)]
    said = [
        f"Fill the hole of {pivot} in {link} and drill it {fine(abs(found.by), units)} away: {', '.join(places)}.",
        "Then every want of gaps and travel that holds as drawn holds again.",
    ]
    return [*said, *gap_sentences(drawn, found.after, units, now.analysis), *still, FILL_CAUTION]


def doubt_sentence(reading: Reading, units: Units) -> str:
    """Doubt a reading that is far from the drawing; "" for one that isn't."""
    if reading.made is None or not math.isfinite(reading.made) or abs(reading.made - reading.drawn) < FAR_OFF:
        return ""
    off = format_length(abs(reading.made - reading.drawn), units)
    return f"{reading.link}: {reading_name(reading)} is {off} off the drawing. Is it the right pin?"

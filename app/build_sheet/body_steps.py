"""Steps at the body: set out, drill and tap, hang the panel on packers, tack."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.build_sheet.step import PRACTICE, Drawing, Step, Table
from app.lengths import format_coordinate, style_of
from app.load_shapes import weight_words
from app.template_words import TAPPING, tap_words
from app.toe_words import most_words
from app.wall_words import ASKEW

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from app.build_sheet.facts import Facts
    from kinematics.threads import Thread

DATUM = 1.0
"""Mm within which marks are set out where no hole says better (common practice, no source)."""
EVEN = 0.5
"""Mm by which shut gaps may differ from left to right (common practice, no source)."""
BEYOND = 50.0
"""Mm that the straight bar stands out on either side (common practice, no source)."""
PILOT = 3.0
"""Mm, a pilot hole (common practice, no source)."""
VIEW_TALL, LEAST_VIEW = {"wall": 80.0}, 64.0
"""Mm on paper of the views of the set-out."""
MOST = 6
"""Packers that are listed at most."""


def set_out(facts: Facts) -> Iterator[Step]:
    """Mark where bases and brackets go, left and right."""
    figure = facts.set_out_figure
    if figure.rows or figure.skin_rows:
        yield _marked(facts)
    elif facts.project.pivots_on(facts.project.fixed.id):
        yield _pins(facts)


def _marked(facts: Facts) -> Step:
    figure = facts.set_out_figure
    does: list[str | Table] = []
    checks = []
    if facts.set_outs:
        does += [
            "Strike the centreline on the wall and a level line across it. Everything is measured from these two.",
            *_unchecked(figure.sentences),
            "Up is along the wall from the level line, height is plumb over it; beneath the line they have a minus.",
        ]
        if any(each.from_middle for each in facts.set_outs):
            does.append("Type how far the hinges are apart, and print this anew before you drill.")
        for each in facts.set_outs:
            rows = _of_hand(figure.rows, each.hand)
            does.append(Table((f"{each.hand}, {_unit(facts)}", "along", "square", "height", "up"), rows))
            long = ", ".join(
                f"{one.one} to {one.other}: {format_coordinate(one.length, facts.units)}" for one in each.diagonals[:2]
            )
            if long:
                play = 0.5 * (each.base.thread.clearance - each.base.thread.diameter)
                checks.append(f"{each.hand.capitalize()}: diagonals within {facts.small(play)}; {long}.")
    if figure.skin_rows:
        head = (f"panel, {_unit(facts)}", "ahead", "square", "from web")
        does += [*_unchecked(figure.skin_sentences), Table(head, tuple(figure.skin_rows))]
    checks.append("Left and right mirror each other about the centreline.")
    return Step(
        "set out",
        "Set out",
        ("the templates for the drill", "laser or water level, plumb bob", "tape, scriber, centre punch"),
        tuple(does),
        tuple(checks),
        ("A laser in the eye blinds: set it below or above eye height.",),
        tuple(
            Drawing("set out", view.key, f"{view.title}.", wide=True, tall=VIEW_TALL.get(view.key, LEAST_VIEW))
            for view in figure.views
        ),
    )


def _unchecked(sentences: Iterable[str]) -> list[str]:
    """Without those that say what to check: these are boxes."""
    return [said for said in sentences if not said.startswith("Check ")]


def _of_hand(rows: Iterable[tuple[str, ...]], hand: str) -> tuple[tuple[str, ...], ...]:
    """The rows of one hand, which their first cells begin with; bolts by their number in the order of drilling."""
    found = []
    for place, *cells in rows:
        whose, _, name = place.partition(" ")
        if whose == hand:
            found.append((f"bolt {name}" if name.isdigit() else name, *cells))
    return tuple(found)


def _unit(facts: Facts) -> str:
    return style_of(facts.units).units


def _pins(facts: Facts) -> Step:
    """Without a base: the pins themselves, from the lowest of them."""
    pins = facts.project.pivots_on(facts.project.fixed.id)
    first = min(pins, key=lambda pin: (pin.at[1], pin.at[0]))
    rows = tuple(
        (
            pin.id,
            format_coordinate(pin.at[0] - first.at[0], facts.units),
            format_coordinate(pin.at[1] - first.at[1], facts.units),
        )
        for pin in pins
    )
    return Step(
        "set out",
        "Set out",
        ("the mock-up templates", "level and plumb bob", "tape, scriber, centre punch"),
        (
            (
                "No base is laid out, so the pins on the body are set out themselves, left and right alike, from pin "
                f"{first.id} by level and plumb."
            ),
            Table((f"pin, {_unit(facts)}", "level", "plumb"), rows),
        ),
        (
            f"Left and right agree within {facts.small(DATUM)} ({PRACTICE}).",
            "A straight bar from left to right through one pin is level and square to the centreline.",
        ),
        (),
        (Drawing("near", "0", "The hinge shut.", tall=60.0),),
    )


def drill(facts: Facts) -> Iterator[Step]:
    """Drill the wall, tap the backing plates, drill the panel's inner skin."""
    if facts.base is None and facts.bracket is None:
        return
    rows = [*_base_rows(facts), *_bracket_rows(facts)]
    does: list[str | Table] = [
        "Look behind wall and skin first: tanks, fuel and brake lines, wires, and what would burn.",
        Table(("where", "bolt", "drill", "tap"), tuple(rows)),
    ]
    if facts.base is not None:
        does.append(
            "Drill bolt 1 first, then 2, the farthest from it. Bolt the base plate on by both and drill the others "
            "through its slots' middles: so the plate is its own jig."
        )
        if facts.base.part.backing > 0.0:
            does.append(TAPPING.format(tap=tap_words(facts.base.thread, facts.units)))
    if facts.wedges and facts.wedges[0].trued == "shim":
        does.append(ASKEW)
    does.append(f"Centre punch, pilot hole of {facts.mm(PILOT)}, then the size. Back the skin with wood ({PRACTICE}).")
    threads = list(dict.fromkeys(row[1].split(" × ")[1] for row in rows))
    yield Step(
        "drill",
        "Drill and tap" if any(row[3] != "–" for row in rows) else "Drill",
        (
            f"drills and taps for {', '.join(threads)}",
            "drill, cutting oil",
            "centre punch, countersink",
            "bolts, washers",
        ),
        tuple(does),
        ("Every bolt runs in by fingers.", "Bare edges of holes are painted before anything is bolted on."),
        ("Eyes protected, no gloves at the spindle. Swarf cuts and burns: brush, not fingers.",),
        tuple(
            Drawing("pattern", each.hand, f"{each.hand.capitalize()} base as you face the wall.", tall=58.0)
            for each in facts.set_outs
        ),
    )


def _base_rows(facts: Facts) -> Iterator[tuple[str, ...]]:
    made = facts.base
    if made is None:
        return
    bolts = f"{facts.hinges * len(made.bolts)} × {made.thread.name}"
    yield "wall", bolts, _clearance(facts, made.thread), "–"
    if made.part.backing > 0.0:
        yield "backing plates", bolts, f"{_tap_drill(facts, made.thread)} (cut to it)", made.thread.name


def _bracket_rows(facts: Facts) -> Iterator[tuple[str, ...]]:
    made = facts.bracket
    if made is not None:
        yield (
            "panel's inner skin",
            f"{facts.hinges * len(made.bolts)} × {made.thread.name}",
            _clearance(facts, made.thread),
            "–",
        )


def _tap_drill(facts: Facts, thread: Thread) -> str:
    """The drill for a thread, with its name where that isn't its size."""
    size = facts.fine(thread.drill)
    return size if size.startswith(thread.drill_name) else f"{thread.drill_name}, {size}"


def _clearance(facts: Facts, thread: Thread) -> str:
    return f"{facts.fine(thread.clearance)} clear"


def hang(facts: Facts) -> Iterator[Step]:
    """The panel shut on packers, the hinges in line on a bar."""
    if not facts.project.pivots:
        return
    rows = tuple(
        (f"{gap.between[0]} – {gap.between[1]}", facts.fine(None if gap.shut is None else round(gap.shut, 2)))
        for gap in facts.packers[:MOST]
    )
    does: list[str | Table] = ["Lay the panel shut on its packers, all round, and tape it there."]
    if rows:
        does.append(Table(("packers between", "thick"), rows))
        does.append("Make them of hard strip, two of each at the rear corners and two along each side.")
    bar, mounted = _bar(facts), facts.base is not None or facts.bracket is not None
    if bar:
        does.append(bar)
    loads = facts.project.loads
    if loads is not None and loads.masses:
        weight = weight_words(sum(each.mass for each in loads.masses), facts.units)
        does.append(f"The panel weighs about {weight}: two people lift it on.")
    does.append("Bring the hinges to the panel, not the panel to the hinges: nothing is forced.")
    needs = ["packers", "straight bar", "tape, clamps", "a second person"]
    yield Step(
        "hang",
        "Hang the panel on packers",
        tuple(needs),
        tuple(does),
        (
            f"Gaps are even from left to right within {facts.small(EVEN)} ({PRACTICE}).",
            "The bar slides and turns by fingers through left and right at once.",
            *_parallel(facts),
            *(("Bases and brackets lie on wall and skin without being drawn there by a bolt.",) if mounted else ()),
        ),
        ("Panel overhead: two people, and a prop under it as soon as it is off its packers. Never under it alone.",),
        (Drawing("packers", caption="The panel shut, with its packers.", wide=True, tall=74.0),),
    )


def _parallel(facts: Facts) -> Iterator[str]:
    """How square the bar must stand to either hinge, so that the pair doesn't bind."""
    most = facts.most_toe_deg
    if most is None or not _bar(facts):
        return
    over = 101.6 if style_of(facts.units).units == "in" else 100.0
    off = math.floor(over * math.tan(math.radians(most)) * 10.0) / 10.0
    yield (
        f"A square on the bar lies along each hinge's plates within {facts.small(off)} over {facts.mm(over)} "
        f"({most_words(most, facts.units)}); more, and the pair binds before "
        f"{facts.deg(facts.analysis.opening.reached_deg)}."
    )


def _bar(facts: Facts) -> str:
    """The bar through the same pin left and right."""
    pins = facts.project.pivots_on(facts.project.fixed.id)
    if not pins or facts.hinges < 2:
        return ""
    pin = pins[0].id
    size = facts.fine(facts.joints[pin].pin.diameter)
    spacing = None if facts.project.loads is None else facts.project.loads.spacing
    long = "" if spacing is None else f", {facts.mm(spacing + 2.0 * BEYOND)} long"
    return (
        f"Put a straight bar of {size}{long} through {pin} of the left and of the right hinge, in the place of the "
        "pins: so both turn about one line."
    )


def tack(facts: Facts) -> Iterator[Step]:
    """Fix it there, so that it can be taken off again."""
    if not facts.project.pivots:
        return
    bolted = facts.base is not None or facts.bracket is not None
    does = ["With bar and packers in place:"]
    if facts.base is not None:
        does.append("Nip the bolts of the bases, middle ones first, until the plates can't shift by hand.")
    if facts.bracket is not None:
        slots = "in the middle of their slots"
        does.append(f"Nip the bolts of the brackets {slots}, so that both ways are left for adjusting.")
        if facts.bracket.part.doubler > 0.0:
            does.append(
                "Tack the doublers to the panel's inner frame at two opposite corners, where both are steel that takes "
                "a weld; else glue them, or leave them to their bolts."
            )
    if not bolted:
        does.append(
            "Tack your own brackets to body and panel, four short tacks each, opposite ones after each other; in wood, "
            "two screws each. Weld or screw them out only after the panel was cycled."
        )
    does.append("Draw the bar out by hand. If it sticks, loosen, line up, and nip again.")
    yield Step(
        "tack",
        "Tack",
        ("spanners", "welder, where anything is tacked", "wet cloths, extinguisher"),
        tuple(does),
        ("The bar comes out and goes back by fingers.", "The packers are still snug, none tight and none loose."),
        (
            (
                "Before an arc is struck: battery off, fuel and trim away, somebody on watch for fire, zinc and "
                "paint ground off, air that carries fumes away."
            ),
            "Nobody lies under a panel that hangs on tacks.",
        ),
        (Drawing("bar", caption="Both hinges from above, the panel's front above.", tall=44.0),)
        if facts.hinges > 1
        else (),
    )

"""Steps at the bench, before anything is bored: cut, deburr, bend, mock up, bevel or shim, weld, straighten, edges.

Facts of the trade that no book was at hand for are marked as such where they stand.
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

from app.build_sheet.step import PRACTICE, Drawing, Step, Table
from app.lengths import style_of
from app.toe_words import most_words
from app.wall_words import GUSSETS, SIDES, edge_words
from kinematics.sheet_metal import leg

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.build_sheet.facts import Facts
    from kinematics.cutting import Part
    from kinematics.wall_feet import Foot
    from kinematics.walling import Wedge

CUT_OFF = 0.1
"""Mm by which hole distances of a thin cut plate may be off before the shop is asked (several cutters' rules)."""
BREAK = (0.3, 0.5)
"""Mm of edge that is taken off when it is broken (common practice, no source)."""
GRITS = (("file, along the edge", 0.20), ("80 grit", 0.05), ("120 grit", 0.03), ("180 grit", 0.02), ("240 grit", 0.01))
"""In order, with mm lost on each face (common practice, no source)."""
EDGE_USUAL = 1.5
"""Over a hole's diameter, from its centre to the edge (common practice, no source; `hardware_words` says it too)."""
STRAIGHT = 0.2
"""Deg by which a welded web may lean off its angle (common practice, no source)."""
FLAT = 0.5
"""Mm by which a welded base plate may be hollow (common practice, no source)."""
RISE_OFF = 0.1
"""Mm by which a ground wedge may miss (common practice, no source)."""
BARE = 30.0
"""Mm round a weld that are bare (common practice, no source)."""
ROWS = 14
"""Distances between pins that are listed at most."""


def cut(facts: Facts) -> Iterator[Step]:
    """What the cutter makes, and how the first of each is measured."""
    if not facts.cuts:
        return
    rows = tuple(
        (each.name, str(each.count), facts.mm(each.part.thickness), _holes(facts, each.part)) for each in facts.cuts
    )
    distances = _distances(facts)
    does: list[str | Table] = [
        "Give the shop the drawings of plates and mounts. They are nominal: the cutter allows for the beam.",
        "Pin holes are cut under size where they are reamed later. Don't drill them out now.",
        Table(("part", "count", "thick", "holes as cut"), rows),
    ]
    if distances:
        does += [
            "Have one of each cut first, measure it from hole to hole, and write it down:",
            Table(("part", "from – to", "distance", "measured"), distances),
        ]
    yield Step(
        "cut",
        "Cut the parts",
        ("the cut files", "sheet of the thickness that was measured", "caliper"),
        tuple(does),
        (
            f"Holes are apart as listed, within {facts.small(CUT_OFF)} (cutters' rules).",
            "The sheet is as thick as listed. If not, type what you measured and print this anew.",
            "All parts are there, by count and hand.",
        ),
        ("Freshly cut sheet has edges like knives: gloves to carry it, eyes protected while you break tabs off.",),
        (Drawing("parts", caption="The parts that are cut, all at one scale.", wide=True, tall=66.0),),
    )


def _holes(facts: Facts, part: Part) -> str:
    """The pin holes of a part as they are cut: "⌀7.7 mm at A, B"."""
    by: dict[str, list[str]] = {}
    for hole in part.holes:
        by.setdefault(facts.fine(hole.diameter), []).append(hole.pivot)
    return "; ".join(f"⌀{size} at {', '.join(pins)}" for size, pins in by.items()) or "no pin holes"


def _distances(facts: Facts) -> tuple[tuple[str, ...], ...]:
    """From hole to hole of each part, of handed parts once."""
    found: list[tuple[str, ...]] = []
    for each in facts.cuts:
        if each.part.hand == "right":
            continue
        name = each.name.removesuffix(" left") if each.part.hand else each.name
        for a, b in combinations(each.part.holes, 2):
            found.append((name, f"{a.pivot} – {b.pivot}", facts.fine(round(abs(b.at - a.at), 2)), ""))
    return tuple(found[:ROWS])


def deburr(facts: Facts) -> Iterator[Step]:
    """Break all edges."""
    if not facts.cuts:
        return
    low, high = (facts.small(each) for each in BREAK)
    yield Step(
        "deburr",
        "Deburr",
        ("half-round file", "deburring blade or countersink", "rag"),
        (
            f"Break every edge by {low} to {high}, both faces, outside and in the slots ({PRACTICE}).",
            "At pin holes take the burr off and no more: a wide chamfer there eats the bearing that the pin needs.",
            "Knock slag and dross off with a scraper before you file.",
        ),
        ("A rag drawn along every edge doesn't catch.", "Parts lie flat on each other, without a burr between them."),
        ("Eyes: burrs and dross fly. Ears, if you grind.",),
        (Drawing("edge", caption="Section through a plate at its hole.", tall=40.0),),
    )


def bend(facts: Facts) -> Iterator[Step]:
    """Bend the brackets, one to each hand."""
    made = facts.bracket
    if made is None or made.blank is None:
        return
    turned, skins = made.bend, facts.set_out_figure.skins
    side = f"{skins[0].flange} of the web" if skins else "mirrored"
    yield Step(
        "bend",
        "Bend the brackets",
        (f"{facts.hinges} bracket blanks", "folder or brake", "protractor", "a strip of the same sheet"),
        (
            (
                f"The marked line is the middle of the bend. Bend by {facts.deg(turned.angle_deg)} about "
                f"{facts.mm(turned.radius)} inside."
            ),
            f"Bend the left blank one way and the right blank the other: they are mirror images, their flanges {side}.",
            (
                f"Bend the strip first. The blank allows {facts.fine(turned.allowance)} for the bend; if your strip "
                "comes out longer or shorter, set the line over by half of that."
            ),
        ),
        (
            f"The flange is {facts.mm(made.flange)} wide outside, within {facts.small(FLAT)}.",
            f"The bend is {facts.deg(turned.angle_deg)} within {facts.deg(1.0)}, and no crack shows on its outside.",
            "Laid back to back, left and right match.",
        ),
        ("Fingers out of the folder: nobody else works its bar or pedal while you hold the sheet.",),
        (Drawing("bend", caption="The bracket seen along its bend.", tall=56.0),),
    )


def mock_up(facts: Facts) -> Iterator[Step]:
    """Card and bolts before metal."""
    if not facts.project.pivots:
        return
    does: list[str | Table] = [
        "Print the mock-up templates at 100 % and measure their bars. Glue them on card or ply, cut, bolt up.",
        "Hold it to the body and swing it from shut to open, slowly, more than once.",
    ]
    checks = []
    if facts.moves:
        reached = facts.deg(facts.analysis.opening.reached_deg)
        checks.append(f"It opens to {reached} without being forced.")
        for gap in facts.analysis.gaps:
            if gap.wanted and gap.smallest:
                one, other = gap.between
                checks.append(
                    f"{one} to {other}: never nearer than {facts.mm(gap.smallest)}, at {facts.deg(gap.at_deg)}."
                )
    checks.append("Nothing stands in the way that isn't on the drawing: pipes, wires, bolt heads, a seal.")
    drawings = [Drawing("near", "0", "Shut.", tall=56.0)]
    if facts.moves:
        drawings.append(Drawing("near", f"{facts.analysis.opening.reached_deg}", "Open.", tall=56.0))
    yield Step(
        "mock up",
        "Mock it up",
        ("the mock-up templates", "card or ply", "bolts with nuts for the holes", "knife, saw"),
        tuple(does),
        tuple(checks),
        ("Links shear as they pass each other: hold them by their ends. Cut away from your hand.",),
        tuple(drawings),
    )


# The wall -------------------------------------------------------------------------------------------------------------


def bevel(facts: Facts) -> Iterator[Step]:
    """Grind the feet to the wall, or make the tapered shims."""
    if not facts.wedges:
        return
    if facts.wedges[0].trued == "shim":
        yield _shims(facts)
    else:
        yield _feet(facts)


def _feet(facts: Facts) -> Step:
    wedges = tuple(
        (
            each.hand,
            facts.deg(each.angle_deg),
            facts.mm(each.depth),
            facts.fine(round(each.rise, 3)),
            f"{facts.deg(each.to_belt_deg)} to the belt",
            f"{each.thick_end}, its {edge_words(each.hand, each.thick_end)} edge",
        )
        for each in facts.wedges
    )
    lines = tuple(row for foot in facts.feet for row in _scribes(facts, foot))
    return Step(
        "bevel",
        "Scribe and grind the bevel",
        ("base webs", "sliding bevel", "scriber, marking blue, square", "belt grinder with a table", "file"),
        (
            (
                "The wall isn't square to the hinges. So the feet of the webs are ground to the angle of the wall, "
                "and both hinges stand parallel."
            ),
            Table(("hand", "off square", "over", "falls by", "table set to", "stays long"), wedges),
            (
                "The feet are cut longer for it. Blue them, set the square on the foot as cut, and scribe both sides "
                "of each web so high:"
            ),
            Table(("hand", "of the web", "lower end", "upper end"), lines),
            "Set the table with the sliding bevel, not by its scale. Grind to just short of the lines, then file.",
            *_toe(facts, facts.wedges[0].depth, "foot"),
            "Left and right are mirror images: mark each web with its hand and its long side before you begin.",
        ),
        (
            (
                f"Both sides of a foot end at their lines; they differ as listed, within "
                f"{_rise_off(facts, facts.wedges[0].depth)}."
            ),
            "Held to the wall where it will stand, the foot shows no light, and the web is parallel to the centreline.",
            "Left and right are mirrored, not alike.",
        ),
        (
            "Eyes, face and ears protected. Sparks are hot and are thrown far: nothing that burns nearby.",
            "No gloves, loose sleeves or cords at a running belt or wheel: it takes the hand with them.",
        ),
        tuple(
            Drawing(
                "wedge", each.hand, f"{each.hand.capitalize()} foot from above, the panel's front above.", tall=58.0
            )
            for each in facts.wedges
        ),
    )


def straight_deg(facts: Facts) -> float:
    """How far a welded web may lean off its angle: as is usual, or less where the pair would bind sooner."""
    most = facts.most_toe_deg
    return STRAIGHT if most is None else min(STRAIGHT, math.floor(most * 100.0) / 100.0)


def _toe(facts: Facts, depth: float, what: str) -> Iterator[str]:
    """How true it must be, where that is known: what the pair bears without binding."""
    most = facts.most_toe_deg
    if most is None:
        return
    off = facts.small(_down(facts, depth * math.tan(math.radians(most))))
    yield (
        f"Each hinge may be {most_words(most, facts.units)} out of parallel, all errors together, or the pair binds "
        f"before {facts.deg(facts.analysis.opening.reached_deg)}: {off} over the {facts.mm(depth)} of the {what}. "
        "At the pins it is more, so measure there too."
    )


def _rise_off(facts: Facts, depth: float) -> str:
    """How far a wedge may miss, and by whose word."""
    most = facts.most_toe_deg
    borne = math.inf if most is None else _down(facts, depth * math.tan(math.radians(most)))
    return facts.small(borne) if borne < RISE_OFF else f"{facts.small(RISE_OFF)} ({PRACTICE})"


def _down(facts: Facts, mm: float) -> float:
    """To hundredths of a mm or thousandths of an inch, on the careful side."""
    step = 0.0254 if style_of(facts.units).units == "in" else 0.01
    return max(math.floor(mm / step), 1) * step


def _scribes(facts: Facts, foot: Foot) -> Iterator[tuple[str, ...]]:
    """The lines on one hand's webs, outboard first, with their heights over the foot as cut."""
    for name, each in zip(SIDES[len(foot.lines)], foot.lines, strict=True):
        yield foot.hand, name, facts.fine(round(each.low, 2)), facts.fine(round(each.high, 2))


def _shims(facts: Facts) -> Step:
    rows = tuple(_shim_row(facts, each) for each in facts.wedges)
    return Step(
        "shim",
        "Make the tapered shims",
        (f"{facts.hinges} shim blanks, as cut", "scriber, marking blue", "mill, planer or belt", "file"),
        (
            (
                "The wall isn't square to the hinges. A tapered shim goes between each base plate and the wall, so "
                "that both hinges stand parallel."
            ),
            Table(("hand", "taper", "over", "thin end", "thick end", "thick end is"), rows),
            (
                "The blanks are cut as thick as their thick end, with the base plates' holes. Scribe both ends, join "
                "the lines, plane down to just short of them, then file, with blue on a flat plate."
            ),
            "Left and right are mirror images: mark each with its hand and its thick end.",
            *_toe(facts, facts.wedges[0].depth, "shim"),
        ),
        (
            f"Both ends measure as listed, within {_rise_off(facts, facts.wedges[0].depth)}.",
            "Held between base plate and wall it shows no light, and the web is parallel to the centreline.",
        ),
        ("Eyes protected. Clamp the shim: a wedge climbs out of a vice and a saw throws it.",),
        tuple(
            Drawing(
                "wedge", each.hand, f"{each.hand.capitalize()} shim from above, the panel's front above.", tall=58.0
            )
            for each in facts.wedges
        ),
    )


def _shim_row(facts: Facts, each: Wedge) -> tuple[str, ...]:
    thin, thick = (facts.fine(round(size, 3)) for size in (each.thin, each.thick))
    edge = f"{each.thick_end}, its {edge_words(each.hand, each.thick_end)} edge"
    return each.hand, facts.deg(each.angle_deg), facts.mm(each.depth), thin, thick, edge


# Fire -----------------------------------------------------------------------------------------------------------------


def weld(facts: Facts) -> Iterator[Step]:
    """Weld webs and gussets to the base plates."""
    made = facts.base
    if made is None or made.web is None:
        return
    part = made.part
    sides = "both sides" if part.weld_side == "both" else f"the {part.weld_side} side"
    bars = ", ".join(f"{facts.fine(bar)} through {pin}" for pin, bar in made.bars)
    gussets = f", {2 * part.gussets} gussets each" if part.gussets else ""
    yield Step(
        "weld",
        "Weld the bases",
        (
            f"{facts.hinges} base plates, {facts.hinges * part.webs} webs{gussets}",
            f"straight bars: {bars}",
            "clamps, square, welder",
        ),
        (
            f"Bare metal first: grind zinc and paint off, {facts.mm(BARE)} round each weld.",
            "Push the tabs through their slots." if made.tabs else "Stand the webs between the lines on their plates.",
            "Put the bars through both bases at once, so that left and right are held in line while you tack.",
            *_stands_at(facts),
            (
                f"Tack at each end, look with the square, then weld {sides}: throat {facts.mm(made.throat)}, leg "
                f"{facts.mm(leg(made.throat))}, {facts.mm(made.weld)} of weld for one base."
            ),
            "Weld short runs, one side and then the other, and let it cool in between. Don't cool it with water.",
            *((GUSSETS if made.ground else "Gussets last, square to the web.",) if part.gussets else ()),
        ),
        (
            "Tacked: the bars still slide by hand through both bases.",
            "Welded: no crack, no hole, no undercut; the run goes round each end.",
        ),
        (
            "Helmet, gloves, leather; a screen for others. Hot metal looks like cold metal: chalk HOT on it.",
            "Zinc and paint give poisonous fumes: grind them off first, and have air that carries fumes away.",
            "Welds, bolts and wall aren't reckoned here: have somebody of the trade look at them.",
        ),
        (
            Drawing("base side", caption="The base from the side: web, plate, bars.", tall=58.0),
            Drawing("base plate", caption="The base plate, with the lines at which the webs stand.", tall=64.0),
        ),
    )


def _stands_at(facts: Facts) -> tuple[str, ...]:
    """At which angle the web stands on its plate, where that isn't square."""
    if not facts.wedges or facts.wedges[0].trued == "shim":
        return ("The webs stand square on their plates.",)
    told = "; ".join(
        f"{each.hand} web {facts.deg(90.0 - each.angle_deg)} on its {_other(each.thick_end)} side"
        for each in facts.wedges
    )
    return (f"The webs don't stand square on their plates, but as their feet are ground: {told}.",)


def _other(end: str) -> str:
    return "inboard" if end == "outboard" else "outboard"


def straighten(facts: Facts) -> Iterator[Step]:
    """Take out what the weld has drawn."""
    made = facts.base
    if made is None or made.web is None:
        return
    high = max(at.imag for _, at, _ in made.pins)
    straight = straight_deg(facts)
    off = high * math.tan(math.radians(straight))
    yield Step(
        "straighten",
        "Straighten",
        ("press or large vice", "straightedge", "the bars again", "feeler gauges"),
        (
            "A weld draws the web to its own side and hollows the plate. Straighten it cold, a little past, and look.",
            "Press near the weld and not at the eyes. What came out twisted is set with the bar as a lever.",
        ),
        (
            f"The plate is flat within {facts.small(FLAT)} under the straightedge ({PRACTICE}).",
            (
                f"At the upper pin, {facts.mm(high)} over the plate, the web is within {facts.small(off)} "
                f"of its line ({facts.deg(straight)}{f', {PRACTICE}' if straight == STRAIGHT else ''})."
            ),
            "The bars slide through both bases by hand.",
        ),
        ("What is pressed can spring out: stand aside of it, face protected, hands off.",),
        (Drawing("lean", caption="Measured at the upper pin.", tall=52.0),),
    )


def edges(facts: Facts) -> Iterator[Step]:
    """Finish the edges, knowing what it costs."""
    eyes = eyes_of(facts)
    if not eyes:
        return
    lost = sum(each for _, each in GRITS)
    rows = [(name, facts.fine(each)) for name, each in GRITS]
    left, narrow = [], []
    for link, radius, hole in eyes:
        after = radius - lost
        left.append(
            (link, f"⌀{facts.fine(hole)}", facts.mm(radius), facts.fine(round(after, 2)), _times(facts, after / hole))
        )
        if after < EDGE_USUAL * hole <= radius + 1e-9:
            narrow.append(link)
    does: list[str | Table] = [
        "File along the edge until the cut's ripple is gone; then each grit until the marks of the last are gone.",
        Table(("step", "lost on each face"), (*rows, ("in all", facts.fine(round(lost, 3))))),
        f"Figures of loss: {PRACTICE}. So much of an eye goes too, from its hole's centre to the edge:",
        Table(("link", "hole", "to edge", "then", "÷ hole"), tuple(left)),
    ]
    if narrow:
        does.append(
            f"{', '.join(narrow)}: finished, less than {_times(facts, EDGE_USUAL)} of the hole is left, which is usual "
            f"({PRACTICE}). Draw these eyes larger, or leave their edges as cut."
        )
    does.append(
        "Leave the faces alone where washers run. Sanded faces make a plate thinner by twice the loss: measure it "
        "again and print the stack anew before you order pins."
    )
    yield Step(
        "edges",
        "Finish the edges",
        ("file", "grits 80, 120, 180, 240", "belt or block", "caliper"),
        tuple(does),
        (
            "From hole to edge each eye measures no less than listed, all round.",
            "Plates of a pair match when they lie on each other.",
        ),
        (
            "Dust mask, eyes and ears. Steel sparks set aluminium dust alight: never both on one machine.",
            "No gloves or loose sleeves at a running belt. Hold small plates in a jig, not in fingertips.",
        ),
        (Drawing("eye", eyes[0][0], "An eye: as cut, and as finished (loss drawn ten times).", tall=52.0),),
    )


def eyes_of(facts: Facts) -> list[tuple[str, float, float]]:
    """Of each link that has plates: its narrowest eye for its hole, as (link, radius, diameter of the hole)."""
    found: dict[str, tuple[str, float, float]] = {}
    project = facts.project
    with_plates = {each.part.link for each in facts.cuts if each.part.kind == "plate"}
    for pivot, hole in facts.holes:
        if hole.link not in with_plates:
            continue
        plate = project.plating.of(hole.link, project.link(hole.link).width)
        radius = {eye.pivot: eye.radius for eye in plate.eyes}.get(pivot, plate.radius or 0.0)
        had = found.get(hole.link)
        if radius > 0.0 and (had is None or radius / hole.diameter < had[1] / had[2]):
            found[hole.link] = (hole.link, radius, hole.diameter)
    return list(found.values())


def _times(facts: Facts, share: float) -> str:
    """Say a share, "1.27 ×", with the builder's point or comma."""
    told = f"{share:.2f} ×"
    return told.replace(".", ",") if style_of(facts.units).comma else told

"""The sentences on what is printed: layout sheet and mock-up templates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_length, style_of

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.project import Link

INCH = 25.4
TRUE_SIZE = "Print at 100 % (actual size), not “fit to page”; then measure the bars."
TRUST_FIGURES = "Paper swells when it is damp: trust the figures more than the sheet."

MOCKUP_CAUTIONS = (
    "Card first: cut and pin it, and swing it by hand. Then ply, if it moves as it should.",
    "A mock-up shows the motion and carries nothing: hold or prop the real panel by other means.",
    "Links pinch where they pass each other and the body: fingers out while it moves, both ways.",
)


def print_bar(units: Units) -> tuple[float, str]:
    """The bar by which a print is checked with the rule that is at hand: its length, mm, and what it is called."""
    return (4 * INCH, "4 in") if style_of(units).units == "in" else (100.0, "100 mm")


def paper_words(name: str, size: tuple[float, float], units: Units) -> str:
    """Name a paper with its size (mm): "A4  (210 × 297 mm)"."""
    if style_of(units).units == "in":
        return f"{name}  ({' × '.join(format_length(each, units) for each in size)})"
    return f"{name}  ({size[0]:g} × {size[1]:g} mm)"


def as_wide_as(width: float, drawn: float, units: Units) -> str:
    """Why a link's template is wider than the link: "drawn 18.4 mm wide, so that card is left around the holes"."""
    told = format_length(drawn, units)
    why = "so that card is left around the holes"
    return f"drawn {told} wide, {why}" + (f"; the link has {format_length(width, units)}" if width > 0 else "")


def pins_of(link: Link) -> str:
    """The title of a template of pins to set out."""
    return f"pins on {link.id}" + (" (the panel)" if link.kind == "panel" else " (fixed)")


def scale_words(short: float, long: float) -> str:
    """How a print is corrected: "Drawn 1.015228 times as large, …"; "" where it isn't.

    short, long : what 100 mm came out as along the sheet's short side and its long one.
    """
    if short == long == 100.0:
        return ""
    if short == long:
        return f"Drawn {100.0 / short:.6f} times as large, for a printer that makes {short:.6g} of 100."
    return (
        f"Drawn {100.0 / short:.6f} times as large along the sheet's short side and {100.0 / long:.6f} along its long "
        f"side, for a printer that makes {short:.6g} and {long:.6g} of 100: it misses differently both ways."
    )


def how_to_words(overlap: float, hole: float, units: Units) -> tuple[str, ...]:
    """What to do with the sheets, step by step."""
    _, square = print_bar(units)
    steps = (
        f"Print at 100 % (“actual size”, no scaling), never “fit to page”. Measure the square of {square} on this",
        "sheet both ways, and the bars on each sheet you use: no more than 0.5 mm (1/64 in) off. Else say what the",
        f"{square} bar measures where the sheets are made, and print again.",
        f"\nJoin the sheets of a part: lay them {format_length(overlap, units)} over each other until the crosses of",
        "one number lie on each other, and tape them. A window pane helps.",
        f"\nGlue to card. Punch or drill the holes, {format_length(hole, units, fine=True)} in diameter, at the",
        "centre marks; cut along the heavy edge.",
        "\nHold the templates of pins against the body, panel shut: the dashed lines level and plumb, the outlines",
        "on what they were traced from. Measure between the pins before you drill.",
        "\nAll is as seen in the side view; for the other side of the body turn it over.",
    )
    return tuple(" ".join(steps).split(" \n"))

"""How the sheet looks: colours by the part they play, line weights, letters. No Qt here; painters turn these into pens.

The picture is a drafting sheet: ink on paper, or chalk on a dark sheet. What a line means is told by its weight,
its dashes, a symbol or a word as well; colour only helps. Line weights are in pixels at scale 1 and don't grow with
the zoom, as on a sheet that is drawn anew at each scale.

*Contrast*: words stand at 4.5:1 against the paper or better, lines that carry meaning at 3:1 or better (W3C WCAG
2.2, 2023, success criteria 1.4.3 and 1.4.11); the grid and the ghosts of the panel stay below that on purpose, as
they must not drown the rest. `tests/app/test_look.py` holds this.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Look:
    """One sheet. Colours are "#rrggbb".

    paper, edge      : the sheet, and the line around it and its title block
    grid, grid_major : fine and coarse lines of the squared paper
    ink, faint       : lines and words; what is said in a low voice
    fixed, hatch     : the fixed link's outlines, and the strokes behind them
    panel, ghost     : the panel's heavy line, and where it passes
    link, link_fill  : edges and faces of links
    path             : where marks and pins run
    gap, short       : a clearance that is held, one that falls short or a contact
    ok, fault        : a check that holds, one that does not
    selection        : what is selected or under the pointer
    thin, line, heavy : line weights, pixels; 1 is the quick path of the painter, kept for the many
    words_px, small_px, title_px : heights of letters, pixels
    families         : fonts to try first; none: the system's own
    """

    name: str
    paper: str
    edge: str
    grid: str
    grid_major: str
    ink: str
    faint: str
    fixed: str
    hatch: str
    panel: str
    ghost: str
    link: str
    link_fill: str
    path: str
    gap: str
    short: str
    ok: str
    fault: str
    selection: str
    thin: float = 1.0
    line: float = 1.6
    heavy: float = 3.0
    words_px: float = 12.0
    small_px: float = 11.0
    title_px: float = 15.0
    families: tuple[str, ...] = ()


def light() -> Look:
    """Ink on paper."""
    return Look(
        name="light", paper="#f6f2e6", edge="#8b8674", grid="#e9e4d4", grid_major="#dad3bf", ink="#1c242c",
        faint="#5f6468", fixed="#1c242c", hatch="#82857f", panel="#141b22", ghost="#b9b8ac", link="#33404c",
        link_fill="#93a1a8", path="#8a5413", gap="#0c665c", short="#b3231b", ok="#0c665c", fault="#b3231b",
        selection="#1a5fc4",
    )  # fmt: skip


def dark() -> Look:
    """Chalk on a dark sheet."""
    return Look(
        name="dark", paper="#1b2228", edge="#77808a", grid="#232b32", grid_major="#2d373f", ink="#ece6d6",
        faint="#a3a69f", fixed="#ece6d6", hatch="#868a86", panel="#fbf6e8", ghost="#5b656c", link="#c3ccd0",
        link_fill="#5f7480", path="#e0a860", gap="#6fd3c2", short="#ff8a7a", ok="#6fd3c2", fault="#ff8a7a",
        selection="#86b7ff",
    )  # fmt: skip

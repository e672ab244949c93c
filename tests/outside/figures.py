"""Typed figures that several files of this folder compare with, and the layouts they belong to (checks.md)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tests.outside.sketch import Line, Sketch

# A1: R. L. Norton, Design of Machinery, ch. 4, Example 4-1 (from memory); digits derivable. Degrees.
NORTON = (40.0, 120.0, 80.0, 100.0)  # crank a, coupler b, rocker c, ground d
NORTON_AT = 40.0
NORTON_ANGLES = {  # circuit → angles of crank, coupler, rocker
    "open": {"crank": 40.0, "coupler": 20.2978828, "rocker": 57.3248801},
    "crossed": {"crank": 40.0, "coupler": -60.9779668, "rocker": -98.0049641},
}
NORTON_B = {"open": 143.189988210 + 67.339623688j, "crossed": 88.859288258 - 79.220480571j}  # A3


@dataclass(frozen=True)
class SixBarRow:
    """One line of A21's table."""

    crank_deg: float
    panel_deg: float
    g: complex


# A21: a Watt chain with seven pins; figures by successive circles, checked by MuJoCo and tracked pins in
# test_oracles.py.
SIX_BAR = (
    SixBarRow(-40.0, 8.171271644, 282.645981376 + 96.721993304j),
    SixBarRow(-20.0, 4.524133278, 271.267944214 + 123.298500583j),
    SixBarRow(20.0, -6.501781034, 222.754331618 + 141.055236153j),
    SixBarRow(40.0, -17.485584396, 193.599499536 + 118.220836722j),
)
SIX_BAR_AT_20 = {
    "P4": 68.272643816 + 43.221960114j,
    "P5": 38.272643816 + 113.221960114j,
    "P6": 95.599744348 + 85.093544470j,
    "P7": 92.458106913 + 145.839985635j,
}
G = 250 + 140j


def six_bar(panel: str = "panel", **more: Any) -> Sketch:  # noqa: ANN401 (fields of Sketch)
    """A21's Watt chain, with whichever link as the panel that opens."""
    return Sketch(
        links=("ground", "crank", "rocker", "coupler", "arm", "panel"),
        panel=panel,
        pivots={
            "P1": (0j, ("ground", "crank")),
            "P2": (70 - 20j, ("ground", "rocker")),
            "P3": (20 + 60j, ("crank", "coupler")),
            "P4": (90 + 40j, ("rocker", "coupler")),
            "P5": (60 + 110j, ("coupler", "arm")),
            "P6": (130 + 70j, ("rocker", "panel")),
            "P7": (120 + 130j, ("arm", "panel")),
        },
        **more,
    )


def launch_hatch(**more: Any) -> Sketch:  # noqa: ANN401 (fields of Sketch)
    """The demo's hinge, layout C: pins, outlines and numbers as they were tried out for the demo."""
    screen = (-160 + 560j, -40 + 310j, -40 + 250j, 250j, 298j, 6 + 298j, 6 - 200j)
    skin = (-28 + 267j, -28 + 312j, 600 + 297j, 1190 + 262j)
    settings: dict[str, Any] = {
        "outlines": {"screen": Line("hull", screen), "skin": Line("hatch", skin)},
        "marks": {"rear corner": ("hatch", -28 + 312j)},
        "wanted_deg": 75.0,
    }
    return Sketch(
        links=("hull", "arm", "cross link", "short front", "short rear", "hatch"),
        panel="hatch",
        pivots={
            "O1": (141 + 257j, ("hull", "arm")),
            "O2": (32 + 179j, ("hull", "short rear")),
            "X": (125 + 213j, ("arm", "cross link")),
            "B": (77 + 94j, ("short rear", "cross link")),
            "Q": (258 + 227j, ("cross link", "short front")),
            "P1": (25 + 255j, ("arm", "hatch")),
            "P2": (116 + 290j, ("short front", "hatch")),
        },
        **(settings | more),
    )

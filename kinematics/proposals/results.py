"""What a search is told and what it hands over: plain frozen values that travel between processes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.figures import KeyFigures
    from kinematics.project import Project
    from kinematics.results import Check

KINDS = ("single pivot", "four-bar", "six-bar")
"""What may be asked for; "six-bar" stands for all families of six links that move a panel as no four-bar can."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How to search.

    seed : the same seed gives the same proposals in the same order.     kinds : of KINDS, in that order.
    width : mm, of the links that are proposed.     bands_clear : mm by which their bands must clear the fixed outlines
    at all openings; None: only as far as the project's own wants say.
    """

    seed: int = 1
    kinds: tuple[str, ...] = KINDS
    width: float = 28.0
    bands_clear: float | None = None


@dataclass(frozen=True, slots=True)
class Proposal:
    """One layout that was found, held against every want by `analyse`.

    project : whole, with the asker's outlines, wants, zones and loads; without trials and pictures.
    kind : of KINDS.     family : as `kinematics.families` names it ("Watt I", …).
    ok : every check of its analysis holds.     short_by : mm (degrees for an opening) of the worst miss, 0 where ok.
    figures : its key figures.     worst : the check that misses most, or has least to spare.
    unit : the number of the unit that found it.     short : all checks that fall short.
    """

    project: Project
    kind: str
    family: str
    ok: bool
    short_by: float
    figures: KeyFigures
    worst: Check
    unit: int
    short: tuple[Check, ...] = ()


@dataclass(frozen=True, slots=True)
class UnitResult:
    """What one unit of work brought: proposals, how many candidates it scored, and the kind it looked among."""

    unit: int
    kind: str
    proposals: tuple[Proposal, ...]
    tried: int

"""What a search is told and what it hands over: plain frozen values that travel between processes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.figures import KeyFigures
    from kinematics.project import Project
    from kinematics.results import Check

KINDS = ("single pivot", "four-bar", "six-bar")
"""What may be asked for; "six-bar" stands for all families of six links that move a panel as no four-bar can."""

NOT_SEARCHED = ("push", "rests", "stop", "rear edge", "striker", "strength")
"""Kinds of checks that no search is held to: how it lifts, holds and lies shut, and what it bears. Struts, handle and
plates are chosen for a layout once it is there; and their newtons and degrees are no measure of how near pins come."""


def searched(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Those that a search is held to, in their order: gaps, travel, zones and all else that pins are placed for."""
    return tuple(check for check in checks if check.kind not in NOT_SEARCHED)


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
    ok : every check of its analysis that is searched for holds (`searched`).
    short_by : mm (degrees for an opening) of the worst miss, 0 where ok.     figures : its key figures.
    worst : the check searched for that misses most, or has least to spare.
    unit : the number of the unit that found it.     short : all checks searched for that fall short.
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

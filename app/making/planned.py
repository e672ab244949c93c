"""What is planned of a build, as values: options, parts with their counts, files with their content, all of it.

A file's content is made when it is asked for (`Planned.content`), so that a plan is cheap enough to be shown while the
work goes on. `app.making.plan` makes one.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from app.files.cut_dxf import cut_dxf
from app.files.cut_svg import cut_svg
from app.files.paper import PAPERS
from kinematics.errors import HingewrightError
from kinematics.pricing import estimate

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.files.drafting import Page
    from kinematics.cutting import Part
    from kinematics.project import Project

FORMATS: dict[str, Callable[[Part, str], bytes]] = {"dxf": cut_dxf, "svg": cut_svg}
FOLDERS = {"plate": "plates", "mount": "mounts"}
"""Where the parts of each kind stand."""


@dataclass(frozen=True, slots=True)
class MakeOptions:
    """What is asked.   formats : of `FORMATS`, at least one.   units : of the cut files, "mm" or "in".

    paper : of the sheets, a name of `app.files.paper.PAPERS`; "": as the project's units have it at home.
    """

    formats: tuple[str, ...] = ("dxf", "svg")
    units: str = "mm"
    paper: str = ""

    def __post_init__(self) -> None:
        wrong = next((each for each in self.formats if each not in FORMATS), None)
        if wrong is not None or not self.formats:
            raise HingewrightError(f"“{wrong or ''}” is no kind of cut file", remedy=f"Take {' or '.join(FORMATS)}.")
        if self.units not in ("mm", "in"):
            raise HingewrightError(f"“{self.units}” is no unit of cut files", remedy="Take mm or in.")
        if self.paper and self.paper not in PAPERS:
            raise HingewrightError(f"“{self.paper}” is no paper known here", remedy=f"Take one of {', '.join(PAPERS)}.")


@dataclass(frozen=True, slots=True)
class CutPlan:
    """A part with the name of its files (without ending) and how many are cut for all hinges."""

    part: Part
    name: str
    count: int

    def path(self, ending: str) -> str:
        """Of its file in one format."""
        return f"{FOLDERS[self.part.kind]}/{self.name}.{ending}"


@dataclass(frozen=True, slots=True)
class Planned:
    """One file.   path : within the folder, "/" between.   told : what the index says of it beside path and kind.

    pages : of one that is printed, each a size (mm) and what draws it.
    """

    path: str
    kind: str
    content: Callable[[], bytes]
    told: dict[str, Any] = field(default_factory=dict)
    pages: Callable[[], Sequence[Page]] | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """The build's files, and what is wrong with them, a sentence each."""

    project: Project
    options: MakeOptions
    cuts: tuple[CutPlan, ...]
    files: tuple[Planned, ...]
    faults: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def price(self) -> float | None:
        """What all parts come to by the builder's own prices; None where there are none."""
        prices = self.project.plating.prices
        if prices is None:
            return None
        return estimate([(cut.part, cut.count) for cut in self.cuts], prices)

    def index(self) -> dict[str, Any]:
        """What `index.json` holds."""
        prices = self.project.plating.prices
        return {
            "files": [{"path": each.path, "kind": each.kind, **each.told} for each in self.files],
            "faults": list(self.faults),
            "cautions": list(self.cautions),
            "estimate": {
                "mass": sum(cut.count * cut.part.mass for cut in self.cuts),
                "cut_length": sum(cut.count * cut.part.cut_length for cut in self.cuts),
                "pierces": sum(cut.count * cut.part.pierces for cut in self.cuts),
                "price": self.price,
                "currency": prices.currency if prices is not None else "",
            },
        }

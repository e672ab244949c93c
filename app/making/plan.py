"""All files of a build, before any is written: what each is, how many are cut, and what stands in the way.

A file's content is made when it is asked for (`Planned.content`), so that a plan is cheap enough to be shown while the
work goes on. Pin holes and their faults come from the tables of hardware (`app.making_faults`), what only the whole
travel tells from a study of it (`app.making.study`), and which parts there are from `SOURCES`.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

from app.files.project_json import build_faults
from app.hardware_words import fault_sentences as making_sentences
from app.making.mounts import mounts, scribed, stopped
from app.making.names import distinct
from app.making.planned import FORMATS, CutPlan, MakeOptions, Plan, Planned
from app.making.rows import parts_csv
from app.making.study import Study
from app.making.words import fault_sentence
from app.making_faults import made
from app.wall_told import wall_told
from app.words import CAUTION, FAILS
from kinematics.cut_faults import CutFault, cut_faults
from kinematics.cutting import part_of
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from app.files.drafting import Page
    from app.lengths import Units
    from kinematics.cutting import Part
    from kinematics.project import Project

    Drawn = tuple[Callable[[], bytes], Callable[[], Sequence[Page]]]

TEMPLATES, MOCKUP, PARTS_LIST = "templates.pdf", "mock-up.pdf", "parts.csv"
BUILD_SHEET, INDEX_PAGE = "build sheet.pdf", "index.pdf"
HINGES = 2
"""Where a project has no loads that say how many."""


def plan_of(
    project: Project, options: MakeOptions | None = None, units: Units | None = None, study: Study | None = None
) -> Plan:
    """Plan all files.   units : in which faults are told; the project's own where None.   study : of the whole travel.

    Raises HingewrightError where there is nothing to make yet.
    """
    options, units, study = options or MakeOptions(), units or project.display_units, study or Study()
    if not project.pivots:
        raise HingewrightError("there is no pivot yet, so nothing can be made", remedy="Lay out a hinge first.")
    cuts, found = cuts_of(project)
    wrong = made(project)[1]
    faults = [*known_faults(project, units, found), *study.faults]
    cautions = [fault_sentence(each, units) for each in found if each.is_caution]
    cautions += [*making_sentences([each for each in wrong if not each.grave], units), *study.cautions]
    cautions += _of_wall(project, CAUTION, units)
    files = [*_cut_files(project, cuts, options)]
    for path, kind, printed in ((TEMPLATES, "templates", partial(_templates, study)), (MOCKUP, "mock-up", _mockup)):
        try:
            content, pages = printed(project, options)
            files.append(Planned(path, kind, content, pages=pages))
        except HingewrightError as error:
            cautions.append(f"{path} is left out: {error}")
    cautions += [f"{TEMPLATES}: {each}" for each in _missing(project)]
    parts = Planned(PARTS_LIST, "parts", partial(parts_csv, project, cuts, options, study.pins))
    files += [*sheets(project, cuts, (*files, parts), (faults, options.paper), study), parts]
    return Plan(project, options, cuts, tuple(files), tuple(faults), tuple(cautions))


def known_faults(project: Project, units: Units, found: Sequence[CutFault] | None = None) -> list[str]:
    """All faults that are told without the stack and the travel, a sentence each.   found : of the parts that are cut,
    where they are known.
    """
    found = cuts_of(project)[1] if found is None else found
    told = [*build_faults(project), *(fault_sentence(each, units) for each in found if not each.is_caution)]
    grave = [each for each in made(project)[1] if each.grave]
    return [*told, *making_sentences(grave, units), *_of_wall(project, FAILS, units)]


def _missing(project: Project) -> tuple[str, ...]:
    """What the templates lack."""
    from app.files.templates import lacking

    return lacking(project)


def sheets(
    project: Project, cuts: Sequence[CutPlan], others: Sequence[Planned], told: tuple[Sequence[str], str], study: Study
) -> tuple[Planned, Planned]:
    """The sheets that people read: the work step by step, and the index page, which lists the other files too.

    told : faults that stand on their first page, and the paper, "" for the usual one.
    """
    faults, paper = told

    def build_pages() -> Sequence[Page]:
        from app.build_sheet.facts import Facts
        from app.build_sheet.pages import build_pages

        return build_pages(Facts(project, project.display_units, cuts, study.analysis, study.stack), faults, paper)

    def index_pages() -> Sequence[Page]:
        from app.build_sheet.index_page import index_pages

        return index_pages(project, cuts, (*others, build, index), faults, paper)

    build = Planned(BUILD_SHEET, "build sheet", partial(_printed, build_pages, project, "build sheet"), {}, build_pages)
    index = Planned(INDEX_PAGE, "index page", partial(_printed, index_pages, project, "index"), {}, index_pages)
    return build, index


def _printed(pages: Callable[[], Sequence[Page]], project: Project, what: str) -> bytes:
    from app.files.pdf import write_pages

    return write_pages(pages(), f"{project.title or 'Hinge'}: {what}")


# ------------------------------------------------------------------------------------------------------- what is asked
def hole_sizes(project: Project) -> Callable[[str, str], float]:
    """How pin holes are cut: for a link and one of its pivots, the diameter (mm)."""
    joints = made(project)[0]
    return lambda link, pivot: joints[pivot].hole(link).cut_diameter


def finished(project: Project, link: str, pivot: str) -> dict[str, Any]:
    """What becomes of a pin hole once it is cut: its limits (mm), their zone, what it is for; nothing of mounts'."""
    joint = made(project)[0].get(pivot)
    hole = next((each for each in joint.holes if each.link == link), None) if joint is not None else None
    if hole is None:
        return {}
    limits = [hole.finished.least, hole.finished.most]
    return {"for": hole.purpose, "finished": limits, "zone": hole.zone, "reamed": hole.reamed}


def _plates(project: Project) -> Iterable[Part | CutFault]:
    """The plates of all links, in the links' order; in the place of one that can't be, its fault."""
    hole, lines, project = hole_sizes(project), scribed(project), stopped(project)
    for link in project.links:
        try:
            part = part_of(project, link, hole, lines.get(link.id, ()))
        except HingewrightError as error:
            yield CutFault("shape", link.id, told=f"{error.what}. {error.remedy} It is left out.")
            continue
        if part is not None:
            yield part


SOURCES: tuple[Callable[[Project], Iterable[Part | CutFault]], ...] = (_plates, mounts)
"""Where parts come from, each in the order in which they are listed."""


def _of_wall(project: Project, mark: str, units: Units) -> list[str]:
    """What is told of the wall with this mark, without it."""
    base = project.mounted.base
    told = [] if base is None else wall_told(project, base, units)
    return [each.removeprefix(f"{mark} ") for each in told if each.startswith(mark)]


def cuts_of(project: Project) -> tuple[tuple[CutPlan, ...], tuple[CutFault, ...]]:
    """All parts that are cut, with names and counts, and all faults."""
    found = [each for source in SOURCES for each in source(project)]
    parts = [hand for each in found if not isinstance(each, CutFault) for hand in _hands(each)]
    faults = [each for each in found if isinstance(each, CutFault)]
    for each in found:
        if not isinstance(each, CutFault):
            faults += cut_faults(project, each)
    hinges = project.loads.hinges if project.loads is not None else HINGES
    names = distinct((f"{part.mark} {part.hand}".strip() for part in parts), "plate")
    cuts = (CutPlan(part, name, part.count * _share(part, hinges)) for part, name in zip(parts, names, strict=True))
    return tuple(cut for cut in cuts if cut.count), tuple(faults)


def _hands(part: Part) -> tuple[Part, ...]:
    """A part that isn't the same from both sides is cut twice, once mirrored; tapered ones come for each hand."""
    return (part, part.mirrored()) if part.hand and part.taper is None else (part,)


def _share(part: Part, hinges: int) -> int:
    """How many hinges have the part: those of its hand, the left ones first."""
    return {"": hinges, "left": (hinges + 1) // 2, "right": hinges // 2}[part.hand]


def _cut_files(project: Project, cuts: Iterable[CutPlan], options: MakeOptions) -> Iterable[Planned]:
    """Each part in every format that is asked: the first one is the part, the others are drawings of it."""
    first, *others = options.formats
    for cut in cuts:
        path = cut.path(first)
        told = _told(project, cut, options)
        yield Planned(path, cut.part.kind, partial(FORMATS[first], cut.part, options.units), told)
        for form in others:
            content = partial(FORMATS[form], cut.part, options.units)
            yield Planned(cut.path(form), "drawing", content, {"of": path})


def _told(project: Project, cut: CutPlan, options: MakeOptions) -> dict[str, Any]:
    """What the index says of a part; lengths in mm whatever the drawing's units are."""
    part = cut.part
    return {
        "link": part.link,
        "count": cut.count,
        "thickness": part.thickness,
        "holes": [
            {
                "pivot": hole.pivot,
                "at": [hole.at.real, hole.at.imag],
                "diameter": hole.diameter,
                **finished(project, part.link, hole.pivot),
            }
            for hole in part.holes
        ],
        "units": options.units,
        **({"hand": part.hand} if part.hand else {}),
        **({"taper": list(part.taper)} if part.taper is not None else {}),
        "area": part.area,
        "mass": part.mass,
        "cut_length": part.cut_length,
        "pierces": part.pierces,
    }


def _templates(study: Study, project: Project, options: MakeOptions) -> Drawn:
    """What writes the templates for the drill, and their pages. Raises HingewrightError where that can't be."""
    from app.files.templates import template_bytes, template_sheets, usual_templates

    usual = usual_templates(project.display_units)
    asked = replace(usual, paper=options.paper or usual.paper)
    sheets = template_sheets(project, asked, web_off=study.web_off)
    pages = tuple((sheet.size, sheet.draw) for sheet in sheets)
    return partial(template_bytes, project, asked, web_off=study.web_off), lambda: pages


def _mockup(project: Project, options: MakeOptions) -> Drawn:
    """What writes the mock-up templates, and their pages. Raises HingewrightError where they can't be laid out."""
    from app.files.mockup import mockup_bytes, mockup_sheets, usual_options

    usual = usual_options(project.display_units)
    asked = replace(usual, paper=options.paper or usual.paper)
    pages = tuple((sheet.size, sheet.draw) for sheet in mockup_sheets(project, asked))
    return partial(mockup_bytes, project, asked), lambda: pages

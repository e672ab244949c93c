"""What a builder reads of a search: what is asked, how it stands, what each proposal is. No Qt here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.lengths import format_angle, format_force, format_length
from app.lettering import opened
from app.trials.figure_words import BACK, CLEARANCE, ROOM, TRANSMISSION, figure_words
from app.words import ANGLES, FAILS, HOLDS, check_name, check_want
from kinematics.errors import HingewrightError
from kinematics.proposals.ranking import longest_link
from kinematics.proposals.results import NOT_SEARCHED

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from app.lengths import Units
    from kinematics.project import Project
    from kinematics.proposals.results import Proposal
    from kinematics.results import Check

NOT_ASKED = ("pin spacing", "zone", *NOT_SEARCHED)
"""Checks that are told in words of their own, as they are of pins that the search has yet to place, or aren't asked."""

LATER = "not asked: wants of lifting and strength. They are for struts, handle and plates, once a layout is taken"


# ------------------------------------------------------------------------------------------------------ what is asked
def asked_words(project: Project, checks: Iterable[Check], units: Units) -> list[str]:
    """Every want that a proposal must meet, and where its pins may be, a line each.

    checks : of the project's analysis.
    """
    between = {link.id for link in project.links if link.kind == "link"}
    checks = tuple(checks)
    wants = [
        _want_words(check, units)
        for check in checks
        if check.kind not in NOT_ASKED and not (check.kind in ("gap", "shut gap") and between & set(check.subject))
    ]
    spacing = f"pins on one link: {format_length(project.pin_spacing, units)} apart or more"
    first = sorted(wants, key=lambda words: (not words.startswith("opens"), words))  # whatever falls short just now
    later = [LATER] if any(check.kind in NOT_SEARCHED for check in checks) else []
    return [*_missing_words(project), *first, spacing, *later, *_place_words(project)]


def _missing_words(project: Project) -> list[str]:
    """That body or panel isn't drawn, so that nobody takes what is found for a hinge that clears them."""
    drawn = {outline.on for outline in project.outlines}
    names = [link.id for link in (project.panel, project.fixed) if link.id not in drawn]
    return [f"nothing is drawn of {' and '.join(names)}, so nothing there is kept clear of"] if names else []


def fault_words(fault: object) -> str:
    """What hinders, as one reads it beside the drawing: without the place in the file."""
    if not isinstance(fault, HingewrightError):
        return str(fault)
    return opened(str(HingewrightError(fault.what, "", fault.remedy)))


def _want_words(check: Check, units: Units) -> str:
    if check.kind == "opening":
        return check_name(check, units)
    return f"{check_name(check, units)}: {check_want(check, units)}"


def _place_words(project: Project) -> list[str]:
    """Where pins may be, and which stay."""
    found = []
    for link in (project.fixed, project.panel):
        zones = sum(zone.on == link.id for zone in project.zones)
        where = {0: "anywhere, first beneath the panel", 1: "within its zone"}.get(zones, f"within its {zones} zones")
        found.append(f"pins on {link.id}: {where}")
    locked = [pivot.id for pivot in project.pivots if pivot.locked]
    if locked:
        found.append(f"locked, so {'it stays' if len(locked) == 1 else 'they stay'}: {', '.join(locked)}")
    return found


# ------------------------------------------------------------------------------------------------------ how it stands
def best_words(kind: str, best: Proposal | None, units: Units) -> str:
    """How far one kind has come: "four-bar: all wants hold", "single pivot: falls short by 14.2 mm …"."""
    if best is None:
        return f"{kind}: nothing yet"
    if best.ok:
        return f"{kind}: all wants hold"
    return f"{kind}: none yet that holds; the nearest is {short_words(best, units)}"


def short_words(proposal: Proposal, units: Units) -> str:
    """By how much a proposal falls short, and of what: "14.2 mm short of screen and sill – hatch skin"."""
    return f"{_amount(proposal, units)} short of “{check_name(proposal.worst, units)}”"


def _amount(proposal: Proposal, units: Units) -> str:
    """By how much a proposal falls short; never told as nothing."""
    say = format_angle if proposal.worst.kind in ANGLES else format_length
    amount = say(proposal.short_by, units)
    return say(proposal.short_by, units, fine=True) if amount == say(0.0, units) else amount


def progress_words(seconds: float, tried: int, units_done: int, good: int, now: str) -> str:
    """How the search goes: "4 s: 12 300 layouts tried, 3 100 a second; 5 hold every want. Now: four-bar".

    now : the kind that is looked among, "" once the search has stopped.
    """
    rate = f", {_grouped(round(tried / seconds))} a second" if seconds >= 0.5 else ""
    hold = {0: "none holds every want yet", 1: "1 holds every want"}.get(good, f"{good} hold every want")
    looking = f". Now: {now}" if now else ""
    if not units_done:
        return "Starting…" if now else "Stopped before anything was tried."
    return f"{seconds:.0f} s: {_grouped(tried)} layouts tried{rate}; {hold}{looking}"


def _grouped(number: int) -> str:
    return f"{number:,}".replace(",", " ")


def all_best_words(best_by_kind: Mapping[str, Proposal | None], units: Units) -> str:
    """How far each kind has come, one behind the other."""
    return "; ".join(best_words(kind, best, units) for kind, best in best_by_kind.items())


# ----------------------------------------------------------------------------------------------------- each proposal
def card_words(proposal: Proposal, units: Units) -> tuple[str, str, str]:
    """Three lines on a proposal: what it is and whether it holds; how it moves; how large it is.

    Where it falls short, the second says of what, and the third how it moves.
    """
    moves = _moves(proposal, units)
    if proposal.ok:
        return f"{kind_words(proposal)}  {HOLDS} all wants", moves, _size(proposal, units)
    more = len(proposal.short) - 1
    others = {0: "", 1: "; one want more"}.get(max(more, 0), f"; {more} wants more")
    title = f"{kind_words(proposal)}  {FAILS} falls short by {_amount(proposal, units)}"
    return title, f"“{check_name(proposal.worst, units)}”{others}", moves


def _moves(proposal: Proposal, units: Units) -> str:
    figures, said = proposal.figures, []
    if figures.clearance is not None:
        clearance = figure_words(figures, CLEARANCE, units)
        said.append(clearance if "touch" in clearance else f"clearance {clearance}")
    if figures.back is not None:
        back = figure_words(figures, BACK, units)
        said.append("rear corner never goes back" if back == "never" else f"rear corner goes back {back}")
    if figures.transmission_deg is not None:
        said.append(f"transmission {figure_words(figures, TRANSMISSION, units)}")
    return "; ".join(said) or f"opens to {format_angle(figures.opens_deg, units)}"


def _size(proposal: Proposal, units: Units) -> str:
    figures, pins = proposal.figures, len(proposal.project.pivots)
    said = [] if pins == 1 else [f"pins within {figure_words(figures, ROOM, units)}"]
    longest = longest_link(proposal.project)
    if longest > 0.0:
        said.append(f"longest link {format_length(longest, units)}")
    if figures.effort is not None:
        said.append(f"lift {format_force(figures.effort, units)}")
    return "; ".join([*said, "one pin" if pins == 1 else f"{pins} pins"])


def rounded_words(step: float | None, steps: Sequence[float], units: Units) -> str:
    """Whether a proposal's pins could be rounded, and to what; None: to none of the steps."""
    if step is not None:
        return f"Its free pins stand on whole steps of {format_length(step, units)} now, and every want holds."
    tried = " or ".join(format_length(each, units) for each in steps)
    return f"Rounded to {tried}, some want would fall short; its pins stay as they are."


def kind_words(proposal: Proposal) -> str:
    """What a proposal is: "Four-bar", "Six-bar (Watt I)"."""
    name = proposal.kind[:1].upper() + proposal.kind[1:]
    return name if proposal.family.lower() == proposal.kind else f"{name} ({proposal.family})"

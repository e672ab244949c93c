"""The report: all that an analysis says, as the object of `report --json` and as text to pin on the wall.

`as_dict` keeps to the published form (keys, their order, null where there is no number, degrees and mm whatever the
display units are); `as_text` speaks the builder's units.

A link's motion is `[dx, dy, turn_deg]`: its shut point p goes to R(turn)·p + (dx, dy); the turn never wraps.
"""

from __future__ import annotations

import math
from itertools import zip_longest
from typing import TYPE_CHECKING, Any

import numpy as np

from app import load_words, room_words, shut_words, words
from app.check_figures import gap_figures
from app.device_words import device_remarks
from app.holding_report import brings_dict, holding_dict
from app.holding_words import holding_sentences
from app.lengths import format_angle, format_coordinate, format_length
from app.made_report import made_lines, made_told
from app.strength_report import strength_lines, strength_told
from app.sure_words import sure_remarks
from kinematics.balance import holding_in_full
from kinematics.pinching import pinches
from kinematics.room import Room
from kinematics.sureness import how_sure

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project
    from kinematics.results import Check, Entry, Gap, Height, LoadFigures, Push, RoomFigures, ShutFigures, Worst
    from kinematics.sureness import Sure

__all__ = ["as_dict", "as_text"]

WIDTH = 100
"""Columns of the text report: fits a sheet of paper in a small type."""


# ---------------------------------------------------------------------------------------------------------------- JSON
def as_dict(project: Project, analysis: Analysis) -> dict[str, Any]:
    """The object of `report --json`: plain values, ready for `json.dumps(…, allow_nan=False)`."""
    opening = analysis.opening
    return {
        "title": project.title,
        "mobility": int(analysis.mobility),
        "opening": {
            "wanted_deg": _number(opening.wanted_deg),
            "reached_deg": _number(opening.reached_deg),
            "largest_deg": _number(opening.largest_deg),
            "ends": opening.ends,
        },
        "poses": _poses(project, analysis),
        "gaps": [_gap(gap) | _sure(sure) for gap, sure in zip_longest(analysis.gaps, how_sure(analysis))],
        "checks": [_check(check, project.display_units) for check in analysis.checks],
        "remarks": all_remarks(project, analysis),
        **({} if analysis.room is None else {"room": _room(project, analysis.room)}),
        **({} if analysis.loads is None else {"loads": _loads(analysis, analysis.loads)}),
        **strength_told(analysis),
        **made_told(analysis),
    }


def all_remarks(project: Project, analysis: Analysis) -> list[str]:
    """Everything to be remarked: of the linkage, of how sure the wants are, of photos."""
    units = project.display_units
    shut = shut_words.shut_remarks(analysis, units)
    odd = device_remarks(analysis, units)
    return [
        *analysis.remarks,
        *shut,
        *odd,
        *sure_remarks(analysis, units),
        *photo_remarks(project),
        *build_remarks(project),
    ]


def build_remarks(project: Project) -> list[str]:
    """What isn't sound of what the links are built of, a sentence each."""
    from app.files.project_json import build_faults

    return list(build_faults(project))


def photo_remarks(project: Project) -> list[str]:
    """Say of each entry among the pictures that is no photo why it isn't shown."""
    from app.files.project_json import picture_faults

    return [f"A photo in the file can't be shown: {fault}" for fault in picture_faults(project)]


def _room(project: Project, figures: RoomFigures) -> dict[str, Any]:
    """Floor and roof as the file has them, and the heights (y) that are held against them."""
    room = project.room or Room()
    return {
        "floor": _number(room.floor),
        "roof": _number(room.roof),
        "highest": _height(figures.highest),
        "front_edge": _height(figures.front),
    }


def _loads(analysis: Analysis, told: LoadFigures) -> dict[str, Any]:
    """What the loads come to besides effort and pins, in keys of our own; lists follow the poses."""
    holds = holding_in_full(analysis.project, analysis.sweep)
    pivots = [pivot.id for pivot in analysis.project.pivots]
    return {
        "largest": _push(told.largest),
        "least": _push(told.least),
        "balances": [{"deg": _number(each.deg), "stable": each.stable} for each in told.balances],
        "tip_over_deg": [_number(deg) for deg in told.tip_overs],
        "raising": None if told.raising is None else [_number(force) for force in told.raising.tolist()],
        "letting_down": None if told.letting_down is None else [_number(force) for force in told.letting_down.tolist()],
        "devices": [
            {"id": id, "lengths": [_number(value) for value in length], "forces": [_number(value) for value in force]}
            for id, length, force in zip(told.devices, told.lengths.T.tolist(), told.pushes.T.tolist(), strict=True)
        ],
        **_worst(told.worst),
        **({} if holds is None else holding_dict(holds, pivots)),
        **_shut(told.shut),
    }


def _worst(worst: Worst | None) -> dict[str, Any]:
    """What the worst case comes to, where one is asked for."""
    return {} if worst is None else {"worst": {"effort": _number(worst.force), **brings_dict(worst)}}


def _shut(told: ShutFigures | None) -> dict[str, Any]:
    """The panel shut on its latch, where it has one."""
    if told is None:
        return {}
    numbers = ("latch", "latch_hot", "hot", "closing", "closing_rubbed", "rear_force", "rear_hot", "rise")
    found: dict[str, Any] = {name: _number(getattr(told, name)) for name in numbers}
    points = {"rear": told.rear, "rear_way": told.rear_way}
    found |= {name: None if at is None else [_number(value) for value in at] for name, at in points.items()}
    return {"shut": {**found, "entry": None if told.entry is None else _entry(told.entry)}}


def _entry(entry: Entry) -> dict[str, Any]:
    """How the striker comes in."""
    numbers = ("length", "path_deg", "angle_deg", "side_step", "turn_deg")
    found: dict[str, Any] = {name: _number(getattr(entry, name)) for name in numbers}
    return {**found, "path": _points(map(tuple, entry.path.tolist()))}


def _push(push: Push | None) -> dict[str, Any] | None:
    return None if push is None else {"effort": _number(push.force), "at_deg": _number(push.deg)}


def _height(height: Height | None) -> dict[str, Any] | None:
    if height is None:
        return None
    return {
        "y": _number(height.y),
        "at": [_number(value) for value in height.place],
        "at_deg": _number(height.deg),
        "link": height.link,
    }


def _number(value: float | None) -> float | None:
    """A plain float; None for what is missing or no number. Minus nothing becomes nothing."""
    return None if value is None or not math.isfinite(value) else float(value) + 0.0


def _poses(project: Project, analysis: Analysis) -> list[dict[str, Any]]:
    """One entry a reported pose, evenly spaced in opening."""
    links = [link.id for link in project.links]
    motions = _motions(project, analysis)
    pivots = [pivot.id for pivot in project.pivots]
    places = _places(project, analysis)
    efforts, pins = _forces(project, analysis)
    return [
        {
            "deg": _number(deg),
            "links": {id: [_number(value) for value in row] for id, row in zip(links, motion, strict=True)},
            "pivots": {id: [_number(value) for value in row] for id, row in zip(pivots, place, strict=True)},
            "effort": _number(effort),
            "pins": _pins(pivots, pin),
        }
        for deg, motion, place, effort, pin in zip(
            analysis.openings.tolist(), motions.tolist(), places.tolist(), efforts, pins, strict=True
        )
    ]


def _pins(pivots: list[str], forces: list[float]) -> dict[str, float | None] | None:
    """The force on each pin; null where none is told."""
    told = any(math.isfinite(force) for force in forces)
    return {id: _number(force) for id, force in zip(pivots, forces, strict=True)} if told else None


def _forces(project: Project, analysis: Analysis) -> tuple[list[float], list[list[float]]]:
    """Effort (N), and force on each pin of one hinge, at every reported pose; NaN where nothing is told."""
    if analysis.loads is not None:
        return analysis.loads.effort.tolist(), analysis.loads.pins.tolist()
    count = len(analysis.openings)
    return [math.nan] * count, [[math.nan] * len(project.pivots)] * count


def _motions(project: Project, analysis: Analysis) -> np.ndarray[Any, np.dtype[np.float64]]:
    """(poses, links, 3): dx, dy (mm), turn (deg) of every link; the fixed link exactly 0."""
    motions = np.stack([analysis.shifts.real, analysis.shifts.imag, np.degrees(analysis.turns)], axis=-1)
    motions[:, project.link_index[project.fixed.id]] = 0.0
    return motions


def _places(project: Project, analysis: Analysis) -> np.ndarray[Any, np.dtype[np.float64]]:
    """(poses, pivots, 2): where every pivot stands, carried by the first link that it joins."""
    columns = [project.link_index[pivot.joins[0]] for pivot in project.pivots]
    shut = np.array([complex(*pivot.at) for pivot in project.pivots])
    where = analysis.shifts[:, columns] + np.exp(1j * analysis.turns[:, columns]) * shut
    return np.stack([where.real, where.imag], axis=-1)


def _gap(gap: Gap) -> dict[str, Any]:
    uncertain = {"uncertain": _number(gap.uncertain)} if gap.uncertain > 0.0 else {}
    return {
        "between": list(gap.between),
        "smallest": _number(gap.smallest),
        "at_deg": _number(gap.at_deg),
        "at_points": _points(gap.at_points),
        "shut": _number(gap.shut),
        "touching_deg": [[_number(a), _number(b)] for a, b in gap.touching_deg],
        "at_least": _number(gap.at_least),
        "ok": None if gap.ok is None else bool(gap.ok),
        **uncertain,
    }


def _sure(sure: Sure | None) -> dict[str, Any]:
    """How sure a gap is, in keys of our own; none where nobody said how far holes may be off."""
    if sure is None:
        return {}
    return {
        "low": _number(sure.low),
        "likely": _number(sure.likely),
        "low_deg": _number(sure.at_deg),
        "matters": sure.matters or None,
        "untold_deg": [[_number(low), _number(high)] for low, high in sure.untrusted_deg],
    }


def _points(points: Iterable[Point] | None) -> list[list[float | None]] | None:
    return None if points is None else [[_number(x), _number(y)] for x, y in points]


def _check(check: Check, units: str) -> dict[str, Any]:
    return {
        "name": words.check_name(check),
        "want": words.check_want(check, units),
        "have": words.check_have(check, units),
        "ok": bool(check.ok),
    }


# ---------------------------------------------------------------------------------------------------------------- text
def as_text(project: Project, analysis: Analysis) -> str:
    """The report as text, in the project's display units; it ends with a line feed."""
    units, checks = project.display_units, analysis.checks
    title = _printable(project.title) or "Hinge without a title"
    parts = [
        f"{title}\n{'=' * min(len(title), WIDTH)}",
        _section("Opening", _opening_lines(analysis)),
        _section(f"Checks: {words.checks_summary(checks)}", words.worst_first(checks, units, analysis)),
        _section("Room and shut gaps", room_words.fact_sentences(analysis, units)),
        _section("Lift", [*load_words.lift_sentences(analysis, units), *holding_sentences(analysis, units)]),
        _section("Shut", shut_words.shut_sentences(analysis, units)),
        _section("Strength of one hinge, the worse one", strength_lines(analysis, units)),
        _section("As made", made_lines(analysis, units)),
        _section("Gaps over the travel", _gap_table(analysis.gaps, units)),
        _section(f"Pivots, shut ({_unit_name(units)}; x to the right, y up)", _pivot_table(project, units)),
        _section("Notes", [_printable(line) for line in project.notes.strip().splitlines()]),
        _section("Remarks", [_sentence(remark) for remark in all_remarks(project, analysis)]),
        _section("Cautions", words.caution_sentences(project, pinches(analysis), units)),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _section(heading: str, lines: Sequence[str]) -> str:
    """A heading with its lines below it, long ones wrapped; "" for no lines."""
    if not lines:
        return ""
    return "\n".join([heading, "-" * min(len(heading), WIDTH), *(_wrapped(line) for line in lines)])


def _wrapped(line: str) -> str:
    """The line, broken at spaces where it is too long to print; the rest stands indented."""
    out, rest = [], line
    while len(rest) > WIDTH:
        cut = rest.rfind(" ", 20, WIDTH + 1)
        if cut < 0:
            break
        out.append(rest[:cut].rstrip())
        rest = "  " + rest[cut:].lstrip()
    return "\n".join([*out, rest])


def _printable(text: str) -> str:
    """One line that a terminal or a printer takes as it stands."""
    return "".join(char for char in " ".join(text.split()) if char.isprintable())


def _sentence(text: str) -> str:
    """With a capital and a full stop."""
    text = text.strip()
    return text if not text else text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")


def _unit_name(units: str) -> str:
    return "inches" if units == "in" else "mm"


def _opening_lines(analysis: Analysis) -> list[str]:
    lines = [words.opening_sentence(analysis.opening, analysis.state), words.mobility_sentence(analysis)]
    if analysis.dead_point_deg is not None or analysis.opening.largest_deg >= 180.0:
        lines.append(words.dead_point_sentence(analysis.dead_point_deg))
    transmission = analysis.transmission
    if transmission is not None and math.isfinite(transmission.smallest_deg):
        lines.append(
            f"smallest transmission angle {format_angle(transmission.smallest_deg)}, "
            f"of {transmission.link} at {format_angle(transmission.at_deg)}"
        )
    return [_sentence(line) for line in lines]


def _gap_table(gaps: Sequence[Gap], units: str) -> list[str]:
    """Smallest, where, shut, wanted, and where they touch: a row a pair."""
    head = ("between", "smallest", "at", "shut", "wanted", "touches")
    rows = [
        (
            words.gap_name(gap.between),
            gap_figures(gap, units)[0],
            format_angle(gap.at_deg),
            format_length(gap.shut, units),
            "not asked" if gap.at_least is None else format_length(gap.at_least, units),
            words.touching_words(gap),
        )
        for gap in gaps
    ]
    return _table(head, rows, left=(0, 5))


def _pivot_table(project: Project, units: str) -> list[str]:
    """Where every pivot stands, fine enough to drill by: a row a pivot."""
    rows = [
        (
            pivot.id,
            format_coordinate(pivot.at[0], units),
            format_coordinate(pivot.at[1], units),
            ", ".join(pivot.joins),
            "locked" if pivot.locked else "",
        )
        for pivot in project.pivots
    ]
    return _table(("pivot", "x", "y", "joins", ""), rows, left=(0, 3, 4))


def _table(head: Sequence[str], rows: Sequence[Sequence[str]], left: Sequence[int]) -> list[str]:
    """Columns as wide as their widest cell; those in `left` stand to the left. No rows, no table."""
    if not rows:
        return []
    widths = [max(len(row[column]) for row in (head, *rows)) for column in range(len(head))]
    return [
        "  ".join(
            cell.ljust(width) if column in left else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in (head, *rows)
    ]

"""Demands: the forces that pins, plates and bushings are asked to bear, at many poses at once.

The forces are those of the hinge that is worse off. A hole at the end of a straight link counts in full what pulls it
outwards, and of what pushes it inwards only what goes sideways; on every other link, each force counts in full. A pin
with three links or more counts the largest force that can pass any cut through it, whichever way they are stacked. Of
a link with a width, the largest stress of all its sections counts, times the plates' thickness.

Which columns there are, and of which links and pins they are made, stays while pins are dragged, and is worked out
once.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex
from kinematics.joints import build_of, made_of
from kinematics.sectioned import cuts_between, ridden_links, sectioned

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.joints import Build
    from kinematics.loads import Loads
    from kinematics.project import Point, Project
    from kinematics.statics import Applied, At, Statics
    from kinematics.strength_parts import Strength

Demand = tuple[str, ...]
"""("pin", pivot), ("hole", pivot, link), ("pull", pivot, link), ("push", link) or ("section", link)."""


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    """The columns: of pins, of holes, of what pulls these, of pushes along straight links, of sections.

    members : (pivot, link).   first : (pins,) the first member of each pin; further : of those with three links or
    more, their column and the groups of members that a cut may part off.   ends : (2·straight,) the members that are
    ends of straight links, two and two.   bands : links with a width.   plain : those of them that bear nothing but
    their pins' forces, by their column among the sections, with members, holes (mm) and width; bent : the others.
    """

    members: tuple[tuple[str, str], ...]
    first: Ints
    further: tuple[tuple[int, tuple[list[int], ...]], ...]
    ends: Ints
    straight: tuple[str, ...]
    bands: tuple[str, ...]
    plain: tuple[tuple[int, list[int], tuple[float, ...], float], ...]
    bent: tuple[tuple[int, str], ...]
    columns: dict[Demand, int]


@lru_cache(maxsize=16)
def _layout(strength: Strength, loads: Loads, build: Build) -> Layout:
    """It stays while pins are dragged."""
    pins, links = build.pins, build.links
    members = tuple((pin, link) for pin, on in pins for link in on)
    places = {pin: [k for k, (of, _) in enumerate(members) if of == pin] for pin, _ in pins}
    of_link = {link: [k for k, (_, on) in enumerate(members) if on == link] for link, _, _ in links}
    mere = [link for link, kind, _ in links if kind == "link"]
    straight = tuple(link for link in mere if len(of_link[link]) == 2)
    bands = tuple(link for link, kind, width in links if kind == "link" and width > 0.0 and len(of_link[link]) > 1)
    named: list[Demand] = [("pin", pin) for pin, _ in pins]
    named += [("hole", *member) for member in members] + [("pull", *member) for member in members]
    named += [("push", link) for link in straight] + [("section", link) for link in bands]
    further = tuple(
        (column, tuple(list(each) for size in range(1, len(on) // 2 + 1) for each in itertools.combinations(on, size)))
        for column, on in enumerate(places.values())
        if len(on) > 2
    )
    joints, ridden = made_of(strength, build), ridden_links(loads)
    widths = {link: width for link, _, width in links}
    plain = tuple(
        (k, of_link[link], tuple(joints[members[each][0]].plates[link].hole for each in of_link[link]), widths[link])
        for k, link in enumerate(bands)
        if link not in ridden
    )
    bent = tuple((k, link) for k, link in enumerate(bands) if link in ridden)
    return Layout(
        members,
        np.array([on[0] for on in places.values()], dtype=np.intp),
        further,
        np.array([k for link in straight for k in of_link[link]], dtype=np.intp),
        straight,
        bands,
        plain,
        bent,
        {name: column for column, name in enumerate(named)},
    )


class Demands:
    """The demands of a project, made ready to be asked for at many poses.

    share : of all loads, what the hinge carries that is worse off.
    """

    def __init__(self, project: Project, strength: Strength, statics: Statics, share: float) -> None:
        links = statics.closure.links
        self.statics, self.share = statics, share
        self.layout = layout = _layout(strength, statics.loads, build_of(project))
        self.times = statics.loads.hinges * share
        self._column = [links.index(link) for _, link in layout.members]
        spots = {pivot.id: pivot.at for pivot in project.pivots}
        places = [spots[pin] for pin, _ in layout.members]
        ends = as_complex(places[k] for k in layout.ends.tolist())
        along = ends[1::2] - ends[::2]
        lengths = np.abs(along)
        self.lengths = dict(zip(layout.straight, lengths.tolist(), strict=True))
        self._inward = np.repeat(along / np.where(lengths > 0.0, lengths, 1.0), 2) * np.resize([1.0, -1.0], len(ends))
        self._plain = _Plain(layout, places)
        cut = ((k, sectioned(project, link, links)) for k, link in layout.bent)
        self._bent = [(k, each) for k, each in cut if each is not None]

    def values(self, forces: Complexes, at: At, applied: Applied) -> Floats:
        """(n, demands) N (of sections N/mm: stress times thickness); forces (n, members) N of an even hinge."""
        layout, forces = self.layout, forces * self.times
        pins, members, straight = len(layout.first), len(layout.members), len(layout.straight)
        local = forces * at.e[:, self._column].conj()
        found = np.zeros((len(forces), len(layout.columns)))
        sizes = np.abs(forces)
        found[:, :pins] = sizes[:, layout.first]
        for column, parts in layout.further:
            found[:, column] = np.max([np.abs(forces[:, each].sum(axis=1)) for each in parts], axis=0)
        found[:, pins : pins + members] = found[:, pins + members : pins + 2 * members] = sizes
        if straight:
            along = local[:, layout.ends] * self._inward.conj()
            pulls = np.where(along.real > 0.0, np.abs(along.imag), sizes[:, layout.ends])
            found[:, pins + members + layout.ends] = pulls
            pushes = np.maximum(along.real.reshape(len(forces), straight, 2).max(axis=2), 0.0)
            found[:, pins + 2 * members : pins + 2 * members + straight] = pushes
        sections = found[:, pins + 2 * members + straight :]
        self._plain.add_to(sections, local)
        for k, section in self._bent:
            on = [layout.members.index((pin, section.link)) for pin in section.pins]
            sections[:, k] = section.largest(local[:, on], (self.statics, at, applied), self.share)
        return found


class _Plain:
    """Links that bear the forces of their pins alone: all their cuts in one product.

    places : of the members, mm, shut.
    """

    def __init__(self, layout: Layout, places: list[Point]) -> None:
        found = [
            (k, on, cuts)
            for k, on, holes, width in layout.plain
            if (cuts := cuts_between(tuple(places[each] for each in on), holes, width)) is not None
        ]
        self.columns = [k for k, _, _ in found]
        starts = list(itertools.accumulate((len(cuts.heights) for _, _, cuts in found), initial=0))
        self.starts, self.many = starts[:-1], starts[-1]
        rows = np.zeros((2, self.many, len(places)), dtype=np.complex128)
        for (_, on, cuts), start in zip(found, starts, strict=False):
            rows[:, start : start + len(cuts.heights), on] = cuts.stressing
        self.gone = [start + k for (_, _, cuts), start in zip(found, starts, strict=False) for k in cuts.gone]
        self.rows = rows.reshape(2 * self.many, len(places)).view(np.float64).T

    def add_to(self, sections: Floats, local: Complexes) -> None:
        """Put in the largest stress of each link; local (n, members) forces in the links' own frames."""
        if not self.columns:
            return
        parts = np.abs(np.ascontiguousarray(local).view(np.float64) @ self.rows)
        stress = parts[:, : self.many] + parts[:, self.many :]
        if self.gone:
            stress[:, self.gone] = np.inf
        sections[:, self.columns] = np.maximum.reduceat(stress, self.starts, axis=1)

"""Families: what textbooks call a linkage, read off its chain of links alone.

Six links on seven pins make two *chains*. Two of the links are *ternary*, with three pins each; three paths of *binary*
links, with two pins each, lead from one to the other. In the Watt chain the ternary links share a pin (paths of 0, 2
and 2 links), in the Stephenson chain they don't (paths of 1, 1 and 2 links). Every other arrangement with these counts
holds three links in a triangle, which is rigid, so it is no linkage of six.

Which link is fixed makes the *inversion*. Watt I: a binary link; Watt II: a ternary one. Stephenson I: one of the
binary links that stand alone between the ternary ones; Stephenson II: one of the pair; Stephenson III: a ternary link.
The numbering is the usual one; sources: R. L. Norton, Design of Machinery, ch. 2, and J. M. McCarthy and G. S. Soh,
Geometric Design of Linkages, six-bar chapter (both from memory).

Where the panel sits is no part of the name; nor is the order of links or pins.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.project import Project

Chain = dict[str, list[str]]
"""Each link and those that it shares a pin with, once for each pin."""


def family(project: Project) -> str | None:
    """The name of a project's linkage: "single pivot", "four-bar", "Watt I" to "Stephenson III", or None.

    None where links hang free, where a pin joins three links, and for all linkages that have no such name.
    """
    if any(len(pivot.joins) != 2 for pivot in project.pivots):
        return None
    chain = _chain(project)
    counts = (len(chain), len(project.pivots))
    if len(chain) < len(project.links) or _has_double_pins(chain):
        return None
    if counts == (2, 1):
        return "single pivot"
    if counts == (4, 4) and all(len(others) == 2 for others in chain.values()) and _is_one_piece(chain):
        return "four-bar"
    return _six_bar(chain, project.fixed.id) if counts == (6, 7) else None


def _chain(project: Project) -> Chain:
    chain: Chain = defaultdict(list)
    for pivot in project.pivots:
        one, other = pivot.joins
        chain[one].append(other)
        chain[other].append(one)
    return dict(chain)


def _has_double_pins(chain: Chain) -> bool:
    """Whether two links share two pins, which makes them one body."""
    return any(len(set(others)) < len(others) for others in chain.values())


def _is_one_piece(chain: Chain) -> bool:
    """Whether every link can be reached from every other."""
    reached: set[str] = set()
    waiting = [next(iter(chain))]
    while waiting:
        link = waiting.pop()
        if link not in reached:
            reached.add(link)
            waiting += chain[link]
    return len(reached) == len(chain)


def _six_bar(chain: Chain, fixed: str) -> str | None:
    """The name of a chain of six links on seven pins; None where it isn't one of the two."""
    ternary = [link for link, others in chain.items() if len(others) == 3]
    if len(ternary) != 2 or any(len(others) not in (2, 3) for others in chain.values()):
        return None
    start, end = ternary
    paths = [_path(chain, start, first) for first in chain[start]]
    if any(path[-1] != end for path in paths):
        return None
    between = sorted((path[:-1] for path in paths), key=len)
    lengths = [len(path) for path in between]
    if lengths == [0, 2, 2]:
        return "Watt II" if fixed in ternary else "Watt I"
    if lengths == [1, 1, 2]:
        if fixed in ternary:
            return "Stephenson III"
        return "Stephenson II" if fixed in between[2] else "Stephenson I"
    return None


def _path(chain: Chain, start: str, first: str) -> list[str]:
    """The links on the way from a ternary link over `first` up to the next ternary link, that one included."""
    path = [first]
    before = start
    while len(chain[path[-1]]) == 2:
        one, other = chain[path[-1]]
        before, onward = path[-1], other if one == before else one
        path.append(onward)
    return path

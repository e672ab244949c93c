"""The chains that can carry a panel, as the search takes them.

A *chain* says which links share a pin, and nothing of where the pins are. Two bars each to one pin on the body and one
on the panel make the four-bar. Six links on seven pins make the Watt and the Stephenson chain (`kinematics.families`);
one link is fixed and another is the panel. Of all such choices only those are kept in which the panel isn't pinned to
the body (it would swing on that pin alone) and isn't the coupler of a four-bar that hangs on the body (the other two
links would only follow): six remain, found by going through all of them by hand. Watt II is not among them.

Every chain of six has two loops, and they can be chosen so that each has one unknown link to itself while two unknown
links are in both. So the links are numbered alike in all chains: FIXED, PANEL, then the two that *shared* loops turn,
then the one that is only in the first loop, then the one that is only in the second.
"""

from __future__ import annotations

from dataclasses import dataclass, field

FIXED, PANEL = 0, 1
SHARED_A, SHARED_B, ALONE_A, ALONE_B = 2, 3, 4, 5

Loop = tuple[tuple[int, int, int], ...]
"""Once round: (link, the pin where it is come to, the pin where it is left)."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Links by number, and pins by the two links that they join.

    kind, family : as proposals name them.   pins : (link, link) of each.   loops : none, one or two.
    routes : for each link but the fixed one, in an order in which each can be placed: link, pin, the link it hangs on.
    """

    kind: str
    family: str
    pins: tuple[tuple[int, int], ...]
    loops: tuple[Loop, ...]
    routes: tuple[tuple[int, int, int], ...] = field(init=False, default=())

    def __post_init__(self) -> None:
        object.__setattr__(self, "routes", _routes(self.pins))

    @property
    def links(self) -> int:
        """How many links there are, the fixed one and the panel among them."""
        return len(self.routes) + 1

    @property
    def between(self) -> tuple[int, ...]:
        """The pins that are neither on the fixed link nor on the panel."""
        return tuple(k for k, pair in enumerate(self.pins) if not {FIXED, PANEL} & set(pair))

    def on(self, link: int) -> tuple[int, ...]:
        """The pins of a link."""
        return tuple(k for k, pair in enumerate(self.pins) if link in pair)


def _routes(pins: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int, int], ...]:
    placed, routes = [FIXED], []
    for base in placed:  # grows while it is gone through
        for k, pair in enumerate(pins):
            if base in pair:
                link = pair[0] if pair[1] == base else pair[1]
                if link not in placed:
                    placed.append(link)
                    routes.append((link, k, base))
    return tuple(routes)


def _chain(family: str, pins: tuple[tuple[int, int], ...], *rounds: tuple[int, ...]) -> Chain:
    """A chain from its pins and its loops, a loop as the links that it goes round."""
    at = {frozenset(pair): k for k, pair in enumerate(pins)}
    loops = []
    for links in rounds:
        ahead = (*links[1:], links[0])
        behind = (links[-1], *links[:-1])
        loops.append(
            tuple(
                (link, at[frozenset((before, link))], at[frozenset((link, after))])
                for before, link, after in zip(behind, links, ahead, strict=True)
            )
        )
    return Chain("six-bar" if len(pins) == 7 else family, family, pins, tuple(loops))


F, P, A, B, C, D = FIXED, PANEL, SHARED_A, SHARED_B, ALONE_A, ALONE_B

SINGLE_PIVOT = Chain("single pivot", "single pivot", ((F, P),), ())
FOUR_BAR = _chain("four-bar", ((F, A), (F, B), (A, P), (B, P)), (F, A, P, B))
# Watt I: A and B are ternary and share a pin, C holds B to the body, D holds the panel to B or to A.
WATT_FIRST = _chain("Watt I", ((F, A), (F, C), (A, B), (B, C), (A, P), (B, D), (D, P)), (F, A, B, C), (A, B, D, P))
WATT_SECOND = _chain("Watt I", ((F, A), (F, C), (A, B), (B, C), (B, P), (A, D), (D, P)), (F, A, B, C), (A, B, P, D))
# Stephenson I: ternary A and B both on the body, C between them; the panel hangs on A and by D on B.
STEPHENSON_FIRST = _chain(
    "Stephenson I", ((F, A), (F, B), (A, C), (C, B), (A, P), (P, D), (D, B)), (F, A, C, B), (F, A, P, D, B)
)
# Stephenson II: ternary A on the body, ternary B held to the body by D; C and the panel between A and B.
STEPHENSON_SECOND = _chain(
    "Stephenson II", ((F, A), (F, D), (D, B), (A, C), (C, B), (A, P), (P, B)), (A, C, B, P), (F, A, P, B, D)
)
# Stephenson II again, where the ternary link held to the body by B is the panel itself.
STEPHENSON_THIRD = _chain(
    "Stephenson II", ((F, A), (F, B), (B, P), (A, C), (C, P), (A, D), (D, P)), (F, A, C, P, B), (F, A, D, P, B)
)
# Stephenson III: B is the coupler of the four-bar F A B C; the panel hangs on B, and by D on the body.
STEPHENSON_FOURTH = _chain(
    "Stephenson III", ((F, A), (F, C), (A, B), (B, C), (B, P), (F, D), (D, P)), (F, A, B, C), (F, A, B, P, D)
)

SIX_BARS = (WATT_FIRST, WATT_SECOND, STEPHENSON_FIRST, STEPHENSON_SECOND, STEPHENSON_THIRD, STEPHENSON_FOURTH)

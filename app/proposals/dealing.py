"""How a search is shared out among processes, whatever these are made of: numbers go out, results come in by number.

A *unit* of work is known by its number, and what it finds depends on that alone (`kinematics.proposals`). Whoever is
free gets the next number; what comes back waits until all before it are in. So the same seed gives the same proposals
in the same order, however fast each process is. A unit whose process died is given out once more, as the process may
have been ended from outside; the second time it is passed over, and told.

Messages travel as *frames*: four bytes of length, then a pickled value. Both ends are this program, over private pipes.
"""

from __future__ import annotations

import heapq
import pickle
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from kinematics.proposals.results import UnitResult

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.proposals.results import Settings

LENGTH = 4
MOST_DEATHS = 3
"""Processes that may die in one search before it is given up: then something else is wrong than one unit."""


@dataclass(frozen=True, slots=True)
class Order:
    """What the units that follow are units of."""

    project: Project
    settings: Settings


@dataclass(frozen=True, slots=True)
class Fault:
    """A unit that could not be worked out, with a sentence; unit −1: the process can't work at all."""

    unit: int
    sentence: str


def framed(message: object) -> bytes:
    """Give a message as it goes over a pipe."""
    content = pickle.dumps(message, protocol=pickle.HIGHEST_PROTOCOL)
    return len(content).to_bytes(LENGTH, "big") + content


def order_of(project: Project, settings: Settings) -> bytes:
    """Give the frame that says what is searched; photos and trials, which may be large, stay behind."""
    return framed(Order(replace(project, trials=(), pictures=()), settings))


class Frames:
    """Puts the bytes that come over a pipe together to messages."""

    def __init__(self) -> None:
        self._rest = b""

    def feed(self, more: bytes) -> list[Any]:
        """Give the messages that are whole now."""
        self._rest += more
        found = []
        while len(self._rest) >= LENGTH:
            end = LENGTH + int.from_bytes(self._rest[:LENGTH], "big")
            if len(self._rest) < end:
                break
            found.append(pickle.loads(self._rest[LENGTH:end]))
            self._rest = self._rest[end:]
        return found


class Deal:
    """Which unit is next, and whose turn it is to be taken in.

    told : sentences about what went wrong, in their order; whoever shows them takes them out.
    broken : the sentence on why the search can't go on, "" while it can.
    """

    def __init__(self, first: int = 0) -> None:
        self._next, self._due = first, first
        self._again: list[int] = []
        self._here: dict[int, UnitResult] = {}
        self._died_in: set[int] = set()
        self._deaths = 0
        self.told: list[str] = []
        self.broken = ""

    @property
    def due(self) -> int:
        """The number of the unit that is taken in next: where another search would go on from."""
        return self._due

    def give(self) -> int:
        """Give the number of a unit that is to be done, the lowest first."""
        if self._again:
            return heapq.heappop(self._again)
        self._next += 1
        return self._next - 1

    def take(self, message: UnitResult | Fault) -> list[UnitResult]:
        """Take what a process sent; gives the results whose turn it is now, in order."""
        if isinstance(message, Fault) and message.unit < 0:
            self.broken = self.broken or message.sentence
            return []
        if isinstance(message, Fault):
            self.told.append(f"Unit {message.unit} of the search is passed over: {message.sentence}")
            return self._put(_nothing(message.unit))
        return self._put(message)

    def lose(self, unit: int | None, how: str) -> list[UnitResult]:
        """Know that a process has ended unasked, in a unit or (None) between units; gives what can be taken in now.

        how : the way in which it ended, such as "signal 9".
        """
        self._deaths += 1
        if self._deaths >= MOST_DEATHS:
            self.broken = self.broken or (
                f"The search has stopped: {self._deaths} of its processes ended unasked, the last by {how}. "
                "Is there memory left? Close what you don't need and start again."
            )
        if unit is None:
            return []
        if unit in self._died_in:
            self.told.append(f"Unit {unit} of the search is passed over: its process ended twice ({how}).")
            return self._put(_nothing(unit))
        self._died_in.add(unit)
        self.told.append(f"A process of the search ended unasked ({how}); its unit {unit} is done once more.")
        heapq.heappush(self._again, unit)
        return []

    def _put(self, result: UnitResult) -> list[UnitResult]:
        self._here[result.unit] = result
        ready = []
        while self._due in self._here:
            ready.append(self._here.pop(self._due))
            self._due += 1
        return ready


def _nothing(unit: int) -> UnitResult:
    """What a unit that is passed over brings, so that none is missing."""
    return UnitResult(unit, "", (), 0)

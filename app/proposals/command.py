"""`hingewright propose`: search without a window, and write what was found as project files. No Qt here.

All files or none: they are written beside the folder that is asked for and only then put in. Files of an earlier run,
known by that run's `index.json`, give way.
"""

from __future__ import annotations

import json
import os
import re
import sys
import tempfile
import time
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from app.files.errors import FileError, fault_of, shown_name
from app.files.project_file import save
from app.proposals.enough import Enough
from app.proposals.processes import Processes
from app.proposals.words import all_best_words
from app.proposals.worker import RUNNER
from kinematics import analyse
from kinematics.figures import key_figures
from kinematics.proposals.ranking import Preferences, ranked
from kinematics.proposals.results import searched

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from kinematics.project import Project
    from kinematics.proposals.results import Proposal, Settings, UnitResult

INDEX = "index.json"
OURS = re.compile(r"[1-9]\d{0,5}\.hinge")
MOST_FILES = 24
"""More than these nobody looks through; the search keeps them apart enough."""
TELL_S = 1.0
MOST_SHORT = 1e6
"""What is told of a want that has no figure at all, as its opening is never reached."""


class Collects(Protocol):
    """What takes units in, by number, and keeps what is worth showing (`kinematics.proposals.collecting`)."""

    @property
    def tried(self) -> int:
        """How many candidates were scored."""

    @property
    def kept(self) -> tuple[Proposal, ...]:
        """What is worth showing."""

    @property
    def best_by_kind(self) -> Mapping[str, Proposal | None]:
        """The best of each kind asked, None where there is none yet."""

    def take(self, result: UnitResult) -> tuple[Proposal, ...]:
        """Take one in; gives what is new or better."""


@dataclass(slots=True)
class Hunt:
    """One search without a window: how long, who does units, who takes them in, and what was found."""

    project: Project
    settings: Settings
    collector: Collects
    runner: str = RUNNER
    enough: Enough = field(default_factory=Enough)
    first_ok_s: float | None = None

    def run(self, seconds: float, tell: Callable[[str], object], started: float | None = None) -> None:
        """Search for so long, or until enough was found; raises HingewrightError where it can't go on.

        tell : is called about once a second with a line of progress.     started : `time.monotonic()` at the start.
        """
        begun = time.monotonic() if started is None else started
        told = begun
        with Processes(self.project, self.settings, runner=self.runner) as processes:
            for result in processes.results(begun + seconds):
                for sentence in processes.deal.told:
                    tell(sentence)
                processes.deal.told.clear()
                if result is not None and self._take(result, begun):
                    break
                if time.monotonic() - told >= TELL_S:
                    told = time.monotonic()
                    tell(self.progress(told - begun))

    def _take(self, result: UnitResult, begun: float) -> bool:
        """Take a unit in; whether that is enough."""
        news = self.collector.take(result)
        if self.first_ok_s is None and any(each.ok for each in news):
            self.first_ok_s = round(time.monotonic() - begun, 3)
        return self.enough.after(news, self.collector.kept)

    def progress(self, seconds: float) -> str:
        """A line on how the search stands."""
        best = all_best_words(self.collector.best_by_kind, self.project.display_units)
        return f"{seconds:.0f} s, {self.collector.tried} tried. {best}."


def propose(
    project: Project,
    to: Path,
    settings: Settings,
    seconds: float,
    hunt: Hunt | None = None,
    hindrances: Sequence[object] | None = None,
    source: Path | None = None,
) -> bool:
    """Search, and write what was found; whether the first of it meets every want.

    hunt, hindrances : what stands in place of the search's own.     source : the project's file, never written over.
    """
    started = time.monotonic()
    _check_folder(to, source)  # before the search, not after it
    if hindrances is None:
        from kinematics.proposals.hopeless import cannot

        hindrances = cannot(project, settings)
    if hindrances:
        for sentence in hindrances:
            _tell(str(sentence))
        write_all(to, (), tried=0, first_ok_s=None)
        return False
    if hunt is None:
        from kinematics.proposals.collecting import Collector

        hunt = Hunt(project, settings, Collector(settings))
    hunt.run(seconds, _tell, started)
    best = ranked(hunt.collector.kept, Preferences())[:MOST_FILES]
    best = ranked([held_again(each) for each in best], Preferences())
    write_all(to, best, hunt.collector.tried, hunt.first_ok_s)
    _tell(_outcome(best, hunt, time.monotonic() - started))
    return bool(best) and best[0].ok


def held_again(proposal: Proposal) -> Proposal:
    """The proposal as `report` will read it off its file: analysed afresh, so that both say the same."""
    analysis = analyse(proposal.project, steps=2)  # what is checked doesn't depend on the poses told
    checks = searched(analysis.checks)
    short = tuple(check for check in checks if not check.ok)
    by = max((min(-check.margin, MOST_SHORT) for check in short), default=0.0)
    figures, worst = key_figures(analysis), checks[0]
    return replace(proposal, ok=not short, short_by=max(by, 0.0), figures=figures, worst=worst, short=short)


def _outcome(best: Sequence[Proposal], hunt: Hunt, seconds: float) -> str:
    good = sum(each.ok for each in best)
    if not good:
        return hunt.progress(seconds) + " No layout was found that holds every want."
    return f"{seconds:.0f} s, {hunt.collector.tried} tried: {good} of {len(best)} layouts hold every want."


def _tell(sentence: str) -> None:
    """One line on standard error, that nobody need read."""
    with suppress(OSError):
        sys.stderr.write(" ".join(sentence.split()) + "\n")
        sys.stderr.flush()


# --------------------------------------------------------------------------------------------------------------- files
def write_all(to: Path, proposals: Sequence[Proposal], tried: int, first_ok_s: float | None) -> None:
    """Write a file for each proposal, in this order, and the index; FileError, and then nothing has changed."""
    rows = [
        {"path": f"{place}.hinge", "ok": each.ok, "short_by": round(each.short_by, 9), "kind": each.kind}
        for place, each in enumerate(proposals, 1)
    ]
    index = {"proposals": rows, "tried": tried, "first_ok_s": first_ok_s}
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
        beside = to if to.is_dir() else to.parent  # on the same disk, so that putting in is only naming
        with tempfile.TemporaryDirectory(prefix=".hingewright-", dir=beside) as name:
            folder = Path(name)
            for row, each in zip(rows, proposals, strict=True):
                save(each.project, folder / str(row["path"]))
            (folder / INDEX).write_text(json.dumps(index, allow_nan=False) + "\n", "utf-8")
            _put_in(folder, to, [str(row["path"]) for row in rows])
    except OSError as fault:
        raise _unwritable(to, fault_of(fault)) from fault


def _put_in(folder: Path, to: Path, names: Sequence[str]) -> None:
    """Move the files into their folder, the index last; what an earlier run left there and this one doesn't, goes."""
    old = _named_by_index(to)
    to.mkdir(exist_ok=True)
    for name in (*names, INDEX):
        os.replace(folder / name, to / name)  # noqa: PTH105  says that it takes the old one's place
    for name in old - set(names):
        with suppress(OSError):
            (to / name).unlink()


def _named_by_index(to: Path) -> set[str]:
    """The files that an earlier run wrote there."""
    try:
        rows = json.loads((to / INDEX).read_text("utf-8"))["proposals"]
        return {row["path"] for row in rows if OURS.fullmatch(row["path"])}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def _check_folder(to: Path, source: Path | None) -> None:
    """Refuse a place where no folder can be, or where files would give way that no search wrote."""
    if to.exists() and not to.is_dir():
        raise _unwritable(to, "there is a file of that name")
    parent = next((each for each in to.absolute().parents if each.exists()), None)
    if parent is None or not parent.is_dir() or not os.access(to if to.exists() else parent, os.W_OK):
        raise _unwritable(to, "it can't be made or written to")
    others = sorted(path.name for path in to.glob("*.hinge") if OURS.fullmatch(path.name)) if to.exists() else []
    if source is not None and source.name in others and source.resolve().parent == to.resolve():
        raise _unwritable(to, f"{source.name}, which is searched for, lies there itself")
    strange = next((name for name in others if name not in _named_by_index(to)), None)
    if strange is not None:  # it may be somebody's work
        raise _unwritable(to, f"it holds {strange}, which no earlier search has written there")


def _unwritable(to: Path, why: str) -> FileError:
    return FileError(f"the proposals can't be written: {why}", shown_name(to), "Name another folder.")

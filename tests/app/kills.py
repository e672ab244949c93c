"""`kill -9` at random instants during saves and autosaves: what is left on the disk?

    python -m tests.app.kills FOLDER [--kills 200] [--seed 1] [--benches 16] [--longest 3.2] [--keep-after S]

A *bench* is a folder with one file, at which one process after the other works: it takes back what the last one left,
edits all the time, saves now and then, and is killed: at a random instant, or at a random instant within a save or an
autosave that has just begun. Then the disk is looked at: every file must be readable, whatever was told to be saved or
kept must be there, there must be no fewer different good copies than before, and of the edits those are counted as lost
that no file holds. The last line is the result as JSON; `lost_s` is the age, at the kill, of the oldest edit that was
lost, the worst of all kills.

The processes are forked before any Qt application is made; Linux and macOS only.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import signal
import sys
import time
from contextlib import suppress
from dataclasses import dataclass, field, replace
from math import cos, sin
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from app import keeping
from app.document import Document
from app.files import load, save
from app.files.backups import MOST, backups
from app.files.places import beside
from app.files.recovery import Copy, left_behind
from app.files.writers import pid_runs
from kinematics import edits
from kinematics.errors import HingewrightError
from kinematics.project import Outline
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project

ROOT = Path(__file__).parents[2]
SAVE_EVERY_S = (0.01, 0.2, 1.5)  # on the average; one of these in each life
WRITE_S = 0.012  # about what a save or an autosave takes
BEGUN = b"begun 0 \n"
POINTS = 2000
SHARE_AMID = 0.6  # of the kills come within a write
EDIT_EVERY_S = 0.1  # at most


@dataclass(slots=True)
class Result:
    """What was seen over all kills."""

    kills: int = 0
    faults: list[str] = field(default_factory=list)
    lost_s: float = 0.0
    amid_saves: int = 0  # kills that left a half-written temporary file
    offered: int = 0  # kills after which work was found to be taken back


def traced() -> Project:
    """A project with a finely traced outline: large enough that writing it takes its time."""
    points = tuple((1000.0 * cos(0.0012345 * n), 1000.0 * sin(0.0012345 * n)) for n in range(POINTS))
    return edits.add_outline(demo_six_bar, Outline("traced", demo_six_bar.panel.id, points))


PROJECT = traced()


def numbered(number: int) -> Project:
    """The project after so many edits: its title counts them."""
    return replace(PROJECT, title=str(number))


# ------------------------------------------------------------------------------------------------ the one who is killed
class _Pose:
    deg = arc = 0.0


class _Still:
    """As much of an analysis as a document asks for; mechanics are not the matter here."""

    state = "moves"

    def pose(self, _deg: float) -> _Pose:
        return _Pose()


def _analyse(_project: Project, steps: int = 181, near: Analysis | None = None) -> Analysis:
    return _Still()  # type: ignore[return-value]


def work(file: Path, pipe: int, seed: int, keep_after_s: float) -> None:
    """Work at a bench until the end."""
    chance = random.Random(seed)
    keeping.KEEP_AFTER_S = keep_after_s
    _tell_when_kept(pipe)
    application = QCoreApplication([])
    document = Document(analyser=_analyse)
    assert document.open(file)
    document.noticed.connect(lambda sentence: os.write(pipe, f"fault 0 {sentence}\n".encode()))
    keeper = keeping.Keeper(document)
    left, _ = left_behind([file])
    for each in reversed(left):  # the newest last
        document.apply("Take back", each.project)
        keeper.take(each)
    save_every = chance.choice(SAVE_EVERY_S)
    next_save = time.monotonic() + chance.expovariate(1 / save_every)
    while True:
        number = int(document.project.title) + 1
        document.apply("Edit", numbered(number))
        os.write(pipe, f"edit {number} {time.monotonic()}\n".encode())
        if time.monotonic() > next_save:
            os.write(pipe, BEGUN)
            assert document.save()
            os.write(pipe, f"there {number} \n".encode())
            next_save = time.monotonic() + chance.expovariate(1 / save_every)
        application.processEvents()
        time.sleep(chance.uniform(0.0, EDIT_EVERY_S))


def _tell_when_kept(pipe: int) -> None:
    keep = Copy.keep

    def keep_and_tell(self: Copy, project: Project) -> Path:
        os.write(pipe, BEGUN)
        place = keep(self, project)
        os.write(pipe, f"there {project.title} \n".encode())
        return place

    Copy.keep = keep_and_tell  # type: ignore[method-assign]


# ---------------------------------------------------------------------------------------------------- the one who kills
class Bench:
    """A folder, the process that works there, and when it is to be killed."""

    def __init__(self, folder: Path, chance: random.Random, longest_s: float, keep_after_s: float) -> None:
        folder.mkdir(parents=True)
        self._file = folder / "a.hinge"
        self._chance, self._longest_s, self._keep_after_s = chance, longest_s, keep_after_s
        self._most_copies = 0
        self._seen: dict[tuple[str, int, int, int, int], int] = {}
        save(numbered(0), self._file)

    def begin(self) -> None:
        """Set a process to work."""
        reader, writer = os.pipe()
        seed = self._chance.randrange(2**32)
        self._pid = os.fork()
        if self._pid == 0:
            os.close(reader)
            try:
                work(self._file, writer, seed, self._keep_after_s)
            except BaseException as fault:  # noqa: BLE001  it must not come back into the one who kills
                os.write(writer, f"fault 0 {type(fault).__name__}: {fault}\n".encode())
            os._exit(1)
        os.close(writer)
        self._reader, self._said = reader, b""
        os.set_blocking(reader, False)
        self._ends = time.monotonic() + self._chance.uniform(0.05, self._longest_s)
        self._is_to_write = self._chance.random() < SHARE_AMID

    def listen(self) -> bool:
        """Take what the process has said, so that it never waits for us; gives whether its time has come."""
        heard = b""
        with suppress(BlockingIOError):
            while part := os.read(self._reader, 65536):
                heard += part
        self._said += heard
        now = time.monotonic()
        if now < self._ends:
            return False
        if self._is_to_write and BEGUN in heard:
            self._is_to_write = False
            self._ends = now + self._chance.uniform(0.0, WRITE_S)
        return now >= self._ends + (self._longest_s if self._is_to_write else 0.0)

    def kill(self, result: Result) -> None:
        """Kill it and look at the disk."""
        at = time.monotonic()
        os.kill(self._pid, signal.SIGKILL)
        os.waitpid(self._pid, 0)
        self.listen()
        os.close(self._reader)
        result.kills += 1
        try:
            self._look(at, result)
        except HingewrightError as fault:
            result.faults.append(f"unreadable: {fault}")

    def _look(self, at: float, result: Result) -> None:
        lines = [line.split(" ", 2) for line in self._said.decode(errors="replace").split("\n")[:-1]]
        result.faults += [line[2] for line in lines if line[0] == "fault"]
        left, faults = left_behind([self._file])
        result.faults += [f"unreadable: {fault}" for fault in faults]
        result.offered += bool(left)
        result.amid_saves += any(self._file.parent.rglob("*.part"))
        saved = int(load(self._file).title)
        stale = [each.project.title for each in left if int(each.project.title) <= saved]
        result.faults += [f"{title} is offered, {saved} is saved" for title in stale]
        kept = {self._read(each) for each in backups(self._file)} | {saved}
        self._count(len(kept), result)
        there = max([saved, *(int(each.project.title) for each in left)])
        told = max((int(line[1]) for line in lines if line[0] == "there"), default=0)
        if there < told:
            result.faults.append(f"{told} was told to be on the disk, which holds {there} only")
        lost = [float(line[2]) for line in lines if line[0] == "edit" and int(line[1]) > there]
        result.lost_s = max(result.lost_s, at - min(lost)) if lost else result.lost_s

    def _read(self, backup: Path) -> int:
        """The number that a backup holds. One that is the same file, not written since, has been read already."""
        stat = backup.stat()
        stamp = backup.name, stat.st_ino, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns
        if stamp not in self._seen:
            self._seen[stamp] = int(load(backup).title)
        return self._seen[stamp]

    def _count(self, copies: int, result: Result) -> None:
        if copies < self._most_copies:
            result.faults.append(f"{copies} good copies where there were {self._most_copies}")
        self._most_copies = max(self._most_copies, min(copies, MOST + 1))

    def leftovers(self) -> list[Path]:
        """The temporary files that no process will take away: none, once someone has worked here in peace."""
        application = QCoreApplication.instance() or QCoreApplication([])  # nobody is forked any more
        keeper = keeping.Keeper(document := Document(analyser=_analyse))
        document.open(self._file)
        keeper.close()
        application.processEvents()
        parts = [*self._file.parent.glob("*.part"), *beside(self._file).glob("*.part")]
        return [part for part in parts if not pid_runs(int(part.name.split("-")[2]))]


def killed(folder: Path, kills: int, seed: int, benches: int, longest_s: float, keep_after_s: float) -> Result:
    """Kill so many times, at several benches at once, and tell what was seen."""
    os.environ["XDG_DATA_HOME"] = str(folder / "data")
    chance, result = random.Random(seed), Result()
    there = [Bench(folder / str(n), random.Random(chance.random()), longest_s, keep_after_s) for n in range(benches)]
    begun = 0
    working: list[Bench] = []
    waiting = list(there)
    while working or (waiting and begun < kills):
        while waiting and begun < kills:
            bench = waiting.pop()
            bench.begin()
            begun += 1
            working.append(bench)
        time.sleep(0.0005)
        for bench in list(working):
            if bench.listen():
                bench.kill(result)
                working.remove(bench)
                waiting.append(bench)
    result.faults += [f"left lying about: {path.name}" for bench in there for path in bench.leftovers()]
    return result


def main(words: list[str]) -> int:
    """Kill, and print what was seen; the exit status is 1 when anything was amiss."""
    parser = argparse.ArgumentParser(description="Kill saves and autosaves at random instants.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--benches", type=int, default=16)
    parser.add_argument("--longest", type=float, default=3.2)
    parser.add_argument("--keep-after", type=float, default=keeping.KEEP_AFTER_S)
    asked = parser.parse_args(words)
    result = killed(asked.folder, asked.kills, asked.seed, asked.benches, asked.longest, asked.keep_after)
    names = ("kills", "faults", "lost_s", "amid_saves", "offered")
    sys.stdout.write(json.dumps({name: getattr(result, name) for name in names}) + "\n")
    return 1 if result.faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

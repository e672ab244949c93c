"""The command line: the window, and what can be done without one.

    hingewright [FILE]                                                opens the window
    hingewright report FILE [--json] [--steps N]                      the analysis as text or JSON
    hingewright picture FILE --to OUT.png [--at DEG] [--size WxH]     a picture of the hinge at an opening; .gif: moving
    hingewright picture FILE --to OUT.pdf --sheet layout | mockup | templates     sheets of paper: layout, the parts at
                                                                        true size, templates for the drill
    hingewright propose FILE --to FOLDER [--seconds S] [--seed K]     hinges for what the file wants, as project files
    hingewright make FILE --to FOLDER [--formats dxf,svg]             what goes to the shop, an index with it
    hingewright desktop --install | --remove                          the program on this user's Linux desktop
    hingewright desktop --icons DIR                                   its icon for packages on other systems

Exit status: 0 all is well, 1 some check falls short (`report`), no hinge was found that holds (`propose`) or what was
made has faults (`make`), 2 it can't be done, 130 stopped by Ctrl-C. What can't be done is told in one sentence on
standard error. Whatever is slow to load is imported in the verb that needs it.
"""

from __future__ import annotations

import argparse
import os
import re
import signal
import sys
import threading
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from app import __version__
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from kinematics.project import Project

__all__ = ["main"]

HOLDS, FALLS_SHORT, REFUSED, STOPPED = 0, 1, 2, 130

COMMANDS = """\
without a window:
  hingewright report FILE [--json] [--steps N]
  hingewright picture FILE --to OUT.png [--at DEG] [--size WxH]
  hingewright picture FILE --to OUT.pdf --sheet layout|mockup|templates [--paper A4]
  hingewright propose FILE --to FOLDER [--seconds S] [--seed K] [--kinds four-bar,six-bar]
  hingewright make FILE --to FOLDER [--formats dxf,svg] [--units mm|in]"""

DESKTOP = """\
among the applications of a Linux desktop, for this user alone:
  hingewright desktop --install | --remove
its icon, for packages on Windows and macOS:
  hingewright desktop --icons DIR"""

MOST_STEPS = 100_000
MOST_SECONDS = 86_400
USUAL_SIZE = (1600, 1000)

SHOW_TRACEBACK = "HINGEWRIGHT_TRACEBACK"
"""Set in the environment, faults of the program itself are shown as Python shows them."""


class _Parser(argparse.ArgumentParser):
    """Tells a wrong command line in one sentence, as everything else is told."""

    def error(self, message: str) -> NoReturn:
        raise HingewrightError(message, self.prog, f"See {self.prog} --help.")


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the command line asks; returns the exit status.

    argv : the words after the program's name; None: those of this process.
    """
    interrupts: list[int] = []
    try:
        with _noting(interrupts):
            return _run(list(sys.argv[1:] if argv is None else argv))
    except HingewrightError as fault:
        return _tell(str(fault), REFUSED)
    except KeyboardInterrupt:
        return _tell("stopped", STOPPED)
    except Exception as fault:
        if interrupts:
            return _tell("stopped", STOPPED)
        # Whatever it is, the builder gets a sentence and a status; who mends the program can ask for the traceback.
        if os.environ.get(SHOW_TRACEBACK):
            raise
        what = f"{type(fault).__name__}: {fault}"
        return _tell(
            f"This is a fault of the program ({what}). Set {SHOW_TRACEBACK}=1 to see where it happened.", REFUSED
        )


@contextmanager
def _noting(interrupts: list[int]) -> Iterator[None]:
    """Notes each Ctrl-C beside raising it: within an import of C code it comes out as some other error."""

    def note(number: int, _frame: object) -> NoReturn:
        interrupts.append(number)
        raise KeyboardInterrupt

    if threading.current_thread() is not threading.main_thread() or signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        yield  # only the main thread may ask for signals; a job in the background of a shell is not to be stopped
        return
    before = signal.signal(signal.SIGINT, note)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _run(argv: list[str]) -> int:
    verb = VERBS.get(argv[0]) if argv else None
    return verb(argv[1:]) if verb else _window(argv)


def _tell(sentence: str, status: int) -> int:
    """One line on standard error; gives the status back."""
    sys.stderr.write(" ".join(sentence.split()) + "\n")
    return status


# --------------------------------------------------------------------------------------------------------------- verbs
def _window(argv: list[str]) -> int:
    parser = _Parser(
        prog="hingewright",
        description="Lay out a multi-bar hinge for a one-off panel.",
        epilog=f"{COMMANDS}\n{DESKTOP}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a project to open; without it, the demo")
    parser.add_argument("--version", action="version", version=f"hingewright {__version__}")
    chosen = parser.parse_args(argv)
    if not _has_display():
        commands = " and ".join(line.strip() for line in COMMANDS.splitlines()[1:])
        raise HingewrightError("there is no display to open a window on", remedy=f"Without one, use {commands}.")
    from app.window import run

    return run(chosen.file)


def _report(argv: list[str]) -> int:
    parser = _Parser(prog="hingewright report", description="Analyse a project and print what was found.")
    parser.add_argument("file", type=Path, metavar="FILE", help="a project (.hinge)")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of text")
    parser.add_argument("--steps", type=_steps, default=181, metavar="N", help="number of poses with --json (181)")
    chosen = parser.parse_args(argv)

    from app.files import load
    from app.report import as_dict, as_text
    from kinematics import analyse

    project = load(chosen.file)
    analysis = analyse(project, chosen.steps)
    if chosen.json:
        import json

        _write(json.dumps(as_dict(project, analysis), ensure_ascii=False, allow_nan=False) + "\n", encoding="utf-8")
    else:
        _write(as_text(project, analysis))
    return HOLDS if all(check.ok for check in analysis.checks) else FALLS_SHORT


def _picture(argv: list[str]) -> int:
    parser = _Parser(
        prog="hingewright picture", description="Draw the hinge at an opening, its sweep, or sheets of paper to print."
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a project (.hinge)")
    parser.add_argument("--to", type=Path, required=True, metavar="OUT", help="the picture: .png, .svg, .pdf or .gif")
    parser.add_argument(
        "--at", type=_degrees, metavar="DEG", help="the opening to show (0: shut), or how far a .gif goes (all the way)"
    )
    parser.add_argument("--size", type=_size, metavar="WxH", help="in pixels (1600x1000; .gif: 800x500)")
    parser.add_argument("--look", choices=("light", "dark"), default="light", help="ink on paper, or chalk on dark")
    parser.add_argument("--progress", action="store_true", help="tell per cent on standard output while it is drawn")
    sheets = parser.add_argument_group("sheets of paper (.pdf)")
    sheets.add_argument(
        "--sheet",
        choices=("layout", "mockup", "templates"),
        help="layout: poses, pins, checks; mockup: parts to cut in card; templates: where to drill, left and right",
    )
    sheets.add_argument("--paper", metavar="NAME", help="A4, A3, Letter or Tabloid (A4; Letter where inches are shown)")
    sheets.add_argument("--overlap", metavar="LENGTH", help="how far sheets of one part lie over each other")
    sheets.add_argument("--hole", metavar="LENGTH", help="mockup: diameter of the holes")
    sheets.add_argument(
        "--bar",
        metavar="LENGTH",
        help="what the 100 mm bar of an earlier print measured, or where inches are shown the 4 in bar",
    )
    sheets.add_argument(
        "--long-bar", metavar="LENGTH", help="templates: what the bar along the sheet's long side measured, if unlike"
    )
    chosen = parser.parse_args(argv)

    from app.files import load

    project = load(chosen.file)
    if chosen.sheet is not None:
        from app.sheet_command import write_sheets

        write_sheets(project, chosen)
    elif any((chosen.paper, chosen.overlap, chosen.hole, chosen.bar, chosen.long_bar)):
        parser.error("--paper, --overlap, --hole, --bar and --long-bar go with --sheet")
    else:
        _drawn(project, chosen)
    return HOLDS


def _drawn(project: Project, chosen: argparse.Namespace) -> None:
    """Write a picture at one opening, or the whole sweep as an animation."""
    from app.look import dark, light
    from kinematics import analyse

    look = dark() if chosen.look == "dark" else light()
    if chosen.to.suffix.lower() == ".gif":
        from app.files import animation

        size = chosen.size or animation.USUAL_SIZE
        animation.save_animation(analyse(project), chosen.to, size, chosen.at or None, look, _teller(chosen.progress))
        return
    from app.files.pictures import save_picture

    save_picture(project, analyse(project), chosen.to, chosen.at or 0.0, chosen.size or USUAL_SIZE, look)


def _teller(asked: bool) -> Callable[[float], bool]:
    """What tells progress, a whole number a line, where it is asked for; never stops the work."""

    def tell(share: float) -> bool:
        if asked:
            _write(f"{100 * share:.0f}\n")
        return True

    return tell


def _propose(argv: list[str]) -> int:
    parser = _Parser(
        prog="hingewright propose",
        description="Look for hinges that meet every want of a project, on all cores, and write each as a project "
        "file, best first, with an index.json. Outlines, wants, zones, loads and locked pivots are kept; the links "
        "between and all other pivots are chosen anew. Files that an earlier run left in the folder give way.",
        epilog="It ends before its time once enough different layouts that hold have been found, and writes the best "
        "24 at most. The same seed gives "
        "the same layouts in the same order, as far as the time reaches. Exit status: 0 the first meets every want, "
        "1 none does, 2 the file can't be used.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a project (.hinge)")
    parser.add_argument("--to", type=Path, required=True, metavar="FOLDER", help="where the files go")
    parser.add_argument("--seconds", type=_seconds, default=20.0, metavar="S", help="longest time to search (20)")
    parser.add_argument("--seed", type=_seed, default=1, metavar="K", help="another number finds others (1)")
    parser.add_argument(
        "--kinds", type=_kinds, metavar="KINDS", help="of single pivot, four-bar, six-bar, with commas between (all)"
    )
    chosen = parser.parse_args(argv)

    from app.files import load
    from app.proposals.command import propose
    from kinematics.proposals.results import KINDS, Settings

    settings = Settings(seed=chosen.seed, kinds=chosen.kinds or KINDS)
    found = propose(load(chosen.file), chosen.to, settings, chosen.seconds, source=chosen.file)
    return HOLDS if found else FALLS_SHORT


def _make(argv: list[str]) -> int:
    parser = _Parser(
        prog="hingewright make",
        description="Write what goes to the shop into a folder: a drawing of each part that is cut, full size, with "
        "true arcs; templates for the drill, left and right, and for a mock-up; the parts list; and an index.json. "
        "All files or none. Files that an earlier run left in the folder give way; others never do.",
        epilog="Exit status: 0 written, 1 written but there are faults, told in index.json, 2 nothing is written.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a project (.hinge)")
    parser.add_argument("--to", type=Path, required=True, metavar="FOLDER", help="where the files go")
    parser.add_argument("--formats", default="dxf,svg", help="of the drawings: dxf, svg, or both (both)")
    parser.add_argument("--units", default="mm", choices=("mm", "in"), help="of the drawings' coordinates (mm)")
    parser.add_argument("--paper", metavar="NAME", default="", help="A4, A3, Letter or Tabloid (as the units have it)")
    parser.add_argument("--progress", action="store_true", help="tell per cent on standard output while it is made")
    chosen = parser.parse_args(argv)

    from app.files import load
    from app.making.command import make
    from app.making.planned import MakeOptions
    from app.making.words import made_words

    formats = tuple(dict.fromkeys(each.strip().lower() for each in chosen.formats.split(",")))
    plan = make(
        load(chosen.file), chosen.to, MakeOptions(formats, chosen.units, chosen.paper), _teller(chosen.progress)
    )
    if not chosen.progress:
        _write(f"{made_words(len(plan.files) + 1, len(plan.faults), str(chosen.to))}\n")
    for fault in plan.faults:
        _tell(fault, FALLS_SHORT)
    return FALLS_SHORT if plan.faults else HOLDS


def _desktop(argv: list[str]) -> int:
    parser = _Parser(
        prog="hingewright desktop",
        description="Put the program, its icon and its file type on this user's Linux desktop, or take them off; or "
        "write its icon for packages on other systems.",
    )
    wish = parser.add_mutually_exclusive_group(required=True)
    wish.add_argument("--install", action="store_true", help="write the files, and say which")
    wish.add_argument("--remove", action="store_true", help="take the same files away, and say which")
    wish.add_argument("--icons", metavar="DIR", type=Path, help="write the icon as .ico, .icns and .svg into a folder")
    chosen = parser.parse_args(argv)

    from app.desktop import install, remove, write_icons

    done = write_icons(chosen.icons) if chosen.icons is not None else install() if chosen.install else remove()
    _write("\n".join(done) + "\n")
    return HOLDS


VERBS: dict[str, Callable[[list[str]], int]] = {
    "report": _report,
    "picture": _picture,
    "propose": _propose,
    "make": _make,
    "desktop": _desktop,
}


# ----------------------------------------------------------------------------------------------------------- arguments
def _steps(text: str) -> int:
    if not re.fullmatch(r"\d{1,9}", text) or not 2 <= int(text) <= MOST_STEPS:
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number from 2 to {MOST_STEPS}")
    return int(text)


def _degrees(text: str) -> float:
    from app.lengths import parse_angle

    try:
        return parse_angle(text)
    except HingewrightError as fault:
        raise argparse.ArgumentTypeError(fault.what) from fault


def _seconds(text: str) -> float:
    if not re.fullmatch(r"\d{1,6}(\.\d{1,6})?|\.\d{1,6}", text) or not 0.0 < float(text) <= MOST_SECONDS:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of seconds above 0, up to {MOST_SECONDS}")
    return float(text)


def _seed(text: str) -> int:
    if not re.fullmatch(r"\d{1,9}", text):
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number from 0 to 999999999")
    return int(text)


def _kinds(text: str) -> tuple[str, ...]:
    from kinematics.proposals.results import KINDS

    asked = [" ".join(each.split()).lower() for each in text.split(",")]
    wrong = next((each for each in asked if each not in KINDS), None)
    if wrong is not None:
        raise argparse.ArgumentTypeError(f"{wrong!r} is none of {', '.join(KINDS)}")
    return tuple(kind for kind in KINDS if kind in asked)


def _size(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{1,6})[xX×](\d{1,6})", text)
    if match is None:
        raise argparse.ArgumentTypeError(f"{text!r} is no size such as 1600x1000")
    return int(match[1]), int(match[2])


# -------------------------------------------------------------------------------------------------------------- output
def _write(text: str, encoding: str | None = None) -> None:
    """Puts the text on standard output; `encoding` None takes the terminal's, with "?" for signs that it lacks.

    Raises HingewrightError when it can't be written in full: the reader of a pipe has gone, the disk is full.
    """
    data = text.encode(encoding or sys.stdout.encoding or "utf-8", errors="replace")
    try:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except OSError as fault:
        # What is still buffered would fail again, with a traceback, when Python closes the stream on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        why = "its reader has gone" if isinstance(fault, BrokenPipeError) else fault.strerror or str(fault)
        raise HingewrightError(f"the report could not be written in full: {why}", "standard output") from fault


def _has_display() -> bool:
    """Whether a window can be opened. Asked beforehand, as Qt ends the process when it can't."""
    if not sys.platform.startswith("linux") or os.environ.get("QT_QPA_PLATFORM") or os.environ.get("WAYLAND_DISPLAY"):
        return True
    match = re.fullmatch(r"(?P<host>[^:]*):(?P<number>\d+)(?:\.\d+)?", os.environ.get("DISPLAY", ""))
    if match is None:
        return False
    return match["host"] not in ("", "unix") or _x_server_answers(match["number"])


def _x_server_answers(number: str) -> bool:
    """Whether something listens at a local display, by its socket in the file system or the one without a file."""
    import socket

    for address in (f"\0/tmp/.X11-unix/X{number}", f"/tmp/.X11-unix/X{number}"):
        with socket.socket(socket.AF_UNIX) as probe:
            probe.settimeout(2.0)
            try:
                probe.connect(address)
            except OSError:
                continue
            return True
    return False

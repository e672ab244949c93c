"""The command line: exit statuses, one sentence for each fault, and nothing loaded that isn't needed.

Most tests call `main` in this process; the few that need a process of their own (pipes, what is loaded) start one.
"""

from __future__ import annotations

import contextlib
import copy
import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from app import __version__, cli
from app.report import as_dict, as_text
from kinematics import analyse

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).parents[2]

LID: dict[str, Any] = {
    "format": "hingewright",
    "version": 1,
    "title": "Lid",
    "links": [{"id": "body", "kind": "fixed"}, {"id": "lid", "kind": "panel"}],
    "pivots": [{"id": "A", "at": [0.0, 0.0], "joins": ["body", "lid"]}],
    "outlines": [
        {"id": "wall", "on": "body", "points": [[-52.0, -100.0], [-52.0, 100.0]]},
        {"id": "skin", "on": "lid", "points": [[-30.0, -40.0], [400.0, 0.0]]},
    ],
    "marks": [{"id": "edge", "on": "lid", "at": [400.0, 0.0]}],
    "travel": {"opens": "clockwise", "wanted_deg": 80.0},
    "gaps": [{"between": ["wall", "skin"], "at_least": 1.5}],
}


def write(folder: Path, data: object) -> Path:
    path = folder / "lid.hinge"
    path.write_text(json.dumps(data), "utf-8")
    return path


@pytest.fixture
def lid(tmp_path: Path) -> Path:
    return write(tmp_path, LID)


def run(*words: object, env: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    """The program in a process of its own."""
    command = [sys.executable, "-m", "app", *map(str, words)]
    whole = {**os.environ, **(env or {})}
    return subprocess.run(command, cwd=ROOT, env=whole, capture_output=True, text=True, timeout=60, check=False)


def sentence(capsys: pytest.CaptureFixture[str]) -> str:
    """What stands on standard error: one line, and nothing on standard output."""
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err
    return err.strip()


# -------------------------------------------------------------------------------------------------------------- report
def test_report_as_text(lid: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from app.files import load

    assert cli.main(["report", str(lid)]) == 0
    project = load(lid)
    assert capsys.readouterr().out == as_text(project, analyse(project))


def test_report_as_json_with_as_many_poses_as_asked(lid: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from app.files import load

    assert cli.main(["report", str(lid), "--json", "--steps", "9"]) == 0
    project = load(lid)
    found = json.loads(capsys.readouterr().out)
    assert found == json.loads(json.dumps(as_dict(project, analyse(project, 9))))
    assert [pose["deg"] for pose in found["poses"]] == pytest.approx([10.0 * i for i in range(9)], abs=1e-9)
    cli.main(["report", str(lid), "--json"])
    assert len(json.loads(capsys.readouterr().out)["poses"]) == 181


def test_a_check_that_falls_short_gives_1_and_the_whole_report(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    short = copy.deepcopy(LID)
    short["gaps"][0]["at_least"] = 6.0
    path = write(tmp_path, short)
    assert cli.main(["report", str(path)]) == 1
    text = capsys.readouterr().out
    assert "✗ wall – skin: only 2.0 mm at 53.1°, wants 6.0 mm" in text  # check B5: 2 mm at atan 4/3
    assert "Cautions" in text
    assert cli.main(["report", str(path), "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["gaps"][0]["ok"] is False


def test_json_is_utf_8_whatever_the_terminal(tmp_path: Path) -> None:
    path = write(tmp_path, {**LID, "title": "Motorhaube „½″“"})
    command = [sys.executable, "-m", "app", "report", str(path), "--json", "--steps", "2"]
    env = {**os.environ, "PYTHONIOENCODING": "latin-1"}
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, timeout=60, check=False)
    assert json.loads(done.stdout.decode("utf-8"))["title"] == "Motorhaube „½″“"
    text = subprocess.run(command[:-3], cwd=ROOT, env=env, capture_output=True, timeout=60, check=False)
    assert text.returncode == 0
    assert text.stdout.decode("latin-1").startswith("Motorhaube ?½??\n")


# ------------------------------------------------------------------------------------------------------ what is refused
def changed(*keys: str | int, to: object) -> Callable[[dict[str, Any]], None]:
    def change(data: Any) -> None:  # noqa: ANN401  lists and objects on the way down
        for key in keys[:-1]:
            data = data[key]
        data[keys[-1]] = to

    return change


def without(key: str) -> Callable[[dict[str, Any]], None]:
    def change(data: dict[str, Any]) -> None:
        del data[key]

    return change


def added(key: str, value: object) -> Callable[[dict[str, Any]], None]:
    def change(data: dict[str, Any]) -> None:
        data.setdefault(key, []).append(value)

    return change


STRUT = {
    "id": "strut", "kind": "gas strut", "count": 1, "extended": 500.0, "stroke": 200.0, "force": 300.0, "ratio": 1.3,
    "from": {"on": "body", "at": [0.0, -80.0]}, "to": {"on": "lid", "at": [40.0, 0.0]},
}  # fmt: skip

REFUSED: dict[str, tuple[Callable[[dict[str, Any]], None], str]] = {
    "no format": (without("format"), "format"),
    "another format": (changed("format", to="hinge"), "format"),
    "a newer version": (changed("version", to=2), "version"),
    "no links": (without("links"), "links"),
    "no pivots": (without("pivots"), "pivots"),
    "no travel": (without("travel"), "travel"),
    "links that are no list": (changed("links", to={}), "links"),
    "a number that is true": (changed("travel", "wanted_deg", to=True), "wanted_deg"),
    "a number that is a text": (changed("travel", "wanted_deg", to="75"), "wanted_deg"),
    "NaN": (changed("pivots", 0, "at", 0, to=float("nan")), "not a finite number"),
    "Infinity": (changed("gaps", 0, "at_least", to=float("inf")), "not a finite number"),
    "a coordinate too far": (changed("pivots", 0, "at", 0, to=100001.0), "A"),
    "a number too large": (changed("gaps", 0, "at_least", to=1.1e9), "at_least"),
    "an id twice": (changed("outlines", 1, "id", to="wall"), "wall"),
    "an empty id": (changed("pivots", 0, "id", to=""), "id"),
    "an id of 81 characters": (changed("pivots", 0, "id", to="x" * 81), "81"),
    "a control character": (changed("pivots", 0, "id", to="A\n"), "control"),
    "an unknown link": (changed("pivots", 0, "joins", to=["body", "roof"]), "roof"),
    "an unknown outline": (changed("gaps", 0, "between", to=["wall", "roof"]), "roof"),
    "a pivot that names a link twice": (changed("pivots", 0, "joins", to=["lid", "lid"]), "lid"),
    "a pivot of one link": (changed("pivots", 0, "joins", to=["lid"]), "A"),
    "two panels": (added("links", {"id": "roof", "kind": "panel"}), "panel"),
    "no fixed link": (changed("links", 0, "kind", to="link"), "fixed"),
    "opens sideways": (changed("travel", "opens", to="up"), "opens"),
    "wanted 0": (changed("travel", "wanted_deg", to=0), "wanted_deg"),
    "wanted beyond 180": (changed("travel", "wanted_deg", to=180.5), "wanted_deg"),
    "a negative want": (changed("gaps", 0, "at_least", to=-1), "at_least"),
    "a negative after_deg": (changed("gaps", 0, "after_deg", to=-1), "after_deg"),
    "an outline of one point": (changed("outlines", 0, "points", to=[[0, 0]]), "wall"),
    "a closed outline of two": (changed("outlines", 0, "closed", to=True), "wall"),
    "a gap within one link": (changed("outlines", 1, "on", to="body"), "one link"),
    "an outline named like a link": (changed("outlines", 1, "id", to="lid"), "lid"),
    "a negative mass": (changed("loads", to={"masses": [{"on": "lid", "mass": -1, "at": [0, 0]}]}), "mass"),
    "no hinges": (changed("loads", to={"hinges": 0}), "hinges"),
    "a strut without stroke": (changed("loads", to={"devices": [{**STRUT, "stroke": 0}]}), "stroke"),
    "a strut that is there no times": (changed("loads", to={"devices": [{**STRUT, "count": 0}]}), "count"),
}


@pytest.mark.parametrize(("change", "names"), REFUSED.values(), ids=REFUSED.keys())
def test_a_file_that_is_none_is_refused_in_one_sentence(
    change: Callable[[dict[str, Any]], None], names: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence names the file, and what or where it is."""
    data = copy.deepcopy(LID)
    change(data)
    path = write(tmp_path, data)
    assert cli.main(["report", str(path)]) == 2
    told = sentence(capsys)
    assert "lid.hinge" in told
    assert names in told


NO_PROJECT = {
    "empty": b"",
    "a list": b"[]",
    "null": b"null",
    "a text": b'"text"',
    "cut": b'{"format": "hingewright"',
    "noise": b"\x00\xff\xfe" * 99,
    "nested deep": b"[" * 99_999,
    "a huge number": b"9" * 9999,
}


@pytest.mark.parametrize("raw", NO_PROJECT.values(), ids=NO_PROJECT.keys())
def test_what_is_no_project_at_all(raw: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "lid.hinge"
    path.write_bytes(raw)
    for words in (["report", str(path)], ["picture", str(path), "--to", str(tmp_path / "out.png")]):
        assert cli.main(words) == 2
        assert "lid.hinge" in sentence(capsys)
    assert not (tmp_path / "out.png").exists()


def test_a_file_that_is_not_there_or_is_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["report", str(tmp_path / "none.hinge")]) == 2
    assert "none.hinge" in sentence(capsys)
    assert cli.main(["report", str(tmp_path / "no\nne.hinge")]) == 2  # still one line
    assert "ne.hinge" in sentence(capsys)
    assert cli.main(["report", str(tmp_path)]) == 2
    assert tmp_path.name in sentence(capsys)


@pytest.mark.parametrize(
    ("words", "names"),
    [
        (["report"], "FILE"),
        (["report", "FILE", "--steps", "1"], "'1' is no whole number from 2"),
        (["report", "FILE", "--steps", "2.5"], "'2.5'"),
        (["report", "FILE", "--steps", "9" * 5000], "no whole number"),
        (["report", "FILE", "--loud"], "--loud"),
        (["picture", "FILE"], "--to"),
        (["picture", "FILE", "--to", "OUT.png", "--size", "big"], "'big' is no size such as 1600x1000"),
        (["picture", "FILE", "--to", "OUT.png", "--size", "99999x99999"], "99999 × 99999"),
        (["picture", "FILE", "--to", "OUT.png", "--at", "half"], "half"),
        (["picture", "FILE", "--to", "OUT.png", "--at", "80.1"], "from 0° to 80°"),
        (["picture", "FILE", "--to", "OUT.png", "--at", "-1"], "from 0° to 80°"),
        (["FILE", "FILE"], "unrecognized"),
    ],
)
def test_a_wrong_command_line_is_told_in_one_sentence(
    words: list[str], names: str, lid: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    places = {"FILE": str(lid), "OUT.png": str(tmp_path / "out.png")}
    assert cli.main([places.get(word, word) for word in words]) == 2
    assert names in sentence(capsys)
    assert not (tmp_path / "out.png").exists()


def test_a_fault_of_the_program_is_told_without_a_traceback(
    lid: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("the sky\nfell")

    monkeypatch.setattr("app.report.as_text", broken)
    assert cli.main(["report", str(lid)]) == 2
    assert "fault of the program (RuntimeError: the sky fell)" in sentence(capsys)
    monkeypatch.setenv(cli.SHOW_TRACEBACK, "1")
    with pytest.raises(RuntimeError):
        cli.main(["report", str(lid)])


# ------------------------------------------------------------------------------------------------------------- picture
@pytest.mark.usefixtures("qapp")  # else the picture makes a smaller application, which later tests can't use
def test_picture_is_written_in_the_size_and_at_the_opening_asked(lid: Path, tmp_path: Path) -> None:
    from PySide6.QtGui import QImage

    out = tmp_path / "a picture.png"
    assert cli.main(["picture", str(lid), "--to", str(out), "--at", "30", "--size", "640x400"]) == 0
    image = QImage(str(out))
    assert (image.width(), image.height()) == (640, 400)
    shut = tmp_path / "shut.png"
    assert cli.main(["picture", str(lid), "--to", str(shut), "--size", "640x400"]) == 0
    assert QImage(str(shut)) != image


@pytest.mark.usefixtures("qapp")
def test_a_picture_that_cannot_be_written_says_so(
    lid: Path, tmp_path: Path, read_only: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["picture", str(lid), "--to", str(read_only / "out.png")]) == 2
    assert "out.png" in sentence(capsys)
    assert cli.main(["picture", str(lid), "--to", str(tmp_path / "out.doc")]) == 2
    assert ".doc" in sentence(capsys)


@pytest.mark.usefixtures("qapp")
def test_the_sweep_and_sheets_of_paper_are_pictures_too(lid: Path, tmp_path: Path) -> None:
    """Each is written whole, in its kind; lengths as people type them."""
    begin = ["picture", str(lid), "--to"]
    assert cli.main([*begin, str(tmp_path / "a.gif"), "--size", "200x120", "--at", "10"]) == 0
    assert (tmp_path / "a.gif").read_bytes()[:10] == b"GIF89a" + bytes((200, 0, 120, 0))
    assert cli.main([*begin, str(tmp_path / "layout.pdf"), "--sheet", "layout", "--paper", "Letter"]) == 0
    mockup = ["--sheet", "mockup", "--paper", "A3", "--hole", '1/4"', "--overlap", "2 cm", "--bar", "98.5"]
    assert cli.main([*begin, str(tmp_path / "mockup.pdf"), *mockup]) == 0
    pypdf = pytest.importorskip("pypdf")
    sizes = [pypdf.PdfReader(tmp_path / name).pages[0].mediabox.height for name in ("layout.pdf", "mockup.pdf")]
    assert [float(size) for size in sizes] == pytest.approx([612.0, 420 / 25.4 * 72], abs=0.01)


@pytest.mark.usefixtures("qapp")
def test_in_inches_the_bar_that_is_measured_is_that_of_four_inches(
    lid: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lid.write_text(json.dumps(json.loads(lid.read_text("utf-8")) | {"display_units": "in"}), "utf-8")
    sheets = ["picture", str(lid), "--to", str(tmp_path / "m.pdf"), "--sheet", "mockup", "--bar"]
    assert cli.main([*sheets, "3 15/16"]) == 0
    assert cli.main([*sheets, "100 mm"]) == 0
    assert cli.main([*sheets, "3.5"]) == 2
    assert "too small for a 4 in bar" in sentence(capsys)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["a.png", "--sheet", "layout"], "sheets are a PDF at true size"),
        (["a.pdf", "--sheet", "mockup", "--at", "3"], "leave --size and --at out"),
        (["a.pdf", "--sheet", "layout", "--hole", "3"], "goes with --sheet mockup"),
        (["a.pdf", "--sheet", "mockup", "--hole", "wide"], "can't be read as a length"),
        (["a.pdf", "--sheet", "mockup", "--paper", "A9"], "no paper known here"),
        (["a.pdf", "--paper", "A4"], "go with --sheet"),
        (["a.gif", "--size", "9000x9000"], "no size for an animation"),
    ],
)
@pytest.mark.usefixtures("qapp")
def test_sheets_that_make_no_sense_are_told(
    lid: Path, tmp_path: Path, words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out, *rest = words
    assert cli.main(["picture", str(lid), "--to", str(tmp_path / out), *rest]) == 2
    assert told in sentence(capsys)
    assert not (tmp_path / out).exists()


# -------------------------------------------------------------------------------------------------- window and display
def test_without_a_verb_the_window_opens_with_the_file(monkeypatch: pytest.MonkeyPatch) -> None:
    import app.window

    asked: list[Path | None] = []

    def window(path: Path | None = None) -> int:
        asked.append(path)
        return 0

    monkeypatch.setattr(app.window, "run", window)
    assert cli.main([]) == 0
    assert cli.main(["some.hinge"]) == 0
    assert asked == [None, Path("some.hinge")]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
@pytest.mark.parametrize("display", ["", ":98765", "nonsense"])
def test_without_a_display_one_line_names_the_commands(
    display: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("QT_QPA_PLATFORM", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("DISPLAY", display)
    assert cli.main([]) == 2
    told = sentence(capsys)
    assert "no display" in told
    assert "hingewright report FILE" in told
    assert "hingewright picture FILE" in told


# ----------------------------------------------------------------------------------------------- processes of their own
def test_version_loads_nothing_heavy() -> None:
    """The way to 0.3 s: not one of the large libraries is imported."""
    code = (
        "import sys; from app.cli import main\n"
        "try: main(['--version'])\n"
        "except SystemExit as end: assert end.code == 0\n"
        "print(*sorted({name.split('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    version, modules = done.stdout.splitlines()
    assert version == f"hingewright {__version__}"
    heavy = {"PySide6", "shiboken6", "numpy", "scipy", "shapely", "ezdxf"}
    assert not heavy & set(modules.split())


def test_the_window_loads_what_it_shows_at_once() -> None:
    """60 MB and a fifth of the start are scipy alone; searches and fits load it when they are asked for."""
    code = "import sys, app.window; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    assert not {"scipy", "ezdxf", "PIL"} & set(done.stdout.split())


def test_the_kinematics_loads_no_qt_and_no_app() -> None:
    code = (
        "import sys, pkgutil, importlib, kinematics\n"
        "for found in pkgutil.walk_packages(kinematics.__path__, 'kinematics.'):\n"
        "    importlib.import_module(found.name)\n"
        "print(*sorted({name.split('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    modules = set(done.stdout.split())
    assert "numpy" in modules
    assert not {"PySide6", "shiboken6", "ezdxf", "app"} & modules


def test_a_report_loads_no_window(lid: Path) -> None:
    code = (
        f"import sys; from app.cli import main\nmain(['report', {str(lid)!r}])\nsys.stderr.write(' '.join(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    assert not {"PySide6", "ezdxf"} & set(done.stderr.split())


@pytest.mark.skipif(os.name != "posix", reason="pipes and signals of POSIX")
def test_a_reader_that_goes_away_is_told_in_one_sentence(lid: Path) -> None:
    read, write_end = os.pipe()
    os.close(read)
    command = [sys.executable, "-m", "app", "report", str(lid), "--json"]
    done = subprocess.run(
        command, cwd=ROOT, stdout=write_end, stderr=subprocess.PIPE, text=True, timeout=60, check=False
    )
    os.close(write_end)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "its reader has gone" in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="/dev/full is Linux's disk that is always full")
def test_a_full_disk_is_told_in_one_sentence(lid: Path) -> None:
    command = [sys.executable, "-m", "app", "report", str(lid)]
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False
        )
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "could not be written in full" in done.stderr


@pytest.mark.usefixtures("python_interrupts")
def test_ctrl_c_ends_it_cleanly(lid: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def interrupted(*_: object) -> None:
        signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr("app.report.as_text", interrupted)
    assert cli.main(["report", str(lid)]) == 130
    assert sentence(capsys) == "stopped"


@pytest.mark.usefixtures("python_interrupts")
def test_ctrl_c_within_an_import_is_no_fault_of_the_program(
    lid: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """C code that imports turns the interrupt into an error of its own."""

    def interrupted(*_: object) -> None:
        with contextlib.suppress(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
        raise ImportError("C-extensions failed")

    before = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr("app.report.as_text", interrupted)
    assert cli.main(["report", str(lid)]) == 130
    assert sentence(capsys) == "stopped"
    assert signal.getsignal(signal.SIGINT) is before


def test_python_m_app_gives_the_status_on(tmp_path: Path) -> None:
    done = run("report", tmp_path / "none.hinge")
    assert done.returncode == 2
    assert done.stdout == ""
    assert "none.hinge" in done.stderr
    assert run("--version").stdout == f"hingewright {__version__}\n"

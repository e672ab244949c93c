"""`hingewright make`: exit statuses, what stands in the folder, all or nothing."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app import cli
from app.files import save
from kinematics.errors import HingewrightError
from tests.specimens import demo_six_bar, empty

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project

pytestmark = pytest.mark.usefixtures("qapp")  # templates are drawn
PARTS = "parts.csv"


def run(project: Project, folder: Path, *words: str) -> int:
    save(project, folder / "x.hinge")
    return cli.main(["make", str(folder / "x.hinge"), "--to", str(folder / "build"), *words])


def index(folder: Path) -> dict[str, object]:
    found: dict[str, object] = json.loads((folder / "build" / "index.json").read_text("utf-8"))
    return found


def test_written_and_the_index_names_just_what_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(demo_six_bar, tmp_path, "--progress") == 0
    build = tmp_path / "build"
    paths = [row["path"] for row in index(tmp_path)["files"]]  # type: ignore[attr-defined]
    there = {path.relative_to(build).as_posix() for path in build.rglob("*") if path.is_file()}
    assert there == {*paths, "index.json"}
    papers = ("templates", "mock-up", "build sheet", "index")
    assert all((build / f"{name}.pdf").read_bytes().startswith(b"%PDF") for name in papers)
    out, err = capsys.readouterr()
    assert out.split()[-1] == "100"
    assert err == ""


def test_faults_are_told_and_all_is_written_all_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    narrow = replace(demo_six_bar, links=tuple(replace(link, width=8.0) for link in demo_six_bar.links))
    assert run(narrow, tmp_path, "--formats", "svg", "--units", "in", "--paper", "A3") == 1
    told = index(tmp_path)
    written, err = capsys.readouterr()
    assert err.splitlines() == told["faults"]
    assert "Mend the" in written
    kinds = {row["path"]: row["kind"] for row in told["files"] if "/" not in row["path"]}  # type: ignore[attr-defined]
    papers = {"build sheet.pdf": "build sheet", "index.pdf": "index page"}
    pypdf = pytest.importorskip("pypdf")
    for name in ("templates.pdf", "mock-up.pdf"):
        box = pypdf.PdfReader(tmp_path / "build" / name).pages[0].mediabox
        assert float(box.height) == pytest.approx(420.0 / 25.4 * 72.0, abs=0.01)
    assert kinds == {"templates.pdf": "templates", "mock-up.pdf": "mock-up", "parts.csv": "parts", **papers}


def test_a_sheet_that_cannot_be_made_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It comes after the cut files, which are made by then."""

    def refuse(*_: object) -> list[object]:
        raise HingewrightError("the sheet can't be laid out")

    monkeypatch.setattr("app.build_sheet.pages.build_pages", refuse)
    assert run(demo_six_bar, tmp_path) == 2
    assert [path.name for path in tmp_path.iterdir()] == ["x.hinge"]


@pytest.mark.parametrize(
    ("project", "words", "expected"),
    [
        (empty, (), "nothing can be made"),
        (demo_six_bar, ("--formats", "dwg"), "no kind of cut file"),
        (demo_six_bar, ("--units", "cm"), "invalid choice"),
        (demo_six_bar, ("--paper", "A9"), "no paper known here"),
    ],
)
def test_nothing_is_written_and_one_sentence_says_why(
    project: Project, words: tuple[str, ...], expected: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(project, tmp_path, *words) == 2
    assert expected in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["x.hinge"]


def test_a_folder_of_somebody_else_is_left_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "build").mkdir()
    (tmp_path / "build" / PARTS).write_text("mine")
    assert run(demo_six_bar, tmp_path) == 2
    assert "it holds parts.csv" in capsys.readouterr().err
    assert [path.name for path in (tmp_path / "build").iterdir()] == [PARTS]

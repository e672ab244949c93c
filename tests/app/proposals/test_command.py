"""`propose` without a window: what is written, in which order, all or nothing; its words and exit statuses."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from app import cli
from app.files import load, save
from app.proposals.command import Hunt, propose, write_all
from app.proposals.enough import Enough
from app.report import as_dict
from kinematics import analyse
from kinematics.errors import HingewrightError
from kinematics.proposals.results import KINDS, NOT_SEARCHED, Settings
from tests.app.proposals import fake
from tests.app.sharing import demo

if TYPE_CHECKING:
    from pathlib import Path

LONG_S = 60.0


def hunt(settings: Settings, units: int = 6) -> Hunt:
    """The search in small, which ends after so many units."""
    enough = Enough(good=1, least_units=units)
    return Hunt(demo(), settings, fake.Collector(settings), "tests.app.proposals.fake", enough)


def index(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "index.json").read_text("utf-8"))
    return found


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that a search of six units with seed 3 wrote, in a folder that wasn't there either."""
    to = tmp_path_factory.mktemp("propose") / "new" / "found"
    settings = Settings(seed=3)
    assert propose(demo(), to, settings, LONG_S, hunt(settings), ())
    return to


def test_files_best_first_and_an_index_that_agrees_with_report(made: Path) -> None:
    told = index(made)
    assert list(told) == ["proposals", "tried", "first_ok_s"]
    assert told["tried"] == 6 * fake.TRIED
    assert 0.0 < told["first_ok_s"] < LONG_S
    rows = told["proposals"]
    assert [row["path"] for row in rows] == [f"{k}.hinge" for k in range(1, 7)]
    assert [row["ok"] for row in rows] == [True] * 4 + [False] * 2
    assert {row["kind"] for row in rows[4:]} == {"single pivot"}
    assert all((row["short_by"] == 0.0) == row["ok"] for row in rows)
    for row in rows:
        project = load(made / row["path"])
        analysis = analyse(project)
        held = zip(analysis.checks, as_dict(project, analysis)["checks"], strict=True)
        assert row["ok"] == all(each["ok"] for check, each in held if check.kind not in NOT_SEARCHED)
    assert {path.name for path in made.iterdir()} == {"index.json", *(row["path"] for row in rows)}
    assert [path.name for path in made.parent.iterdir()] == ["found"]


def test_what_is_asked_stays_in_every_file(made: Path) -> None:
    for row in index(made)["proposals"]:
        found, asked = load(made / row["path"]), demo()
        assert (found.gaps, found.travel, found.limits) == (asked.gaps, asked.travel, asked.limits)
        assert found.outlines == asked.outlines


def test_the_same_seed_writes_the_same_files(made: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    settings = Settings(seed=3)
    propose(demo(), tmp_path, settings, LONG_S, hunt(settings), ())
    one, other = ({p.name: p.read_bytes() for p in folder.iterdir()} for folder in (made, tmp_path))
    del one["index.json"], other["index.json"]
    assert one == other
    assert index(made)["proposals"] == index(tmp_path)["proposals"]
    assert "4 of 6 layouts hold every want" in capsys.readouterr().err


def test_an_earlier_run_gives_way_and_other_files_stay(tmp_path: Path) -> None:
    settings = Settings()
    found = tuple(fake.run(demo(), settings, number).proposals[0] for number in range(3))
    write_all(tmp_path, found, 300, 1.0)
    (tmp_path / "9.hinge").write_text("mine")
    write_all(tmp_path, found[1:2], 100, None)
    assert {path.name for path in tmp_path.iterdir()} == {"1.hinge", "9.hinge", "index.json"}
    assert index(tmp_path)["first_ok_s"] is None


def test_what_hinders_is_told_and_no_search_begun(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hindrances = ("The wall crosses the lid when shut. Move one of them.",)
    assert not propose(demo(), tmp_path / "to", Settings(), LONG_S, None, hindrances)
    assert index(tmp_path / "to") == {"proposals": [], "tried": 0, "first_ok_s": None}
    assert capsys.readouterr().err.splitlines() == list(hindrances)


def test_no_time_finds_nothing_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    settings = Settings()
    assert not propose(demo(), tmp_path / "to", settings, 1e-6, hunt(settings), ())
    assert index(tmp_path / "to")["proposals"] == []
    assert "No layout was found" in capsys.readouterr().err


def test_only_short_ones_are_written_all_the_same(tmp_path: Path) -> None:
    settings = Settings(kinds=("single pivot",))
    small = hunt(settings)
    bare = replace(demo(), loads=None)  # a strut would be at its end first
    small.collector.take(fake.run(bare, settings, 0))
    assert not propose(bare, tmp_path, settings, 1e-6, small, ())
    (row,) = index(tmp_path)["proposals"]
    assert not row["ok"]
    assert row["short_by"] == pytest.approx(10.0, abs=1e-6), "it touches where 10 mm are wanted"


def test_a_place_that_cannot_be_written_is_refused_before_the_search(tmp_path: Path, read_only: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("a file")
    for to in (taken, read_only):
        with pytest.raises(HingewrightError, match="the proposals can't be written"):
            propose(demo(), to, Settings(), LONG_S, None, ())
    assert taken.read_text() == "a file"


def test_no_work_that_no_search_wrote_is_written_over(made: Path, tmp_path: Path) -> None:
    (tmp_path / "2.hinge").write_text("mine")
    with pytest.raises(HingewrightError, match=r"it holds 2.hinge, which no earlier search has written"):
        propose(demo(), tmp_path, Settings(), LONG_S, None, ())
    with pytest.raises(HingewrightError, match=r"1.hinge, which is searched for, lies there itself"):
        propose(demo(), made, Settings(), LONG_S, None, (), made / "1.hinge")
    assert (tmp_path / "2.hinge").read_text() == "mine"


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--seconds", "0"], "no number of seconds above 0"),
        (["--seconds", "nan"], "no number of seconds"),
        (["--seconds", "-3"], "no number of seconds"),
        (["--seed", "1.5"], "no whole number"),
        (["--kinds", "four-bar,five-bar"], "'five-bar' is none of single pivot, four-bar, six-bar"),
        (["--kinds", ""], "is none of"),
    ],
)
def test_a_bad_command_line_is_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], sentence: str
) -> None:
    assert cli.main(["propose", str(tmp_path / "a.hinge"), "--to", str(tmp_path / "to"), *words]) == cli.REFUSED
    told = capsys.readouterr().err
    assert sentence in told
    assert told.count("\n") == 1
    assert not (tmp_path / "to").exists()


def test_the_command_line_hands_over_what_was_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked: list[tuple[object, ...]] = []

    def remember(*words: object, source: Path) -> bool:
        asked.append((*words[1:], source))
        return False

    monkeypatch.setattr("app.proposals.command.propose", remember)
    path = tmp_path / "a.hinge"
    save(demo(), path)
    to = tmp_path / "to"
    words = ["--to", str(to), "--seconds", "2.5", "--seed", "7", "--kinds", "six-bar, Single pivot"]
    assert cli.main(["propose", str(path), *words]) == cli.FALLS_SHORT
    assert cli.main(["propose", str(path), "--to", str(to)]) == cli.FALLS_SHORT
    assert asked == [
        (to, Settings(seed=7, kinds=("single pivot", "six-bar")), 2.5, path),
        (to, Settings(seed=1, kinds=KINDS), 20.0, path),
    ]
    assert cli.main(["propose", str(tmp_path / "none.hinge"), "--to", str(to)]) == cli.REFUSED
    assert "no such file" in capsys.readouterr().err


@pytest.mark.slow
def test_the_real_search_finds_a_hinge_for_the_demo_and_report_agrees(tmp_path: Path) -> None:
    """The whole way, without a stand-in: processes, units, collector, files."""
    from kinematics.proposals.collecting import Collector

    settings = Settings(kinds=("four-bar",))
    real = Hunt(demo(), settings, Collector(settings), enough=Enough(good=1, least_units=1))
    assert propose(demo(), tmp_path / "to", settings, LONG_S, real)
    first = index(tmp_path / "to")["proposals"][0]
    assert (first["ok"], first["kind"]) == (True, "four-bar")
    assert cli.main(["report", str(tmp_path / "to" / first["path"])]) == cli.HOLDS

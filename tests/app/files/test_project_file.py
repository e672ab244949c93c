"""Project files: what is saved is loaded, what is unknown survives, what is bad is refused in one sentence."""

from __future__ import annotations

import json
import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given

from app.files import load, project_file, save
from app.files.errors import FileError, NewerVersionError
from app.files.project_file import MOST_BYTES, UPGRADES, VERSION, read, written
from app.files.project_json import DEEPEST, KNOWN, build_faults
from kinematics.project import Kept, LayerChoice, Link, PinChoice, Project, Stack
from kinematics.wall_parts import Wall
from resources import find
from tests import strategies
from tests.refused import REFUSED
from tests.specimens import ALL, demo_six_bar, empty, with_everything

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kinematics.errors import HingewrightError

KEPT_FILES = Path(__file__).parents[2] / "data"


def refusal(content: bytes) -> str:
    """The sentence with which a file is refused."""
    with pytest.raises(FileError) as refused:
        read(content, "a.hinge")
    assert_is_a_sentence(refused.value)
    return str(refused.value)


def assert_is_a_sentence(fault: HingewrightError) -> None:
    sentence = str(fault)
    assert sentence.startswith("a.hinge: ")
    assert sentence.endswith(".")
    assert sentence.isprintable()
    assert len(sentence) < 400


# --------------------------------------------------------------------------------------------------------- round trips
@pytest.mark.parametrize("name", ALL)
def test_a_saved_specimen_is_loaded_as_it_was(name: str, tmp_path: Path) -> None:
    save(ALL[name], tmp_path / "a.hinge")
    assert load(tmp_path / "a.hinge") == ALL[name]


@given(strategies.projects())
def test_what_is_written_is_read_as_it_was(project: Project) -> None:
    content = written(project)
    again = read(content, "a.hinge")
    assert again == project
    assert written(again) == content


def test_the_file_is_text_that_people_can_read(tmp_path: Path) -> None:
    save(with_everything, str(tmp_path / "ß ½.hinge"))
    text = (tmp_path / "ß ½.hinge").read_text(encoding="utf-8")
    assert '    {"id": "O1", "at": [141.0, 257.0], "joins": ["bulkhead", "arm"], "locked": false},\n' in text
    assert "Everything “at once” – ½″" in text
    assert text.endswith("}\n")
    assert list(json.loads(text))[:3] == ["format", "version", "title"]


def test_all_digits_of_a_number_survive() -> None:
    for number in (0.1, 1 / 3, 1e-300, 5e-324, 99999.99999999999, 2.0000000000000004):
        link = Link("lid", "panel", number)
        project = Project(links=(Link("body", "fixed"), link), travel=empty.travel)
        assert read(written(project), "a.hinge").panel.width == number


# -------------------------------------------------------------------------------------------------------- unknown keys
def test_unknown_keys_survive_at_every_level() -> None:
    data = json.loads(written(with_everything))
    told = sum(1 for _ in known_objects(data))
    for each in known_objects(data):
        each["a key of later"] = {"deep": [1, {"deeper": None}, "½", True]}
        each["from_end"] = 1  # the name of a field, but no key
    assert told == 1 + 7 + 7 + 3 + 1 + 1 + 3 + 1 + 1 + 1 + 2 + 1 + 2 + 4
    project = read(json.dumps(data).encode(), "a.hinge")
    again = json.loads(written(project))
    assert again == data
    assert project.loads is not None
    assert project.loads.devices[0].to_end.unknown["from_end"] == 1


def known_objects(data: Any) -> Iterator[dict[str, Any]]:  # noqa: ANN401
    """Every object of a file that the program reads as a part: the file, links, pivots, a device's ends, …"""
    yield data
    yield data["travel"]
    for name in ("links", "pivots", "outlines", "marks", "limits", "gaps", "zones"):
        yield from data[name]
    loads = data["loads"]
    yield from (loads, loads["handle"], *loads["masses"], *loads["devices"])
    for device in loads["devices"]:
        yield from (device["from"], device["to"])


def test_unknown_keys_stand_behind_the_known_in_their_order() -> None:
    data = {"zebra": 1, "arrow": 2, **json.loads(written(empty)), "middle": 3}
    again = json.loads(written(read(json.dumps(data).encode(), "a.hinge")))
    assert list(again)[:2] == ["format", "version"]
    assert list(again)[-3:] == ["zebra", "arrow", "middle"]


def test_reserved_values_come_back_as_they_were() -> None:
    data = json.loads(written(empty))
    kept = {
        "plates": [1.5],
        "stack": None,
        "mount": "x",
        "wall": [{"a": [[]]}],
        "trials": [{}],
        "pictures": [{"id": "p"}],
    }
    project = read(json.dumps(data | kept).encode(), "a.hinge")
    assert (project.plates, project.mount, project.trials) == ([1.5], "x", ({},))
    again = json.loads(written(project))
    assert {key: again[key] for key in kept} == kept


def test_a_bushing_of_a_pin_is_a_word_where_that_of_strength_is_an_object() -> None:
    chosen = replace(
        demo_six_bar, stack=Stack(bushing="none", pins=(PinChoice("O1", bushing="sintered", holes="to size"),))
    )
    assert read(written(chosen), "a.hinge") == chosen
    odd = json.loads(written(chosen))
    odd["stack"]["bushing"] = {"name": "bronze"}
    kept = read(json.dumps(odd).encode(), "a.hinge")
    assert kept.stack == odd["stack"]
    assert "bushing" in build_faults(kept)[0]


def test_layers_that_were_chosen_by_hand_are_saved_and_read() -> None:
    chosen = replace(demo_six_bar, stack=Stack(layers=(LayerChoice("arm", (1, 3)),)))
    assert read(written(chosen), "a.hinge") == chosen


def test_a_known_key_is_never_overwritten_by_an_unknown_one() -> None:
    project = Project(links=empty.links, travel=empty.travel, title="mine", unknown=Kept({"title": "not mine"}))
    assert json.loads(written(project))["title"] == "mine"


# ------------------------------------------------------------------------------------------------------------- refused
@pytest.mark.parametrize("name", REFUSED)
def test_a_bad_file_is_refused(name: str) -> None:
    sentence = refusal(json.dumps(REFUSED[name].data()).encode())
    assert [words for words in REFUSED[name].says if words not in sentence] == [], sentence


def replaced(old: str, new: str) -> bytes:
    """The demo's text with one thing changed."""
    text = written(demo_six_bar).decode()
    assert text.count(old) == 1
    return text.replace(old, new).encode("utf-8", "surrogatepass")


NO_JSON: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "the file is empty"),
    "blank": (b" \n\t ", "the file is empty"),
    "BOM alone": (b"\xef\xbb\xbf", "breaks off"),
    "binary": (bytes(range(256)) * 40, "no text in UTF-8: byte 129"),
    "zeros": (bytes(5000), "no JSON: line 1"),
    "picture": (b"\x89PNG\r\n\x1a\n" + bytes(50), "no text in UTF-8: byte 1"),
    "UTF-16": ("{}".encode("utf-16"), "no text in UTF-8"),
    "Latin-1": (b'{"a": "S\xfclle"}', "byte 9"),
    "cut off": (written(demo_six_bar)[:-40], "breaks off before its end"),
    "half a file": (written(demo_six_bar)[:700], "breaks off before its end"),
    "two files": (written(empty) * 2, "no JSON"),
    "prose": (b"The hatch is 1190 long.", "no JSON: line 1 can't be read from its place 1 on"),
    "comma too many": (replaced('"zones": []', '"zones": [],,'), "no JSON: line"),
    "single quotes": (b"{'format': 'hingewright'}", "place 2"),
    "text": (b'"hingewright"', 'expected'),
    "deep lists": (b"[" * 1_000_000, "nested too deeply"),
    "deep objects": (b'{"a":' * 200_000, "nested too deeply"),
    "deep but whole": (b"[" * 500_000 + b"]" * 500_000, "nested too deeply"),
    "5000 digits": (replaced("[141.0,", f"[{'7' * 5000},"), "far too many digits"),
    "5000 nines of exponent": (replaced("[141.0,", "[1e" + "9" * 5000 + ","), "x of at is not a finite number"),
    "1e400": (replaced("[141.0,", "[1e400,"), 'pivots, entry 1 "O1": x of at is not a finite number'),
    "NaN": (replaced("[141.0,", "[NaN,"), 'pivots, entry 1 "O1": x of at is not a finite number'),
    "-Infinity": (replaced("[141.0,", "[-Infinity,"), 'pivots, entry 1 "O1": x of at is not a finite number'),
    "key twice": (replaced('"notes": ""', '"notes": "", "title": "x"'), 'the key "title" stands twice'),
    "key twice, inside": (replaced('"id": "O1"', '"id": "O1", "at": [0, 0]'), 'pivots, entry 1 "O1": the key "at"'),
    "unknown key twice": (replaced('"notes": ""', '"notes": "", "x": [{"y": 1, "y": 1}]'), 'x: the key "y"'),
    "half a character": (replaced('"notes": ""', '"notes": "\\ud800"'), "notes holds half a character"),
    "control character": (replaced('"notes": ""', '"notes": "\x01"'), "no JSON: line 5"),
}  # fmt: skip


@pytest.mark.parametrize("name", NO_JSON)
def test_what_is_no_project_is_refused(name: str) -> None:
    content, says = NO_JSON[name]
    assert says in refusal(content)


def test_values_that_are_only_carried_may_not_be_nested_without_end() -> None:
    def nested(levels: int) -> bytes:
        return replaced('"notes": ""', f'"notes": "", "x": {"[" * levels}{"]" * levels}')

    assert "x: lists and objects are nested deeper than 100 levels" in refusal(nested(DEEPEST + 1))
    project = read(nested(DEEPEST - 2), "a.hinge")
    assert read(written(project), "a.hinge") == project


def test_a_newer_file_is_told_apart() -> None:
    with pytest.raises(NewerVersionError, match=r"a\.hinge: it is of version 99 of the format"):
        read(b'{"version": 99, "format": "hingewright", "anything": {}}', "a.hinge")


def test_a_list_of_names_with_many_repeats_is_refused_at_once() -> None:
    joins = json.dumps([str(place) for place in range(100_000)] + ["99999"])
    assert "twice" in refusal(replaced('["bulkhead", "arm"]', joins))


# --------------------------------------------------------------------------------------------------- files that are not
def file_refusal(path: Path | str) -> str:
    with pytest.raises(FileError) as refused:
        load(path)
    assert str(refused.value).isprintable()
    return str(refused.value)


def test_missing_files_folders_and_devices_are_refused(tmp_path: Path) -> None:
    assert file_refusal(tmp_path / "no.hinge") == "no.hinge: it can't be read: there is no such file or folder."
    assert "is a folder" in file_refusal(tmp_path)
    assert "is a folder" in file_refusal("/")
    assert "no name of a file" in file_refusal("a\0b.hinge")
    assert "too long" in file_refusal(tmp_path / ("x" * 300))
    (tmp_path / "plain").write_text("x")
    assert "no folder" in file_refusal(tmp_path / "plain" / "a.hinge")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names on this system")
def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.hinge")
    assert file_refusal(tmp_path / "pipe.hinge") == "pipe.hinge: this is a device, not a project file."


def test_a_file_of_200_mb_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "a.hinge").open("wb") as file:
        file.truncate(200_000_000)  # sparse: it takes no room
    assert file_refusal(tmp_path / "a.hinge") == (
        "a.hinge: it has 200 MB, more than the 64 MB of a project file. It was not read."
    )


def test_a_name_of_odd_bytes_can_be_told(tmp_path: Path) -> None:
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/odd\xff\n.hinge"))
    assert file_refusal(path).startswith("odd??.hinge: ")


# -------------------------------------------------------------------------------------------------------- save refuses
def test_what_no_file_can_hold_is_not_saved(tmp_path: Path) -> None:
    path = tmp_path / "a.hinge"
    save(empty, path)
    before = path.read_bytes()
    loop: list[Any] = []
    loop.append(loop)
    for value in (object(), float("nan"), loop, {1j: 2}, "\ud800", nested_lists(200), nested_lists(5000)):
        with pytest.raises(FileError) as refused:
            save(Project(links=empty.links, travel=empty.travel, plates=value), path)
        assert str(refused.value).isprintable()
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def nested_lists(levels: int) -> list[Any]:
    made: list[Any] = []
    for _ in range(levels):
        made = [made]
    return made


def test_a_project_too_large_to_load_is_not_saved(tmp_path: Path) -> None:
    huge = Project(links=empty.links, travel=empty.travel, pictures=({"data": "A" * MOST_BYTES},))
    with pytest.raises(FileError, match=r"a\.hinge: the project has 64 MB"):
        save(huge, tmp_path / "a.hinge")
    assert list(tmp_path.iterdir()) == []


def test_a_first_save_that_fails_speaks_of_no_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(project_file, "write_whole", disk_full)
    with pytest.raises(FileError) as refused:
        save(empty, tmp_path / "a.hinge")
    assert str(refused.value) == (
        "a.hinge: it could not be saved: the disk is full. Save under another name or in another folder."
    )


def test_a_save_that_fails_says_so_and_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, read_only: Path
) -> None:
    path = tmp_path / "a.hinge"
    save(empty, path)
    monkeypatch.setattr(project_file, "write_whole", disk_full)
    with pytest.raises(FileError) as refused:
        save(demo_six_bar, path)
    assert str(refused.value) == (
        "a.hinge: it could not be saved: the disk is full. The file on the disk is as it was; save under another name "
        "or in another folder."
    )
    assert load(path) == empty
    monkeypatch.undo()
    for bad in (read_only, tmp_path, tmp_path / "no such folder" / "a.hinge", "a\0.hinge", tmp_path / ("x" * 300)):
        with pytest.raises(FileError, match="could not be saved"):
            save(empty, bad)


def disk_full(path: Path, content: bytes) -> None:
    raise OSError(28, "No space left on device")


# ------------------------------------------------------------------------------------------------- versions of the past
def test_every_version_has_kept_files_and_every_upgrade_its_test() -> None:
    for version in range(1, VERSION + 1):
        assert sorted((KEPT_FILES / f"v{version}").glob("*.hinge")), f"no kept files of version {version}"
    assert set(UPGRADES) == set(range(1, VERSION))
    for step in UPGRADES:
        assert f"test_upgrade_from_version_{step}" in globals()
    assert empty.version == VERSION


@pytest.mark.parametrize(
    "path", sorted(KEPT_FILES.glob("v*/*.hinge")), ids=lambda path: f"{path.parent.name} {path.stem}"
)
def test_kept_files_are_loaded_for_ever(path: Path) -> None:
    project = load(path)
    assert read(written(project), "a.hinge") == project


def test_kept_files_of_version_1_say_what_they_said() -> None:
    kept = {path.stem: load(path) for path in (KEPT_FILES / "v1").glob("*.hinge")}
    told = {
        name: (len(p.links), len(p.pivots), len(p.outlines), len(p.gaps), p.travel.wanted_deg)
        for name, p in kept.items()
    }
    assert told == {
        "every key": (7, 7, 3, 3, 75.0),
        "half drawn": (4, 1, 2, 1, 90.0),
        "six bars": (6, 7, 2, 1, 75.0),
        "three on a pin": (6, 6, 0, 0, 20.0),
        "least": (2, 0, 0, 0, 90.0),
        "by hand": (3, 2, 1, 1, 60.0),
    }
    assert kept["three on a pin"].pivot("X").joins == ("arm", "bar", "stay")
    everything = kept["every key"]
    assert everything.loads is not None
    assert everything.loads.devices[0].ratio == 1.35
    assert everything.unknown == {"shop": {"bench": [1, 2.5, None, "x"]}, "": 0}
    by_hand = kept["by hand"]
    assert by_hand.link("stay").kind == "link"
    assert by_hand.link("body").unknown == {"paint": None}
    assert by_hand.outlines[0].points == ((0.0, 0.0), (150.0, 0.0))
    assert by_hand.gaps[0].at_least == 0.0
    assert by_hand.loads is not None
    assert (by_hand.loads.hinges, by_hand.loads.masses[0].mass) == (2, 0.0)


def test_upgrades_are_taken_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(project_file, "VERSION", 3)
    monkeypatch.setitem(UPGRADES, 1, lambda data: {**data, "title": data["title"] + " one"})
    monkeypatch.setitem(UPGRADES, 2, lambda data: {**data, "title": data["title"] + " two"})
    data = json.loads(written(demo_six_bar)) | {"title": "from"}
    assert read(json.dumps(data).encode(), "a.hinge").title == "from one two"
    assert read(json.dumps(data | {"version": 2}).encode(), "a.hinge").title == "from two"
    assert read(json.dumps(data | {"version": 3}).encode(), "a.hinge").title == "from"


# ------------------------------------------------------------------------------------------------------ the program's
def test_the_demo_is_the_layout_that_was_tried() -> None:
    demo = load(find("demos/launch hatch.hinge"))
    for part in ("links", "pivots", "outlines", "marks", "limits", "travel", "gaps", "pin_spacing"):
        tried = getattr(demo_six_bar, part)
        if part == "links":  # made wider once they were built
            tried = tuple(replace(link, width=31.0) if link.kind == "link" else link for link in tried)
        assert getattr(demo, part) == tried
    assert demo.loads is not None
    assert demo_six_bar.loads is not None
    assert demo.loads.masses == demo_six_bar.loads.masses
    assert demo.unknown == {}


def test_every_part_of_the_model_has_its_keys() -> None:
    assert KNOWN[Link] == {"id": "id", "kind": "kind", "width": "width", "hidden": "hidden"}
    assert all("unknown" not in keys for keys in KNOWN.values())


def test_a_wall_whose_edge_is_at_the_level_line_comes_back(tmp_path: Path) -> None:
    """A 0 is a figure, though a list of that name is left out when it is empty."""
    project = replace(demo_six_bar, wall=Wall(edge=0.0))
    save(project, tmp_path / "wall.hinge")
    assert load(tmp_path / "wall.hinge") == project

"""Photos in the project file: they come back as they were; noise is told, and takes nothing else with it."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from app.files.project_file import read, written
from app.files.project_json import json_of, picture_faults
from kinematics.pictures import Length, Pick, laid, picture_of
from kinematics.project import Picture
from tests.specimens import demo_six_bar

PLACE = replace(
    laid((400, 200), (10.0, 20.0), 800.0),
    crop=(1.0, 2.0, 300.0, 150.0),
    picks=(Pick((1.0, 2.0), (3.0, 4.0), {"note": "by the hinge"}),),
    lengths=(Length(((0.0, 0.0), (10.0, 0.0)), 20.0),),
    uncertain=0.7,
    unknown={"lens": [1, 2]},
)
PHOTO = replace(picture_of("side", "bulkhead", "image/jpeg", bytes(range(256)) * 9, PLACE), unknown={"camera": "mine"})
KEPT = replace(demo_six_bar, pictures=(PHOTO,))


def changed(**values: Any) -> dict[str, Any]:  # noqa: ANN401
    """The file with other values in its picture."""
    whole: dict[str, Any] = json.loads(written(KEPT))
    whole["pictures"][0] |= values
    return whole


def test_a_photo_comes_back_with_all_that_is_known_of_it() -> None:
    again = read(written(KEPT), "a.hinge")
    assert again == KEPT
    assert again.photos[0].data == PHOTO.data
    assert again.photos[0].content == bytes(range(256)) * 9
    assert again.photos[0].unknown == {"camera": "mine"}
    assert again.photos[0].place.unknown == {"lens": [1, 2]}
    assert again.photos[0].place.picks[0].unknown == {"note": "by the hinge"}
    assert picture_faults(again) == ()


def test_the_form_is_the_published_one() -> None:
    (told,) = json.loads(written(KEPT))["pictures"]
    assert list(told)[:6] == ["id", "on", "media", "sha256", "data", "place"]
    assert told["place"]["matrix"] == [[2.0, 0.0, -390.0], [0.0, -2.0, 220.0], [0.0, 0.0, 1.0]]
    assert "hidden" not in told


def test_long_data_are_written_as_json_writes_them() -> None:
    content = bytes(range(256)) * 99
    long = picture_of('"data": ""', "bulkhead", "image/jpeg", content, PLACE)
    project = replace(demo_six_bar, pictures=(long, {"place": {"data": ""}, "data": "é\n" * 9999}, PHOTO))
    told = json.loads(written(project))["pictures"]
    assert told[0] == json.loads(json.dumps(json_of(project)["pictures"][0]))
    assert told[1] == {"place": {"data": ""}, "data": "é\n" * 9999}
    assert read(written(project), "a.hinge").photos == (long, PHOTO)


NOISE: dict[str, tuple[dict[str, Any], str]] = {
    "other bytes": ({"data": "AAAA"}, "damaged or changed"),
    "no base64": ({"data": "no photo at all ☹"}, "no base64"),
    "no data": ({"data": None}, "data: null"),
    "cut off": ({"data": PHOTO.data[:-5]}, "no base64"),
    "number for data": ({"data": 7}, "data is 7"),
    "another sum": ({"sha256": "0" * 64}, "damaged or changed"),
    "media": ({"media": "text/html"}, '"text/html"'),
    "link": ({"on": "nobody"}, '"nobody"'),
    "place": ({"place": [1, 0]}, "place: a list of 2"),
    "flat": ({"place": {"matrix": [[0, 0, 0]] * 3, "size": [4, 4]}}, "place: matrix flattens"),
    "no size": ({"place": {"matrix": [[1, 0, 0], [0, 1, 0], [0, 0, 1]]}}, '"size" is missing'),
    "name": ({"id": ""}, "0 characters"),
}


@pytest.mark.parametrize("name", NOISE)
def test_noise_is_told_and_kept_and_the_rest_is_opened(name: str) -> None:
    values, words = NOISE[name]
    data = changed(**values)
    opened = read(json.dumps(data).encode(), "a.hinge")
    assert opened.photos == ()
    (sentence,) = picture_faults(opened)
    assert sentence.startswith("pictures, entry 1")
    assert words in sentence
    assert replace(opened, pictures=KEPT.pictures) == KEPT
    assert json.loads(written(opened))["pictures"] == data["pictures"]


def test_of_two_of_one_name_the_first_is_shown() -> None:
    data = changed()
    data["pictures"] *= 2
    opened = read(json.dumps(data).encode(), "a.hinge")
    assert opened.photos == (PHOTO,)
    assert len(opened.pictures) == 2
    assert not isinstance(opened.pictures[1], Picture)
    assert picture_faults(opened) == ('pictures, entry 2 "side": this id occurs twice.',)

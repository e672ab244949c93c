"""The published schema says what the program does: true of every project, false of what is refused."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator

from app.files.project_file import MOST_BYTES, VERSION, written
from app.files.project_json import DEEPEST, KNOWN, OTHER_KEYS
from kinematics.project import Picture
from resources import find
from tests import strategies
from tests.refused import REFUSED
from tests.specimens import ALL

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project

SCHEMA: dict[str, Any] = json.loads(find("project.schema.json").read_text(encoding="utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA)


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["properties"]["version"] == {"const": VERSION}


@pytest.mark.parametrize("name", ALL)
def test_specimens_are_valid(name: str) -> None:
    VALIDATOR.validate(json.loads(written(ALL[name])))


@given(strategies.ready_projects())
def test_every_project_is_valid(project: Project) -> None:
    VALIDATOR.validate(json.loads(written(project)))


@given(strategies.ready_projects())
def test_every_photo_is_a_picture_of_the_schema(project: Project) -> None:
    """The list itself takes any object, as one that is no picture is kept; so the definition is held by itself."""
    picture = Draft202012Validator({"$ref": "#/$defs/picture", "$defs": SCHEMA["$defs"]})
    told = json.loads(written(project)).get("pictures", [])
    for value, part in zip(told, project.pictures, strict=True):
        assert picture.is_valid(value) is isinstance(part, Picture)


@pytest.mark.parametrize("path", sorted(find("demos").glob("*.hinge")), ids=lambda path: path.stem)
def test_demos_are_valid(path: Path) -> None:
    VALIDATOR.validate(json.loads(path.read_bytes()))


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_refused_fails_it_where_a_schema_can_tell(name: str) -> None:
    assert VALIDATOR.is_valid(REFUSED[name].data()) is not REFUSED[name].in_schema


def test_it_names_every_key_of_the_format() -> None:
    named = {key for each in objects(SCHEMA) for key in each}
    known = {key for keys in KNOWN.values() for key in keys} | {"format"}
    assert known <= named
    assert named <= known | set(OTHER_KEYS.values())


def objects(schema: Any) -> list[dict[str, Any]]:  # noqa: ANN401
    """The `properties` of a schema and of all within it."""
    if isinstance(schema, list):
        return [found for each in schema for found in objects(each)]
    if not isinstance(schema, dict):
        return []
    own = schema.get("properties")
    inner = [found for each in schema.values() for found in objects(each)]
    return [own, *inner] if isinstance(own, dict) else inner


def test_its_words_give_the_program_s_limits() -> None:
    assert f"{DEEPEST} levels" in SCHEMA["description"]
    assert f"{MOST_BYTES // 1_000_000} MB" in SCHEMA["description"]

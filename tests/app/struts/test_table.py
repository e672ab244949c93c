"""The table of usual struts: every row sound and with its source, and faults told by their line."""

from __future__ import annotations

import csv

import pytest

from app.struts.table import TABLE, class_name, classes, read_sizes, usual_sizes
from resources import find

HEAD = "rod,tube,stroke,extended,least,most,ratio,source\n"


def test_it_ships_with_usual_sizes() -> None:
    sizes = usual_sizes()
    assert {class_name(each) for each in sizes} == {"4/12", "6/15", "8/18", "10/22", "14/28"}
    assert len(set(sizes)) == len(sizes) > 30
    assert list(sizes) == sorted(sizes, key=lambda each: (each.rod, each.tube, each.stroke))


def test_every_row_says_where_it_is_from() -> None:
    with find(TABLE).open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            assert "common practice, no source" in row["source"]
            assert "from memory" in row["source"]


def test_larger_classes_push_harder() -> None:
    most = [sizes[0].most for sizes in classes(usual_sizes()).values()]
    assert most == sorted(most)
    assert len(set(most)) == len(most)


def test_a_strut_pushed_in_is_longer_than_its_stroke() -> None:
    """Tube and rod lie beside fittings, piston and guide."""
    for size in usual_sizes():
        assert size.extended - 2.0 * size.stroke >= 60.0


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("8,18,200,495,100,750,,x", "line 2 .* lacks a number"),
        ("8,18,200", "line 2 .* lacks a number"),
        ("8,18,200,495,100,750,1.3,", "line 2 .* no source"),
        ("8,18,0,495,100,750,1.3,x", "line 2 .* no strut"),
        ("18,8,200,495,100,750,1.3,x", "line 2 .* no strut"),
        ("8,18,200,395,100,750,1.3,x", "line 2 .* no strut"),
        ("8,18,200,495,900,750,1.3,x", "line 2 .* no strut"),
        ("8,18,200,495,100,750,0.9,x", "line 2 .* no strut"),
        ("8,18,nan,495,100,750,1.3,x", "line 2 .* no strut"),
    ],
)
def test_rows_that_can_t_be_are_told_by_their_line(row: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_sizes(HEAD + row + "\n")

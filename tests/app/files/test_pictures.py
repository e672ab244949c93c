"""Pictures: their size, what they say in words, what they show where, and what can't be written."""

from __future__ import annotations

import math
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest

from app.files.errors import FileError
from app.files.pictures import save_picture
from app.look import dark, light
from kinematics import analyse, arranging, edits
from kinematics.measures import Anchor, Measure
from kinematics.measuring import Readings
from tests import specimens
from tests.app import pictures

if TYPE_CHECKING:
    from kinematics.analysis import Analysis

pytestmark = pytest.mark.usefixtures("qapp")

KINDS = "Let the name end in .png, .svg or .pdf, or .gif for an animation."
ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def demo() -> Analysis:
    return analyse(specimens.demo_six_bar)


def words_of(path: Path) -> str:
    """All words of an SVG."""
    root = ElementTree.fromstring(path.read_text("utf-8"))
    return " ".join("".join(each.itertext()) for each in root.iter("{http://www.w3.org/2000/svg}text"))


@pytest.mark.parametrize("size", [(1600, 1000), (640, 400), (300, 900), (64, 64)])
def test_a_png_has_the_size_asked(demo: Analysis, tmp_path: Path, size: tuple[int, int]) -> None:
    out = tmp_path / "hinge.png"
    save_picture(demo.project, demo, out, 30.0, size)
    image = pictures.load(out)
    assert (image.width(), image.height()) == size


def test_it_is_mostly_paper_with_some_ink(demo: Analysis, tmp_path: Path) -> None:
    for look in (light(), dark()):
        out = tmp_path / f"{look.name}.png"
        save_picture(demo.project, demo, out, 30.0, (800, 500), look)
        image = pictures.load(out)
        assert pictures.share_of(image, look.paper) > 0.6
        assert 0.002 < pictures.share_of(image, look.panel, 40) < 0.2


def test_measures_are_on_the_picture_as_they_read_there(tmp_path: Path) -> None:
    of = (Anchor(pivot="O1"), Anchor(pivot="P2"))
    measured = edits.add_measure(specimens.demo_six_bar, Measure("reach", "distance", of))
    analysis = analyse(measured)
    for deg in (0.0, 40.0):
        out = tmp_path / "hinge.svg"
        save_picture(measured, analysis, out, deg)
        reading = Readings(analysis).read(analysis.pose(deg), measured.measures[0])
        assert f"{reading.value:.1f} mm" in words_of(out)


def test_the_opening_changes_the_picture(demo: Analysis, tmp_path: Path) -> None:
    shots = {}
    for deg in (None, 0.0, 40.0):
        save_picture(demo.project, demo, tmp_path / "a.png", deg, (640, 400))
        shots[deg] = pictures.load(tmp_path / "a.png")
    assert shots[None] == shots[0.0]
    assert pictures.differ(shots[0.0], shots[40.0]) > 0.002


def test_the_svg_says_title_opening_scale_and_the_worst_checks(demo: Analysis, tmp_path: Path) -> None:
    out = tmp_path / "hinge.svg"
    save_picture(demo.project, demo, out, 30.0)
    words = words_of(out)
    assert "Engine hatch of a work launch" in words
    assert "open 30°" in words
    assert "0 – 200 mm" in words
    assert "screen and sill – hatch skin: 10.6 mm at 3.2°, wants 10.0 mm" in words
    assert "10.6 mm at 3.2°" in words
    assert "aids to judgement" in words
    for name in ("O1", "P2", "Q", "rear corner"):
        assert name in words


def test_a_failing_check_stands_first_with_its_sign(tmp_path: Path) -> None:
    project = edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0))
    analysis = analyse(project)
    deg = sum(analysis.gaps[0].touching_deg[0]) / 2
    save_picture(project, analysis, tmp_path / "a.svg", deg)
    words = words_of(tmp_path / "a.svg")
    assert "✗ screen and sill – hatch skin: touches at" in words
    assert words.index("✗") < words.index("✓")
    assert f"open {deg:.1f}°: screen and sill – hatch skin touch here" in words


def test_the_svgs_panel_stands_where_the_pose_has_it(demo: Analysis, tmp_path: Path) -> None:
    """The four corners of the heavy line have the distances of the outline's, all at one scale, turned by 30°."""
    save_picture(demo.project, demo, tmp_path / "a.svg", 30.0, (1280, 800))
    root = ElementTree.fromstring((tmp_path / "a.svg").read_text("utf-8"))
    heavy = []
    for group in root.iter("{http://www.w3.org/2000/svg}g"):
        if group.get("stroke") == light().panel and float(group.get("stroke-width", "0")) == light().heavy:
            shift = [float(each) for each in re.findall(r"[-\d.e]+", group.get("transform", ""))]
            for path in [
                *group.iter("{http://www.w3.org/2000/svg}path"),
                *group.iter("{http://www.w3.org/2000/svg}polyline"),
            ]:
                numbers = [
                    float(each)
                    for each in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", path.get("d") or path.get("points") or "")
                ]
                heavy.append((list(zip(numbers[::2], numbers[1::2], strict=True)), shift))
    spots, _ = heavy[0]  # the whole; the detail comes after it
    points = demo.project.outline("hatch skin").points
    assert len(spots) == len(points)
    scales = [
        math.dist(a, b) / math.dist(p, q) for a, b, p, q in zip(spots, spots[1:], points, points[1:], strict=False)
    ]
    assert scales == pytest.approx([scales[2]] * 3, rel=0.005)
    turn = math.degrees(math.atan2(spots[2][1] - spots[3][1], spots[3][0] - spots[2][0]))
    shut = math.degrees(math.atan2(262.0 - 297.0, 1190.0 - 600.0))
    assert turn - shut == pytest.approx(30.0, abs=0.05)


def test_a_pdf_is_one_page_of_that_size_with_the_words(demo: Analysis, tmp_path: Path) -> None:
    """96 pixels to the inch, 72 points to the inch."""
    pypdf = pytest.importorskip("pypdf")
    save_picture(demo.project, demo, tmp_path / "a.pdf", 30.0, (1280, 800))
    (page,) = pypdf.PdfReader(tmp_path / "a.pdf").pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((960.0, 600.0), abs=1.0)
    assert "Engine hatch of a work launch" in page.extract_text().replace("\t", " ")


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_has_its_picture(tmp_path: Path, name: str) -> None:
    project = specimens.ALL[name]
    save_picture(project, analyse(project), tmp_path / "a.png", None, (320, 200))
    assert pictures.share_of(pictures.load(tmp_path / "a.png"), light().paper) > 0.3


def test_inches_are_said_in_inches(tmp_path: Path) -> None:
    project = edits.set_units(specimens.demo_six_bar, "in")
    save_picture(project, analyse(project), tmp_path / "a.svg")
    words = words_of(tmp_path / "a.svg")
    assert '27/64" at 3.2°' in words
    assert re.search(r'0 – \d+"', words)


@pytest.mark.parametrize(
    ("name", "size", "deg", "told"),
    [
        ("a.bmp", (640, 400), None, f'a.bmp: ".bmp" is no kind of picture. {KINDS}'),
        ("a", (640, 400), None, f"a: a name without an ending is no kind of picture. {KINDS}"),
        ("a.png", (10, 400), None, "a.png: 10 × 400 is no size for a picture. Take 64 to 10000 pixels a side."),
        ("a.png", (640, 20000), None, "a.png: 640 × 20000 is no size for a picture. Take 64 to 10000 pixels a side."),
        ("a.png", (640, 400), 76.0, "a.png: there is no pose at 76°. The panel goes from 0° to 75°."),
        ("a.png", (640, 400), -1.0, "a.png: there is no pose at −1°. The panel goes from 0° to 75°."),
        ("a.png", (640, 400), math.nan, "a.png: there is no pose at —. The panel goes from 0° to 75°."),
    ],
)
def test_what_cannot_be_drawn_is_told_in_a_sentence(
    demo: Analysis, tmp_path: Path, name: str, size: tuple[int, int], deg: float | None, told: str
) -> None:
    with pytest.raises(FileError) as fault:
        save_picture(demo.project, demo, tmp_path / name, deg, size)
    assert str(fault.value) == told
    assert not list(tmp_path.iterdir())


def test_what_cannot_be_written_is_told_in_a_sentence(demo: Analysis, read_only: Path) -> None:
    with pytest.raises(FileError, match=r"^out\.png: the picture can't be written: "):
        save_picture(demo.project, demo, read_only / "out.png", None, (64, 64))


def test_a_picture_that_fails_leaves_the_old_one(
    demo: Analysis, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "a.png"
    out.write_bytes(b"the old one")

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(FileError, match="the disk is full"):
        save_picture(demo.project, demo, out, None, (64, 64))
    assert out.read_bytes() == b"the old one"


@pytest.mark.slow
def test_without_an_application_or_a_display_or_any_widget(tmp_path: Path) -> None:
    code = (
        "import sys; from tests import specimens; from kinematics import analyse;"
        "from app.files.pictures import save_picture;"
        f"p = specimens.single_pivot; save_picture(p, analyse(p), r'{tmp_path / 'a.png'}', None, (200, 200));"
        "assert 'PySide6.QtWidgets' not in sys.modules"
    )
    bare = {
        key: value for key, value in os.environ.items() if key not in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY")
    }
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env=bare, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stderr
    assert pictures.load(tmp_path / "a.png").width() == 200


def test_a_picture_says_how_many_parts_it_leaves_out(demo: Analysis, tmp_path: Path) -> None:
    project = arranging.hide_part(demo.project, "pivot", "X")
    save_picture(project, analyse(project), tmp_path / "a.svg", 0.0)
    assert "shut; 1 part hidden" in words_of(tmp_path / "a.svg")
    root = ElementTree.fromstring((tmp_path / "a.svg").read_text("utf-8"))
    alone = {"".join(each.itertext()) for each in root.iter("{http://www.w3.org/2000/svg}text")}
    assert "Q" in alone
    assert "X" not in alone


def test_nothing_reaches_beyond_the_frame_of_an_svg_either(demo: Analysis, tmp_path: Path) -> None:
    """Qt clips nothing in an SVG: what reaches out of the picture lies beneath paper. Along the edge there is none."""
    from PySide6.QtGui import QImage, QPainter
    from PySide6.QtSvg import QSvgRenderer

    save_picture(demo.project, demo, tmp_path / "a.svg", 0.0, (800, 500))
    image = QImage(800, 500, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    QSvgRenderer(str(tmp_path / "a.svg")).render(painter)
    painter.end()
    rim = [(x, y) for x in range(800) for y in (2, 497)] + [(x, y) for y in range(500) for x in (2, 797)]
    assert {image.pixelColor(x, y).name() for x, y in rim} == {light().paper}

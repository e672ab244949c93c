"""How the window stood: taken up again, also on other screens and from a settings file of noise."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QRect, QSettings
from PySide6.QtGui import QGuiApplication
from shiboken6 import delete, isValid

from app.document import Document
from app.rail import SheetArea
from app.settings import Settings
from app.standing import within_reach
from app.window import Window
from tests.app.sharing import demo
from tests.thorough import cases

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

LAPTOP, BEAMER = QRect(0, 0, 1366, 768), QRect(1366, 0, 1920, 1080)


@pytest.fixture
def window(fresh_window: Window) -> Window:
    """A window of each test's own: it is closed, and others come after it or stand beside it."""
    return fresh_window


def again(window: Window, qtbot: QtBot) -> Window:
    """Close a window and open the next one."""
    window.document.apply("Back", window.document.saved or window.document.project)
    window.close()
    QSettings(window.settings._store.fileName(), QSettings.Format.IniFormat).sync()
    next_window = Window(Document(demo()))
    qtbot.addWidget(next_window)
    with qtbot.waitExposed(next_window):
        next_window.show()
    return next_window


# ----------------------------------------------------------------------------------------------------- on the screens
@pytest.mark.parametrize(
    "frame",
    [QRect(40, 40, 1280, 700), QRect(1400, 10, 1600, 900), QRect(-1000, 30, 1280, 700), QRect(1300, 300, 800, 600)],
)
def test_where_its_title_can_be_reached_a_window_stays(frame: QRect) -> None:
    assert within_reach(frame, [LAPTOP, BEAMER]) == frame


@pytest.mark.parametrize(
    ("frame", "screens", "to"),
    [
        (QRect(1400, 10, 1600, 900), [LAPTOP], QRect(0, 0, 1366, 768)),  # the other screen has been taken away
        (QRect(1400, 10, 600, 500), [LAPTOP], QRect(766, 10, 600, 500)),
        (QRect(100, -300, 800, 600), [LAPTOP], QRect(100, 0, 800, 600)),  # the title is above the screen
        (QRect(100, 760, 800, 600), [LAPTOP], QRect(100, 168, 800, 600)),
        (QRect(10**6, 10**6, 800, 600), [LAPTOP, BEAMER], QRect(2486, 480, 800, 600)),
        (QRect(-1190, 30, 1280, 700), [LAPTOP], QRect(0, 30, 1280, 700)),  # too little of it to take hold of
    ],
)
def test_out_of_reach_it_comes_back(frame: QRect, screens: list[QRect], to: QRect) -> None:
    assert within_reach(frame, screens) == to


def test_without_screens_there_is_nothing_to_reckon_with() -> None:
    assert within_reach(QRect(1, 2, 3, 4), []) == QRect(1, 2, 3, 4)


def test_a_window_on_a_screen_that_went_away_is_brought_back(window: Window, qtbot: QtBot) -> None:
    free = window.screen().availableGeometry()
    window.setGeometry(free.right() + 500, 40, 600, 500)
    application = QGuiApplication.instance()
    assert isinstance(application, QGuiApplication)
    application.screenRemoved.emit(window.screen())
    qtbot.waitUntil(lambda: window.geometry().left() < free.right(), timeout=5000)


def test_a_window_that_is_gone_is_not_brought_back(window: Window, own_settings: None, qtbot: QtBot) -> None:
    other = Window(Document(demo()))
    other.close()
    delete(other)
    application = QGuiApplication.instance()
    assert isinstance(application, QGuiApplication)
    application.screenRemoved.emit(window.screen())  # an exception in a slot fails the test
    qtbot.wait(5)
    assert not isValid(other)


# ------------------------------------------------------------------------------------------------ until the next start
def test_size_place_and_drawer_are_taken_up(window: Window, qtbot: QtBot) -> None:
    window.setGeometry(5, 7, 777, 555)
    window.area.open_drawer("Pins")
    following = again(window, qtbot)
    assert (following.width(), following.height()) == (window.width(), window.height())
    assert following.area.open_name == "Pins"
    assert following.rail.buttons["Pins"].isChecked()
    following.area.open_drawer("")
    assert again(following, qtbot).area.open_name == ""


def test_how_near_a_file_was_looked_at_is_taken_up(window: Window, tmp_path: Path, qtbot: QtBot) -> None:
    file = tmp_path / "a.hinge"
    window.document.save(file)
    window.board.view.zoom(3.0)
    camera = window.board.view.camera
    following = again(window, qtbot)
    fitted = following.board.view.camera
    assert following.open_path(file)
    view = following.board.view
    qtbot.waitUntil(lambda: view.camera.scale == camera.scale, timeout=5000)
    assert view.camera.middle == pytest.approx(camera.middle)
    following.board.fit()
    last = again(following, qtbot)  # what was fitted is fitted again
    last.open_path(file)
    qtbot.wait(20)
    assert last.board.view.camera.scale == pytest.approx(fitted.scale, rel=0.2)
    assert last.board.is_fitted


NOISE = (
    b"", b"\x00" * 300, b"[General\nrecent=@Invalid()\n", b"[state]\nwindow=@ByteArray(\\x1\\xd9)\n",
    b"[state]\nstrip%20height=99999999999999999999\ndrawer=@Variant(\\0\\0\\0\\x7f\\0)\nviews=[[[[\n",
    b'[state]\nviews="{\\"a\\": [1e999, 0, 0], \\"b\\": [true], \\"c\\": null, \\"d\\": [NaN, 1, 2]}"\nside=7\n',
    b"[state]\ndrawer=No such drawer\nside=@ByteArray(\\0\\0\\0\\xff\\0\\0\\0\\x1\\0\\0\\0\\x2\\xff\\xff\\xff\\xff)\n",
    b"[General]\nrecent=\\x0\\xff, @Size(1 2)\nfolder=\\x0\nsnaps=perhaps\n[preferences]\nunits=cubits\nnudge=nan\n",
)  # fmt: skip


@pytest.mark.qt_log_ignore("^QVariant::load: unknown user type", extend=True)  # Qt's own word for noise
@pytest.mark.parametrize("place", range(len(NOISE) + 4))
def test_a_settings_file_of_noise_is_no_fault(
    place: int, tmp_path: Path, own_settings: None, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    monkeypatch.setattr(SheetArea, "slide_ms", 0)
    chance = random.Random(place)
    content = NOISE[place] if place < len(NOISE) else chance.randbytes(4000)
    path = tmp_path / "settings/Hingewright/hingewright.ini"
    path.parent.mkdir(parents=True)
    path.write_bytes(content)
    settings = Settings()
    assert settings.recent() == []
    window = Window(Document(demo()))
    qtbot.addWidget(window)
    window.show()
    assert window.width() >= 300
    screens = [each.availableGeometry() for each in QGuiApplication.screens()]
    assert within_reach(window.geometry(), screens) == window.geometry()
    window.close()


def test_states_with_flipped_bits_are_no_fault(window: Window, qtbot: QtBot) -> None:
    """What Qt wrote, damaged: the window still opens, on a screen, all its parts to be seen."""
    chance = random.Random(20240917)
    window.close()
    whole = {name: window.settings.state(name) for name in ("window", "side", "checks")}
    for _ in range(cases(15, 60)):
        for name, state in whole.items():
            assert state is not None
            damaged = bytearray(state.data())
            for _ in range(chance.randrange(1, 4)):
                damaged[chance.randrange(len(damaged))] = chance.randrange(256)
            window.settings.set_state(name, type(state)(bytes(damaged)))
        window.showNormal()
        window.standing.take_up()
        screens = [each.availableGeometry() for each in QGuiApplication.screens()]
        assert within_reach(window.geometry(), screens) == window.geometry()
        assert window.board.width() >= 200
        assert window.checks.width() >= 100
        assert window.strip.height() >= 20

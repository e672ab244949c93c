"""Photos in: upright, bounded, bare; what is none is told."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QColor, QImage, QImageWriter, qRgb

from app.files import photos
from app.files.errors import FileError
from app.files.photos import image_of, photo_of, photo_of_image, read_photo
from kinematics.pictures import MOST_BYTES, MOST_PX, laid, picture_of

if TYPE_CHECKING:
    from pathlib import Path

CORNERS = {(0, 0): "#ff0000", (1, 0): "#00ff00", (0, 1): "#0000ff", (1, 1): "#ffffff"}


def drawn(width: int = 64, height: int = 48) -> QImage:
    """A quarter of each colour: red and green above, blue and white below."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    for x in range(2):
        for y in range(2):
            quarter = QImage(width // 2, height // 2, QImage.Format.Format_RGB32)
            quarter.fill(QColor(CORNERS[x, y]))
            for row in range(quarter.height()):
                for column in range(quarter.width()):
                    image.setPixel(x * (width // 2) + column, y * (height // 2) + row, quarter.pixel(column, row))
    return image


def encoded(image: QImage, kind: str = "jpeg", comment: str = "") -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QImageWriter(buffer, QByteArray(kind.encode()))
    writer.setQuality(95)
    if comment:
        writer.setText("Description", comment)
    assert writer.write(image), writer.errorString()
    return bytes(buffer.data().data())


def held(content: bytes, orientation: int) -> bytes:
    """A JPEG with an Exif note (Exif 2.3, tag 0x0112) of how the camera was held, and a place in it."""
    note = b"II*\x00\x08\x00\x00\x00" + struct.pack("<HHHIHH", 1, 0x0112, 3, 1, orientation, 0) + b"\0\0\0\0"
    segment = b"Exif\x00\x00" + note + b"N 47.3 E 8.5"
    return content[:2] + b"\xff\xe1" + struct.pack(">H", len(segment) + 2) + segment + content[2:]


def colours(image: QImage) -> list[str]:
    """The nearest of the four colours in each quarter, row by row."""
    names = dict(zip(CORNERS.values(), "RGBW", strict=True))
    found = []
    for y in (image.height() // 4, 3 * image.height() // 4):
        for x in (image.width() // 4, 3 * image.width() // 4):
            seen = image.pixelColor(x, y)
            found.append(
                min(
                    names,
                    key=lambda name: sum(
                        abs(a - b) for a, b in zip(seen.getRgb()[:3], QColor(name).getRgb()[:3], strict=True)
                    ),
                )
            )
    return [names[each] for each in found]


def shown(photo: photos.Photo) -> QImage:
    return image_of(picture_of("p", "body", photo.media, photo.content, laid(photo.size, (0.0, 0.0), 100.0)))


# Exif 2.3, 4.6.4: where row 0 and column 0 of the stored picture lie; the quarters as they must be seen.
HELD = {1: "RGBW", 2: "GRWB", 3: "WBGR", 4: "BWRG", 5: "RBGW", 6: "BRWG", 7: "WGBR", 8: "GWRB"}


@pytest.mark.parametrize("orientation", HELD)
def test_a_phone_held_anyhow_gives_an_upright_photo(orientation: int) -> None:
    photo = photo_of(held(encoded(drawn()), orientation), "held.jpg")
    assert "".join(colours(shown(photo))) == HELD[orientation]
    assert photo.size == photo.came == ((64, 48) if orientation < 5 else (48, 64))
    assert photo.media == "image/jpeg"
    assert photo.name == "held"
    assert b"Exif" not in photo.content
    assert b"N 47.3" not in photo.content


def test_the_same_photo_gives_the_same_bytes_and_no_note_of_it_stays() -> None:
    content = encoded(drawn(), "jpeg", comment="at my house")
    assert b"at my house" in content
    first, again = photo_of(content, "a.jpg"), photo_of(content, "b.jpg")
    assert first.content == again.content
    assert b"at my house" not in first.content
    png = encoded(drawn(), "png", comment="at my house")
    assert photo_of(png, "a.png").content == photo_of(encoded(drawn(), "png"), "a.png").content


@pytest.mark.parametrize(("kind", "media"), [("png", "png"), ("bmp", "png"), ("webp", "jpeg"), ("tiff", "jpeg")])
def test_kinds_of_photos(kind: str, media: str) -> None:
    photo = photo_of(encoded(drawn(), kind), "a")
    assert photo.media == f"image/{media}"
    assert "".join(colours(shown(photo))) == "RGBW"


def test_a_large_photo_is_reduced_and_says_so() -> None:
    image = drawn(40, 20).scaled(5000, 2500)
    photo = photo_of(held(encoded(image), 6), "large.jpg")
    assert (photo.size, photo.came, photo.is_reduced) == ((2048, MOST_PX), (2500, 5000), True)
    assert "".join(colours(shown(photo))) == "BRWG"
    assert photo_of_image(image, "clip").size == (MOST_PX, 2048)
    assert not photo_of_image(drawn(), "clip").is_reduced


def test_noise_in_every_pixel_is_kept_within_8_mb() -> None:
    import numpy as np

    pixels = np.random.default_rng(1).integers(0, 2**24, (1250, 2500), dtype=np.uint32) | 0xFF000000
    image = QImage(pixels.tobytes(), 2500, 1250, 4 * 2500, QImage.Format.Format_RGB32).copy()
    photo = photo_of_image(image, "noise")
    assert photo.media == "image/jpeg"
    assert len(photo.content) <= MOST_BYTES


def test_what_can_be_seen_through_lies_on_white() -> None:
    image = QImage(8, 8, QImage.Format.Format_ARGB32)
    image.fill(0)
    assert photos._on_white(image).pixel(3, 3) == qRgb(255, 255, 255)
    assert photo_of_image(image, "clear").media == "image/png"


PIXELS = struct.pack(">I", 1000) + b"IDAT" + zlib.compress(b"\0" * 9)


def png_of(width: int, height: int) -> bytes:
    """A PNG of any size that breaks off where its pixels begin (ISO/IEC 15948, 11.2.2)."""
    head = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + head + struct.pack(">I", zlib.crc32(head)) + PIXELS


WHOLE = encoded(drawn(400, 300))
REFUSED = {
    "empty": (b"", "empty"),
    "text": (b"dear reader, this is no photo", "no photo that can be read"),
    "noise": (bytes(range(256)) * 40, "no photo that can be read"),
    "HEIC": (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "as JPEG"),
    "PDF": (b"%PDF-1.7 ...", "PDF"),
    "SVG": (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>', "outline"),
    "30 000 px": (png_of(30_000, 20_000), "30000 × 20000 pixels"),
    "long": (png_of(40_000, 1), "40000 × 1 pixels"),
    "bomb": (png_of(2**31 - 1, 2**31 - 1), "read"),
    "head only": (png_of(100, 100), "breaks off"),
    "half": (WHOLE[: len(WHOLE) // 2], "breaks off"),
    "half a PNG": (encoded(drawn(), "png")[:-30], "breaks off"),
    "only its start": (WHOLE[:30], "photo"),
}


@pytest.mark.qt_log_ignore(".*")  # the decoders report what is wrong; we say it in a sentence
@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_photo_is_told(name: str, tmp_path: Path) -> None:
    content, words = REFUSED[name]
    (tmp_path / "mine.jpg").write_bytes(content)
    with pytest.raises(FileError) as refused:
        read_photo(tmp_path / "mine.jpg")
    sentence = str(refused.value)
    assert sentence.startswith("mine.jpg: ")
    assert words in sentence
    assert "\n" not in sentence


def test_files_that_are_none_are_told(tmp_path: Path) -> None:
    for path, words in (
        (tmp_path, "folder"),
        (tmp_path / "no.jpg", "no such file"),
        ("a\0b.jpg", "name of a file|no such"),
    ):
        with pytest.raises(FileError, match=words):
            read_photo(path)
    with (tmp_path / "huge.jpg").open("wb") as file:
        file.truncate(photos.MOST_FILE_BYTES + 1)
    with pytest.raises(FileError, match="200 MB"):
        read_photo(tmp_path / "huge.jpg")
    with pytest.raises(FileError, match="clipboard"):
        photo_of_image(QImage(), "clip")


@pytest.mark.qt_log_ignore(".*")
def test_noise_in_a_project_is_told_when_it_is_shown() -> None:
    photo = photo_of(WHOLE, "a.jpg")
    good = picture_of("side", "body", photo.media, photo.content, laid(photo.size, (0.0, 0.0), 100.0))
    assert image_of(good).size().toTuple() == photo.size
    for bad in (
        picture_of("side", "body", "image/png", b"noise", good.place),
        replace(good, place=laid((9, 9), (0.0, 0.0), 1.0)),
    ):
        with pytest.raises(FileError, match="picture “side”"):
            image_of(bad)

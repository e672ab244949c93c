"""Photos in: from a file, or from an image of the clipboard, to the bytes that a project keeps.

What is kept is always written anew: upright (phones note only which way they were held), at most 4096 pixels long and
8 MB large, in plain sRGB, without what a camera notes beside it (the place where it was taken, for one). A photo comes
out as JPEG; what came as a drawing without loss (PNG, GIF, BMP) as PNG, if that isn't too large. The same photo gives
the same bytes every time, so its sum knows it.

The size is read before anything is decoded. What is no photo, breaks off, or is too large for this program is refused
in a sentence that says what to do; nothing is fetched from anywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QColor, QColorSpace, QImage, QImageReader, QImageWriter, QPainter

from app.files.errors import FileError, fault_of, shown_name
from kinematics.pictures import MOST_BYTES, MOST_PX

if TYPE_CHECKING:
    from kinematics.pictures import Picture

READ = {
    "jpeg": "JPEG",
    "jpg": "JPEG",
    "png": "PNG",
    "webp": "WebP",
    "bmp": "BMP",
    "gif": "GIF",
    "tiff": "TIFF",
    "tif": "TIFF",
}
JPEGS = ("jpeg", "jpg", "jfif")
WITHOUT_LOSS = ("png", "bmp", "gif")
MOST_FILE_BYTES = 200_000_000
MOST_PIXELS = 120_000_000
LONGEST_SIDE = 30_000
ROOM_MB = 512  # what decoding may take: MOST_PIXELS at 4 bytes
QUALITIES = (92, 85, 75, 60)
PNG_QUALITY = 80  # Qt's word for how little time is spent on it; nothing is lost at any
HEIF_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1", b"avif")
COPY_AGAIN = "Copy it again from where it came from."
AS_JPEG = "Save or send it as JPEG and open that."


@dataclass(frozen=True)
class Photo:
    """A photo as it is kept.

    media : "image/jpeg" or "image/png".     content : the file's bytes.     size : width and height, pixels, upright.
    came : width and height as it came, upright.     name : what it may be called.
    """

    media: str
    content: bytes
    size: tuple[int, int]
    came: tuple[int, int]
    name: str

    @property
    def is_reduced(self) -> bool:
        """Whether pixels were lost."""
        return self.size != self.came


def read_photo(path: str | Path) -> Photo:
    """Read a photo's file. Raises FileError: no photo, breaks off, too large, of a kind that can't be read."""
    where = Path(path)
    name = shown_name(where)
    try:
        if not where.is_file():
            raise FileError("this is a folder, not a photo" if where.is_dir() else "there is no such file", name)
        if where.stat().st_size > MOST_FILE_BYTES:
            raise FileError(f"the file has more than {MOST_FILE_BYTES / 1e6:.0f} MB", name, AS_JPEG)
        content = where.read_bytes()
    except OSError as fault:
        raise FileError(f"it can't be read: {fault_of(fault)}", name) from fault
    except ValueError as fault:  # a NUL in the path
        raise FileError("this is no name of a file", name) from fault
    return photo_of(content, name)


def photo_of(content: bytes, name: str) -> Photo:
    """Make a photo of a file's bytes; `name` is its file's. Raises as `read_photo` does."""
    _refuse_others(content, name)
    reader, _buffer = _opened(content)
    kind = bytes(reader.format().data()).decode("ascii", "replace").lower()
    if kind not in READ:
        raise FileError("this is no photo that can be read", name, AS_JPEG)
    size = reader.size() if b"\xff\xda" in content or kind not in JPEGS else QSize(1, 1)  # else it complains aloud
    _check_size(size, name)
    if _breaks_off(kind, content):
        raise FileError("the photo breaks off before its end", name, COPY_AGAIN)
    if max(size.width(), size.height()) > MOST_PX:
        reader.setScaledSize(_fitting(size))
    image = reader.read()
    if image.isNull():
        raise FileError("the photo is damaged", name, COPY_AGAIN)
    if (image.width() > image.height()) is not (size.width() > size.height()):
        size.transpose()  # it lay on its side
    return _kept(image, (size.width(), size.height()), name, without_loss=kind in WITHOUT_LOSS)


def photo_of_image(image: QImage, name: str) -> Photo:
    """Make a photo of an image, of the clipboard for one. Raises FileError where it is empty or too large."""
    if image.isNull():
        raise FileError("there is no picture in the clipboard", name, "Copy a picture first.")
    _check_size(image.size(), name)
    came = image.width(), image.height()
    if max(came) > MOST_PX:
        image = image.scaled(
            _fitting(image.size()), Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation
        )
    return _kept(image, came, name, without_loss=True)


def image_of(picture: Picture) -> QImage:
    """Decode a picture of a project. Raises FileError, with a sentence, where it holds no photo of its size."""
    where = f"picture “{picture.id}”"
    again = "Take it out, and open the photo's own file."
    reader, _buffer = _opened(picture.content)
    size = reader.size()
    if (size.width(), size.height()) != picture.place.size:
        raise FileError("its data are no photo of the size that they should have", where, again)
    image = reader.read()
    if image.isNull():
        raise FileError("its photo is damaged", where, again)
    return image


def _opened(content: bytes) -> tuple[QImageReader, QBuffer]:
    """A reader of bytes, upright, that doesn't go by names; and what it reads from, to be kept as long as it."""
    QImageReader.setAllocationLimit(ROOM_MB)
    buffer = QBuffer()
    buffer.setData(QByteArray(content))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    reader.setAutoTransform(True)
    reader.setDecideFormatFromContent(True)
    reader.setQuality(100)  # a smooth reduction
    return reader, buffer


def _refuse_others(content: bytes, name: str) -> None:
    """Say of what is often taken for a photo what to do instead."""
    if not content:
        raise FileError("the file is empty", name)
    if content[4:8] == b"ftyp" and content[8:12] in HEIF_BRANDS:
        what = "this is a photo of the kind HEIC, as many phones keep them, which can't be read here"
        raise FileError(what, name, "Send it from the phone as JPEG, or set the phone's camera to JPEG.")
    if content[:5] == b"%PDF-":
        raise FileError("this is a PDF, not a photo", name, "Save its page as PNG and open that.")
    if b"<svg" in content[:2000].lower():
        raise FileError("this is a drawing (SVG), not a photo", name, "Bring it in as an outline.")


def _check_size(size: QSize, name: str) -> None:
    wide, high = size.width(), size.height()
    if wide <= 0 or high <= 0:
        raise FileError("this is no photo that can be read", name, AS_JPEG)
    if wide * high > MOST_PIXELS or max(wide, high) >= LONGEST_SIDE:
        what = f"the photo has {wide} × {high} pixels, more than can be read here"
        raise FileError(what, name, f"Save it smaller; no more than {MOST_PX} pixels a side are kept anyway.")


def _fitting(size: QSize) -> QSize:
    found = size.scaled(MOST_PX, MOST_PX, Qt.AspectRatioMode.KeepAspectRatio)
    return QSize(max(found.width(), 1), max(found.height(), 1))


def _breaks_off(kind: str, content: bytes) -> bool:
    """Whether the end is missing; the decoders fill it with grey and say nothing."""
    if kind in JPEGS:
        return content.rfind(b"\xff\xd9") <= content.rfind(b"\xff\xda")
    return kind == "png" and b"IEND" not in content[-4096:]


# ---------------------------------------------------------------------------------------------------- what is kept
def _kept(image: QImage, came: tuple[int, int], name: str, *, without_loss: bool) -> Photo:
    """Write an upright image of at most 4096 pixels anew."""
    plain = _plain(image)
    called = Path(name).stem[:60].strip() or "photo"
    if without_loss:
        content = _encoded(plain, "png", PNG_QUALITY)
        if len(content) <= MOST_BYTES:
            return Photo("image/png", content, (plain.width(), plain.height()), came, called)
    plain = _on_white(plain)
    while True:
        for quality in QUALITIES:
            content = _encoded(plain, "jpeg", quality)
            if len(content) <= MOST_BYTES:
                return Photo("image/jpeg", content, (plain.width(), plain.height()), came, called)
        half = QSize(max(plain.width() * 3 // 4, 1), max(plain.height() * 3 // 4, 1))
        plain = plain.scaled(half, mode=Qt.TransformationMode.SmoothTransformation)


def _plain(image: QImage) -> QImage:
    """The pixels alone, in sRGB: no texts, no resolution, no profile."""
    if image.colorSpace().isValid() and image.colorSpace() != QColorSpace(QColorSpace.NamedColorSpace.SRgb):
        image.convertToColorSpace(QColorSpace(QColorSpace.NamedColorSpace.SRgb))
    kind = QImage.Format.Format_ARGB32 if image.hasAlphaChannel() else QImage.Format.Format_RGB32
    image = image.convertToFormat(kind)
    bare = QImage(image.constBits(), image.width(), image.height(), image.bytesPerLine(), kind)
    return bare.copy()


def _on_white(image: QImage) -> QImage:
    if not image.hasAlphaChannel():
        return image
    sheet = QImage(image.size(), QImage.Format.Format_RGB32)
    sheet.fill(QColor("white"))
    painter = QPainter(sheet)
    painter.drawImage(0, 0, image)
    painter.end()
    return sheet


def _encoded(image: QImage, kind: str, quality: int) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QImageWriter(buffer, QByteArray(kind.encode()))
    writer.setQuality(quality)
    if not writer.write(image):
        raise FileError(f"the photo can't be kept: {writer.errorString()}", "the photo")
    return bytes(buffer.data().data())

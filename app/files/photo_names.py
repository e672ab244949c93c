"""Which files may be photos, by their names; apart, so that asking loads no decoder."""

from __future__ import annotations

from pathlib import Path

ENDINGS = (".jpg", ".jpeg", ".jfif", ".png", ".webp", ".bmp", ".gif", ".tif", ".tiff", ".heic", ".heif", ".avif")
"""Endings of files that may be photos; HEIC among them, to be told what to do about it."""
FILTER = f"Photos ({' '.join(f'*{ending}' for ending in ENDINGS)});;All files (*)"


def is_photo_name(path: str | Path) -> bool:
    """Whether a file's ending is one of photos."""
    return Path(path).suffix.lower() in ENDINGS

"""May this file be kept? Known by its content, bounded in bytes and in pixels."""

import io
import warnings
from typing import Final

from PIL import Image

from records.rules.finding import Finding

MEBIBYTE: Final = 2**20
MOST_BYTES: Final = 20 * MEBIBYTE
MOST_PIXELS: Final = 60_000_000
PICTURES: Final = ("JPEG", "PNG", "WEBP")
PDF: Final = "application/pdf"
JPEG: Final = "image/jpeg"
_HEIF_BRANDS: Final = (b"heic", b"heix", b"hevc", b"mif1", b"msf1")
_TAIL: Final = 2048


def file_may_be_kept(data: bytes, field: str) -> list[Finding]:
    """Say why a photo or paper that was sent can't be kept."""
    if not data:
        return [Finding("The file is empty. Choose it again.", field)]
    if len(data) > MOST_BYTES:
        return [
            Finding(
                f"The file has {len(data) / MEBIBYTE:.1f} MB; at most "
                f"{MOST_BYTES // MEBIBYTE} MB are taken. Make it smaller.",
                field,
            )
        ]
    if is_pdf(data):
        return _pdf_is_whole(data, field)
    if data[4:8] == b"ftyp" and data[8:12] in _HEIF_BRANDS:
        return [
            Finding(
                "The photo is in the HEIC format. Set the camera to JPEG "
                '("most compatible"), or send it as a JPEG.',
                field,
            )
        ]
    return _picture_is_bounded(data, field)


def is_pdf(data: bytes) -> bool:
    """Tell a PDF by its first bytes."""
    return b"%PDF-" in data[:1024]


def _pdf_is_whole(data: bytes, field: str) -> list[Finding]:
    if b"%%EOF" in data[-_TAIL:]:
        return []
    return [Finding("The PDF is not whole: its end is missing. Send it again.", field)]


def _picture_is_bounded(data: bytes, field: str) -> list[Finding]:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            width, height = Image.open(io.BytesIO(data), formats=PICTURES).size
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        return [
            Finding(
                "The file is neither a picture that can be read nor a PDF. "
                "Send a JPEG, PNG or WebP picture, or a PDF.",
                field,
            )
        ]
    if width * height <= MOST_PIXELS:
        return []
    return [
        Finding(
            f"The picture has {width} by {height} pixels; at most "
            f"{MOST_PIXELS // 1_000_000} million are taken. Take it smaller.",
            field,
        )
    ]

"""What comes in as a file: known by its content, bounded, and cleaned."""

import io
import warnings
from dataclasses import dataclass
from pathlib import PurePath

from django.core.files.uploadedfile import UploadedFile
from PIL import Image, ImageOps

MEBIBYTE = 2**20
MOST_PHOTO_BYTES = 20 * MEBIBYTE
MOST_PAPER_BYTES = 20 * MEBIBYTE
MOST_TEXT_BYTES = 5 * MEBIBYTE
MOST_PIXELS = 60_000_000
LONGEST_SIDE = 2400
QUALITY = 85
PHOTO_FORMATS = ("JPEG", "MPO", "PNG", "WEBP")
_NAME_LENGTH = 120


@dataclass(frozen=True, slots=True)
class Upload:
    """A file as it will be kept."""

    name: str
    media_type: str
    data: bytes


def read_photo(file: UploadedFile) -> Upload:
    """Read a picture and write it anew: upright, at most 2400 pixels, no location.

    Raises ``ValueError`` with a sentence where it is no picture or too large.
    """
    data = _bounded(file, MOST_PHOTO_BYTES)
    output = io.BytesIO()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            _upright(data).save(output, "JPEG", quality=QUALITY, optimize=True)
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise ValueError(
            "This file is not a picture that can be read. "
            "Take the photo again, or choose a JPEG, PNG or WebP file."
        ) from error
    return Upload(f"{_stem(file)}.jpg", "image/jpeg", output.getvalue())


def read_paper(file: UploadedFile) -> Upload:
    """Read a PDF as it is, or a photo of a paper.

    Raises ``ValueError`` with a sentence where it is neither, or too large.
    """
    start = file.read(1024)
    file.seek(0)
    if b"%PDF-" not in start:
        return read_photo(file)
    data = _bounded(file, MOST_PAPER_BYTES)
    if b"%%EOF" not in data[-2048:]:
        raise ValueError("This PDF is not whole: its end is missing. Send it again.")
    return Upload(f"{_stem(file)}.pdf", "application/pdf", data)


def read_text(file: UploadedFile) -> str:
    """Read a text file in UTF-8, or as spreadsheets on older machines write it.

    Raises ``ValueError`` with a sentence where it is no text, or too large.
    """
    data = _bounded(file, MOST_TEXT_BYTES)
    if b"\0" in data:
        raise ValueError("This is not a text file. Export it as CSV and send that.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _upright(data: bytes) -> Image.Image:
    picture = Image.open(io.BytesIO(data), formats=PHOTO_FORMATS)
    width, height = picture.size
    if width * height > MOST_PIXELS:
        raise ValueError("too many pixels")
    picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    upright = ImageOps.exif_transpose(picture)
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    if "A" in upright.getbands() or upright.mode == "P":
        upright = upright.convert("RGBA")
        paper = Image.new("RGBA", upright.size, "white")
        upright = Image.alpha_composite(paper, upright)
    clean = Image.new("RGB", upright.size)
    clean.paste(upright.convert("RGB"))
    return clean


def _bounded(file: UploadedFile, most: int) -> bytes:
    size = file.size or 0
    if size > most:
        raise ValueError(
            f"This file has {size / MEBIBYTE:.1f} MB; "
            f"the most that is taken is {most // MEBIBYTE} MB. Make it smaller."
        )
    return file.read()


def _stem(file: UploadedFile) -> str:
    stem = PurePath(file.name or "").stem
    kept = "".join(c for c in stem if c.isprintable() and c not in '<>:"/\\|?*')
    return kept.strip(" .")[: _NAME_LENGTH - 4] or "file"

"""What comes in as a file: bounded, and known by its content."""

from dataclasses import dataclass

from django.core.files.base import File

from records.rules.files import MEBIBYTE, MOST_BYTES, file_may_be_kept, is_pdf

MOST_TEXT_BYTES = 5 * MEBIBYTE


@dataclass(frozen=True, slots=True)
class Upload:
    """A photo or paper as it was sent; the service that keeps it draws it anew."""

    name: str
    data: bytes


def read_photo(file: "File[bytes]") -> Upload:
    """Read a picture.

    Raises ``ValueError`` with a sentence where it is none, or too large.
    """
    upload = read_paper(file)
    if is_pdf(upload.data):
        raise ValueError("This is a PDF. Send a JPEG, PNG or WebP picture here.")
    return upload


def read_paper(file: "File[bytes]") -> Upload:
    """Read a PDF, or a picture of a paper.

    Raises ``ValueError`` with a sentence where it is neither, or too large.
    """
    data = _bounded(file, MOST_BYTES)
    findings = file_may_be_kept(data, "")
    if findings:
        raise ValueError(" ".join(f.sentence for f in findings))
    return Upload(file.name or "file", data)


def read_text(file: "File[bytes]") -> str:
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


def _bounded(file: "File[bytes]", most: int) -> bytes:
    size = file.size or 0
    if size > most:
        raise ValueError(
            f"This file has {size / MEBIBYTE:.1f} MB; "
            f"at most {most // MEBIBYTE} MB are taken. Make it smaller."
        )
    data: bytes = file.read()
    return data

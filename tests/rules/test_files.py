"""What may be kept is known by its content, and bounded."""

import io
import struct
import zlib

import pytest
from PIL import Image

from records.rules import files
from records.rules.files import file_may_be_kept


def picture(kind="JPEG", size=(40, 30), **kwargs):
    output = io.BytesIO()
    Image.new("RGB", size, "tan").save(output, kind, **kwargs)
    return output.getvalue()


def png_that_claims(width, height):
    """Write the head of a PNG that says it is huge, and no pixels."""

    def chunk(name, body):
        check = zlib.crc32(name + body)
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_pictures_are_taken(kind):
    assert file_may_be_kept(picture(kind), "photo") == []


def test_whole_pdf_is_taken_and_cut_one_is_not():
    assert file_may_be_kept(b"%PDF-1.7\n...\n%%EOF\n", "photo") == []
    (finding,) = file_may_be_kept(b"%PDF-1.7\n...", "photo")
    assert "end is missing" in finding.sentence


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "empty"),
        (b"just text", "neither a picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "neither a picture"),
        (b"\x00\x00\x00\x18ftypheic" + b"\x00" * 20, "HEIC"),
        (picture("GIF"), "neither a picture"),
        (png_that_claims(10_000, 10_000), "10000 by 10000 pixels"),
        (png_that_claims(40_000, 40_000), "neither a picture"),
    ],
)
def test_anything_else_is_refused_in_a_sentence(data, word):
    (finding,) = file_may_be_kept(data, "photo")
    assert word in finding.sentence
    assert finding.field == "photo"


def test_size_is_bounded_to_the_byte(monkeypatch):
    data = picture()
    monkeypatch.setattr(files, "MOST_BYTES", len(data))
    assert file_may_be_kept(data, "photo") == []
    monkeypatch.setattr(files, "MOST_BYTES", len(data) - 1)
    assert "at most" in file_may_be_kept(data, "photo")[0].sentence


def test_pixels_are_bounded_to_the_pixel(monkeypatch):
    monkeypatch.setattr(files, "MOST_PIXELS", 1200)
    assert file_may_be_kept(picture(size=(40, 30)), "photo") == []
    assert file_may_be_kept(picture(size=(40, 31)), "photo")

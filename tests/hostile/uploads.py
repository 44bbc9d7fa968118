"""Files that pose as photos, papers and logs."""

import functools
import io
import struct
import zipfile
import zlib

from PIL import Image
from PIL.PngImagePlugin import PngInfo

SVG = (
    b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)">'
    b"<script>alert(1)</script></svg>"
)
HTML = b"<!DOCTYPE html><html><script>alert(1)</script></html>"
GPS = 0x8825
HEAD = b"elapsed [min],pressure [MPa]\n"


@functools.cache
def photos():
    """Give files for a field that takes a photo or a paper, by what they are."""
    return {
        "a photo": picture("JPEG"),
        "a drawing": picture("PNG"),
        "nothing": b"",
        "one byte": b"\xff",
        "an SVG": SVG,
        "an SVG after a blank": b"\xef\xbb\xbf  " + SVG,
        "a web page": HTML,
        "a GIF": picture("GIF"),
        "a TIFF": picture("TIFF"),
        "a HEIC": b"\0\0\0\x18ftypheic" + b"\0" * 64,
        "a zip bomb": zip_bomb(),
        "a photo with a zip after it": picture("JPEG") + zip_bomb(),
        "a photo cut short": picture("JPEG", (400, 400))[:-200],
        "a drawing cut short": picture("PNG", (400, 400))[:200],
        "a picture that claims 2**31 pixels a side": png_of(2**31 - 1, 2**31 - 1),
        "a picture of 81 million pixels": large_png(9000, 9000),
        "a picture 59 million wide": large_png(59_000_000, 1),
        "a picture with texts that grow": png_with_texts(),
        "a picture whose pixels grow": png_of(100, 100, zlib.compress(b"\0" * 10**7)),
        "a PDF": b"%PDF-1.4\n%%EOF\n",
        "a PDF that is a web page": b"%PDF-1.4\n" + HTML + b"\n%%EOF\n",
        "a PDF without an end": b"%PDF-1.4\n" + HTML,
        "a photo with a turn that is none": photo_with_exif({0x0112: 77}),
        "a photo with its place": photo_with_exif({}, place=True),
        "a photo in four inks": picture("JPEG", mode="CMYK"),
        "a drawing in sixteen bits": picture("PNG", mode="I;16"),
        "a drawing with a palette": picture("PNG", mode="P"),
        "a sticker": picture("WEBP", mode="RGBA"),
    }


def texts():
    """Give files for a field that takes a log or a list as text."""
    return {
        "nothing": b"",
        "a mark and nothing": b"\xef\xbb\xbf",
        "NUL bytes": b"elapsed [min],pressure [MPa]\n\0,\0\n",
        "a workbook": zip_bomb(),
        "bytes": bytes(range(256)) * 8,
        "UTF-16": "elapsed [min],pressure [MPa]\n0,1\n".encode("utf-16"),
        "one cell of 200 000 letters": b"elapsed [min],pressure [MPa]\n0,"
        + b"9" * 200_000,
        "a quote that never ends": b'elapsed [min],"pressure [MPa]\n' + b"0,1\n" * 5000,
        "100 000 columns": b"," * 100_000 + b"\n0,1",
        "200 000 empty lines": b"\n" * 200_000,
        "returns alone": b"elapsed [min],pressure [MPa]\r0,1\r0,2\r",
        "40 000 lines": HEAD + b"".join(b"%d,1\n" % i for i in range(40_000)),
        "numbers out of range": HEAD + b"0,1e400\n1,NaN\n2,-Infinity\n9e99,1\n",
        "formulas": HEAD + b"=1+1,@SUM(A1)\n",
        "times that are none": b"time,pressure [MPa]\n2026-02-30T25:61,1\n"
        b"9999-12-31T23:59,1\n",
    }


def picture(kind, size=(40, 30), mode="RGB"):
    """Draw a small picture of a format."""
    out = io.BytesIO()
    Image.new(mode, size).save(out, kind)
    return out.getvalue()


def photo_with_exif(tags, *, place=False):
    """Draw a photo with hidden data, and with the place where it was taken."""
    out = io.BytesIO()
    image = Image.new("RGB", (40, 30), "tan")
    exif = image.getexif()
    for tag, value in tags.items():
        exif[tag] = value
    if place:
        exif.get_ifd(GPS).update({1: "N", 2: (52.0, 30.0, 0.0)})
    image.save(out, "JPEG", exif=exif)
    return out.getvalue()


@functools.cache
def zip_bomb():
    """Pack a hundred megabytes of zeros into a hundred kilobytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as folder:
        folder.writestr("zeros", b"\0" * 10**8)
    return out.getvalue()


def large_png(width, height):
    """Draw a picture with many pixels that is small as a file."""
    return png_of(
        width, height, zlib.compress((b"\0" + b"\0" * ((width + 7) // 8)) * height)
    )


def png_of(width, height, pixels=b""):
    """Write a black and white PNG that claims a size, with these pixels."""
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", head)
        + _chunk(b"IDAT", pixels)
        + _chunk(b"IEND", b"")
    )


def png_with_texts():
    """Draw a picture with texts in it that take 100 MB when they are unpacked."""
    out, hidden = io.BytesIO(), PngInfo()
    for n in range(10):
        hidden.add_text(f"t{n}", "A" * 10**7, zip=True)
    Image.new("RGB", (4, 4)).save(out, "PNG", pnginfo=hidden)
    return out.getvalue()


def _chunk(kind, data):
    whole = kind + data
    return struct.pack(">I", len(data)) + whole + struct.pack(">I", zlib.crc32(whole))

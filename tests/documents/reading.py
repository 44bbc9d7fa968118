"""Look at a PDF as a person and a phone do: its pages as pictures, its tags decoded."""

import io

import numpy as np
import pypdf
import pypdfium2
import zxingcpp
from PIL import Image

DPI = 300


def pages(pdf, dpi=DPI):
    """Draw every page as a grey picture."""
    document = pypdfium2.PdfDocument(pdf)
    return [
        page.render(scale=dpi / 72, grayscale=True).to_pil().convert("L")
        for page in document
    ]


def tags(picture):
    """Read every QR code in a picture, in reading order."""
    result = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
    return [code.text for code in sorted(result, key=_place)]


def _place(code):
    corner = code.position.top_left
    return round(corner.y / 100), corner.x


def noisy(picture, seed=1, strength=60):
    """Add grain as of a bad print or a cheap camera."""
    pixels = np.asarray(picture, dtype=float)
    grain = np.random.default_rng(seed).normal(0, strength, pixels.shape)
    return Image.fromarray(np.clip(pixels + grain, 0, 255).astype("uint8"))


def smeared(picture, places, width_px, height_px, grey=40):
    """Draw a dark smear across each place, as of a gluey thumb."""
    pixels = np.array(picture)
    for left, top in places:
        pixels[top : top + height_px, left : left + width_px] = grey
    return Image.fromarray(pixels)


def corners(picture):
    """Give left, top and side of every QR code in a picture [pixels]."""
    result = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
    return [
        (
            int(c.position.top_left.x),
            int(c.position.top_left.y),
            int(c.position.top_right.x - c.position.top_left.x),
        )
        for c in sorted(result, key=_place)
    ]


def reader(pdf):
    """Open a PDF to look at what it is made of."""
    return pypdf.PdfReader(io.BytesIO(pdf))


def text(pdf):
    """Give the text of all pages, with every run of white space as one space."""
    whole = " ".join(page.extract_text() for page in reader(pdf).pages)
    return " ".join(whole.split())

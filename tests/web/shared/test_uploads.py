"""Files are known by their content, not by their name, and are bounded."""

import io

import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from records.web.shared import uploads
from records.web.shared.fields import PaperField, PhotoField, TextFileField

PDF = b"%PDF-1.7\n...\n%%EOF\n"


def picture(kind="JPEG", size=(40, 20)):
    out = io.BytesIO()
    Image.new("RGB", size, "tan").save(out, kind)
    return out.getvalue()


def sent(data, name="photo.jpg"):
    return SimpleUploadedFile(name, data)


def says(field, file):
    with pytest.raises(ValidationError) as error:
        field.clean(file)
    return " ".join(error.value.messages)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_is_taken_whatever_its_name(kind):
    upload = PhotoField().clean(sent(picture(kind), "x.txt"))
    assert upload.data == picture(kind)


@pytest.mark.parametrize(
    "data",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"GIF89a" + bytes(20),
        b"<html>",
        PDF,
        picture()[:30],
    ],
    ids=["svg", "gif", "html", "pdf", "cut off"],
)
def test_what_is_no_photo_is_refused(data):
    assert says(PhotoField(), sent(data))


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_drawn():
    out = io.BytesIO()
    Image.new("1", (9000, 9000)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    assert "million" in says(PhotoField(), sent(out.getvalue()))


def test_a_file_too_large_is_refused_unread():
    file = sent(b"")
    file.size = uploads.MOST_BYTES + 1
    file.file = None  # reading would fail
    assert "MB" in says(PaperField(), file)


def test_a_paper_is_a_pdf_or_a_photo_of_it():
    assert PaperField().clean(sent(PDF)).data == PDF
    assert PaperField().clean(sent(picture())).data == picture()
    assert "end is missing" in says(PaperField(), sent(PDF[:-7]))


def test_nothing_sent_is_nothing_where_it_is_optional():
    assert PhotoField(required=False).clean(None) is None


@pytest.mark.parametrize(
    ("data", "text"),
    [
        ("\ufeffµm;°C".encode(), "µm;°C"),
        ("µm;°C".encode("cp1252"), "µm;°C"),
    ],
)
def test_text_is_read_as_spreadsheets_write_it(data, text):
    assert TextFileField().clean(sent(data, "log.csv")) == text


def test_a_workbook_is_no_text():
    assert "CSV" in says(TextFileField(), sent(b"PK\x03\x04\0\0", "log.csv"))

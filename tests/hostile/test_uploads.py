"""Files that are not what they seem: refused with a sentence, or kept as a picture."""

import io
import resource

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from records.models import Attachment, LedgerEntry, PressSample
from records.queries.files import read_kept
from records.rules.files import JPEG, MOST_BYTES, PDF
from records.services.files import LONGEST_SIDE
from tests import factories
from tests.hostile.uploads import GPS, SVG, photos, texts

PHOTOS = photos()
TEXTS = texts()
# What is a picture, or a PDF, and may be kept.
GOOD = {
    "a photo",
    "a drawing",
    "a PDF",
    "a PDF that is a web page",
    "a photo with a zip after it",
    "a photo with a turn that is none",
    "a photo with its place",
    "a photo in four inks",
    "a drawing in sixteen bits",
    "a drawing with a palette",
    "a sticker",
    "a picture 59 million wide",
    "a picture whose pixels grow",
}
MOST_MEMORY = 400 * 2**20


@pytest.fixture
def board(shop):
    return factories.BoardFactory()


def attach(client, board, data, name="photo.jpg"):
    return client.post(
        reverse("files:attach", args=["board", board.number]),
        {
            "photo": SimpleUploadedFile(name, data, "image/jpeg"),
            "caption": "A board",
            "happened_at": "2026-03-02T12:00",
        },
    )


@pytest.mark.parametrize("what", PHOTOS)
def test_a_file_is_kept_as_picture_or_pdf_or_refused_with_a_sentence(
    signed_in, board, what
):
    before = most_memory()
    answer = attach(signed_in, board, PHOTOS[what])
    assert most_memory() - before < MOST_MEMORY
    if what in GOOD:
        assert answer.status_code == 302
        kept_as_it_may_be(Attachment.objects.get().file)
    else:
        assert answer.status_code == 422
        assert answer.context["form"].errors["photo"]
        assert not Attachment.objects.exists()
        assert not LedgerEntry.objects.exists()


def most_memory():
    """Give the most memory that this process ever took [byte]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def kept_as_it_may_be(file):
    data = read_kept(file)
    assert file.media_type in {JPEG, PDF}
    if file.media_type == PDF:
        assert b"%PDF-" in data[:1024]
        return
    picture = Image.open(io.BytesIO(data))
    assert picture.format == "JPEG"
    assert max(picture.size) <= LONGEST_SIDE
    assert not picture.getexif().get_ifd(GPS)
    assert not dict(picture.getexif())
    assert data.rstrip(b"\0").endswith(b"\xff\xd9")  # nothing hangs on after its end


def test_the_place_where_a_photo_was_taken_is_in_it_before(board):
    sent = Image.open(io.BytesIO(PHOTOS["a photo with its place"]))
    assert sent.getexif().get_ifd(GPS)


def test_a_pdf_is_never_shown_within_the_shops_own_pages(signed_in, board):
    attach(signed_in, board, PHOTOS["a PDF that is a web page"], "paper.html")
    answer = signed_in.get(reverse("files:file", args=[Attachment.objects.get().pk]))
    assert answer["Content-Type"] == PDF
    assert answer["Content-Disposition"].startswith("attachment")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert ".html" not in answer["Content-Disposition"]


@pytest.mark.parametrize(
    "name",
    [
        "../../../etc/passwd",
        "..\\..\\x.jpg",
        "a\0.jpg",
        "x" * 190,
        ".htaccess",
        "a\r\nb: c",
    ],
)
def test_a_name_leads_out_of_no_folder_and_into_no_header(signed_in, board, name):
    answer = attach(signed_in, board, PHOTOS["a photo"], name)
    if answer.status_code == 422:
        return
    kept = Attachment.objects.get()
    assert "/" not in kept.file.name
    assert "\\" not in kept.file.name
    sent = signed_in.get(reverse("files:file", args=[kept.pk]))
    assert sent.status_code == 200
    assert "b: c" not in str(sent.headers).replace("a b: c", "")


def test_a_file_larger_than_any_photo_is_refused_unread(signed_in, board):
    answer = attach(signed_in, board, b"\xff\xd8\xff" + b"\0" * MOST_BYTES)
    assert answer.status_code == 422
    assert "at most 20 MB" in str(answer.context["form"].errors["photo"])


def test_an_svg_under_any_name_and_type_is_refused(signed_in, board):
    for name in ("a.svg", "a.jpg", "a.pdf", "a.svg.png"):
        assert attach(signed_in, board, SVG, name).status_code == 422
    assert not Attachment.objects.exists()


@pytest.mark.parametrize("what", TEXTS)
def test_a_press_log_is_read_whole_or_refused_with_its_lines(signed_in, shop, what):
    load = factories.PressLoadFactory()
    answer = signed_in.post(
        reverse("pressing:import_samples", args=[load.number]),
        {
            "file": SimpleUploadedFile("log.csv", TEXTS[what], "text/csv"),
            "unit": "MPa",
            "temperature_unit": "degC",
        },
    )
    if answer.status_code == 302:
        assert PressSample.objects.filter(load=load).exists()
    else:
        assert answer.status_code == 422
        assert answer.context["form"].errors
        assert not PressSample.objects.exists()
        assert not LedgerEntry.objects.exists()

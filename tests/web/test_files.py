"""Photos and papers are attached to anything, and shown to who is signed in."""

import io

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from records.models import Attachment, StoredFile
from records.queries.files import place_of
from tests import factories
from tests.rules.test_files import picture
from tests.services.test_files import located_photo
from tests.web.seen import text_of

pytestmark = pytest.mark.django_db


def attach(client, kind, number, data, name="photo.jpg", **kwargs):
    given = {
        "photo": SimpleUploadedFile(name, data),
        "happened_at": timezone.localtime().strftime("%Y-%m-%dT%H:%M"),
        **kwargs,
    }
    return client.post(reverse("files:attach", args=[kind, number]), given)


def shown(client, attachment):
    return client.get(reverse("files:file", args=[attachment.pk]))


@pytest.fixture
def board(shop):
    """Something to attach to."""
    return factories.BoardFactory()


def test_photo_is_shown_on_the_page_without_its_location(signed_in, board):
    answer = attach(
        signed_in, "board", board.number, located_photo(), caption="Knot at the tip"
    )
    page = reverse("boards:board", args=[board.number])
    assert answer.url == page
    assert "Knot at the tip" in text_of(signed_in.get(page))
    answer = shown(signed_in, Attachment.objects.get())
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert dict(Image.open(io.BytesIO(answer.content)).getexif()) == {}


def test_caption_left_empty_says_what_it_is_of(signed_in, board):
    attach(signed_in, "board", board.number, picture())
    assert Attachment.objects.get().caption == f"Photo of board {board.number}"


def test_a_name_of_the_file_can_not_write_headers(signed_in, board):
    attach(signed_in, "board", board.number, b"%PDF-1 %%EOF", 'a"\r\nX-Bad: 1.pdf')
    answer = shown(signed_in, Attachment.objects.get())
    assert "X-Bad" not in answer.headers
    assert "\n" not in answer["Content-Disposition"]


@pytest.mark.parametrize(
    "data", [b"", b"text", b"<html><script>alert(1)</script></html>", b"GIF89a"]
)
def test_anything_else_is_refused_at_the_field(signed_in, board, data):
    answer = attach(signed_in, "board", board.number, data, caption="kept words")
    assert answer.status_code == 422
    assert answer.context["form"].errors["photo"]
    assert 'value="kept words"' in answer.content.decode()
    assert not StoredFile.objects.exists()


def test_nothing_is_attached_to_what_is_not_there(signed_in, shop):
    for kind, number in (("board", "B9999"), ("person", "1")):
        path = reverse("files:attach", args=[kind, number])
        assert signed_in.get(path).status_code == 404


def test_damaged_file_is_said_and_not_sent(signed_in, board):
    attach(signed_in, "board", board.number, picture())
    attachment = Attachment.objects.get()
    with default_storage.open(place_of(attachment.file.sha256), "wb") as file:
        file.write(b"something else")
    assert shown(signed_in, attachment).status_code == 404


def test_stranger_sees_no_file(client, signed_in, board):
    attach(signed_in, "board", board.number, picture())
    signed_in.logout()
    assert shown(client, Attachment.objects.get()).status_code == 302

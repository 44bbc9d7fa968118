"""Photos lose their location, stand upright, and are kept under their digest."""

import datetime as dt
import hashlib
import io
from dataclasses import dataclass

import pytest
from django.core.files.storage import default_storage
from PIL import Image

from records.models import Attachment, LedgerEntry, StoredFile
from records.queries.files import place_of, read_kept
from records.services.files import attach_file, clean, store_file
from records.services.ledger import Entry
from records.services.refusal import Refusal
from tests import factories
from tests.rules.test_files import picture

pytestmark = pytest.mark.django_db
ORIENTATION, GPS, LATITUDE = 0x0112, 0x8825, 2
TURNED_RIGHT = 6


@dataclass
class Sent:
    data: bytes
    name: str = "bench.jpg"


def located_photo():
    """Take a photo on its side, with the place it was taken in its EXIF data."""
    exif = Image.Exif()
    exif[ORIENTATION] = TURNED_RIGHT
    exif.get_ifd(GPS)[LATITUDE] = (48.0, 5.0, 0.0)
    return picture(size=(60, 20), exif=exif)


def test_location_is_gone_and_picture_upright():
    before = located_photo()
    assert Image.open(io.BytesIO(before)).getexif().get_ifd(GPS)
    after = Image.open(io.BytesIO(clean(Sent(before)).data))
    assert dict(after.getexif()) == {}
    assert after.size == (20, 60)


def test_large_picture_is_made_smaller():
    after = Image.open(io.BytesIO(clean(Sent(picture(size=(3000, 1500)))).data))
    assert after.size == (2400, 1200)


def test_transparent_picture_lies_on_white():
    output = io.BytesIO()
    Image.new("RGBA", (20, 20), (0, 0, 0, 0)).save(output, "PNG")
    cleaned = clean(Sent(output.getvalue(), "stamp.png"))
    assert cleaned.media_type == "image/jpeg"
    assert cleaned.name == "stamp.jpg"
    assert Image.open(io.BytesIO(cleaned.data)).getpixel((5, 5)) == (255, 255, 255)


def test_what_follows_a_picture_is_cut_off():
    trailer = b"a film with its own location" * 40
    assert trailer not in clean(Sent(picture() + trailer)).data


def test_cut_picture_is_refused_at_the_field():
    whole = picture(size=(400, 300))
    with pytest.raises(Refusal) as refusal:
        clean(Sent(whole[: len(whole) // 2]), field="paper")
    assert refusal.value.findings[0].field == "paper"


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ("../../etc/passwd.pdf", "passwd.pdf"),
        ("C:\\papers\\cert 3.1.PDF", "cert 3.1.pdf"),
        ("a\nb<c>.pdf", "abc.pdf"),
        ("...", "file.pdf"),
        ("x" * 300 + ".pdf", "x" * 116 + ".pdf"),
    ],
)
def test_name_is_only_a_label(sent, kept):
    assert clean(Sent(b"%PDF-1.7 %%EOF", sent)).name == kept


def test_same_bytes_are_kept_once(act):
    with Entry(act, "keep") as entry:
        files = [
            store_file(entry, name=name, media_type="text/plain", data=b"same")
            for name in ("one", "two")
        ]
    assert files[0].pk == files[1].pk
    assert StoredFile.objects.count() == 1
    assert files[0].sha256 == hashlib.sha256(b"same").hexdigest()
    assert read_kept(files[0]) == b"same"


def test_damaged_file_is_put_right_when_it_comes_again(act):
    def keep():
        with Entry(act, "keep") as entry:
            return store_file(entry, name="x", media_type="text/plain", data=b"right")

    place = place_of(keep().sha256)
    with default_storage.open(place, "wb") as file:
        file.write(b"wrong")
    assert read_kept(keep()) == b"right"


def test_attaching_is_one_entry_about_the_thing(act, noon):
    board = factories.BoardFactory()
    attachment = attach_file(
        act=act,
        subject=board,
        photo=Sent(picture()),
        caption="Knot at the tip",
        happened_at=noon,
    )
    assert Attachment.objects.get() == attachment
    assert attachment.board == board
    assert attachment.file.media_type == "image/jpeg"
    entry = LedgerEntry.objects.get()
    assert (entry.verb, entry.subject) == ("attach file", board.number)
    assert attachment.file.sha256 in entry.body


def test_nothing_is_written_when_the_file_is_refused(act, noon):
    with pytest.raises(Refusal):
        attach_file(
            act=act,
            subject=factories.BoardFactory(),
            photo=Sent(b"text"),
            caption="",
            happened_at=noon,
        )
    assert not StoredFile.objects.exists()
    assert not LedgerEntry.objects.exists()


def test_photo_of_tomorrow_is_refused(act):
    with pytest.raises(Refusal, match="still to come"):
        attach_file(
            act=act,
            subject=factories.BoardFactory(),
            photo=Sent(picture()),
            caption="",
            happened_at=act.at + dt.timedelta(days=1),
        )

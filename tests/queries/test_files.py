"""Kept files are read back only as they were kept."""

import datetime as dt

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from records.models import Attachment, StoredFile
from records.queries.files import Damaged, attached_to, place_of, read_kept
from tests import factories
from tests.factories import NOON

SHA = "2cf24dba5fb0a30e26e83b2ac5b9e29e1b161e5c1fa7425e73043362938b9824"
# SHA-256 of "hello": widely published.


def kept(**kwargs):
    return StoredFile(sha256=SHA, name="hello.txt", size=5, **kwargs)


def test_bytes_come_back():
    default_storage.save(place_of(SHA), ContentFile(b"hello"))
    assert read_kept(kept()) == b"hello"


def test_missing_file_is_said():
    with pytest.raises(Damaged, match=r"hello\.txt is missing"):
        read_kept(kept())


def test_changed_file_is_said():
    default_storage.save(place_of(SHA), ContentFile(b"hell0"))
    with pytest.raises(Damaged, match="not as it was"):
        read_kept(kept())


@pytest.mark.django_db
def test_attachments_come_in_order_with_one_query(
    shop, owner, django_assert_num_queries
):
    board = factories.BoardFactory()
    file = kept(media_type="text/plain", written_at=NOON, written_by=owner)
    file.save()
    for hours in (3, 1, 2):
        Attachment.objects.create(
            file=file,
            board=board,
            caption=f"after {hours} h",
            happened_at=NOON + dt.timedelta(hours=hours),
            written_at=NOON,
            written_by=owner,
        )
    with django_assert_num_queries(1):
        result = [(a.caption, a.file.name) for a in attached_to("board", board.pk)]
    assert [c for c, _ in result] == ["after 1 h", "after 2 h", "after 3 h"]

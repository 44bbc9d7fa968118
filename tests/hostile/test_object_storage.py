"""Photos and papers in an S3-compatible store: kept, read back, and missed."""

import boto3
import pytest
from django.core.files.storage import default_storage
from django.urls import reverse

from records.models import StoredFile
from records.queries.files import Damaged, place_of, read_kept
from records.rules.integrity import changed_files
from shopqa.storage import file_storage
from tests import factories
from tests.hostile.object_store import BUCKET, object_store
from tests.hostile.world import keep_a_photo


@pytest.fixture
def bucket(settings, tmp_path, monkeypatch):
    """Let the shop keep its files in a bucket, and give the bucket."""
    with object_store(monkeypatch) as environment:
        settings.STORAGES = {
            **settings.STORAGES,
            "default": file_storage(tmp_path, environment),
        }
        yield boto3.resource(
            "s3", endpoint_url=environment["SHOPQA_S3_ENDPOINT"]
        ).Bucket(BUCKET)


@pytest.fixture
def kept(bucket, act):
    keep_a_photo(act, factories.BoardFactory())
    return StoredFile.objects.get()


def test_a_photo_lies_under_its_digest_and_is_read_back(bucket, kept, signed_in):
    assert [buckets.key for buckets in bucket.objects.all()] == [place_of(kept.sha256)]
    assert read_kept(kept)[:3] == b"\xff\xd8\xff"
    page = reverse("files:file", args=[kept.attachments.get().pk])
    assert signed_in.get(page).content == read_kept(kept)


def test_the_same_photo_is_kept_once(bucket, kept, act):
    keep_a_photo(act, factories.BoardFactory())
    assert len(list(bucket.objects.all())) == 1
    assert StoredFile.objects.count() == 1


def test_changed_bytes_are_found_and_never_shown(bucket, kept, signed_in):
    bucket.put_object(Key=place_of(kept.sha256), Body=b"\xff\xd8\xff another photo")
    (broken,) = changed_files()
    assert "have changed" in broken.sentence
    with pytest.raises(Damaged):
        read_kept(kept)
    page = reverse("files:file", args=[kept.attachments.get().pk])
    assert signed_in.get(page).status_code == 404


def test_a_lost_photo_is_missed_and_mended_when_it_is_sent_again(bucket, kept, act):
    bucket.delete_objects(Delete={"Objects": [{"Key": place_of(kept.sha256)}]})
    assert ["missing" in broken.sentence for broken in changed_files()] == [True]
    keep_a_photo(act, factories.BoardFactory())
    assert list(changed_files()) == []


def test_nobody_gets_at_a_photo_without_the_shops_keys(bucket, kept):
    link = default_storage.url(place_of(kept.sha256))
    assert "Signature" in link
    grants = bucket.Object(place_of(kept.sha256)).Acl().grants
    assert [grant["Grantee"]["Type"] for grant in grants] == ["CanonicalUser"]


class TestSettings:
    def test_a_folder_beside_the_book_is_the_default(self, tmp_path):
        result = file_storage(tmp_path, {})
        assert result["BACKEND"].endswith("FileSystemStorage")
        assert result["OPTIONS"]["location"] == tmp_path / "files"

    def test_another_folder_may_be_shared_by_several_machines(self, tmp_path):
        shared = tmp_path / "shared"
        result = file_storage(tmp_path, {"SHOPQA_FILES": str(shared)})
        assert result["OPTIONS"]["location"] == shared

    def test_a_bucket_needs_no_endpoint_at_amazons(self, tmp_path):
        result = file_storage(tmp_path, {"SHOPQA_S3_BUCKET": "b"})
        assert result["OPTIONS"]["endpoint_url"] is None
        assert result["OPTIONS"]["default_acl"] == "private"

"""What a copy is asked before it may take over."""

import pytest
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from records import chain
from records.models import LedgerEntry
from records.services.database_copy import CopiedBook, Copy, Head
from records.services.ledger import Entry
from records.services.refusal import Refusal
from shopqa.storage import file_storage
from tests.own_book import own_database

pytestmark = pytest.mark.django_db


def test_an_empty_ledger_ends_before_its_first_entry():
    assert CopiedBook(connection).head() == Head(0, chain.GENESIS)
    assert CopiedBook(connection).digest(1) is None


def test_its_head_and_digests_are_read(act):
    for _ in range(3):
        with Entry(act, "do something"):
            pass
    last = LedgerEntry.objects.head()
    assert CopiedBook(connection).head() == Head(3, last.digest)
    assert CopiedBook(connection).digest(2) == last.previous


def test_its_versions_are_those_of_this_program_alone(transactional_db, tmp_path):
    with own_database(tmp_path):
        recorder = MigrationRecorder(connection)
        recorder.ensure_schema()
        recorder.record_applied("records", "9999_later")
        recorder.record_applied("sessions", "9998_other")
        versions = CopiedBook(connection).migrations()
    assert "9999_later" in versions
    assert "9998_other" not in versions


def test_one_that_cannot_be_opened_is_a_sentence(tmp_path):
    nowhere = {**connection.settings_dict, "NAME": "/no/such/folder/copy"}

    def look():
        with Copy(tmp_path, "", nowhere).opened() as book:
            book.head()

    with pytest.raises(Refusal, match="The copy can't be read"):
        look()


def test_commands_on_it_work_in_its_folder_whatever_store_the_shop_has(
    tmp_path, monkeypatch
):
    monkeypatch.setenv("SHOPQA_DATA", "/the/shop")
    monkeypatch.setenv("SHOPQA_TIME_ZONE", "Europe/Berlin")
    monkeypatch.setenv("SHOPQA_S3_BUCKET", "the-shops-files")
    made = Copy(tmp_path, "sqlite:////tmp/copy", {}).environment
    assert made["SHOPQA_DATA"] == str(tmp_path)
    store = file_storage(tmp_path, made)
    assert store["OPTIONS"] == {"location": tmp_path / "files"}
    assert made["DATABASE_URL"] == "sqlite:////tmp/copy"
    assert made["SHOPQA_TIME_ZONE"] == "Europe/Berlin"

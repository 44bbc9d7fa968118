"""What goes out: every table but those that are nobody's business, no secret."""

import json

import pytest
from django.apps import apps

from records.models import LedgerEntry, Person
from records.models.people import BenchDevice
from records.queries.exports import (
    LEFT_OUT,
    bodies,
    columns_of,
    exported_models,
    exported_rows,
    kept_files,
)
from records.queries.ledger import spoken_models
from tests.credentials import PASSWORD
from tests.stored_chain import links
from tests.whole_book import write_book

pytestmark = pytest.mark.django_db


@pytest.fixture
def book(db):
    return write_book()


def test_a_table_goes_out_or_it_is_said_why_not():
    names = {model.__name__ for model in apps.get_app_config("records").get_models()}
    assert {model.__name__ for model in exported_models()} == names - set(LEFT_OUT)
    assert set(LEFT_OUT) <= names


def test_all_that_the_ledger_speaks_of_goes_out():
    assert set(spoken_models()) <= set(exported_models())
    assert LedgerEntry in exported_models()


def test_rows_have_the_columns_that_are_named(book):
    for model in exported_models():
        for row in exported_rows(model):
            assert list(row) == columns_of(model), model


def test_no_secret_goes_out(book):
    book.owner.pin = "a hash"
    book.owner.save()
    text = json.dumps([list(exported_rows(m)) for m in exported_models()])
    assert PASSWORD not in text
    assert "a hash" not in text
    assert {"password", "pin", "last_login"}.isdisjoint(columns_of(Person))
    assert "digest" in columns_of(BenchDevice)  # of a token of 24 random bytes


def test_entries_and_their_bodies_come_in_the_same_order(book):
    rows = list(exported_rows(LedgerEntry))
    assert "body" not in rows[0]
    chained = [(link.sequence, link.body.decode()) for link in links()]
    pairs = zip(rows, bodies(), strict=True)
    assert [(row["sequence"], body) for row, body in pairs] == chained


def test_a_table_is_one_query(book, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert len(list(exported_rows(LedgerEntry))) > 5


def test_kept_files_are_named(book):
    ((sha256, media_type),) = kept_files()
    assert len(sha256) == 64
    assert media_type == "image/jpeg"

"""The book is reached, of this program's shape, and guarded; or it is not."""

import pytest
from django.db import OperationalError, connection

from records.models.guards import guard_names, guarded_models
from records.queries import health as queries
from records.queries.health import Health, health
from records.services.people.accounts import add_person
from tests import factories


def test_a_book_without_entries_is_in_good_health(shop):
    result = health()
    assert result.good
    assert result.ledger_head == 0


def test_the_head_is_the_number_of_the_last_entry(act):
    for login in ("ben", "cleo"):
        add_person(
            act=act, login=login, name=login, role="maker", password=factories.PASSWORD
        )
    assert health().ledger_head == 2


def test_a_guard_that_was_taken_down_is_missed(shop):
    model = guarded_models()[0]
    table = f" ON {model._meta.db_table}" if connection.vendor != "sqlite" else ""
    with connection.cursor() as cursor:
        cursor.execute(f"DROP TRIGGER {guard_names(model)[0]}{table}")
    result = health()
    assert not result.good
    assert result.migrations
    assert not result.guards


def test_a_database_of_another_version_is_not_written(shop, monkeypatch):
    monkeypatch.setattr(
        queries, "last_migrations", lambda: frozenset({("records", "9999_later")})
    )
    assert health() == Health(database=True)
    assert not health().good


def test_a_database_that_cannot_be_reached_is_said_so(shop, monkeypatch):
    def gone():
        raise OperationalError("connection refused")

    monkeypatch.setattr(queries, "_is_of_this_program", gone)
    assert health() == Health(database=False)


@pytest.mark.parametrize("rows", [0, 20])
def test_it_takes_as_many_queries_in_a_large_book(
    shop, django_assert_max_num_queries, rows
):
    factories.SupplierFactory.create_batch(rows)
    queries.last_migrations()
    with django_assert_max_num_queries(5):
        assert health().good

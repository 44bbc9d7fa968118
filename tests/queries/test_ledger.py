"""How rows are spelled for the ledger, and what is read back from it."""

import datetime as dt
import json
from decimal import Decimal

import pytest

from records import chain
from records.models import LedgerEntry, Person, SetUpLink, Shop
from records.models.guards import guarded_models
from records.queries.ledger import (
    SECRET,
    entries_listed,
    facts_digest,
    plain,
    row_facts,
    said_in,
    spoken_models,
    spoken_rows,
    verbs,
    words_in,
)
from records.services.ledger import Entry
from tests import factories
from tests.stored_chain import links

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("value", "spelled"),
    [
        (
            dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC),
            "2026-03-02T12:00:00.000000+00:00",
        ),
        (
            dt.datetime(2026, 3, 2, 12, tzinfo=dt.timezone(dt.timedelta(hours=-5))),
            "2026-03-02T17:00:00.000000+00:00",
        ),
        (dt.date(2026, 3, 2), "2026-03-02"),
        (Decimal("10.30"), "10.30"),
        (Decimal("1E+3"), "1000"),
        (0.1, 0.1),
        (None, None),
        (True, True),
        ("", ""),
    ],
)
def test_values_are_spelled_once_and_for_all(value, spelled):
    assert plain(value) == spelled
    assert chain.canonical({"value": plain(value)})


def test_a_row_is_spelled_as_the_database_gives_it_back(shop):
    board = factories.BoardFactory(width_mm=190, thickness_mm="24.5")
    before = row_facts(board)
    board.refresh_from_db()
    assert row_facts(board) == before
    assert (before["width_mm"], before["thickness_mm"]) == ("190.0", "24.50")


def test_no_secret_is_spelled(owner):
    facts = row_facts(owner)
    assert SECRET.isdisjoint(facts)
    assert "argon2" not in json.dumps(facts)
    assert owner.password not in json.dumps(facts)


@pytest.mark.parametrize("number", [1, 2**53 - 1, 2**53, 10**22, 0.5, 1e300])
def test_every_number_has_the_digest_it_was_written_with(number):
    """RFC 8785, 3.2.2.3: numbers are IEEE 754 doubles, 1e22 is written 1e+22."""
    facts = {"glue_line_pa": float(number)}
    body = chain.canonical({"rows": [{"fields": facts, "pk": 1, "table": "t"}]})
    ((key, word),) = words_in(said_in(body))
    assert key == ("t", 1)
    assert word.digest == facts_digest(facts)
    assert word.columns == ("glue_line_pa",)


def test_the_ledger_speaks_of_every_row_that_has_a_guard():
    spoken = set(spoken_models())
    assert set(guarded_models()) - spoken == {LedgerEntry}
    assert spoken - set(guarded_models()) == {Person, SetUpLink, Shop}


def test_a_link_that_nobody_used_is_not_spoken_of():
    at = dt.datetime(2026, 3, 2, tzinfo=dt.UTC)
    SetUpLink.objects.create(digest="0" * 64, made_at=at)
    used = SetUpLink.objects.create(digest="1" * 64, made_at=at, used_at=at)
    assert list(spoken_rows(SetUpLink)) == [used]


def test_entries_are_listed_newest_first_in_one_query(act, django_assert_num_queries):
    for n in range(20):
        with Entry(act, f"do {n % 3}"):
            pass
    with django_assert_num_queries(1):
        result = [(e.sequence, e.written_by.name, e.digest) for e in entries_listed()]
    assert [sequence for sequence, *_ in result] == list(range(20, 0, -1))
    assert verbs() == ["do 0", "do 1", "do 2"]
    assert [link.sequence for link in links()] == list(range(1, 21))

"""The one pen: whole entries in one chain, each form once, nothing half-written."""

import dataclasses
import datetime as dt
import json

import pytest

from records import chain
from records.models import Board, LedgerEntry, Supplier
from records.services.ledger import Entry
from records.services.refusal import AlreadyDone, Refusal
from tests import factories
from tests.stored_chain import links

pytestmark = pytest.mark.django_db


@pytest.fixture
def write(act):
    """Write an entry with one supplier, some minutes from now."""

    def call(name="Timber yard", minutes=0, form_key=""):
        at = act.at + dt.timedelta(minutes=minutes)
        mine = dataclasses.replace(act, at=at, form_key=form_key)
        with Entry(mine, "add supplier") as entry:
            entry.subject = name
            return entry.add(Supplier(name=name))

    return call


def bodies():
    rows = LedgerEntry.objects.order_by("sequence").values_list("body", flat=True)
    return [json.loads(body) for body in rows]


def test_an_entry_says_who_when_what_and_every_row(write, act):
    supplier = write()
    (body,) = bodies()
    assert body["by"] == act.by.login
    assert body["at"] == act.at.isoformat(timespec="microseconds")
    assert (body["verb"], body["subject"]) == ("add supplier", "Timber yard")
    (row,) = body["rows"]
    assert (row["table"], row["pk"]) == ("records_supplier", supplier.pk)
    assert row["fields"]["name"] == "Timber yard"
    assert row["fields"]["written_by_id"] == act.by.pk


def test_each_entry_is_bound_to_the_one_before_it(write):
    for n in range(3):
        write(f"Supplier {n}")
    assert list(chain.verify_chain(links())) == []
    assert [link.sequence for link in links()] == [1, 2, 3]


def test_a_form_is_taken_once(write):
    write(form_key="k")
    with pytest.raises(AlreadyDone, match="saved, as entry 1"):
        write("Another", form_key="k")
    assert Supplier.objects.count() == 1


def test_a_refused_form_may_come_again(write):
    with pytest.raises(Refusal):
        write("", form_key="k")
    assert write(form_key="k")


@pytest.mark.parametrize("error", [Refusal([]), ValueError("stop"), KeyboardInterrupt])
def test_whatever_stops_it_nothing_is_half_written(act, error):
    def stopped():
        with Entry(act, "add supplier") as entry:
            entry.add(Supplier(name="Half"))
            raise error

    with pytest.raises((Refusal, ValueError, KeyboardInterrupt)):
        stopped()
    assert not Supplier.objects.exists()
    assert not LedgerEntry.objects.exists()


def test_what_the_database_refuses_is_a_sentence(write):
    write("Twice")
    with pytest.raises(Refusal, match="in the book already"):
        write("Twice")
    assert [link.sequence for link in links()] == [1]


def test_a_character_that_no_database_keeps_is_refused_at_its_field(write):
    with pytest.raises(Refusal) as refusal:
        write("Timber\0yard")
    assert [f.field for f in refusal.value.findings] == ["name"]
    assert not LedgerEntry.objects.exists()


def test_many_rows_are_one_entry(act):
    lot = factories.LotFactory()
    with Entry(act, "add boards") as entry:
        entry.add_many([Board(number=f"B{n}", lot=lot) for n in range(20)])
    (body,) = bodies()
    assert len(body["rows"]) == 20
    assert [row["pk"] for row in body["rows"]] == list(
        Board.objects.order_by("pk").values_list("pk", flat=True)
    )


class TestClock:
    def test_set_back_is_noted_and_the_chain_goes_on(self, write):
        write("First")
        write("Second", minutes=-61)
        first, second = bodies()
        assert "clock" not in first
        assert second["clock"] == (
            f"set back: entry 1 before it was written at {first['at']}"
        )
        assert list(chain.verify_chain(links())) == []
        assert [link.sequence for link in links()] == [1, 2]

    def test_that_was_right_again_is_not_noted(self, write):
        write("First")
        write("Second", minutes=-61)
        write("Third", minutes=1)
        assert "clock" not in bodies()[2]

    def test_of_two_machines_a_few_seconds_apart_is_not_noted(self, write):
        write("First")
        write("Second", minutes=-0.9)
        assert "clock" not in bodies()[1]

"""The ledger as somebody at a screen meets it."""

import csv
import datetime as dt
import io
from dataclasses import replace

import pytest
from django.urls import reverse
from django.utils import timezone

from records import chain
from records.models import BackupRun, LedgerEntry
from records.rules.anchors import anchors_hold
from tests.credentials import PASSWORD
from tests.forging import forge
from tests.web.seen import queries_of, text_of
from tests.whole_book import write_book

pytestmark = pytest.mark.django_db
BACKEND = "django.contrib.auth.backends.ModelBackend"
LEDGER = "/ledger/"


@pytest.fixture
def book(db):
    return write_book()


@pytest.fixture
def reader(client, book):
    """Sign the owner of the written book in."""
    client.force_login(book.owner, backend=BACKEND)
    return client


def entry(sequence):
    return reverse("ledger:entry", args=[sequence])


class TestList:
    def test_shows_the_newest_first_with_the_head(self, reader, book):
        head = LedgerEntry.objects.head()
        said = text_of(reader.get(LEDGER))
        assert head.digest in said
        assert said.index("add gauge") < said.index("receive lot")
        assert book.owner.name in said

    @pytest.mark.parametrize(
        ("asked", "count"),
        [
            ({"verb": "add boards"}, 1),
            ({"subject": "l0001"}, 3),
            ({"verb": "add boards", "subject": "none"}, 0),
        ],
    )
    def test_is_searched_by_verb_and_subject(self, reader, asked, count):
        result = reader.get(LEDGER, asked).context["table"].rows
        assert len(result) == count

    def test_is_searched_by_person_and_day(self, reader, book):
        everything = LedgerEntry.objects.count()
        today = timezone.localdate(book.act.at)
        tomorrow = today + dt.timedelta(days=1)
        asked = [
            ({"person": book.owner.pk}, everything),
            ({"since": today.isoformat(), "until": today.isoformat()}, everything),
            ({"since": tomorrow.isoformat()}, 0),
            ({"until": (today - dt.timedelta(days=1)).isoformat()}, 0),
        ]
        for filters, count in asked:
            result = reader.get(LEDGER, filters).context["table"].rows
            assert len(result) == count, filters

    @pytest.mark.parametrize(
        "asked",
        [
            {"verb": "'; DROP TABLE"},
            {"person": "0"},
            {"person": "x"},
            {"since": "never"},
            {"page": "9" * 30},
            {"sort": "body"},
        ],
    )
    def test_shrugs_at_nonsense(self, reader, asked):
        assert reader.get(LEDGER, asked).status_code == 200

    def test_goes_out_whole_as_csv(self, reader):
        answer = reader.get(LEDGER, {"export": "csv"})
        text = b"".join(answer.streaming_content).decode("utf-8-sig")
        first, *rows = csv.reader(io.StringIO(text))
        assert first[-1] == "Digest"
        assert [row[-1] for row in rows] == list(
            LedgerEntry.objects.order_by("-sequence").values_list("digest", flat=True)
        )

    def test_takes_as_many_queries_for_20_entries_as_for_2(self, reader, book):
        queries_of(reader, LEDGER)
        few = queries_of(reader, LEDGER)
        for n in range(20):
            book.write(f"Supplier {n}")
        assert queries_of(reader, LEDGER) == few


class TestBackup:
    def test_that_was_never_made_is_asked_for(self, reader):
        said = text_of(reader.get(LEDGER))
        assert "No good backup was ever made" in said
        assert "Last good backup none" in said

    def test_that_was_good_is_shown(self, reader):
        BackupRun.objects.create(
            at=timezone.now(), file_name="book-1.zip", sequence=7, good=True
        )
        said = text_of(reader.get(LEDGER))
        assert "up to entry 7, book-1.zip" in said
        assert "No good backup" not in said


class TestEntry:
    def test_says_who_when_and_what_in_plain_words(self, reader, book):
        sequence = LedgerEntry.objects.get(verb="receive lot").sequence
        said = text_of(reader.get(entry(sequence)))
        assert "receive lot" in said
        assert "Shop Owner (owner)" in said
        assert "in the chain" in said
        assert "usable until" in said
        assert "Yellow birch" not in said  # rows say what was written: a key
        assert f"Entry {sequence}" in said

    def test_leads_to_what_it_was_about(self, reader):
        sequence = LedgerEntry.objects.get(verb="receive lot").sequence
        page = reader.get(entry(sequence)).content.decode()
        assert f'href="{reverse("lots:lot", args=["L0001"])}"' in page

    def test_shows_no_secret(self, reader):
        for entries in LedgerEntry.objects.all():
            page = reader.get(entry(entries.sequence)).content.decode()
            assert "argon2" not in page
            assert PASSWORD not in page
            assert "md5$" not in page

    def test_sends_the_bytes_that_were_digested(self, reader):
        this_entry = LedgerEntry.objects.get(sequence=3)
        answer = reader.get(reverse("ledger:body", args=[3]))
        assert chain.digest(this_entry.previous, answer.content) == this_entry.digest
        assert answer["Content-Type"] == "application/json"
        assert "attachment" in answer["Content-Disposition"]

    @pytest.mark.parametrize("sequence", [0, 9999, 10**18])
    def test_that_there_is_not_is_not_found(self, reader, sequence):
        assert reader.get(entry(sequence)).status_code == 404

    @pytest.mark.parametrize("body", ["", "{", "[]", '"x"', "{}"])
    def test_that_was_altered_says_so(self, reader, body):
        forge("UPDATE records_ledgerentry SET body = %s WHERE sequence = 3", body)
        assert "its digest is not that of its bytes" in text_of(reader.get(entry(3)))

    @pytest.mark.parametrize("previous", ["f" * 64, "nonsense"])
    def test_that_was_put_in_says_so(self, reader, previous):
        forge(
            "UPDATE records_ledgerentry SET previous = %s WHERE sequence = 3", previous
        )
        assert "Entry 3" in text_of(reader.get(entry(3)))
        assert reader.get(entry(3)).context["verdict"].shape == "outside"

    def test_whose_predecessor_is_gone_says_so(self, reader):
        forge("DELETE FROM records_ledgerentry WHERE sequence = 2")
        assert "does not follow the entry before it" in text_of(reader.get(entry(3)))

    def test_notes_a_clock_that_was_set_back(self, reader, book):
        earlier = book.act.at - dt.timedelta(hours=2)
        replace(book, act=replace(book.act, at=earlier)).write("Late")
        last = LedgerEntry.objects.head().sequence
        assert "The clock was set back" in text_of(reader.get(entry(last)))

    def test_takes_few_queries_however_much_it_wrote(self, reader, book):
        boards = LedgerEntry.objects.get(verb="add boards").sequence
        assert queries_of(reader, entry(boards)) <= queries_of(reader, entry(2))


def test_the_head_of_each_day_is_saved_and_holds(reader):
    answer = reader.get(reverse("ledger:heads"))
    text = b"".join(answer.streaming_content).decode()
    head = LedgerEntry.objects.head()
    assert f"{head.sequence} {head.digest}" in text
    assert list(anchors_hold(text.splitlines(), name="heads")) == []
    assert "attachment" in answer["Content-Disposition"]

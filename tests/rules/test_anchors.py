"""A chain that was rewritten so that it holds in itself is found by what was kept."""

import datetime as dt

import pytest
from django.db import connection
from django.utils import timezone

from records import chain
from records.models import LedgerEntry
from records.queries.anchors import anchor_on, daily_anchors
from records.rules.anchors import anchors_hold, heads_hold
from records.services.ledger import Act, Entry
from tests.forging import unguarded
from tests.stored_chain import links

pytestmark = pytest.mark.django_db


@pytest.fixture
def book(owner):
    """Write five entries on three days."""
    for d in (2, 2, 3, 5, 5):
        at = dt.datetime(2026, 3, d, 12, tzinfo=dt.UTC)
        with Entry(Act(by=owner, at=at), "do something") as entry:
            entry.subject = f"thing of day {d}"


@pytest.fixture
def kept(book):
    """Keep the line of every day, as somebody else would."""
    return [anchor.line for anchor in daily_anchors()]


def rewrite(first, change):
    """Change an entry and chain everything after it anew, as a forger would."""
    old = list(links())
    previous = old[first - 2].digest if first > 1 else chain.GENESIS
    with unguarded(), connection.cursor() as cursor:
        for link in old[first - 1 :]:
            body = change(link.body) if link.sequence == first else link.body
            digest = chain.digest(previous, body)
            cursor.execute(
                "UPDATE records_ledgerentry SET body = %s, previous = %s, digest = %s "
                "WHERE sequence = %s",
                [body.decode(), previous, digest, link.sequence],
            )
            previous = digest


def sentences(lines):
    return [b.sentence for b in anchors_hold(lines, name="kept.txt")]


def test_what_was_kept_holds_against_a_book_left_alone(kept):
    assert len(kept) == 3
    assert sentences(kept) == []
    assert sentences(["# the shop's heads", "", *kept]) == []


def test_a_rewritten_chain_holds_in_itself_but_not_against_what_was_kept(kept):
    rewrite(3, lambda body: body.replace(b"thing of day 3", b"nothing on day 3"))
    assert list(chain.verify_chain(links())) == []
    findings = sentences(kept)
    assert len(findings) == 2
    assert findings[0].startswith("Entry 3, kept on 2026-03-03, has another digest now")
    assert "rewritten" in findings[0]


def test_an_end_cut_off_is_found(kept):
    with unguarded():
        LedgerEntry.objects.filter(sequence__gt=3).delete()
    assert list(chain.verify_chain(links())) == []
    assert sentences(kept) == [
        "Entry 5, kept on 2026-03-05, is not in the ledger: its end was cut off."
    ]


@pytest.mark.parametrize(
    "line",
    [
        "nonsense",
        "2026-03-02 2",
        f"2026-02-30 2 {'0' * 64}",
        f"2026-03-02 0 {'0' * 64}",
        f"2026-03-02 -1 {'0' * 64}",
        f"2026-03-02 2 {'g' * 64}",
        f"2026-03-02 2 {'0' * 63}",
        f"2026-03-02 {'9' * 30} {'0' * 64}",
    ],
)
def test_a_line_that_proves_nothing_is_not_passed_over(book, line):
    (findings,) = anchors_hold([f"{line}\n"], name="kept.txt")
    assert findings.record == "kept.txt, line 1"
    assert "is no anchor" in findings.sentence


def test_all_is_asked_at_once(kept, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert sentences(kept * 100) == []


class TestHead:
    """A digest that stands on a paper in a customer's drawer."""

    def test_of_any_entry_holds(self, book):
        digests = [link.digest for link in links()]
        assert list(heads_hold(digests)) == []
        assert list(heads_hold([chain.GENESIS])) == []

    def test_may_be_copied_in_groups_and_in_part(self, book):
        digest = anchor_on(timezone.localdate()).digest.upper()
        groups = " ".join(digest[n : n + 4] for n in range(0, 64, 4))
        assert list(heads_hold([groups, digest[:16]])) == []

    def test_of_a_rewritten_chain_is_found(self, book):
        paper = anchor_on(timezone.localdate()).digest
        rewrite(2, lambda body: body.replace(b"day 2", b"day 9"))
        (findings,) = heads_hold([paper])
        assert paper in findings.sentence
        assert "rewritten" in findings.sentence

    @pytest.mark.parametrize(
        "head", ["", "0123", "no digest at all", "0" * 65, "%" * 20]
    )
    def test_that_is_none_is_said(self, book, head):
        (findings,) = heads_hold([head])
        assert "Copy at least 16 digits" in findings.sentence
